/* The forms a solution is written in. Each appends to `out`. */
#ifndef USI_OUTPUT_FORMS_H
#define USI_OUTPUT_FORMS_H

#include "base/buffer.h"
#include "output/scale.h"
#include "study/solution.h"

/* For people: blocks of aligned columns, at most 80 wide, ASCII but for names. */
void usi_form_text(us_buffer *out, const us_solution *solution, const usi_scale *scale);

/* One block of it: the quantities of a water case. */
void usi_form_water(us_buffer *out, const us_solution *solution, const usi_scale *scale,
                    const us_water_result *water);

/* The register of checks: what was judged, where it is nearest to its limit, and why. */
void usi_form_register(us_buffer *out, const us_solution *solution, const usi_scale *scale);

/* For spreadsheets: RFC 4180, one number a row. */
void usi_form_csv(us_buffer *out, const us_solution *solution, const usi_scale *scale);

/* A text cell of it, NULL for an empty one. One that a spreadsheet would take
 * for a formula gets an apostrophe in front; what holds a comma, quote or line
 * end is quoted. */
void usi_form_csv_cell(us_buffer *out, const char *text);

/* For programs. Also US_ERROR_MEMORY, reported. */
us_status usi_form_json(us_context *context, us_buffer *out, const us_solution *solution,
                        const usi_scale *scale);

/* The largest stated error of a wall's heads, in the unit of the solution. */
double usi_form_wall_error(const us_wall_result *wall);

#endif
