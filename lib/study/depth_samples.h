/* Tip levels that are looked at, denser than a table has them. */
#ifndef USI_STUDY_DEPTH_SAMPLES_H
#define USI_STUDY_DEPTH_SAMPLES_H

#include "study/depth.h"

enum { USI_DEPTH_SAMPLES_MOST = 640 };

typedef struct usi_depth_wanted {
    size_t count;
    const double *levels_m; /* these for certain, from the highest down */
    size_t most;            /* over the whole range about as many in all */
} usi_depth_wanted;

/* Between the levels that are wanted others are looked at as states allow, and where a margin
 * turns near its limit the turn itself: a short stretch that passes, or fails, is not missed.
 * Free with usi_depth_samples_free(), also after an error. */
us_status usi_depth_samples_take(us_context *context, const usi_depth_solver *solver,
                                 const usi_depth_wanted *wanted, usi_depth_samples *samples);
/* The margin of what is nearest to its limit, or furthest beyond; NaN without. */
double usi_depth_margin(const usi_depth_point *point);
void usi_depth_samples_free(usi_depth_samples *samples);

#endif
