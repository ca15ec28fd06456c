/* What acts at the edges of soil: marks on the plan, the slot worth a row of weeps, and
 * columns of soil whose flow is known without a grid. */
#include "support/support.h"

#include <math.h>
#include <string.h>

#include "model/plan.h"
#include "model/weeps.h"
#include "study/view.h"
#include "undersill/undersill.h"

/* 8 S exp(-gamma - pi S / (2 D)); gamma from every table. */
static void test_slot(void **state)
{
    (void)state;
    assert_near(usi_weeps_slot(0.5, 2.0), 2.0 * 4.491675869 * exp(-2.0 * 3.14159265358979), 1e-8,
                0.0);
    assert_true(usi_weeps_slot(0.1, 1.0) < usi_weeps_slot(0.2, 1.0));
    assert_true(usi_weeps_slot(0.2, 2.0) < usi_weeps_slot(0.2, 1.0));
}

static const char apron[] =
    "bed: {upstream: 10, downstream: [[10, 10], [20, 10], [40, 14]]}\n"
    "base: 0\n"
    "structure: {underside: [[0, 9], [2, 9], [2, 8.5], [10, 8.5]], contact_lost: [[2, 4]]}\n"
    "walls: [{x: 0, top: 9.5, tip: 6}]\n"
    "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
    "drains: [{from: [6, 8.5], to: [7, 8.5], outlet: tailwater}]\n"
    "water: [{upstream: 13, downstream: 12, seal: [[15, 18]]}]\n";

typedef struct stretch {
    double from_m;
    double to_m;
    usi_edge_kind on;
    usi_mark_kind kind;
} stretch;

/* Edges are parted where marks begin and end, and nowhere else. */
static void test_marks(void **state)
{
    static const stretch expected[] = {{2, 4, USI_EDGE_STRUCTURE, USI_MARK_TERMINAL},
                                       {6, 7, USI_EDGE_STRUCTURE, USI_MARK_TERMINAL},
                                       {15, 18, USI_EDGE_RIGHT_BED, USI_MARK_SEALED},
                                       {30, 40, USI_EDGE_RIGHT_BED, USI_MARK_DRY},
                                       {40, 60, USI_EDGE_RIGHT_BED, USI_MARK_DRY}};
    us_context *context = *state;
    us_section *section = support_read(context, apron);
    usi_situation *situation = NULL;
    assert_int_equal(usi_situation_make(context, section, 0, USI_VARIANT_NONE, &situation), US_OK);
    us_section view = *section;
    view.situation = situation;
    usi_plan_window window = {-30.0, 60.0, 0.0};
    usi_plan plan;
    assert_int_equal(usi_plan_build(context, &view, &window, &plan), US_OK);
    size_t found = 0;
    for (size_t e = 0; e < plan.edge_count; e++) {
        const usi_edge *edge = &plan.edges[e];
        if (edge->mark > 0) {
            assert_true(found < sizeof expected / sizeof expected[0]);
            assert_near(plan.vertices[edge->a].x_m, expected[found].from_m, 1e-12, 0.0);
            assert_near(plan.vertices[edge->b].x_m, expected[found].to_m, 1e-12, 0.0);
            assert_int_equal(edge->kind, expected[found].on);
            assert_int_equal(situation->marks[edge->mark - 1].kind, expected[found].kind);
            found++;
        }
    }
    assert_int_equal(found, sizeof expected / sizeof expected[0]);
    assert_true(plan.right_closed);
    assert_false(plan.left_closed);
    usi_plan_free(&plan);
    usi_situation_free(situation);
    us_section_free(section);
}

/* Water below the base of a column 10 m deep and 8 m wide on each side of a wall, under
 * level water: it rises straight, by Darcy's law k dh / (T + k R). */
static void check_column(us_context *context, const char *base, double rise_m_s)
{
    char text[600];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 10, downstream: 10}\nbase: %s\n"
                   "walls: [{x: 0, top: 10.5, tip: 5}]\n"
                   "soils: [{name: sand, kh: 3e-5, kv: 1e-5}]\n"
                   "sides: {left: {x: -8, kind: closed}, right: {x: 8, kind: closed}}\n"
                   "water: [{upstream: 12, downstream: 12}]\n",
                   base);
    us_section *section = support_read(context, text);
    us_solution *solution = NULL;
    assert_int_equal(us_section_solve(context, section, NULL, &solution), US_OK);
    const us_water_result *water = us_solution_water(solution, 0);
    assert_near(water->base_flow_m2_s.value, 16.0 * rise_m_s, 1e-9, 0.0);
    assert_near(water->flow.rate_m2_s.value, -8.0 * rise_m_s, 1e-9, 0.0);
    assert_true(water->flow.certified);
    assert_near(water->exit.gradient.value, rise_m_s / 1e-5, 1e-8, 0.0);
    us_solution_free(solution);
    us_section_free(section);
}

static void test_columns(void **state)
{
    check_column(*state, "{level: 0, head: 15}", 1e-5 * 3.0 / 10.0);
    check_column(*state, "{level: 0, head: 15, thickness: 0.5, kv: 1e-7}", 3.0 / (1e6 + 5e6));
    check_column(*state, "{level: 0, head: 15, thickness: 2, kv: 1e-9}", 3.0 / (1e6 + 2e9));
}

static int set_up(void **state)
{
    *state = us_context_create();
    return *state == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    us_context_free(*state);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slot),
        cmocka_unit_test(test_marks),
        cmocka_unit_test(test_columns),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
