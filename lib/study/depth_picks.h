/* One number of a tip level, for table and chart alike. */
#ifndef USI_STUDY_DEPTH_PICKS_H
#define USI_STUDY_DEPTH_PICKS_H

#include "study/depth.h"

typedef enum usi_depth_quantity {
    USI_DEPTH_FLOW,
    USI_DEPTH_GRADIENT,
    USI_DEPTH_MEAN_GRADIENT,
    USI_DEPTH_EXIT, /* the gradient, or the mean where no level has one: see below */
    USI_DEPTH_FORCE,
    USI_DEPTH_PIPING, /* factors */
    USI_DEPTH_HEAVE,
    USI_DEPTH_UPLIFT
} usi_depth_quantity;

/* False where the gradient at the exit of a water case has no bound, or is none, on any level. */
bool usi_depth_has_gradient(const us_depth *depth, size_t water);

/* In SI; absent where there is none on that level. */
us_value usi_depth_pick(const us_depth *depth, const us_solution *level, size_t water,
                        usi_depth_quantity what);

#endif
