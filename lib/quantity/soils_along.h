/* Which soils lie along a straight line. */
#ifndef USI_QUANTITY_SOILS_ALONG_H
#define USI_QUANTITY_SOILS_ALONG_H

#include "model/section.h"
#include "undersill/context.h"

/* From a to b; the soils looked at lie to the right or left of it where it is upright, above or
 * below it elsewhere. */
typedef struct usi_course_line {
    usi_point a;
    usi_point b;
    bool right;
    bool above;
} usi_course_line;

typedef struct usi_soil_run {
    double from_m; /* along the line */
    double to_m;
    size_t soil;
} usi_soil_run;

typedef struct usi_soil_runs {
    size_t count;
    usi_soil_run *items;
} usi_soil_runs;

/* US_ERROR_MEMORY; free with usi_soil_runs_clear() whatever comes back. A line without length
 * gives one run. */
us_status usi_soils_along(us_context *context, const us_section *section,
                          const usi_course_line *line, usi_soil_runs *runs);

void usi_soil_runs_clear(usi_soil_runs *runs);

#endif
