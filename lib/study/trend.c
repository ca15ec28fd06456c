#include "study/trend.h"

#include <math.h>

#include "study/estimate.h"

/* Differences below this share of the scale are rounding: neither an order nor
 * an extrapolation means anything then. */
static const double ROUNDING = 1e-10;

static us_value number(double value)
{
    return (us_value){value, 0.0, true};
}

/* Log2 of a fall; absent where there is none. */
static us_value order_of(double before, double last, double least)
{
    bool falls = (before > 0.0) == (last > 0.0) && fabs(last) > least && fabs(before) > fabs(last);
    return falls ? number(log2(before / last)) : (us_value){0.0, 0.0, false};
}

/* What up to three grids that end at `last` say. */
static usi_estimate estimate_at(const us_trend_step *steps, size_t last, double least)
{
    double values[3];
    size_t count = last < 2 ? last + 1 : 3;
    for (size_t k = 0; k < count; k++) {
        values[k] = steps[last + 1 - count + k].value;
    }
    usi_estimate found = usi_estimate_nested(values, count);
    double moved = last > 0 ? fabs(steps[last].value - steps[last - 1].value) : 0.0;
    if (found.extrapolated && moved <= least) {
        return (usi_estimate){steps[last].value, least, false};
    }
    return found;
}

static double scale_of(const us_trend *trend, const us_trend_step *steps)
{
    return trend->scale > 0.0 ? trend->scale : fabs(steps[trend->step_count - 1].value);
}

static void settle_steps(const us_trend *trend, us_trend_step *steps, double least)
{
    for (size_t k = 1; k < trend->step_count; k++) {
        steps[k].difference = number(steps[k].value - steps[k - 1].value);
        if (k < 2) {
            continue;
        }
        steps[k].order = order_of(steps[k - 1].difference.value, steps[k].difference.value, least);
        usi_estimate found = estimate_at(steps, k, least);
        if (found.extrapolated) {
            steps[k].extrapolated = (us_value){found.value, found.error, true};
        }
    }
}

/* What is nearer to the best value than that itself is known says nothing. */
static void find_errors(const us_trend *trend, us_trend_step *steps)
{
    for (size_t k = 0; k < trend->step_count && trend->scale > 0.0; k++) {
        double error = fabs(steps[k].value - trend->best.value);
        if (error > trend->best.error) {
            steps[k].error = number(error / trend->scale);
        }
    }
}

void usi_trend_settle(us_trend *trend, us_trend_step *steps, double truncation)
{
    size_t last = trend->step_count - 1;
    double least = ROUNDING * scale_of(trend, steps);
    settle_steps(trend, steps, least);
    if (last > 0) {
        usi_estimate found = estimate_at(steps, last, least);
        trend->best = (us_value){found.value, found.error, true};
    } else {
        trend->best = (us_value){0.0, 0.0, false};
    }
    if (trend->scale == 0.0) {
        trend->scale = fabs(last > 0 ? trend->best.value : steps[last].value);
    }
    trend->best.error += trend->best.present ? truncation * trend->scale : 0.0;
    if (steps[last].extrapolated.present) {
        find_errors(trend, steps);
    }
}

void usi_trend_vanish(us_trend *trend, us_trend_step *steps)
{
    trend->best = (us_value){0.0, 0.0, false};
    trend->scale = 1.0;
    for (size_t k = 0; k < trend->step_count; k++) {
        if (steps[k].value > ROUNDING) {
            steps[k].error = number(steps[k].value);
        }
        if (k > 0) {
            steps[k].order = order_of(steps[k - 1].value, steps[k].value, ROUNDING);
        }
    }
}
