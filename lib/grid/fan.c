#include "grid/fan.h"

#include <math.h>

/* Head and flow on a ray at distance 1, of a solution r^lambda. */
typedef struct ray_state {
    double value;
    double flux;
} ray_state;

/* By how much mapping turns a ray: less than a quarter, since it keeps the axes. */
static double shift(double angle, double stretch)
{
    const double whole_turn = 8.0 * atan(1.0);
    double turned = atan2(sin(angle), stretch * cos(angle)) - angle;
    return turned - whole_turn * round(turned / whole_turn);
}

/* The state at the end of a sector from that at its beginning. In the mapped plane
 * the solution is r^lambda (a cos + b sin)(lambda phi), and the distance of a point
 * on a ray changes by a factor. */
static ray_state cross(const usi_fan_sector *sector, double lambda, ray_state in)
{
    double stretch = sqrt(sector->kv_m_s / sector->kh_m_s);
    double k = sqrt(sector->kh_m_s * sector->kv_m_s);
    double first = hypot(stretch * cos(sector->from), sin(sector->from));
    double last = hypot(stretch * cos(sector->to), sin(sector->to));
    double mapped =
        sector->to - sector->from + shift(sector->to, stretch) - shift(sector->from, stretch);
    double turn = lambda * mapped;
    double v = in.value / pow(first, lambda);
    double w = in.flux / pow(first, lambda);
    double back = pow(last, lambda);
    return (ray_state){back * (v * cos(turn) + w / k * sin(turn)),
                       back * (w * cos(turn) - v * k * sin(turn))};
}

static ray_state go_round(const usi_fan *fan, double lambda, ray_state state)
{
    for (int s = 0; s < fan->count; s++) {
        state = cross(&fan->sectors[s], lambda, state);
    }
    return state;
}

/* Zero where r^lambda fits both ends of the fan, or itself once round. */
static double misfit(const usi_fan *fan, double lambda)
{
    if (fan->closed) {
        /* 1 is an eigenvalue of going round where det(M - 1) vanishes. */
        double k = fan->sectors[0].kh_m_s;
        ray_state head = go_round(fan, lambda, (ray_state){1.0, 0.0});
        ray_state flow = go_round(fan, lambda, (ray_state){0.0, k});
        double determinant = (head.value * flow.flux - flow.value * head.flux) / k;
        return 1.0 - head.value - flow.flux / k + determinant;
    }
    ray_state first = fan->fixed_first ? (ray_state){0.0, 1.0} : (ray_state){1.0, 0.0};
    ray_state last = go_round(fan, lambda, first);
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
