/* Exponents of the head around a point, against closed forms. */
#include <math.h>

#include "grid/fan.h"
#include "support/support.h"

static const double PI = 3.14159265358979323846;

static usi_fan one_soil(double from, double to, bool fixed_first, bool fixed_last)
{
    return (usi_fan){.count = 1,
                     .sectors = {{from, to, 1e-5, 1e-5}},
                     .fixed_first = fixed_first,
                     .fixed_last = fixed_last};
}

/* A wedge of angle w: pi/w between like borders, pi/(2w) between unlike ones. */
static void wedges(void **state)
{
    (void)state;
    static const double degrees[] = {95.0, 120.0, 180.0, 225.0, 270.0, 350.0, 360.0};
    for (size_t k = 0; k < sizeof degrees / sizeof degrees[0]; k++) {
        double w = degrees[k] * PI / 180.0;
        for (int turn = 0; turn < 8; turn++) {
            double from = 0.3 + turn * PI / 4.0;
            usi_fan unlike = one_soil(from, from + w, false, true);
            assert_near(usi_fan_exponent(&unlike), fmin(0.5 * PI / w, 1.0), 1e-9, 0.0);
            usi_fan closed = one_soil(from, from + w, false, false);
            assert_near(usi_fan_exponent(&closed), fmin(PI / w, 1.0), 1e-9, 0.0);
            usi_fan fixed = one_soil(from, from + w, true, true);
            assert_near(usi_fan_exponent(&fixed), fmin(PI / w, 1.0), 1e-9, 0.0);
        }
    }
}

/* Anisotropic soil is isotropic soil stretched: a wedge's angle is that of the map. */
static void stretched_wedge(void **state)
{
    (void)state;
    double stretch = 0.25; /* sqrt(kv / kh) */
    for (int k = 1; k < 12; k++) {
        double from = 0.4;
        double to = from + k * 0.5;
        double mapped_from = atan2(sin(from), stretch * cos(from));
        double mapped_to = atan2(sin(to), stretch * cos(to));
        double w = fmod(mapped_to - mapped_from + 4.0 * PI, 2.0 * PI);
        usi_fan fan = {.count = 1, .sectors = {{from, to, 16e-5, 1e-5}}, .fixed_last = true};
        assert_near(usi_fan_exponent(&fan), fmin(0.5 * PI / w, 1.0), 1e-9, 0.0);
    }
}

/* A wall tip on a level interface. */
static void tip_on_interface(void **state)
{
    (void)state;
    static const double contrasts[] = {1e-8, 1e-4, 0.01, 0.3};
    for (size_t k = 0; k < sizeof contrasts / sizeof contrasts[0]; k++) {
        double below = 1e-5 * contrasts[k];
        usi_fan fan = {.count = 3,
                       .sectors = {{0.5 * PI, PI, 1e-5, 1e-5},
                                   {PI, 2.0 * PI, below, below},
                                   {2.0 * PI, 2.5 * PI, 1e-5, 1e-5}}};
        assert_near(usi_fan_exponent(&fan), 2.0 / PI * atan(sqrt(contrasts[k])), 1e-7, 0.0);
    }
}

/* Four quadrants of two soils, crosswise: (4/pi) atan(1/sqrt(contrast)); 0.1 at a
 * contrast of 161.4476 (Kellogg, On the Poisson equation with intersecting
 * interfaces, 1975; from memory). */
static void crossed_quadrants(void **state)
{
    (void)state;
    double k = 161.4476387975881e-6;
    for (int turn = 0; turn < 4; turn++) {
        double a = 0.2 * turn;
        usi_fan fan = {.count = 4,
                       .closed = true,
                       .sectors = {{a, a + 0.5 * PI, k, k},
                                   {a + 0.5 * PI, a + PI, 1e-6, 1e-6},
                                   {a + PI, a + 1.5 * PI, k, k},
                                   {a + 1.5 * PI, a + 2.0 * PI, 1e-6, 1e-6}}};
        assert_near(usi_fan_exponent(&fan), 0.1, 1e-6, 0.0);
    }
    usi_fan even = {
        .count = 2, .closed = true, .sectors = {{0.0, PI, 1e-6, 1e-6}, {PI, 2.0 * PI, 5e-4, 5e-4}}};
    assert_near(usi_fan_exponent(&even), 1.0, 1e-9, 0.0);
}

/* A straight interface is smooth whatever its slope and the soils' anisotropy. */
static void sloping_interface_is_smooth(void **state)
{
    (void)state;
    for (int k = 0; k < 12; k++) {
        double a = 0.1 + 0.25 * k;
        usi_fan fan = {.count = 2,
                       .closed = true,
                       .sectors = {{a, a + PI, 2e-5, 1e-5}, {a + PI, a + 2.0 * PI, 9e-4, 3e-5}}};
        assert_near(usi_fan_exponent(&fan), 1.0, 1e-6, 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wedges),
        cmocka_unit_test(stretched_wedge),
        cmocka_unit_test(tip_on_interface),
        cmocka_unit_test(crossed_quadrants),
        cmocka_unit_test(sloping_interface_is_smooth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
