/* From the values of nested grids to a value and its error. */
#ifndef USI_STUDY_ESTIMATE_H
#define USI_STUDY_ESTIMATE_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/solution.h"

typedef struct usi_estimate {
    double value;
    double error;
    bool extrapolated;
} usi_estimate;

/* `values` come from `count` (2 or 3) nested grids, coarse to fine, each with
 * every cell of the one before halved both ways.
 *
 * Two values: the finer one, its error the whole difference, which for a
 * second-order value is three times the true error. Three values whose
 * differences fall about fourfold: Richardson's extrapolation of the finer
 * two, its error the distance from that of the coarser two. Three values that
 * fall otherwise are not extrapolated: the finest, with an error as long as
 * their own rate of fall says. (Richardson 1911; the rule by which a rate is
 * taken for second order is our own, measured on exact cases.) */
usi_estimate usi_estimate_nested(const double *values, size_t count);

/* An exact number over an uncertain one, with the larger error of both sides; absent where the
 * divisor is known so badly that the error would say nothing. */
us_value usi_estimate_quotient(double number, us_value divisor);

/* Puts a value and what bounds it in order: where the bounds are bounds, the value is held
 * between them; where they are estimates, they are drawn apart until it lies between. */
void usi_estimate_hold(bool certified, us_value *value, double *lower, double *upper);

#endif
