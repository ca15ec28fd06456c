/* How far stated errors are from the accuracy asked for. */
#ifndef USI_STUDY_CRITERION_H
#define USI_STUDY_CRITERION_H

#include "study/nest.h"

typedef enum usi_driver {
    USI_DRIVER_FLOW,
    USI_DRIVER_GRADIENT, /* or the mean, where it is unbounded */
    USI_DRIVER_HEADS,    /* the worst head at a wall */
    USI_DRIVER_UPLIFT    /* only where there is neither flow nor gradient */
} usi_driver;

/* One of the quantities that refinement goes by. */
typedef struct usi_target {
    usi_driver driver;
    double error;   /* stated, as a share of `of` */
    double allowed; /* likewise */
    bool on_scale;  /* the share is one of the scale below, not of the value */
    size_t index;   /* wall or water case of the last two */
} usi_target;

enum { USI_TARGET_MOST = 4 };

/* A value so much smaller than what it could be tends to zero: its error counts
 * as a share of 1/1000 of its scale where that is more than the value.
 *
 * Scales, per unit head difference: of flow, the conductivity sqrt(kh kv) of the
 * tightest layer (so times H it is k H); of a gradient, one over the depth of its
 * mean (so times H it is H over the depth of the wall). */
double usi_criterion_flow_scale(const us_section *section);
double usi_criterion_gradient_scale(const usi_nest *nest);

/* False where flow is without bound: no base, or water from below it in endless soil. */
bool usi_criterion_flow_exists(const us_section *section);

/* How the stated error of a value stands to the accuracy; an absent one meets it. */
us_accuracy usi_criterion_judge(us_value value, double scale, double accuracy);

/* Fills `targets` (USI_TARGET_MOST); returns how many there are. */
size_t usi_criterion_targets(const us_section *section, const usi_nest *nest, usi_target *targets);

/* Largest error over what is allowed: at most 1 when the accuracy is reached. */
double usi_criterion_excess(const us_section *section, const usi_nest *nest);

#endif
