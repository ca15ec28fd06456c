/* Cases as they would be: without credit for the apron; and level bed out of the water,
 * which takes none in whatever draws it. */
#include "support/support.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
#define WALLS                                                                                      \
    "walls: [{name: heel, x: 0, top: -0.5, tip: -4}, {name: toe, x: 10, top: -0.5, tip: -4}]\n"
#define FLOOD "water: [{name: flood, upstream: 3, downstream: 1}]\n"
#define BEDS "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
#define APRON BEDS "structure: {underside: [[0, -1], [10, -1]]}\n" WALLS SOIL FLOOD
#define OPEN_APRON                                                                                 \
    BEDS "structure: {underside: [[0, -1], [10, -1]], permeable: [[0, 10]]}\n" WALLS SOIL FLOOD
#define FLUSH                                                                                      \
    BEDS "structure: {underside: [[0, 0], [10, 0]]}\n"                                             \
         "walls: [{name: toe, x: 10, top: 0, tip: -4}]\n" SOIL FLOOD
#define BARE_WALL BEDS "walls: [{name: sheet, x: 0, top: 1, tip: -4}]\n" SOIL FLOOD

typedef struct trial {
    us_context *context;
    us_section *section;
    us_solution *solution;
} trial;

static trial solve(const char *text, bool without_apron)
{
    trial made = {us_context_create(), NULL, NULL};
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.without_apron = without_apron;
    made.section = support_read(made.context, text);
    us_status status = us_section_solve(made.context, made.section, &options, &made.solution);
    if (status != US_OK) {
        support_print_diagnostics(made.context);
    }
    assert_int_equal(status, US_OK);
    return made;
}

static void forget(trial *made)
{
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
}

static void without_the_apron_all_of_the_underside_is_permeable(void **state)
{
    (void)state;
    trial made = solve(APRON, true);
    trial open = solve(OPEN_APRON, false);
    const us_water_result *as_is = us_solution_water(made.solution, 0);
    const us_water_result *then = as_is->without_apron;
    const us_water_result *same = us_solution_water(open.solution, 0);
    assert_non_null(then);
    assert_null(same->without_apron);
    assert_near(then->flow.rate_m2_s.value, same->flow.rate_m2_s.value, 1e-12, 0.0);
    assert_near(then->exit.gradient.value, same->exit.gradient.value, 1e-12, 0.0);
    assert_true(then->flow.rate_m2_s.value > 1.2 * as_is->flow.rate_m2_s.value);
    /* From the tip, 3 m below the underside. */
    const us_wall_result *heel = &then->walls[0];
    assert_near(heel->rise.value, (heel->tip_m.value - heel->downstream_face_top_m.value) / 3.0,
                1e-12, 0.0);
    assert_true(heel->rise.value > 2.0 * as_is->walls[0].rise.value);
    forget(&made);
    forget(&open);
}

/* Each part lets water up to its own top: 1.5 over the head, where the downstream water
 * stands at 1, and 0 over the rest. */
static void each_part_of_the_structure_has_its_own_top(void **state)
{
    (void)state;
    trial made = solve(BEDS "structure:\n"
                            "  underside: [[0, -1], [10, -1]]\n"
                            "  top: [[0, 1.5], [2, 1.5], [2, 0], [10, 0]]\n" WALLS SOIL FLOOD,
                       true);
    trial open = solve(BEDS "structure:\n"
                            "  underside: [[0, -1], [10, -1]]\n"
                            "  top: [[0, 1.5], [2, 1.5], [2, 0], [10, 0]]\n"
                            "  permeable: [[0, 2], [2, 10]]\n" WALLS SOIL FLOOD,
                       false);
    const us_water_result *then = us_solution_water(made.solution, 0)->without_apron;
    assert_non_null(then);
    assert_int_equal(then->stretch_count, 2);
    assert_near(then->flow.rate_m2_s.value,
                us_solution_water(open.solution, 0)->flow.rate_m2_s.value, 1e-12, 0.0);
    assert_false(then->flow.certified);
    forget(&made);
    forget(&open);
}

static void what_closes_nothing_upstream_is_told(void **state)
{
    (void)state;
    trial made = solve(FLUSH, true);
    assert_null(us_solution_water(made.solution, 0)->without_apron);
    assert_true(support_says(made.solution,
                             "flood: without credit for the apron the flow would have "
                             "no limit"));
    forget(&made);
}

static void water_at_the_end_of_the_structure_closes_nothing(void **state)
{
    (void)state;
    trial made = solve(BEDS "structure: {underside: [[0, -1], [10, -1]]}\n"
                            "sides: {left: {x: 0, kind: fixed_head, head: 2}}\n"
                            "walls: [{name: toe, x: 10, top: -0.5, tip: -4}]\n" SOIL FLOOD,
                       true);
    assert_null(us_solution_water(made.solution, 0)->without_apron);
    assert_true(support_says(made.solution, "no limit"));
    forget(&made);
}

static void a_bare_wall_has_no_apron_to_leave_out(void **state)
{
    (void)state;
    trial made = solve(BARE_WALL, true);
    assert_null(us_solution_water(made.solution, 0)->without_apron);
    assert_false(support_says(made.solution, "without credit"));
    forget(&made);
}

/* A base that holds its head well below a level bed where no water stands. */
static void level_dry_bed_feeds_no_water(void **state)
{
    (void)state;
    trial made = solve("bed: {upstream: 10, downstream: 8}\n"
                       "base: {level: 0, head: 3}\n"
                       "structure: {underside: [[0, 7.5], [8, 7.5]]}\n"
                       "sides: {left: {x: -20, kind: closed}, right: {x: 30, kind: closed}}\n"
                       "walls: [{name: sheet, x: 0, top: 9, tip: 5}]\n" SOIL
                       "water: [{name: dry, upstream: 12, downstream: at_bed}]\n",
                       false);
    const us_water_result *dry = us_solution_water(made.solution, 0);
    us_value flow = dry->flow.rate_m2_s;
    us_value out = dry->base_flow_m2_s;
    assert_true(dry->dry.present);
    assert_near(dry->dry.flow_m2_s.value, 0.0, 0.0, 1e-12);
    assert_near(-out.value, flow.value, 0.0, flow.error + out.error);
    assert_false(dry->exit.enters);
    forget(&made);
}

/* Along a bed that rises out of the water, past the last water that comes out. */
static void where_nothing_comes_out_the_gradient_is_zero(void **state)
{
    (void)state;
    trial made = solve("bed: {upstream: 31, downstream: [[15, 30.5], [24, 31.4]]}\n"
                       "base: 18\n"
                       "structure: {underside: [[0, 29.9], [15, 29.9]]}\n"
                       "walls: [{name: toe, x: 15, top: 30, tip: 27}]\n" SOIL
                       "water: [{name: dry, upstream: 31.7, downstream: at_bed}]\n",
                       false);
    const us_exit_result *exit = &us_solution_water(made.solution, 0)->exit;
    size_t zeros = 0;
    for (size_t k = 0; k < exit->profile_count; k++) {
        double gradient = exit->profile[k].gradient.value;
        zeros += exit->profile[k].gradient.present && gradient == 0.0 ? 1 : 0;
        assert_true(gradient == 0.0 || fabs(gradient) > 1e-9);
    }
    assert_true(zeros > 0);
    forget(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_the_apron_all_of_the_underside_is_permeable),
        cmocka_unit_test(each_part_of_the_structure_has_its_own_top),
        cmocka_unit_test(what_closes_nothing_upstream_is_told),
        cmocka_unit_test(water_at_the_end_of_the_structure_closes_nothing),
        cmocka_unit_test(a_bare_wall_has_no_apron_to_leave_out),
        cmocka_unit_test(where_nothing_comes_out_the_gradient_is_zero),
        cmocka_unit_test(level_dry_bed_feeds_no_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
