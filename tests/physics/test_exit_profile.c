/* What is told about an exit beside its gradient: how that falls along the bed,
 * and what a cut-off would make of an unbounded one. */
#include "support/support.h"

static const double PI = 3.14159265358979323846;
enum { TEXT_ROOM = 2048 };

typedef struct trial {
    us_context *context;
    us_section *section;
    us_solution *solution;
    const us_exit_result *exit;
} trial;

static trial solve(const char *text, double accuracy)
{
    trial one = {.context = us_context_create()};
    one.section = support_read(one.context, text);
    one.solution = support_solve(one.context, one.section, accuracy);
    one.exit = &us_solution_water(one.solution, 0)->exit;
    return one;
}

static void release(trial *one)
{
    us_solution_free(one->solution);
    us_section_free(one->section);
    us_context_free(one->context);
}

static void assert_covers(us_value value, double exact, double most)
{
    assert_true(value.present);
    assert_near(value.value, exact, 0.0, value.error);
    assert_true(value.error <= most * exact);
}

/* Wall of depth s in soil without base: h = (H/pi) acos-like in the ellipse of the
 * tip, so i(x) = (H/pi) / sqrt(x^2 + s^2) along the bed (Harr 1962; at x = 0 the
 * H / pi s of every text). */
static void test_profile_beside_a_wall(void **state)
{
    (void)state;
    static const double accuracies[] = {0.01, 0.001};
    for (int k = 0; k < 2; k++) {
        trial one = solve("bed: {upstream: 0, downstream: 0}\nbase: none\n"
                          "walls: [{name: sheet, x: 3, top: 0, tip: -4}]\n"
                          "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                          "water: [{name: w, upstream: 3, downstream: 0}]\n",
                          accuracies[k]);
        assert_int_equal(one.exit->profile_count, 7);
        for (size_t p = 0; p < one.exit->profile_count; p++) {
            double x_m = one.exit->profile[p].x_m - 3.0;
            assert_covers(one.exit->profile[p].gradient, 3.0 / PI / sqrt(x_m * x_m + 16.0),
                          p < 4 ? 2.0 * accuracies[k] : 0.03);
        }
        assert_near(one.exit->profile[6].x_m, 19.0, 1e-12, 0.0);
        assert_false(one.exit->falls_fast);
        release(&one);
    }
}

/* Flush floor of width 2 b in soil without base: i = (H/pi) / sqrt(x^2 - b^2), x
 * from its middle (Harr 1962), unbounded at the edge. With a pile of depth d there:
 * G d / H = 1 / (pi sqrt(lambda)), lambda = (1 + sqrt(1 + (2b/d)^2)) / 2 (Khosla,
 * Bose & Taylor 1936). */
static void test_flush_floor(void **state)
{
    (void)state;
    for (int mirrored = 0; mirrored < 2; mirrored++) {
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "flow_toward: %s\n"
                       "bed: {upstream: 0, downstream: 0}\nbase: none\n"
                       "structure: {underside: [[-10, 0], [10, 0]]}\n"
                       "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                       "water: [{name: w, upstream: 3, downstream: 0}]\n",
                       mirrored != 0 ? "left" : "right");
        trial one = solve(text, 0.01);
        const us_exit_result *exit = one.exit;
        assert_false(exit->bounded);
        assert_false(exit->falls_fast);
        assert_int_equal(exit->profile_count, 7);
        assert_false(exit->profile[0].gradient.present);
        for (size_t p = 1; p < exit->profile_count; p++) {
            double x_m = exit->profile[p].x_m;
            assert_true(mirrored != 0 ? x_m < -10.0 : x_m > 10.0);
            assert_covers(exit->profile[p].gradient, 3.0 / PI / sqrt(x_m * x_m - 100.0), 0.1);
        }
        assert_near(exit->cutoff_m, 2.0, 1e-12, 0.0);
        double lambda = 0.5 * (1.0 + sqrt(1.0 + 100.0));
        assert_covers(exit->with_cutoff, 3.0 / 2.0 / PI / sqrt(lambda), 0.011);
        assert_true(support_says(one.solution, "unbounded in theory"));
        assert_true(support_says(one.solution, "With a tight cut-off at x = "));
        release(&one);
    }
}

static const char sill_text[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                                "structure: {underside: [[0, 10], [40, 10]]}\n"
                                "walls: [{name: sill, x: 40, top: 10, tip: %s}]\n"
                                "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                                "water: [{name: low, upstream: 11, downstream: 11},\n"
                                "        {name: high, upstream: 14, downstream: 11}]\n";

/* A shallow sill bounds the gradient, for its own spot alone. */
static void test_a_gradient_for_one_spot(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text, sill_text, "9.7");
    trial one = solve(text, 0.01);
    trial finer = solve(text, 0.002);
    const us_exit_result *exit = &us_solution_water(one.solution, 1)->exit;
    const us_exit_result *fine = &us_solution_water(finer.solution, 1)->exit;
    assert_true(exit->bounded);
    assert_true(exit->falls_fast);
    assert_near(exit->fall_m, 2.5, 1e-12, 0.0); /* a quarter of the soil's thickness */
    assert_false(exit->with_cutoff.present);
    assert_true(support_says(one.solution, "holds for that spot alone"));
    for (size_t p = 0; p < exit->profile_count; p++) {
        us_value rough = exit->profile[p].gradient;
        us_value better = fine->profile[p].gradient;
        assert_near(rough.value, better.value, 0.0, rough.error + better.error);
        assert_true(p == 0 || rough.value < exit->profile[p - 1].gradient.value);
    }
    release(&one);
    release(&finer);
    (void)snprintf(text, sizeof text, sill_text, "7");
    one = solve(text, 0.01);
    assert_false(us_solution_water(one.solution, 1)->exit.falls_fast);
    assert_false(support_says(one.solution, "spot alone"));
    release(&one);
}

/* Of several exits that one governs which a check would fail by: the foot of a step
 * by its mean, though the mean at the toe, which has a value, is larger. */
static void test_the_foot_of_a_step_may_govern(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 10, downstream: [[0, 9], [0.5, 9], [0.5, 6]]}\nbase: 0\n"
                      "walls: [{name: sheet, x: 0, top: 10, tip: 8.2}]\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                      "water: [{name: w, upstream: 12, downstream: 9.5}]\n",
                      0.01);
    assert_false(one.exit->bounded);
    assert_near(one.exit->x_m, 0.5, 1e-12, 0.0);
    assert_near(one.exit->level_m, 6.0, 1e-12, 0.0);
    assert_true(one.exit->with_cutoff.present);
    assert_near(one.exit->cutoff_m, 1.5, 1e-12, 0.0);
    /* The same wall typed in: it holds the step, and nothing is unbounded. */
    trial held = solve("bed: {upstream: 10, downstream: [[0, 9], [0.5, 9], [0.5, 6]]}\nbase: 0\n"
                       "walls: [{name: sheet, x: 0, top: 10, tip: 8.2},\n"
                       "        {name: cut-off, x: 0.5, top: 9, tip: 4.5}]\n"
                       "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                       "water: [{name: w, upstream: 12, downstream: 9.5}]\n",
                       0.01);
    assert_true(held.exit->bounded);
    assert_near(held.exit->gradient.value, one.exit->with_cutoff.value, 1e-9, 0.0);
    assert_false(support_says(held.solution, "unbounded in theory"));
    release(&held);
    release(&one);
}

/* A wall starts below the flush edge: the cut-off joins it. */
static void test_a_cutoff_joins_the_wall_below(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                      "structure: {underside: [[0, 10], [10, 10]]}\n"
                      "walls: [{name: toe, x: 10, top: 9.7, tip: 8}]\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                      "water: [{name: w, upstream: 14, downstream: 11}]\n",
                      0.01);
    trial joined = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                         "structure: {underside: [[0, 10], [10, 10]]}\n"
                         "walls: [{name: toe, x: 10, top: 10, tip: 8}]\n"
                         "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                         "water: [{name: w, upstream: 14, downstream: 11}]\n",
                         0.01);
    assert_near(one.exit->cutoff_m, 0.3, 1e-9, 0.0);
    double both = one.exit->with_cutoff.error + joined.exit->gradient.error;
    assert_near(one.exit->with_cutoff.value, joined.exit->gradient.value, 0.0, both);
    release(&joined);
    release(&one);
}

/* In the corner between dry bed and a side of another head the gradient is unbounded, where
 * the section only ends: it is not searched there, and what lies beside converges. */
static void test_a_side_of_another_head(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                      "structure: {underside: [[0, -1], [10, -1]]}\n"
                      "walls: [{x: 0, top: 0, tip: -4}, {x: 10, top: -0.5, tip: -4}]\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                      "water: [{upstream: 3, downstream: 1}]\n"
                      "sides: {right: {x: 30, kind: fixed_head, head: 2.5}}\n",
                      0.05);
    assert_true(one.exit->bounded);
    assert_near(one.exit->x_m, 26.0, 1e-6, 0.0);
    assert_near(one.exit->gradient.value, 0.233, 0.02, 0.0);
    release(&one);
}

/* Far from the works cells are wide but for that corner: without lines of its own what lies
 * beside it was off tenfold, and no grid was fine enough. */
static void test_a_far_side_of_another_head(void **state)
{
    (void)state;
    const char *text = "bed: {upstream: 10, downstream: 9.5}\n"
                       "base: -1.9\n"
                       "walls: [{x: 0, top: 10, tip: 4.6}]\n"
                       "soils: [{name: sand, kh: 2e-6, kv: 2e-6}]\n"
                       "water: [{upstream: 13, downstream: at_bed}]\n"
                       "sides: {right: {x: 60, kind: fixed_head, head: 11.5}}\n";
    trial rough = solve(text, 0.2);
    trial fine = solve(text, 0.01);
    assert_true(rough.exit->bounded && fine.exit->bounded);
    us_value one = rough.exit->gradient;
    us_value other = fine.exit->gradient;
    assert_true(one.error < 0.2 * one.value && other.error < 0.01 * other.value);
    assert_true(fabs(one.value - other.value) <= one.error + other.error);
    assert_true(us_solution_grid(rough.solution)->unknowns < 30000);
    release(&rough);
    release(&fine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_profile_beside_a_wall),
        cmocka_unit_test(test_flush_floor),
        cmocka_unit_test(test_a_gradient_for_one_spot),
        cmocka_unit_test(test_the_foot_of_a_step_may_govern),
        cmocka_unit_test(test_a_cutoff_joins_the_wall_below),
        cmocka_unit_test(test_a_side_of_another_head),
        cmocka_unit_test(test_a_far_side_of_another_head),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
