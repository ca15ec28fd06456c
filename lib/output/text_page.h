/* The columns of a water case in text: shared by the files that write them. */
#ifndef USI_OUTPUT_TEXT_PAGE_H
#define USI_OUTPUT_TEXT_PAGE_H

#include "output/figure.h"
#include "output/forms.h"
#include "output/words.h"

/* Columns of a block: label, value, error, unit, and what is left for words. */
enum {
    USI_LABEL_WIDTH = 34,
    USI_VALUE_WIDTH = 12,
    USI_ERROR_WIDTH = 10,
    USI_NAME_WIDTH = 22,
    USI_HEAD_WIDTH = 16
};

typedef struct usi_page {
    us_buffer *out;
    const us_solution *solution;
    const usi_scale *scale;
    double head_step; /* the finest step of heads, in units of the file */
    bool flows;       /* water moves: levels differ, or something else drives it */
} usi_page;

/* The finest step worth showing of something of the size `size`: a tenth of the
 * accuracy asked for. */
double usi_page_finest(const usi_page *to, double size);

/* `value` in SI as a number of `unit`; `buffer` has USI_NUMBER_ROOM bytes. Returns it. */
const char *usi_page_plain(char *buffer, double value, double unit);

/* A row: label, value, error and unit; `absent` where there is no value. */
void usi_page_figure(const usi_page *to, const char *label, const usi_figure *figure,
                     const char *unit);
void usi_page_row(const usi_page *to, const char *label, us_value value, const char *unit,
                  const char *absent);

/* A value of a table, `-` where it is absent, and its error; in SI, shown in `unit`. */
void usi_page_cell(const usi_page *to, us_value value, double unit, size_t width);
void usi_page_cell_error(const usi_page *to, us_value value, double unit, size_t width);

/* A name, on a line of its own where it would push the columns aside. */
void usi_page_name(const usi_page *to, const char *name);

/* The structure, its panels, the thickness that a floor needs (output/text_uplift.c). */
void usi_page_uplift(const usi_page *to, const us_uplift_result *uplift);

/* What acts on the edges (output/text_edges.c): discharge and return period; drains,
 * stretches of the underside, dry bed, the base; the same case otherwise drained. */
void usi_page_flood(const usi_page *to, const us_water_result *water);
void usi_page_edges(const usi_page *to, const us_water_result *water);
/* Prisms of soil and tight layers that water might lift (output/text_heave.c). */
void usi_page_heave(const usi_page *to, const us_water_result *water);

/* Creep, openings, walls as pieces of steel (output/text_works.c). */
void usi_page_works(const usi_page *to, const us_water_result *water);
void usi_page_beside(const usi_page *to, const us_water_result *water);

/* Checks (output/text_checks.c): those of a case, a line each. */
void usi_page_checks(const usi_page *to, const us_water_result *water);

/* Places where water leaves the soil, where there is more to say of them than one gradient
 * (output/text_exits.c); a point of the profile along the bed; published ranges, where the
 * section sets no limit. */
void usi_page_exits(const usi_page *to, const us_water_result *water);
void usi_page_profile_row(const usi_page *to, const char *label, const us_profile_point *point);
void usi_page_advice(us_buffer *out, const us_solution *solution);

#endif
