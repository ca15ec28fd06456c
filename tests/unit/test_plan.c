/* The section laid out: edges and vertices against what a hand draws. */
#include "support/support.h"

#include <math.h>

#include "model/plan.h"
#include "model/survey.h"

#define WATER "water: [{name: flood, upstream: 30, downstream: 28}]\n"
#define SAND "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
#define FLAT "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
#define APRON "structure: {underside: [[0, -1], [10, -1]]}\n"

static const usi_plan_window window = {-20.0, 30.0, -15.0};

static usi_plan plan_of(const us_section *section, const usi_plan_window *in)
{
    us_context *context = us_context_create();
    usi_plan plan = {0};
    assert_int_equal(usi_plan_build(context, section, in, &plan), US_OK);
    us_context_free(context);
    return plan;
}

static size_t count_kind(const usi_plan *plan, usi_edge_kind kind)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->edge_count; i++) {
        count += plan->edges[i].kind == kind ? 1 : 0;
    }
    return count;
}

static bool has_vertex(const usi_plan *plan, double x_m, double z_m)
{
    for (size_t i = 0; i < plan->vertex_count; i++) {
        usi_point at = plan->vertices[i];
        if (fabs(at.x_m - x_m) < 1e-7 && fabs(at.z_m - z_m) < 1e-7) {
            return true;
        }
    }
    return false;
}

static const usi_edge *find_edge(const usi_plan *plan, usi_point a, usi_point b)
{
    for (size_t i = 0; i < plan->edge_count; i++) {
        usi_point p = plan->vertices[plan->edges[i].a];
        usi_point q = plan->vertices[plan->edges[i].b];
        if (fabs(p.x_m - a.x_m) + fabs(p.z_m - a.z_m) + fabs(q.x_m - b.x_m) + fabs(q.z_m - b.z_m) <
            1e-7) {
            return &plan->edges[i];
        }
    }
    return NULL;
}

static void check_edge(const usi_plan *plan, usi_point a, usi_point b, usi_edge expected)
{
    const usi_edge *edge = find_edge(plan, a, b);
    if (edge == NULL) {
        print_error("no edge from %f, %f to %f, %f\n", a.x_m, a.z_m, b.x_m, b.z_m);
        fail();
        return;
    }
    assert_int_equal(edge->kind, expected.kind);
    assert_int_equal(edge->left, expected.left);
    assert_int_equal(edge->right, expected.right);
}

static bool same_plan(const usi_plan *a, const usi_plan *b)
{
    if (a->vertex_count != b->vertex_count || a->edge_count != b->edge_count) {
        return false;
    }
    for (size_t i = 0; i < a->vertex_count; i++) {
        if (fabs(a->vertices[i].x_m - b->vertices[i].x_m) > 1e-9 ||
            fabs(a->vertices[i].z_m - b->vertices[i].z_m) > 1e-9) {
            return false;
        }
    }
    return true;
}

/* --- cases by hand --- */

static void a_box_has_its_edges(void **state)
{
    (void)state;
    us_section *section = support_section(FLAT APRON SAND WATER);
    usi_plan plan = plan_of(section, &window);
    assert_int_equal(plan.vertex_count, 8);
    assert_int_equal(plan.edge_count, 8);
    check_edge(&plan, (usi_point){-20, 0}, (usi_point){0, 0},
               (usi_edge){0, 0, USI_EDGE_LEFT_BED, -1, 0, 0});
    check_edge(&plan, (usi_point){0, -1}, (usi_point){0, 0},
               (usi_edge){0, 0, USI_EDGE_STRUCTURE, 0, -1, 0});
    check_edge(&plan, (usi_point){0, -1}, (usi_point){10, -1},
               (usi_edge){0, 0, USI_EDGE_STRUCTURE, -1, 0, 0});
    check_edge(&plan, (usi_point){10, 0}, (usi_point){30, 0},
               (usi_edge){0, 0, USI_EDGE_RIGHT_BED, -1, 0, 0});
    check_edge(&plan, (usi_point){-20, -10}, (usi_point){30, -10},
               (usi_edge){0, 0, USI_EDGE_BASE, 0, -1, 0});
    check_edge(&plan, (usi_point){-20, -10}, (usi_point){-20, 0},
               (usi_edge){0, 0, USI_EDGE_LEFT_SIDE, -1, 0, 0});
    check_edge(&plan, (usi_point){30, -10}, (usi_point){30, 0},
               (usi_edge){0, 0, USI_EDGE_RIGHT_SIDE, 0, -1, 0});
    usi_plan_free(&plan);
    us_section_free(section);
}

static void slopes_meet_where_they_cross(void **state)
{
    (void)state;
    /* A layer dips under a wall and crops out on a sloping bed. */
    us_section *section = support_section(
        "bed: {upstream: 0, downstream: [[10, 0], [20, -4], [25, -4]]}\nbase: -10\n" APRON
        "walls: [{x: 5, top: -1, tip: -6}]\n"
        "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: clay, kh: 1e-7, kv: 1e-7,\n"
        "  top: [[0, -5], [20, 0]]}]\n" WATER);
    usi_plan plan = plan_of(section, &window);
    /* Top -5 + x/4 meets the wall at 5, the bed -0.4 (x - 10) at 9/0.65. */
    assert_true(has_vertex(&plan, 5, -3.75));
    assert_true(has_vertex(&plan, 9 / 0.65, -5 + 9 / 0.65 / 4));
    assert_true(has_vertex(&plan, 5, -6));
    assert_true(has_vertex(&plan, 5, -1));
    assert_true(has_vertex(&plan, 0, -5));
    assert_false(has_vertex(&plan, 20, 0));
    check_edge(&plan, (usi_point){5, -3.75}, (usi_point){9 / 0.65, -5 + 9 / 0.65 / 4},
               (usi_edge){0, 0, USI_EDGE_INTERFACE, 0, 1, 0});
    check_edge(&plan, (usi_point){9 / 0.65, -5 + 9 / 0.65 / 4}, (usi_point){20, -4},
               (usi_edge){0, 0, USI_EDGE_RIGHT_BED, -1, 1, 0});
    usi_plan_free(&plan);
    us_section_free(section);
}

static void zones_override_and_the_later_wins(void **state)
{
    (void)state;
    us_section *section = support_section(
        FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: gravel, kh: 1e-3, kv: 1e-3},\n"
                   "  {name: clay, kh: 1e-8, kv: 1e-8}]\n"
                   "zones: [{soil: gravel, outline: [[2, -3], [8, -3], [8, -6], [2, -6]]},\n"
                   "  {soil: clay, outline: [[6, -5], [12, -5], [12, -8], [6, -8]]}]\n" WATER);
    usi_plan plan = plan_of(section, &window);
    assert_int_equal(usi_plan_soil(section, (usi_point){3, -4}), 1);
    assert_int_equal(usi_plan_soil(section, (usi_point){7, -5.5}), 2);
    assert_int_equal(usi_plan_soil(section, (usi_point){1, -4}), 0);
    assert_int_equal(usi_plan_soil(section, (usi_point){3, -0.5}), -1);
    assert_int_equal(usi_plan_soil(section, (usi_point){3, -11}), -1);
    assert_true(has_vertex(&plan, 6, -6));
    assert_false(has_vertex(&plan, 8, -6)); /* within the clay */
    check_edge(&plan, (usi_point){6, -6}, (usi_point){6, -5},
               (usi_edge){0, 0, USI_EDGE_INTERFACE, 1, 2, 0});
    assert_int_equal(count_kind(&plan, USI_EDGE_INTERFACE), 10);
    usi_plan_free(&plan);
    us_section_free(section);
}

/* The same ground told in another way. */
static void what_makes_no_difference_leaves_no_trace(void **state)
{
    (void)state;
    us_section *plain = support_section(
        "bed: {upstream: [[-10, 1], [0, 0]], downstream: 0}\nbase: -10\n" APRON
        "walls: [{x: 5, top: -1, tip: -7}]\n"
        "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: clay, kh: 1e-7, kv: 1e-7, top: -8}]\n"
        "zones: [{soil: clay, outline: [[12, -3], [16, -4], [12, -5]]}]\n" WATER);
    us_section *wordy = support_section(
        "bed: {upstream: [[-19, 1], [-10, 1], [-9, 0.9], [-5, 0.5], [0, 0]],\n"
        "  downstream: [[10, 0], [17, 0]]}\nbase: [[-3, -10], [4, -10]]\n"
        "structure: {underside: [[0, -1], [3, -1], [10, -1]]}\n"
        "walls: [{x: 5, top: -1, tip: -4}, {x: 5, top: -4, tip: -7}]\n"
        "soils: [{name: sand, kh: 1e-5, kv: 1e-5},\n"
        "  {name: same sand, kh: 1e-5, kv: 1e-5, top: [[0, -3], [30, -5]]},\n"
        "  {name: clay, kh: 1e-7, kv: 1e-7, top: -8}, {name: more clay, kh: 1e-7, kv: 1e-7, top: "
        "-9}]\n"
        "zones: [{soil: same sand, outline: [[-5, -2], [3, -1], [3, -4]]},\n"
        "  {soil: more clay, outline: [[12, -3], [14, -3.5], [14, -4.5], [12, -5]]},\n"
        "  {soil: clay, outline: [[13, -3.25], [16, -4], [13, -4.75]]}]\n" WATER);
    usi_plan a = plan_of(plain, &window);
    usi_plan b = plan_of(wordy, &window);
    assert_int_equal(a.vertex_count, b.vertex_count);
    assert_int_equal(a.edge_count, b.edge_count);
    assert_true(same_plan(&a, &b));
    for (size_t i = 0; i < a.edge_count; i++) {
        assert_int_equal(a.edges[i].a, b.edges[i].a);
        assert_int_equal(a.edges[i].b, b.edges[i].b);
        assert_int_equal(a.edges[i].kind, b.edges[i].kind);
    }
    usi_plan_free(&a);
    usi_plan_free(&b);
    us_section_free(plain);
    us_section_free(wordy);
}

static void walls_leave_vertices_where_soil_is(void **state)
{
    (void)state;
    us_section *section =
        support_section("bed: {upstream: 2, downstream: 0}\nbase: -10\n"
                        "walls: [{x: 0, top: 3, tip: -5}, {x: 0, top: -6, tip: -7}]\n" SAND WATER);
    usi_plan plan = plan_of(section, &window);
    assert_false(has_vertex(&plan, 0, 3));
    assert_true(has_vertex(&plan, 0, 2));
    assert_true(has_vertex(&plan, 0, 0));
    assert_true(has_vertex(&plan, 0, -5));
    assert_true(has_vertex(&plan, 0, -6));
    assert_true(has_vertex(&plan, 0, -7));
    check_edge(&plan, (usi_point){0, 0}, (usi_point){0, 2},
               (usi_edge){0, 0, USI_EDGE_STRUCTURE, 0, -1, 0});
    usi_plan_free(&plan);
    us_section_free(section);
}

static void zones_on_a_bed_raise_it(void **state)
{
    (void)state;
    /* A blanket upstream; downstream a filter, riprap on it, and a block that hangs
     * over the bed beside them. */
    us_section *section = support_section(
        FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: clay, kh: 1e-8, kv: 1e-8},\n"
                   "  {name: filter, kh: 1e-3, kv: 1e-3}]\n"
                   "zones: [{soil: clay, outline: [[-12, 0], [-10, 0.5], [0, 0.5], [0, 0]]},\n"
                   "  {soil: filter, outline: [[10, -0.5], [10, 0.5], [14, 0.5], [15, -0.5]]},\n"
                   "  {soil: filter, outline: [[10, 0.5], [10, 1], [13, 1], [14, 0.5]]},\n"
                   "  {soil: clay, outline: [[20, 1], [22, 1], [22, 2], [20, 2]]}]\n" WATER);
    assert_near(usi_section_surface(section, -5, true), 0.5, 1e-12, 0.0);
    assert_near(usi_section_surface(section, -11, true), 0.25, 1e-9, 0.0);
    assert_near(usi_section_surface(section, -13, true), 0.0, 0.0, 1e-12);
    assert_near(usi_section_surface(section, 10, true), 1.0, 1e-12, 0.0);
    assert_near(usi_section_surface(section, 13.5, true), 0.75, 1e-9, 0.0);
    assert_near(usi_section_surface(section, 14.25, true), 0.25, 1e-9, 0.0);
    assert_near(usi_section_surface(section, 21, true), 0.0, 0.0, 1e-12);
    usi_plan plan = plan_of(section, &window);
    assert_true(has_vertex(&plan, 14.5, 0.0));
    check_edge(&plan, (usi_point){10, 1}, (usi_point){13, 1},
               (usi_edge){0, 0, USI_EDGE_RIGHT_BED, -1, 2, 0});
    check_edge(&plan, (usi_point){10, -1}, (usi_point){10, -0.5},
               (usi_edge){0, 0, USI_EDGE_STRUCTURE, -1, 0, 0});
    check_edge(&plan, (usi_point){10, -0.5}, (usi_point){10, 1},
               (usi_edge){0, 0, USI_EDGE_STRUCTURE, -1, 2, 0});
    usi_plan_free(&plan);
    us_section_free(section);
}

static void sides_and_floor_bound_the_plan(void **state)
{
    (void)state;
    us_section *section = support_section(
        "bed: {upstream: 0, downstream: 0}\nbase: none\n" APRON SAND
        "sides: {left: {x: 0, kind: fixed_head}, right: {x: 18, kind: closed}}\n" WATER);
    usi_plan plan = plan_of(section, &window);
    check_edge(&plan, (usi_point){0, -15}, (usi_point){0, -1},
               (usi_edge){0, 0, USI_EDGE_LEFT_SIDE, -1, 0, 0});
    check_edge(&plan, (usi_point){0, -15}, (usi_point){18, -15},
               (usi_edge){0, 0, USI_EDGE_BASE, 0, -1, 0});
    check_edge(&plan, (usi_point){18, -15}, (usi_point){18, 0},
               (usi_edge){0, 0, USI_EDGE_RIGHT_SIDE, 0, -1, 0});
    assert_int_equal(count_kind(&plan, USI_EDGE_LEFT_BED), 0);
    us_context *context = us_context_create();
    usi_plan none = {0};
    usi_plan_window narrow = {2, 8, -15};
    assert_int_equal(usi_plan_build(context, section, &narrow, &none), US_ERROR_ARGUMENT);
    assert_null(none.vertices);
    us_context_free(context);
    usi_plan_free(&plan);
    us_section_free(section);
}

static void areas_add_up(void **state)
{
    (void)state;
    us_section *section = support_section(
        FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: lens, kh: 1e-3, kv: 1e-3},\n"
                   "  {name: deep, kh: 1e-5, kv: 1e-5, top: [[0, -8], [10, -6]]}]\n"
                   "zones: [{soil: lens, outline: [[2, -2], [6, -2], [6, 3], [2, 3]]},\n"
                   "  {soil: sand, outline: [[3, -1], [4, -1], [4, -2], [3, -2]]}]\n" WATER);
    us_context *context = us_context_create();
    usi_survey survey;
    assert_int_equal(usi_survey_make(context, section, &window, &survey), US_OK);
    /* The lens shows 4 x 1 under the apron, less 1 x 1 of sand. */
    assert_near(survey.zone_areas_m2[0], 4.0, 1e-12, 0.0);
    assert_near(survey.zone_areas_m2[1], 1.0, 1e-12, 0.0);
    assert_near(survey.soil_areas_m2[1], 3.0, 1e-12, 0.0);
    /* 20 x 2, 10 x 3 and 20 x 4. */
    assert_near(survey.soil_areas_m2[2], 150.0, 1e-12, 0.0);
    assert_near(survey.soil_areas_m2[0], 500.0 - 10.0 - 150.0 - 3.0, 1e-12, 0.0);
    usi_survey_clear(&survey);
    us_context_free(context);
    us_section_free(section);
}

static void points_on_borders_are_told_apart(void **state)
{
    (void)state;
    us_section *section = support_section(
        FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: deep, kh: 1e-6, kv: 1e-6,\n"
                   "  top: [[0, -8], [10, -6]]}, {name: lens, kh: 1e-3, kv: 1e-3}]\n"
                   "zones: [{soil: lens, outline: [[2, -2], [6, -2], [6, -4], [2, -4]]}]\n" WATER);
    assert_int_equal(usi_section_soil_at(section, (usi_point){5, -7}, true, true), 0);
    assert_int_equal(usi_section_soil_at(section, (usi_point){5, -7}, true, false), 1);
    assert_int_equal(usi_section_soil_at(section, (usi_point){2, -3}, true, false), 2);
    assert_int_equal(usi_section_soil_at(section, (usi_point){2, -3}, false, false), 0);
    assert_int_equal(usi_section_soil_at(section, (usi_point){4, -2}, true, false), 2);
    assert_int_equal(usi_section_soil_at(section, (usi_point){4, -2}, true, true), 0);
    assert_int_equal(usi_section_soil_at(section, (usi_point){-30, -9}, true, true), 1);
    us_section_free(section);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_has_its_edges),
        cmocka_unit_test(slopes_meet_where_they_cross),
        cmocka_unit_test(zones_override_and_the_later_wins),
        cmocka_unit_test(what_makes_no_difference_leaves_no_trace),
        cmocka_unit_test(walls_leave_vertices_where_soil_is),
        cmocka_unit_test(zones_on_a_bed_raise_it),
        cmocka_unit_test(sides_and_floor_bound_the_plan),
        cmocka_unit_test(areas_add_up),
        cmocka_unit_test(points_on_borders_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
