/* A JSON tree in the making: shared by the files that write it. */
#ifndef USI_OUTPUT_JSON_TREE_H
#define USI_OUTPUT_JSON_TREE_H

#include <jansson.h>

#include "output/forms.h"

/* A failed addition leaves the count above 0; looked at once, at the end. */
typedef struct usi_json {
    const us_solution *solution;
    const usi_scale *scale;
    size_t failures;
} usi_json;

/* Each takes `value` over. */
void usi_json_put(usi_json *out, json_t *object, const char *key, json_t *value);
void usi_json_push(usi_json *out, json_t *array, json_t *value);

/* null for what is no number, or absent. */
json_t *usi_json_number(double value);
json_t *usi_json_value(us_value value, double unit);
json_t *usi_json_error(us_value value, double unit);
json_t *usi_json_text(const char *text);
void usi_json_put_pair(usi_json *out, json_t *object, us_value value, double unit);

/* A value as `name`, its error as `name` with `_error` behind it. */
void usi_json_put_value(usi_json *out, json_t *object, const char *name, us_value value,
                        double unit);

/* Everything about a water case (output/json_water.c); what happens at drains and the like
 * goes into `object` (output/json_edges.c). */
json_t *usi_json_water(usi_json *out, const us_water_result *water);
json_t *usi_json_works(usi_json *out, const us_water_result *water);
/* null without a structure (output/json_uplift.c). */
json_t *usi_json_uplift(usi_json *out, const us_uplift_result *uplift);
void usi_json_put_edges(usi_json *out, json_t *object, const us_water_result *water);

/* Prisms of soil and tight layers that water might lift (output/json_heave.c). */
void usi_json_put_heave(usi_json *out, json_t *object, const us_water_result *water);
/* The checks of a water case, and the register (output/json_checks.c). */
json_t *usi_json_checks(usi_json *out, const us_water_result *water);
json_t *usi_json_register(usi_json *out);

/* Places where water leaves the soil (output/json_exits.c). */
void usi_json_put_exits(usi_json *out, json_t *object, const us_water_result *water);

#endif
