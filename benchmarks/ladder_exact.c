/* Exact solutions for a wall, alone or at the end of a floor. */
#include <math.h>

#include "ladder.h"
#include "support/support.h"

static const double HALF_PI = 1.57079632679489662;

/* Complete elliptic integral of the first kind by the arithmetic-geometric mean,
 * from the complementary modulus. */
static double elliptic(double complement)
{
    double a = 1.0;
    double b = complement;
    for (int i = 0; i < 40; i++) {
        double mean = 0.5 * (a + b);
        b = sqrt(a * b);
        a = mean;
    }
    return HALF_PI / a;
}

void exact_solve(const wall_and_floor *shape, double *flow, double *gradient_1_m)
{
    double angle = HALF_PI * shape->depth_m / shape->thickness_m;
    double along = tanh(HALF_PI * shape->floor_m / shape->thickness_m);
    /* The floor's upstream end and the wall's downstream face, on the real axis. */
    double a = cos(angle) * sqrt(along * along + tan(angle) * tan(angle));
    double b = sin(angle);
    double squared = 2.0 * (a + b) / ((1.0 + a) * (1.0 + b));
    double complete = elliptic(sqrt(1.0 - squared));
    *flow = elliptic(sqrt(squared)) / complete;
    *gradient_1_m = sqrt((1.0 + a) * (1.0 + b)) / (2.0 * complete) * HALF_PI / shape->thickness_m *
                    sqrt(2.0 / (b * (a + b)));
}

us_section *exact_section(us_context *context, const wall_and_floor *shape)
{
    char underside[96] = "";
    if (shape->floor_m > 0.0) {
        (void)snprintf(underside, sizeof underside,
                       "structure: {underside: [[%.17g, 0], [0, 0]]}\n", -shape->floor_m);
    }
    char text[512];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: %.17g\n%s"
                   "walls: [{name: wall, x: 0, top: %s, tip: %.17g}]\n"
                   "soils: [{name: sand, kh: 1, kv: 1}]\n"
                   "water: [{name: one, upstream: 2, downstream: 1}]\n",
                   -shape->thickness_m, underside, shape->floor_m > 0.0 ? "0" : "0.5",
                   -shape->depth_m);
    return support_read(context, text);
}
