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

/* What crossing a sector takes, whatever the exponent. */
typedef struct crossing {
    double forth; /* logarithm of the lengthening where the sector begins */
    double back;  /* the same where it ends */
    double turn;  /* its angle in the mapped plane */
    double k;
} crossing;

typedef struct round_trip {
    int count;
    crossing sectors[USI_FAN_MOST];
    const usi_fan *fan;
} round_trip;

static crossing measure(const usi_fan_sector *sector)
{
    double stretch = sqrt(sector->kv_m_s / sector->kh_m_s);
    return (crossing){
        log(lengthening(sector->from, stretch)), log(lengthening(sector->to, stretch)),
        sector->to - sector->from + shift(sector->to, stretch) - shift(sector->from, stretch),
        sqrt(sector->kh_m_s * sector->kv_m_s)};
}

static round_trip prepare(const usi_fan *fan)
{
    round_trip trip = {.count = fan->count, .fan = fan};
    for (int s = 0; s < fan->count; s++) {
        trip.sectors[s] = measure(&fan->sectors[s]);
    }
    return trip;
}

/* The state at the end of a sector from that at its beginning, both at distance 1 as
 * drawn. In the mapped plane the solution is r^lambda (a cos + b sin)(lambda phi);
 * what it begins with there is left in `begin`, unless that is NULL. */
static usi_fan_state cross(const crossing *sector, double lambda, usi_fan_state in,
                           usi_fan_state *begin)
{
    double forth = exp(-lambda * sector->forth);
    double back = exp(lambda * sector->back);
    double turn = lambda * sector->turn;
    double v = in.value * forth;
    double w = in.flux * forth;
    if (begin != NULL) {
        *begin = (usi_fan_state){v, w};
    }
    double along = cos(turn);
    double aside = sin(turn);
    return (usi_fan_state){back * (v * along + w / sector->k * aside),
                           back * (w * along - v * sector->k * aside)};
}

static usi_fan_state go_round(const round_trip *trip, double lambda, usi_fan_state state)
{
    for (int s = 0; s < trip->count; s++) {
        state = cross(&trip->sectors[s], lambda, state, NULL);
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
        crossing sector = measure(&fan->sectors[s]);
        state = cross(&sector, lambda, state, &begins[s]);
    }
}

/* Zero where r^lambda fits both ends of the fan, or itself once round. */
static double misfit(const round_trip *trip, double lambda)
{
    const usi_fan *fan = trip->fan;
    if (fan->closed) {
        /* 1 is an eigenvalue of going round where det(M - 1) vanishes. */
        double k = fan->sectors[0].kh_m_s;
        usi_fan_state head = go_round(trip, lambda, (usi_fan_state){1.0, 0.0});
        usi_fan_state flow = go_round(trip, lambda, (usi_fan_state){0.0, k});
        double determinant = (head.value * flow.flux - flow.value * head.flux) / k;
        return 1.0 - head.value - flow.flux / k + determinant;
    }
    usi_fan_state last = go_round(trip, lambda, first_state(fan));
    return fan->fixed_last ? last.value : last.flux;
}

static double bisect(const round_trip *trip, double low, double high)
{
    bool sign = misfit(trip, low) < 0.0;
    for (int k = 0; k < 60; k++) {
        double middle = 0.5 * (low + high);
        if ((misfit(trip, middle) < 0.0) == sign) {
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
    round_trip trip = prepare(fan);
    bool sign = misfit(&trip, low) < 0.0;
    while (low < 1.0) {
        /* A contrast of soils makes the root small by orders of magnitude. */
        double high = low < 1.0 / LAMBDA_STEPS ? 2.0 * low : low + 1.0 / LAMBDA_STEPS;
        high = fmin(high, 1.0 + 0.5 / LAMBDA_STEPS);
        if ((misfit(&trip, high) < 0.0) != sign) {
            return fmin(bisect(&trip, low, high), 1.0);
        }
        low = high;
    }
    return 1.0;
}
