/* The soil around a point, and the exponent of the head there.
 *
 * Rays of any direction part the soil into sectors of one soil each. Head near the
 * point goes as r^lambda; lambda is the smallest root in (0, 1) of the local
 * eigenproblem of the Laplace equation, each sector mapped by
 * x -> x sqrt(kv/kh) (derived here; for a wall tip on a level interface it is
 * (2/pi) atan sqrt(k_below / k_above)). */
#ifndef USI_GRID_FAN_H
#define USI_GRID_FAN_H

#include <stdbool.h>

enum { USI_FAN_MOST = 24 };

/* Counter-clockwise from `from` to `to`, in radians from the x axis. */
typedef struct usi_fan_sector {
    double from;
    double to;
    double kh_m_s;
    double kv_m_s;
} usi_fan_sector;

typedef struct usi_fan {
    int count; /* sectors, each beginning where the one before ends */
    usi_fan_sector sectors[USI_FAN_MOST];
    bool closed;      /* soil all round: the last sector ends where the first begins */
    bool fixed_first; /* head is fixed along the first ray; else nothing crosses it */
    bool fixed_last;
} usi_fan;

/* Head and stream function where a sector begins, at distance 1 in its mapped plane. */
typedef struct usi_fan_state {
    double value;
    double flux;
} usi_fan_state;

/* The smallest exponent, or 1 where the head is as smooth as the soil allows: then
 * gradients are finite. */
double usi_fan_exponent(const usi_fan *fan);

/* The solution r^lambda of a fan that is not closed, of any size: what each of its
 * sectors begins with. */
void usi_fan_follow(const usi_fan *fan, double lambda, usi_fan_state *begins);

#endif
