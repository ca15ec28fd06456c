/* Every case of tests/data/cases.json, at default accuracy, against its exact or certified
 * values. Each case names its source
 * (closed forms of Harr 1962 and Polubarinova-Kochina, Khosla, Bose & Taylor
 * 1936, numerical Schwarz-Christoffel maps, certified two-sided bounds). */
#include "support/cases.h"

/* What the project promises at default accuracy. */
static const double EXIT_TOLERANCE = 0.01;
static const double FLOW_TOLERANCE = 0.002;
static const double HEAD_TOLERANCE = 0.005;
static const double UPLIFT_TOLERANCE = 0.005;

static void check_flow(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    if (!cases_has_number(expected, "q_over_kH")) {
        assert_false(result->flow.bounded);
        assert_false(result->flow.rate_m2_s.present);
        return;
    }
    double exact = cases_number(expected, "q_m2_per_s");
    double trust = cases_number(json_object_get(one, "trusted_error"), "q");
    us_value rate = result->flow.rate_m2_s;
    assert_near(rate.value, exact, FLOW_TOLERANCE, 0.0);
    /* The given value has 12 digits: a bound may sit on its last one. */
    double slack = exact * fmax(trust, 1e-11);
    assert_true(result->flow.lower_m2_s <= exact + slack);
    assert_true(result->flow.upper_m2_s >= exact - slack);
    print_message("    flow off by %+.2e, stated %.2e, bracket %.2e\n", rate.value / exact - 1.0,
                  rate.error / rate.value,
                  (result->flow.upper_m2_s - result->flow.lower_m2_s) / exact);
}

static void check_exit(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    const json_t *gradient = json_object_get(expected, "exit_gradient");
    if (gradient == NULL) {
        return;
    }
    assert_true(result->exit.present);
    if (json_is_string(gradient)) {
        assert_string_equal(json_string_value(gradient), "infinite");
        assert_false(result->exit.bounded);
        assert_false(result->exit.gradient.present);
        assert_true(result->exit.mean.present && result->exit.mean.value > 0.0);
        assert_true(result->exit.mean_depth_m > 0.0);
        return;
    }
    double exact = json_number_value(gradient);
    us_value value = result->exit.gradient;
    assert_true(result->exit.bounded && value.present);
    assert_near(value.value, exact, EXIT_TOLERANCE, 0.0);
    const json_t *place = json_object_get(expected, "exit_gradient_at");
    assert_near(result->exit.x_m, cases_number(place, "x"), 1e-12, 1e-9);
    assert_near(result->exit.level_m, cases_number(place, "y"), 1e-12, 1e-9);
    print_message("    exit gradient off by %+.2e, stated %.2e\n", value.value / exact - 1.0,
                  value.error / value.value);
}

static void check_uplift(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    if (!cases_has_number(expected, "uplift_force_total_kN_per_m")) {
        return;
    }
    double exact = 1000.0 * cases_number(expected, "uplift_force_total_kN_per_m");
    assert_true(result->uplift.present && !result->uplift.suction);
    assert_near(result->uplift.force_n_m.value, exact, UPLIFT_TOLERANCE, 0.0);
}

static void test_case(void **state)
{
    const json_t *one = *state;
    us_context *context = us_context_create();
    us_section *section = cases_read(context, one);
    us_solution *solution = support_solve(context, section, 0.01);
    const us_water_result *result = us_solution_water(solution, 0);
    const us_grid_result *grid = us_solution_grid(solution);
    assert_true(grid->mass_balance < 1e-6);
    print_message("    %s, %zu unknowns\n", json_string_value(json_object_get(one, "description")),
                  grid->unknowns);
    check_flow(one, result);
    check_exit(one, result);
    check_uplift(one, result);
    cases_check_heads(one, result, HEAD_TOLERANCE);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    return cases_run("cases", test_case);
}
