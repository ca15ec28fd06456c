/* Exit gradient: how steeply head falls as water leaves the bed. */
#ifndef USI_QUANTITY_EXIT_GRADIENT_H
#define USI_QUANTITY_EXIT_GRADIENT_H

#include "model/exits.h"
#include "quantity/piezometer.h"
#include "solve/field.h"

/* Per unit head difference, upward positive. */
typedef struct usi_exit_reading {
    bool bounded;        /* false where the local exponent makes it infinite */
    double gradient_1_m; /* 0 when unbounded */
    double second_1_m;   /* the same from the stream function, to judge it by */
    double mean_1_m;     /* over the exit's mean depth */
    /* Along the bed beside it, at the exit's profile points. `watch` is the gradient at
     * the exit's watch_x_m. Filled by usi_bed_profile_read(). */
    size_t profile_count;
    bool profile_known[USI_PROFILE_MOST]; /* false where there is no number */
    double profile_1_m[USI_PROFILE_MOST];
    double profile_doubt_1_m[USI_PROFILE_MOST]; /* how far two routes to it lie apart */
    double watch_1_m;
} usi_exit_reading;

/* Reads one exit. The gradient comes from h/y = a1 - a3 y^2 through the two
 * nodes below the bed: head is odd in the depth below a level fixed-head bed
 * (reflection principle), so no even term exists. */
usi_exit_reading usi_exit_read(const usi_field *field, const usi_exit *exit);

/* Mean gradient from a point of the bed down to a depth; absent where there is no soil. */
usi_reduced usi_exit_mean(const usi_field *field, usi_point at, usi_face bed, double depth_m);

/* Gradient below the upper `corner` of bed cell (i, j), by the same fit. */
double usi_exit_below(const usi_field *field, size_t i, size_t j, usi_corner corner);

#endif
