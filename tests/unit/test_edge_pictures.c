/* Pictures of sections with drains, dry and sealed bed, voids, scour, water below: each shows
 * the ground and the heads of its own water case, and says what acts. */
#include "support/labels.h"

#include "draw/diagram.h"

static void compose(picture *made, const char *name, us_picture what, size_t water)
{
    char *text = read_data_file("edges", name);
    picture_compose(made, text, what, water);
    free(text);
}

static const struct {
    const char *name;
    size_t water;
} cases[] = {{"scoured", 1}, {"dry_chute", 0}, {"artesian_leaky", 0}, {"voids", 0},
             {"sealed", 3},  {"inside", 0},    {"permeable", 0},      {"side_own", 0}};
enum { CASES = sizeof cases / sizeof cases[0] };

static void test_pressures_add_up_to_the_uplift(void **state)
{
    (void)state;
    for (size_t n = 0; n < CASES; n++) {
        picture made;
        compose(&made, cases[n].name, US_PICTURE_UPLIFT, cases[n].water);
        usi_course course;
        assert_int_equal(usi_course_uplift(&made.sheet, &made.sheet.window, &course), US_OK);
        double force_n_m = 0;
        for (size_t i = 1; i < course.count; i++) {
            const usi_edge_point *a = &course.points[i - 1];
            force_n_m += 0.5 * (fmax(a->value, 0) + fmax(a[1].value, 0)) * (a[1].x_m - a->x_m);
        }
        const us_uplift_result *uplift = &made.sheet.result->uplift;
        assert_near(force_n_m, uplift->force_n_m.value, 0.003, uplift->force_n_m.error);
        usi_course_clear(&course);
        picture_discard(&made);
    }
}

/* The curve has its top where the table has the largest gradient. */
static void test_the_curve_passes_through_the_value_of_the_table(void **state)
{
    (void)state;
    static const size_t picked[] = {1, 2, 3, 5, 6, 7};
    for (size_t n = 0; n < sizeof picked / sizeof picked[0]; n++) {
        picture made;
        compose(&made, cases[picked[n]].name, US_PICTURE_EXIT, cases[picked[n]].water);
        usi_course course;
        assert_int_equal(usi_course_exit(&made.sheet, &made.sheet.window, &course), US_OK);
        const us_exit_result *exit = &made.sheet.result->exit;
        double most = 0;
        for (size_t i = 0; i < course.count; i++) {
            most = fmax(most, course.points[i].value);
        }
        assert_near(most, exit->gradient.value, 0.03, 2 * exit->gradient.error);
        usi_course_clear(&course);
        picture_discard(&made);
    }
}

static void test_the_ground_is_that_of_the_water_case(void **state)
{
    (void)state;
    static const us_picture pictures[] = {US_PICTURE_SECTION, US_PICTURE_NET, US_PICTURE_UPLIFT,
                                          US_PICTURE_EXIT};
    for (size_t p = 0; p < 4; p++) {
        for (size_t water = 0; water < 2; water++) {
            picture made;
            compose(&made, "scoured", pictures[p], water);
            usi_point hole = {18, 98.5};
            assert_int_equal(usi_sheet_soil(&made.sheet, hole), water == 0 ? 0 : -1);
            bool told = picture_says(&made, "bed of the section; this water case has its own");
            assert_int_equal(told, water == 1);
            picture_discard(&made);
        }
    }
}

/* Where dry bed begins to let water out, as the table has it. */
static void test_dry_bed_is_split_where_the_table_says(void **state)
{
    (void)state;
    picture made;
    compose(&made, "dry_chute", US_PICTURE_NET, 0);
    const us_dry_result *dry = &made.sheet.result->dry;
    double split_m = 0;
    for (size_t i = 0; i < made.sheet.fringe_count; i++) {
        const usi_fringe *one = &made.sheet.fringes[i];
        if (one->kind == USI_FRINGE_STILL) {
            split_m = one->to_m;
            assert_near(one->from_m, 12, 1e-9, 0);
        }
    }
    assert_near((split_m - 12) * sqrt(1 + 0.04), dry->closed_m.value, 0.02, dry->closed_m.error);
    assert_true(picture_says(&made, "water comes out of dry bed, over "));
    assert_true(picture_says(&made, "dry bed, no water comes out"));
    assert_true(picture_says(&made, "no water"));
    assert_false(picture_says(&made, "no water, bed"));
    picture_discard(&made);
}

static void check_words(const char *name, us_picture what, size_t water, const char *words)
{
    picture made;
    compose(&made, name, what, water);
    if (!picture_says(&made, words)) {
        fail_msg("%s does not say '%s'", name, words);
    }
    picture_discard(&made);
}

static void test_what_acts_is_said(void **state)
{
    (void)state;
    check_words("inside", US_PICTURE_NET, 0, "No flow lines");
    check_words("sealed", US_PICTURE_NET, 3, "sealed bed: lets no water through");
    check_words("voids", US_PICTURE_UPLIFT, 0, "void below the structure");
    check_words("permeable", US_PICTURE_UPLIFT, 0, "permeable stretch of the underside");
    check_words("artesian_leaky", US_PICTURE_NET, 0, "water below it with head 104.00");
    check_words("side_own", US_PICTURE_NET, 0, "left side at \u221225.00\u00a0m: head fixed at");
    check_words("voids", US_PICTURE_NET, 0, "relief, inflow 1.18");
    check_words("voids", US_PICTURE_SECTION, 0, "relief, outlet 101.50");
}

static const char drained[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                              "structure: {underside: [[0, 9.5], [12, 9.5]]}\n"
                              "soils: [{name: sand, kh: 1e-5}]\n"
                              "drains:\n"
                              "  - {name: high, from: [3, 9.5], to: [4, 9.5], outlet: 13.5}\n"
                              "  - {name: off, from: [6, 9.5], to: [7, 9.5], outlet: 10.5, "
                              "state: shut}\n"
                              "water: [{name: flood, upstream: 12, downstream: 11}]\n";

static void test_a_drain_that_feeds_is_called_out(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, drained, US_PICTURE_NET, 0);
    assert_true(picture_says(&made, "high, feeds water in"));
    assert_true(picture_says(&made, "off, shut"));
    assert_true(picture_says(&made, "drain that feeds water into the soil"));
    assert_true(picture_says(&made, "between heads of 13.50 and 11.00"));
    picture_discard(&made);
}

static const char lost[] = "bed: {upstream: 101, downstream: 100}\nbase: 90\n"
                           "structure: {underside: [[0, 99.5], [12, 99.5]]}\n"
                           "walls: [{name: toe, x: 12, top: 100, tip: 97}]\n"
                           "soils: [{name: sand, kh: 2e-5}]\n"
                           "drains: [{name: ditch, from: [15, 99], to: [17, 99], outlet: 103},\n"
                           "  {name: row, from: [4, 99.5], to: [5, 99.5], outlet: 103}]\n"
                           "water: [{name: scour, upstream: 104, downstream: 102, "
                           "beds: {downstream: %s}}]\n";

/* With its bed at a level. */
static void compose_lost(picture *made, const char *bed, us_picture what)
{
    char text[1000];
    (void)snprintf(text, sizeof text, lost, bed);
    picture_compose(made, text, what, 0);
}

static void test_an_undermined_case_shows_its_bed(void **state)
{
    (void)state;
    picture made;
    compose_lost(&made, "96.5", US_PICTURE_SECTION);
    assert_int_equal(usi_sheet_soil(&made.sheet, (usi_point){15, 98}), -1);
    assert_true(picture_says(&made, "undermined"));
    assert_true(picture_says(&made, "Undermined: nothing can be solved"));
    picture_discard(&made);
}

/* Undermined or not, a drain that its case lays bare is drawn as shut. */
static void test_a_drain_laid_bare_is_drawn_shut(void **state)
{
    (void)state;
    static const struct {
        const char *bed;
        us_picture what;
    } drawn[] = {
        {"96.5", US_PICTURE_SECTION}, {"98.5", US_PICTURE_SECTION}, {"98.5", US_PICTURE_NET}};
    for (size_t i = 0; i < sizeof drawn / sizeof drawn[0]; i++) {
        picture made;
        compose_lost(&made, drawn[i].bed, drawn[i].what);
        assert_true(picture_says(&made, "ditch, shut"));
        assert_false(picture_says(&made, "row, shut"));
        assert_true(picture_says(&made, "row, "));
        picture_discard(&made);
    }
}

static const char chute[] = "bed: {upstream: 10, downstream: [[12, 10], [30, 9], [40, 10]]}\n"
                            "base: 0\nstructure: {underside: [[0, 9.5], [12, 9.5]]}\n"
                            "soils: [{name: sand, kh: 1e-5}]\n"
                            "water: [{name: flood, upstream: 12, downstream: 9.5}]\n";

/* No water surface in the soil. */
static void test_a_pool_ends_where_its_bed_rises_out_of_it(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, chute, US_PICTURE_SECTION, 0);
    const usi_scene *scene = &made.sheet.scene;
    size_t surfaces = 0;
    for (size_t s = 0; s < scene->shape_count; s++) {
        const usi_point *points = scene->points + scene->shapes[s].first;
        bool level = scene->shapes[s].count == 2 && points[0].z_m == 9.5 && points[1].z_m == 9.5;
        if (level && scene->shapes[s].look.width == 1.6 && points[0].x_m > 12) {
            assert_near(points[0].x_m, 21, 1e-9, 0);
            assert_near(points[1].x_m, 35, 1e-9, 0);
            surfaces++;
        }
    }
    assert_int_equal(surfaces, 1);
    picture_discard(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_pressures_add_up_to_the_uplift),
        cmocka_unit_test(test_the_curve_passes_through_the_value_of_the_table),
        cmocka_unit_test(test_the_ground_is_that_of_the_water_case),
        cmocka_unit_test(test_dry_bed_is_split_where_the_table_says),
        cmocka_unit_test(test_what_acts_is_said),
        cmocka_unit_test(test_a_drain_that_feeds_is_called_out),
        cmocka_unit_test(test_an_undermined_case_shows_its_bed),
        cmocka_unit_test(test_a_drain_laid_bare_is_drawn_shut),
        cmocka_unit_test(test_a_pool_ends_where_its_bed_rises_out_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
