/* Values that tend to zero, and values that refinement cannot reach: what is
 * stated, and what is said about it. Exact values as in test_published.c. */
#include <gsl/gsl_sf_ellint.h>

#include "support/support.h"

static const double PI = 3.14159265358979323846;

typedef struct trial {
    us_context *context;
    us_section *section;
    us_solution *solution;
    us_status status;
    const us_water_result *result;
} trial;

static trial solve(const char *text, double accuracy)
{
    trial one = {.context = us_context_create()};
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = accuracy;
    one.section = support_read(one.context, text);
    one.status = us_section_solve(one.context, one.section, &options, &one.solution);
    assert_true(one.status == US_OK || one.status == US_NOT_CONVERGED);
    one.result = us_solution_water(one.solution, 0);
    return one;
}

static void release(trial *one)
{
    us_solution_free(one->solution);
    us_section_free(one->section);
    us_context_free(one->context);
}

static void assert_covers(us_value value, double exact)
{
    assert_true(value.present);
    assert_near(value.value, exact, 0.0, value.error);
}

/* A wall down to 0.1 m above the base, reached as an open contact. */
static void test_nearly_closed_wall(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                      "walls: [{name: sheet, x: 0, top: 10, tip: 0}]\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                      "water: [{name: w, upstream: 12, downstream: 11}]\n",
                      0.01);
    assert_int_equal(one.status, US_OK);
    double m = sin(0.5 * PI * 0.99);
    double k = gsl_sf_ellint_Kcomp(m, GSL_PREC_DOUBLE);
    double flow = 1e-5 * 0.5 * gsl_sf_ellint_Kcomp(cos(0.5 * PI * 0.99), GSL_PREC_DOUBLE) / k;
    assert_covers(one.result->flow.rate_m2_s, flow);
    assert_covers(one.result->exit.gradient, 0.25 * PI / 10.0 / (m * k));
    assert_int_equal(one.result->flow.accuracy, US_ACCURACY_REACHED);
    assert_int_equal(one.result->exit.accuracy, US_ACCURACY_REACHED);
    release(&one);
}

/* A long floor over thin soil: q = k H T / (B + 0.88 T), a thousandth of k H, and
 * still held to its own size. */
static void test_small_flow_is_not_tiny(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 1, downstream: 1}\nbase: 0\n"
                      "structure: {underside: [[0, 1], [2000, 1]]}\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                      "water: [{name: w, upstream: 12, downstream: 11}]\n",
                      0.01);
    us_value flow = one.result->flow.rate_m2_s;
    double exact = 1e-5 / (2000.0 + 4.0 * log(2.0) / PI); /* m -> 1 in K'/2K */
    assert_covers(flow, exact);
    assert_true(flow.error < 0.01 * flow.value);
    assert_int_equal(one.result->flow.accuracy, US_ACCURACY_REACHED);
    release(&one);
}

/* Gravel over clay a million times tighter, the wall down into the clay: what
 * leaves the gravel is 1e-6 of H over the depth of the wall. */
static void test_gradient_that_tends_to_zero(void **state)
{
    (void)state;
    const char *text = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                       "walls: [{name: sheet, x: 0, top: 10, tip: 4}]\n"
                       "soils: [{name: gravel, kh: 1e-2, kv: 1e-2, unit_weight: 20},\n"
                       "        {name: clay, top: 5, kh: 1e-8, kv: 1e-8}]\n"
                       "water: [{name: w, upstream: 12, downstream: 11}]\n";
    trial rough = solve(text, 0.001);
    assert_int_equal(rough.status, US_OK);
    us_value gradient = rough.result->exit.gradient;
    assert_true(gradient.value > 0.0 && gradient.value < 1e-6);
    assert_true(gradient.error > 0.001 * gradient.value);
    assert_true(gradient.error < 0.001 * 1e-3 / 6.0);
    assert_int_equal(rough.result->exit.accuracy, US_ACCURACY_ON_SCALE);
    assert_true(support_says(rough.solution, "exit gradient tends to zero"));
    assert_false(support_says(rough.solution, "Flow tends to zero"));
    assert_int_equal(rough.result->flow.accuracy, US_ACCURACY_REACHED);
    release(&rough);
}

static void test_equal_levels(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                      "structure: {underside: [[0, 9], [8, 9]], top: [[0, 11], [8, 11]], \n"
                      "            unit_weight: 24}\n"
                      "walls: [{name: sheet, x: 0, top: 9.2, tip: 4}]\n"
                      "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                      "piezometers: [{name: p, at: [4, 6]}]\n"
                      "water: [{name: w, upstream: 12, downstream: 12}]\n"
                      "require: {piping: 4}\n",
                      0.01);
    assert_int_equal(one.status, US_OK);
    const us_water_result *result = one.result;
    assert_near(result->flow.rate_m2_s.value, 0.0, 0.0, 0.0);
    assert_near(result->flow.rate_m2_s.error, 0.0, 0.0, 0.0);
    assert_near(result->exit.gradient.value, 0.0, 0.0, 0.0);
    assert_int_equal(result->flow.accuracy, US_ACCURACY_REACHED);
    assert_int_equal(result->exit.accuracy, US_ACCURACY_REACHED);
    assert_false(result->exit.piping_factor.present);
    assert_int_equal(result->checks[0].verdict, US_PASS);
    assert_near(result->walls[0].tip_m.value, 12.0, 0.0, 1e-12);
    assert_near(result->piezometers[0].head_m.value, 12.0, 0.0, 1e-12);
    assert_near(result->uplift.force_n_m.value, 9810.0 * 3.0 * 8.0, 1e-9, 0.0);
    assert_near(result->uplift.x_m.value, 4.0, 1e-9, 0.0);
    release(&one);
}

/* The smallest accuracy that may be asked for, on a gradient in gravel a million
 * times smaller than what would be resolved easily. */
static void test_not_converged_says_what_and_by_how_much(void **state)
{
    (void)state;
    trial one = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                      "walls: [{name: sheet, x: 0, top: 10, tip: 5}]\n"
                      "soils: [{name: sand, kh: 1e-3, kv: 1e-3, unit_weight: 20},\n"
                      "        {name: clay, top: 5, kh: 1e-8, kv: 1e-8}]\n"
                      "water: [{name: w, upstream: 12, downstream: 11}]\n",
                      1e-5);
    double exact = 0.5 * sqrt(1e-3 * 1e-8); /* self-dual: case H4 of the reference data */
    assert_covers(one.result->flow.rate_m2_s, exact);
    bool missed = one.result->flow.accuracy == US_ACCURACY_MISSED ||
                  one.result->exit.accuracy == US_ACCURACY_MISSED;
    assert_int_equal(one.status == US_NOT_CONVERGED, missed);
    assert_int_equal(us_solution_grid(one.solution)->converged, !missed);
    assert_int_equal(support_says(one.solution, "0.001 % asked for"), missed);
    release(&one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nearly_closed_wall),
        cmocka_unit_test(test_small_flow_is_not_tiny),
        cmocka_unit_test(test_gradient_that_tends_to_zero),
        cmocka_unit_test(test_equal_levels),
        cmocka_unit_test(test_not_converged_says_what_and_by_how_much),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
