/* What gradient soil bears on a slope, and how the check of piping goes by it. */
#include "support/support.h"

#include "model/critical.h"
#include "model/situation.h"
#include "study/exit_places.h"
#include "study/judge.h"
#include "study/results.h"

static const double DEGREE = 3.14159265358979323846 / 180.0;

static us_section section_of_water(void)
{
    return (us_section){.water_unit_weight_n_m3 = 9810.0};
}

/* Critical gradient 1 on level bed. */
static usi_soil sand(double friction_deg)
{
    return (usi_soil){.name = "sand",
                      .kh_m_s = 1e-5,
                      .kv_m_s = 1e-5,
                      .weighs = true,
                      .unit_weight_n_m3 = 2.0 * 9810.0,
                      .friction_rad = friction_deg * DEGREE};
}

/* By hand for 1 in 3 and 32 degrees: 0.94868 - 0.31623 / 0.62487 = 0.4426. */
static void a_slope_under_water_bears_less(void **state)
{
    (void)state;
    us_section section = section_of_water();
    usi_soil soil = sand(32.0);
    usi_critical found = usi_critical_of(&section, &soil, -1.0 / 3.0, false);
    assert_int_equal(found.lacks, USI_LACK_NOTHING);
    assert_near(found.level, 1.0, 1e-15, 0.0);
    assert_near(found.gradient, 0.4426, 0.0, 5e-5);
    assert_near(found.slope_rad, 18.4349 * DEGREE, 1e-5, 0.0);
    assert_near(usi_critical_of(&section, &soil, 1.0 / 3.0, false).gradient, found.gradient, 1e-15,
                0.0);
    assert_near(usi_critical_of(&section, &soil, 0.0, false).gradient, 1.0, 1e-15, 0.0);
}

/* As steep as its angle of friction a slope under water bears no gradient at all. */
static void at_its_angle_of_friction_it_bears_none(void **state)
{
    (void)state;
    us_section section = section_of_water();
    usi_soil soil = sand(30.0);
    assert_near(usi_critical_of(&section, &soil, tan(30.0 * DEGREE), false).gradient, 0.0, 0.0,
                1e-14);
    assert_true(usi_critical_of(&section, &soil, tan(29.0 * DEGREE), false).gradient > 0.01);
    assert_near(usi_critical_of(&section, &soil, tan(40.0 * DEGREE), false).gradient, 0.0, 0.0,
                0.0);
}

/* Out of the water: with seepage along the slope alone it stands up to tan b = g' / (g' + g_w)
 * tan phi, half of tan phi here. Level, water or none makes no difference. */
static void a_slope_out_of_the_water_bears_less_again(void **state)
{
    (void)state;
    us_section section = section_of_water();
    usi_soil soil = sand(32.0);
    double steepest = 0.5 * tan(32.0 * DEGREE);
    assert_near(usi_critical_of(&section, &soil, steepest, true).gradient, 0.0, 0.0, 1e-14);
    usi_critical found = usi_critical_of(&section, &soil, 0.2, true);
    /* By hand, b = 11.310 degrees: 0.98058 - 2 * 0.19612 / 0.62487 = 0.3529. */
    assert_near(found.gradient, 0.3529, 0.0, 5e-5);
    assert_true(found.gradient < usi_critical_of(&section, &soil, 0.2, false).gradient);
    assert_near(usi_critical_of(&section, &soil, 0.0, true).gradient, 1.0, 1e-15, 0.0);
    assert_near(found.aside, 0.0, 0.0, 0.0);
}

/* Head falls by sin b along a dry slope; in soil looser level than upright that lets water out
 * though nothing drives it square to the slope: kh = 4, kv = 1, 45 degrees, by hand
 * (4 - 1) / 2 over (4 + 1) / 2 times sin 45 degrees. */
static void flow_along_a_dry_slope_is_no_gradient_across_it(void **state)
{
    (void)state;
    us_section section = section_of_water();
    usi_soil soil = sand(32.0);
    soil.kh_m_s = 4.0 * soil.kv_m_s;
    assert_near(usi_critical_of(&section, &soil, 1.0, true).aside, 0.6 * sqrt(0.5), 1e-14, 0.0);
    assert_near(usi_critical_of(&section, &soil, 1.0, false).aside, 0.0, 0.0, 0.0);
}

static void what_is_missing_is_told(void **state)
{
    (void)state;
    us_section section = section_of_water();
    usi_soil soil = sand(0.0);
    assert_int_equal(usi_critical_of(&section, &soil, 0.011, false).lacks, USI_LACK_FRICTION_ANGLE);
    usi_critical flat = usi_critical_of(&section, &soil, 0.0099, false);
    assert_int_equal(flat.lacks, USI_LACK_NOTHING);
    assert_near(flat.gradient, 1.0, 1e-15, 0.0);
    soil.weighs = false;
    assert_int_equal(usi_critical_of(&section, &soil, 0.0, false).lacks, USI_LACK_UNIT_WEIGHT);
}

/* A check, from exits made up. */
typedef struct bench {
    us_context *context;
    us_section section;
    us_water_result water;
    us_exit_place exits[2];
    usi_judge judge;
} bench;

static int enter(void **state)
{
    bench *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    made->section = section_of_water();
    made->section.units = (usi_file_units){.length = usi_unit_find("m", 1),
                                           .conductivity = usi_unit_find("m/s", 3),
                                           .unit_weight = usi_unit_find("kN/m^3", 6)};
    made->section.require.piping = (usi_requirement){true, 4.0};
    made->exits[0] = (us_exit_place){.kind = "toe",
                                     .soil = "sand",
                                     .gradient = {0.1, 0.001, true},
                                     .critical = {1.0, 0.0, true},
                                     .factor = {10.0, 0.1, true}};
    made->exits[1] = (us_exit_place){.kind = "bed",
                                     .soil = "silt",
                                     .slope_rad = 0.1,
                                     .gradient = {0.05, 0.001, true},
                                     .lacks = "friction_angle"};
    made->water.exit = (us_exit_result){.present = true, .exit_count = 1};
    made->judge =
        (usi_judge){.context = made->context, .section = &made->section, .result = &made->water};
    *state = made;
    return 0;
}

static void clear(bench *made)
{
    made->water.exit.exits = NULL;
    usi_results_release(&made->water);
    made->water.checks = NULL;
    made->water.check_count = 0;
}

static int leave(void **state)
{
    bench *made = *state;
    clear(made);
    us_context_free(made->context);
    free(made);
    return 0;
}

/* The check as it is kept; the one before is let go. */
static const us_check_result *judge(bench *made)
{
    clear(made);
    made->water.exit.exits = made->exits;
    assert_int_equal(usi_judge_piping(&made->judge), US_OK);
    assert_int_equal(made->water.check_count, 1);
    return &made->water.checks[0];
}

static bool fails(bench *made)
{
    const us_solution solution = {.water_count = 1, .water = &made->water};
    return us_solution_fails(&solution);
}

static void the_smallest_factor_is_judged(void **state)
{
    bench *made = *state;
    assert_int_equal(judge(made)->verdict, US_PASS);
    made->exits[1].lacks = NULL;
    made->exits[1].critical = (us_value){0.15, 0.0, true};
    made->exits[1].factor = (us_value){3.0, 0.06, true};
    made->water.exit.exit_count = 2;
    made->water.exit.worst = 1;
    const us_check_result *check = judge(made);
    assert_int_equal(check->verdict, US_FAIL);
    assert_near(check->value.value, 3.0, 1e-15, 0.0);
    assert_non_null(strstr(check->basis, "0.15 of silt on a slope of 5.73 degrees"));
    assert_true(fails(made));
}

/* A required check that could not be made is not passed; without a requirement it fails nothing. */
static void what_cannot_be_checked_is_not_passed(void **state)
{
    bench *made = *state;
    made->water.exit.exit_count = 2;
    const us_check_result *check = judge(made);
    assert_int_equal(check->verdict, US_NOT_CHECKED);
    assert_false(check->value.present);
    assert_non_null(strstr(check->basis, "silt has no friction_angle"));
    assert_true(fails(made));
    made->section.require.piping.given = false;
    assert_int_equal(judge(made)->verdict, US_NOT_CHECKED);
    assert_false(fails(made));
    made->section.require.piping = (usi_requirement){true, 11.0};
    assert_int_equal(judge(made)->verdict, US_FAIL); /* by what is known */
}

/* A factor hidden by the error of its gradient is judged by the worst it may be. */
static void a_hidden_factor_is_judged_on_the_safe_side(void **state)
{
    bench *made = *state;
    made->exits[0].gradient = (us_value){0.1, 0.1, true};
    made->exits[0].factor.present = false;
    const us_check_result *check = judge(made);
    assert_int_equal(check->verdict, US_PASS);
    assert_non_null(strstr(check->basis, "the factor is at least 5, "));
    made->exits[0].gradient.error = 0.2;
    assert_int_equal(judge(made)->verdict, US_FAIL);
}

static void without_an_exit_nothing_is_passed(void **state)
{
    bench *made = *state;
    made->water.exit = (us_exit_result){.present = true};
    assert_int_equal(judge(made)->verdict, US_PASS); /* no water leaves the bed there is */
    made->water.exit.present = false;
    assert_int_equal(judge(made)->verdict, US_NOT_CHECKED);
}

#define BENCH(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slope_under_water_bears_less),
        cmocka_unit_test(at_its_angle_of_friction_it_bears_none),
        cmocka_unit_test(a_slope_out_of_the_water_bears_less_again),
        cmocka_unit_test(flow_along_a_dry_slope_is_no_gradient_across_it),
        cmocka_unit_test(what_is_missing_is_told),
        BENCH(the_smallest_factor_is_judged),
        BENCH(what_cannot_be_checked_is_not_passed),
        BENCH(a_hidden_factor_is_judged_on_the_safe_side),
        BENCH(without_an_exit_nothing_is_passed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
