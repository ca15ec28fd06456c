#include "model/wedge.h"

#include <math.h>

static const double HALF_TURN = 3.14159265358979323846;
static const double CURVE_TURN = 3.14159265358979323846 / 9.0; /* 20 degrees */
/* Angles closer than this are the same: far below what is drawn, far above rounding. */
static const double SAME_RAD = 1e-6;

static usi_growth of_power(double power)
{
    if (fabs(power) < SAME_RAD) {
        return (usi_growth){USI_GROWTH_FINITE, 0.0};
    }
    return (usi_growth){power < 0.0 ? USI_GROWTH_POWER : USI_GROWTH_NONE, power};
}

usi_growth usi_wedge_growth(const usi_wedge *wedge)
{
    const usi_growth finite = {USI_GROWTH_FINITE, 0.0};
    if (wedge->side == USI_WEDGE_BED) {
        bool curve = fabs(wedge->drawn_rad - HALF_TURN) < CURVE_TURN;
        return curve ? finite : of_power(HALF_TURN / wedge->angle_rad - 1.0);
    }
    usi_growth closed = of_power(HALF_TURN / (2.0 * wedge->angle_rad) - 1.0);
    if (wedge->side == USI_WEDGE_CLOSED || closed.kind == USI_GROWTH_POWER) {
        return closed;
    }
    return closed.kind == USI_GROWTH_FINITE ? (usi_growth){USI_GROWTH_LOG, 0.0} : finite;
}

bool usi_growth_is_bounded(usi_growth growth)
{
    return growth.kind == USI_GROWTH_NONE || growth.kind == USI_GROWTH_FINITE;
}

/* From the bed through the soil, which lies below it, to the other side. */
static double angle_between(usi_ray bed, usi_ray other, double right, double stretch)
{
    double from = atan2(bed.dz_m, right * bed.dx_m * stretch);
    double to = atan2(other.dz_m, right * other.dx_m * stretch);
    double angle = from - to;
    while (angle <= SAME_RAD) {
        angle += 2.0 * HALF_TURN;
    }
    return angle;
}

usi_wedge usi_wedge_between(usi_ray bed, usi_ray other, bool right, double stretch)
{
    double sign = right ? 1.0 : -1.0;
    return (usi_wedge){.side = USI_WEDGE_CLOSED,
                       .angle_rad = angle_between(bed, other, sign, stretch),
                       .drawn_rad = angle_between(bed, other, sign, 1.0)};
}
