/* The forms of thickness against worked examples of a floor. */
#include "support/support.h"

#include "quantity/uplift.h"

/* Punmia & Pande Lal, Irrigation and Water Power Engineering, example 12.1 (Bligh): G = 2.24,
 * creep 50 m over which 4 m are lost; uplift 25.11, 20.40, 15.7 kPa at 6, 12, 18 m of a floor
 * behind a wall of 6 m; t = 4 h / (3 (G - 1)) = 2.75, 2.24, 1.72 m. */
static void thickness_with_the_allowance_of_bligh(void **state)
{
    static const double kpa[] = {25.11, 20.40, 15.70};
    static const double printed_m[] = {2.75, 2.24, 1.72};
    (void)state;
    for (int k = 0; k < 3; k++) {
        double creep_m = 2.0 * 6.0 + 6.0 * (k + 1);
        double head_m = 4.0 * (1.0 - creep_m / 50.0);
        assert_near(head_m * 9.81, kpa[k], 0.0, 0.006);
        double needed_m = usi_thickness_allowance * usi_thickness_submerged(head_m, 2.24);
        assert_near(needed_m, printed_m[k], 0.0, 0.006);
    }
}

/* The same book, example 12.6: heads 0.489 m at the last wall and 1.08 m at the first one, t at
 * the wall 0.4 m, in the middle 0.63 m; example 12.2: heads 2.78 m at the second and 1.58 m at
 * the third wall, 37 m apart, t 2.07, 1.61, 1.46 m at 6.5, 24, 30 m. */
static void thickness_under_water_of_khosla(void **state)
{
    static const double at_m[] = {6.5, 24.0, 30.0};
    static const double printed_m[] = {2.07, 1.61, 1.46};
    (void)state;
    assert_near(usi_thickness_submerged(0.489, 2.24), 0.4, 0.0, 0.01);
    assert_near(usi_thickness_submerged(0.5 * (0.489 + 1.08), 2.24), 0.63, 0.0, 0.005);
    for (int k = 0; k < 3; k++) {
        double head_m = 2.78 + (1.58 - 2.78) * at_m[k] / 37.0;
        assert_near(usi_thickness_submerged(head_m, 2.24), printed_m[k], 0.0, 0.005);
    }
    assert_near(usi_thickness_submerged(-1.0, 2.24), 0.0, 0.0, 0.0);
    assert_near(usi_thickness_dry(4.7, 2.35), 2.0, 1e-15, 0.0);
    assert_near(usi_thickness_dry(-1.0, 2.35), 0.0, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thickness_with_the_allowance_of_bligh),
        cmocka_unit_test(thickness_under_water_of_khosla),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
