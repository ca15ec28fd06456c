#include "study/estimate.h"

#include <math.h>

/* How much differences may fall from one halving to the next, and still count
 * as second order, for which it is 4. */
static const double LEAST_FALL = 2.8;
static const double MOST_FALL = 7.0;
/* Two extrapolations may agree by chance: at least this share of the correction
 * stays as error. */
static const double CORRECTION_SHARE = 0.1;
/* On slow convergence: safety on the sum of the differences still to come, and
 * the most of the last difference that is ever stated. */
static const double SLOW_SAFETY = 1.5;
static const double SLOW_CAP = 10.0;
/* A divisor has to be this many times its error. */
static const double MOST_UNSURE = 2.0;

/* Differences that fall slower than second order form a geometric series. */
static double slow_error(double before, double last)
{
    double fall = before / last;
    double factor = fall > 1.0 ? SLOW_SAFETY / (fall - 1.0) : SLOW_CAP;
    return fabs(last) * fmin(fmax(factor, 1.0), SLOW_CAP);
}

usi_estimate usi_estimate_nested(const double *values, size_t count)
{
    double last = values[count - 1] - values[count - 2];
    usi_estimate plain = {values[count - 1], fabs(last), false};
    if (count < 3) {
        return plain;
    }
    double before = values[1] - values[0];
    bool same_sign = (before > 0.0) == (last > 0.0);
    if (!same_sign || fabs(before) > MOST_FALL * fabs(last)) {
        plain.error = fmax(fabs(last), 0.25 * fabs(before));
    } else if (fabs(before) < LEAST_FALL * fabs(last)) {
        plain.error = slow_error(before, last);
    } else {
        double correction = last / 3.0;
        double apart = correction + last - before / 3.0;
        return (usi_estimate){values[2] + correction,
                              fmax(fabs(apart), CORRECTION_SHARE * fabs(correction)), true};
    }
    return plain;
}

us_value usi_estimate_quotient(double number, us_value divisor)
{
    if (!divisor.present || divisor.value <= MOST_UNSURE * divisor.error) {
        return (us_value){0.0, 0.0, false};
    }
    double value = number / divisor.value;
    return (us_value){value, fabs(value) * divisor.error / (divisor.value - divisor.error), true};
}

void usi_estimate_hold(bool certified, us_value *value, double *lower, double *upper)
{
    if (certified) {
        value->value = fmin(fmax(value->value, *lower), *upper);
    } else {
        *lower = fmin(*lower, value->value);
        *upper = fmax(*upper, value->value);
    }
}
