/* Which exit governs, the same for solving and for the study of convergence. */
#include "study/governing.h"
#include "study/ladder.h"
#include "support/support.h"

static usi_exit_reading bounded(double gradient, double mean)
{
    return (usi_exit_reading){.bounded = true, .gradient_1_m = gradient, .mean_1_m = mean};
}

/* A toe of small gradient and large mean does not hide the foot of a step. */
static void judged_by_what_a_check_goes_by(void **state)
{
    (void)state;
    usi_exit_reading exits[2] = {bounded(0.2, 0.5), {.bounded = false, .mean_1_m = 0.3}};
    usi_reading reading = {.exit_count = 2, .exits = exits};
    assert_int_equal(usi_governing_find(&reading, 1).exit, 1);
    assert_false(usi_governing_find(&reading, 1).peak);
    exits[1].mean_1_m = 0.19;
    assert_int_equal(usi_governing_find(&reading, 1).exit, 0);
}

/* A peak counts when it is steeper and every grid has it. */
static void a_peak_on_every_grid(void **state)
{
    (void)state;
    usi_exit_reading exits[1] = {bounded(0.2, 0.5)};
    usi_exit places[1] = {{.at = {3.0, 1.0}}};
    usi_reading readings[2] = {{.exit_count = 1, .exits = exits},
                               {.exit_count = 1, .exits = exits}};
    readings[0].peak.found = true;
    readings[1].peak = (usi_bed_peak){.found = true, .gradient_1_m = 0.3, .x_m = 7.0};
    usi_governing found = usi_governing_find(readings, 2);
    assert_true(found.peak);
    assert_near(usi_governing_place(found, places, &readings[1]).x_m, 7.0, 0.0, 0.0);
    readings[0].peak.found = false;
    found = usi_governing_find(readings, 2);
    assert_false(found.peak);
    assert_near(usi_governing_place(found, places, &readings[1]).x_m, 3.0, 0.0, 0.0);
    readings[0].peak.found = true;
    readings[1].peak.gradient_1_m = 0.2;
    assert_false(usi_governing_find(readings, 2).peak);
    exits[0].bounded = false;
    readings[1].peak.gradient_1_m = 0.9;
    assert_false(usi_governing_find(readings, 2).peak);
}

/* A step whose foot is worse than the toe, though by a smaller mean: `solve` and `converge` mean
 * one place. */
static void solving_and_studying_agree(void **state)
{
    (void)state;
    static const char text[] = "bed: {upstream: 4, downstream: [[1.5, 1], [1.5, 0.6]]}\nbase: -5\n"
                               "walls: [{x: 0, top: 4, tip: -1}]\nsoils: [{kh: 1e-4, kv: 1e-4}]\n"
                               "water: [{upstream: 6, downstream: 2}]\n";
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.05);
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    options.rungs = 2;
    usi_ladder ladder;
    assert_int_equal(usi_ladder_climb(context, section, &options, &ladder), US_OK);
    const us_exit_result *exit = &us_solution_water(solution, 0)->exit;
    assert_false(exit->bounded);
    assert_near(exit->x_m, 1.5, 0.0, 1e-9);
    assert_near(usi_ladder_exit(&ladder).x_m, exit->x_m, 0.0, 1e-9);
    usi_ladder_free(&ladder);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(judged_by_what_a_check_goes_by),
        cmocka_unit_test(a_peak_on_every_grid),
        cmocka_unit_test(solving_and_studying_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
