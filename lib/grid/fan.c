#include "grid/fan.h"

#include <math.h>
#include <stddef.h>

/* By how much mapping turns a ray: less than a quarter, since it keeps the axes. */
static double shift(double angle, double stretch)
{
    const double whole_turn = 8.0 * atan(1.0);
    double turned = atan2(sin(angle), stretch * cos(angle)) - angle;
    return turned - whole_turn * round(turned / whole_turn);
}

/* The factor by which mapping changes the distance of a point on a ray. */
static double lengthening(double angle, double stretch)
{
    return hypot(stretch * cos(angle), sin(angle));
}

/* The state at the end of a sector from that at its beginning, both at distance 1 as
 * drawn. In the mapped plane the solution is r^lambda (a cos + b sin)(lambda phi);
 * what it begins with there is left in `begin`, unless that is NULL. */
static usi_fan_state cross(const usi_fan_sector *sector, double lambda, usi_fan_state in,
                           usi_fan_state *begin)
{
    double stretch = sqrt(sector->kv_m_s / sector->kh_m_s);
    double k = sqrt(sector->kh_m_s * sector->kv_m_s);
    double forth = pow(lengthening(sector->from, stretch), lambda);
    double back = pow(lengthening(sector->to, stretch), lambda);
    double turn = lambda * (sector->to - sector->from + shift(sector->to, stretch) -
                            shift(sector->from, stretch));
    double v = in.value / forth;
    double w = in.flux / forth;
    if (begin != NULL) {
        *begin = (usi_fan_state){v, w};
    }
    return (usi_fan_state){back * (v * cos(turn) + w / k * sin(turn)),
                           back * (w * cos(turn) - v * k * sin(turn))};
}

static usi_fan_state go_round(const usi_fan *fan, double lambda, usi_fan_state state)
{
    for (int s = 0; s < fan->count; s++) {
        state = cross(&fan->sectors[s], lambda, state, NULL);
    }
    return state;
}

/* What fits the first ray. */
static usi_fan_state first_state(const usi_fan *fan)
{
    return fan->fixed_first ? (usi_fan_state){0.0, 1.0} : (usi_fan_state){1.0, 0.0};
}

void usi_fan_follow(const usi_fan *fan, double lambda, usi_fan_state *begins)
{
    usi_fan_state state = first_state(fan);
    for (int s = 0; s < fan->count; s++) {
        state = cross(&fan->sectors[s], lambda, state, &begins[s]);
    }
}

/* Zero where r^lambda fits both ends of the fan, or itself once round. */
static double misfit(const usi_fan *fan, double lambda)
{
    if (fan->closed) {
        /* 1 is an eigenvalue of going round where det(M - 1) vanishes. */
        double k = fan->sectors[0].kh_m_s;
        usi_fan_state head = go_round(fan, lambda, (usi_fan_state){1.0, 0.0});
        usi_fan_state flow = go_round(fan, lambda, (usi_fan_state){0.0, k});
        double determinant = (head.value * flow.flux - flow.value * head.flux) / k;
        return 1.0 - head.value - flow.flux / k + determinant;
    }
    usi_fan_state last = go_round(fan, lambda, first_state(fan));
    return fan->fixed_last ? last.value : last.flux;
}

static double bisect(const usi_fan *fan, double low, double high)
{
    bool sign = misfit(fan, low) < 0.0;
    for (int k = 0; k < 60; k++) {
        double middle = 0.5 * (low + high);
        if ((misfit(fan, middle) < 0.0) == sign) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

/* Below what contrasts within the limits of a section can make. */
static const double LAMBDA_LEAST = 1e-10;
/* Once round, rounding hides what is smaller: the misfit begins as lambda squared. */
static const double LAMBDA_LEAST_CLOSED = 1e-4;
enum { LAMBDA_STEPS = 256 };

double usi_fan_exponent(const usi_fan *fan)
{
    double low = fan->closed ? LAMBDA_LEAST_CLOSED : LAMBDA_LEAST;
    bool sign = misfit(fan, low) < 0.0;
    while (low < 1.0) {
        /* A contrast of soils makes the root small by orders of magnitude. */
        double high = low < 1.0 / LAMBDA_STEPS ? 2.0 * low : low + 1.0 / LAMBDA_STEPS;
        high = fmin(high, 1.0 + 0.5 / LAMBDA_STEPS);
        if ((misfit(fan, high) < 0.0) != sign) {
            return fmin(bisect(fan, low, high), 1.0);
        }
        low = high;
    }
    return 1.0;
}
