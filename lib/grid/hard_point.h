/* Points where the head is not smooth: wall tips, re-entrant corners, ends of
 * flush floors, steps of the bed. The grid is drawn together towards them. */
#ifndef USI_GRID_HARD_POINT_H
#define USI_GRID_HARD_POINT_H

#include "grid/grid.h"
#include "model/plan.h"

typedef struct usi_hard_point {
    usi_point at;
    double length_m; /* distance within which nothing else disturbs the local solution */
    double lambda;   /* head varies as r^lambda */
    double weight;   /* cells towards it, as a share of those at a wall tip */
    bool inside;     /* soil all round: the end of a wall */
    bool ranged;     /* one tip among many: lines follow the range (grid.h), not the point */
} usi_hard_point;

/* Finds the hard points of a plan, walls included. `*points` is the caller's, freed
 * with free(). */
us_status usi_hard_points_find(us_context *context, const us_section *section, const usi_plan *plan,
                               bool sealed, usi_hard_point **points, size_t *count);

#endif
