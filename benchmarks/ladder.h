/* The parts of bench_ladder. */
#ifndef BENCHMARKS_LADDER_H
#define BENCHMARKS_LADDER_H

#include "study/reading.h"

/* An exactly solved section: what the limits are judged on. */
typedef struct exact_case {
    const char *name;
    us_section *section;
    double flow_m_s;     /* per unit head difference; 0 where it is unbounded */
    double gradient_1_m; /* exit gradient per unit head difference */
    double slack;        /* the limits are this many times as wide */
    bool unequal;        /* two unequal walls have limits of their own */
} exact_case;

/* A wall `depth_m` deep at the downstream end of a floor `floor_m` long (0: no
 * floor), in soil `thickness_m` thick: conformal map of the strip with a slit,
 * tau = cos(a) sqrt(tanh(pi z / 2T)^2 + tan(a)^2), a = pi s / 2T (Pavlovsky; Harr
 * 1962 for the bare wall). Flow per k H, and exit gradient per H. */
typedef struct wall_and_floor {
    double depth_m;
    double thickness_m;
    double floor_m;
} wall_and_floor;
void exact_solve(const wall_and_floor *shape, double *flow, double *gradient_1_m);

/* The section of it, soil of conductivity 1 m/s and a head difference of 1 m. */
us_section *exact_section(us_context *context, const wall_and_floor *shape);

/* The finest graded grid of at most `most` unknowns whose cells are `halvings`
 * times halved. US_OK, or what solving it says. */
us_status ladder_read(us_context *context, const us_section *section, size_t most, int halvings,
                      usi_reading *readings);

/* Exit gradient per unit head difference on a graded grid of `cells`, and on a
 * uniform one of spacing `step_m` (which divides all lengths); both end where
 * solving usually cuts endless soil. A negative number where it could not be solved. */
double ladder_graded(us_context *context, const us_section *section, double cells,
                     size_t *unknowns);
double ladder_uniform(us_context *context, const us_section *section, double step_m,
                      size_t *unknowns);

#endif
