/* One-dimensional grading: how the lines between two stations are spaced. */
#ifndef USI_GRID_GRADING_H
#define USI_GRID_GRADING_H

#include "grid/grid.h"
#include "grid/hard_point.h"

/* What draws lines together along one axis. */
typedef struct usi_pull {
    double at_m;
    double length_m;
    double power;    /* distance = length t^power up to t = 1, then exponential growth */
    double weight;   /* cells per unit of t, as a share of the grading's */
    double mirror_m; /* lines lie alike on both sides up to this distance; 0 for no matter */
} usi_pull;

typedef struct usi_grading {
    const usi_pull *pulls;
    size_t pull_count;
    double cells;     /* per unit of t */
    double largest_m; /* no cell longer than this ... */
    double window_low_m;
    double window_high_m; /* ... inside the window; 0 for no limit */
    size_t range_count;   /* along this axis; 0 across */
    const usi_tip_range *ranges;
    int halvings;
    int least; /* cells between two stations, before halving */
} usi_grading;

/* By what lines lie apart at a level: its depth below the top or its distance from a floor. */
double usi_tip_range_depth(const usi_tip_range *range, double level_m);

/* Growing coordinates along one axis. */
typedef struct usi_axis {
    double *at_m;
    size_t count;
} usi_axis;

/* Lines through all stations (at least two), of which one must lie at each pull
 * that mirrors, and at its mirror distance on both sides; `lines` is the caller's
 * on US_OK.
 * US_NOT_CONVERGED when there would be more than `most` lines. */
us_status usi_grading_fill(us_context *context, const usi_grading *grading,
                           const usi_axis *stations, size_t most, usi_axis *lines);

#endif
