/* Diagrams of uplift and exit gradient: the curves carry what the tables say. */
#include "support/labels.h"

#include "draw/diagram.h"

static const char flush[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                            "structure: {underside: [[0, 10], [8, 10]]}\n"
                            "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                            "water: [{name: flood, upstream: 12, downstream: 11}]\n";

static const char flush_low[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                                "structure: {underside: [[0, 10], [8, 10]]}\n"
                                "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                                "water: [{name: flood, upstream: 12, downstream: 11.7}]\n";

static const char still[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                            "structure: {underside: [[0, 9], [8, 9]]}\n"
                            "soils: [{name: sand, kh: 1e-5}]\n"
                            "water: [{name: level, upstream: 12, downstream: 12}]\n";

static const char no_bed[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                             "structure: {underside: [[0, 9.5], [8, 9.5]]}\n"
                             "soils: [{name: sand, kh: 1e-5}]\n"
                             "sides: {right: {x: 8, kind: fixed_head}}\n"
                             "water: [{name: flood, upstream: 12, downstream: 11}]\n";

static const char bare[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                           "walls: [{name: wall, x: 0, top: 11, tip: 6}]\n"
                           "soils: [{name: sand, kh: 1e-5}]\n"
                           "water: [{name: flood, upstream: 12, downstream: 11}]\n";

/* What leaves through the bed is what flows: the sum of kv times the gradient. */
static void test_the_curve_of_gradients_carries_the_flow(void **state)
{
    (void)state;
    static const char *const names[] = {"01-sill", "11-leftward", "15-steps", "16-ditch"};
    for (size_t n = 0; n < 3; n++) {
        char *text = read_section_file(names[n]);
        picture made;
        picture_compose(&made, text, US_PICTURE_EXIT, 0);
        usi_course course;
        assert_int_equal(usi_course_exit(&made.sheet, &made.sheet.window, &course), US_OK);
        double flow_m2_s = 0;
        for (size_t i = 1; i < course.count; i++) {
            const usi_edge_point *a = &course.points[i - 1];
            double kv_m_s = made.section->soils[a->soil].kv_m_s;
            flow_m2_s += 0.5 * kv_m_s * (a[1].x_m - a->x_m) * (a[1].value + a->value);
        }
        double expected = made.sheet.result->flow.rate_m2_s.value;
        if (n == 2) { /* some leaves through the faces of the steps */
            assert_true(flow_m2_s > 0.9 * expected && flow_m2_s < expected);
        } else {
            assert_near(flow_m2_s, expected, 0.005, 0);
        }
        usi_course_clear(&course);
        picture_discard(&made);
        free(text);
    }
}

/* The curve passes through the ring: the grid of the picture agrees with the table. */
static void test_the_curve_passes_through_the_value_of_the_table(void **state)
{
    (void)state;
    static const char *const names[] = {"01-sill", "02-deep", "11-leftward", "14-endless"};
    for (size_t n = 0; n < 4; n++) {
        char *text = read_section_file(names[n]);
        picture made;
        picture_compose(&made, text, US_PICTURE_EXIT, 0);
        usi_course course;
        assert_int_equal(usi_course_exit(&made.sheet, &made.sheet.window, &course), US_OK);
        const us_exit_result *exit = &made.sheet.result->exit;
        double found = -1;
        for (size_t i = 0; i < course.count; i++) {
            if (fabs(course.points[i].x_m - exit->x_m) < 1e-9) {
                found = fmax(found, course.points[i].value);
            }
        }
        assert_near(found, exit->gradient.value, 0.002, exit->gradient.error);
        usi_course_clear(&course);
        picture_discard(&made);
        free(text);
    }
}

static void test_the_curve_of_pressures_adds_up_to_the_uplift(void **state)
{
    (void)state;
    static const char *const names[] = {"01-sill", "12-dry", "11-leftward", "17-sealed"};
    for (size_t n = 0; n < 4; n++) {
        char *text = read_section_file(names[n]);
        picture made;
        picture_compose(&made, text, US_PICTURE_UPLIFT, 0);
        usi_course course;
        assert_int_equal(usi_course_uplift(&made.sheet, &made.sheet.window, &course), US_OK);
        double force_n_m = 0;
        double moment_n = 0;
        for (size_t i = 1; i < course.count; i++) {
            const usi_edge_point *a = &course.points[i - 1];
            double mean_pa = 0.5 * (fmax(a->value, 0) + fmax(a[1].value, 0));
            force_n_m += mean_pa * (a[1].x_m - a->x_m);
            moment_n += mean_pa * (a[1].x_m - a->x_m) * 0.5 * (a->x_m + a[1].x_m);
        }
        const us_uplift_result *uplift = &made.sheet.result->uplift;
        assert_near(force_n_m, uplift->force_n_m.value, 0.001, uplift->force_n_m.error);
        assert_near(moment_n / force_n_m, uplift->x_m.value, 0.001, uplift->x_m.error);
        usi_course_clear(&course);
        picture_discard(&made);
        free(text);
    }
}

/* The curve stays in its panel and clear of the place where it has no number. */
static void assert_curve_ends(const picture *made)
{
    const usi_scene *scene = &made->sheet.scene;
    double toe_x = usi_view_page(&scene->view, 8, 0).x_m;
    size_t pieces = 0;
    for (size_t s = 0; s < scene->shape_count; s++) {
        const usi_shape *shape = &scene->shapes[s];
        if (shape->space != USI_SPACE_PAGE || shape->count < 20 || shape->look.width != 2) {
            continue;
        }
        pieces++;
        for (size_t i = 0; i < shape->count; i++) {
            usi_point p = scene->points[shape->first + i];
            assert_true(p.z_m >= scene->view.plot.top - 42 - 250 - 1e-6);
            assert_true(p.x_m > toe_x + 0.5);
        }
    }
    assert_int_equal(pieces, 1);
}

/* With the critical gradient in the panel the curve ends below it, else at its edge. */
static void test_an_unbounded_gradient_is_cut_off(void **state)
{
    (void)state;
    static const char *const texts[] = {flush, flush_low};
    for (size_t t = 0; t < 2; t++) {
        picture made;
        picture_compose(&made, texts[t], US_PICTURE_EXIT, 0);
        assert_curve_ends(&made);
        assert_int_equal(count_labels(&made, USI_THING_UNBOUNDED), 1);
        assert_int_equal(picture_says(&made, ", above the diagram"), t);
        assert_true(picture_says(&made, "mean 0."));
        assert_true(picture_says(&made, "Exit gradient unbounded at distance 8.00"));
        assert_false(picture_says(&made, "exit gradient 0"));
        picture_discard(&made);
    }
}

static void test_what_an_uplift_says(void **state)
{
    (void)state;
    char *text = read_section_file("11-leftward");
    picture made;
    picture_compose(&made, text, US_PICTURE_UPLIFT, 0);
    assert_true(picture_says(&made, "lb/ft\u00b2"));
    assert_true(picture_says(&made, "\u00a0lb/ft per unit width"));
    assert_true(picture_says(&made, "W 21000\u00a0lb/ft"));
    assert_true(picture_says(&made, "Uplift exceeds weight by "));
    assert_true(picture_says(&made, "Factor W / U 0."));
    picture_discard(&made);
    free(text);
    picture_compose(&made, flush, US_PICTURE_UPLIFT, 0);
    assert_true(picture_says(&made, "water pressure on the underside, kN/m\u00b2"));
    assert_true(picture_says(&made, "No weight"));
    assert_false(picture_says(&made, "Factor"));
    picture_discard(&made);
    text = read_section_file("12-dry");
    picture_compose(&made, text, US_PICTURE_UPLIFT, 0);
    assert_true(picture_says(&made, "suction, counted as no pressure"));
    picture_discard(&made);
    free(text);
}

/* Water counts where its surface is given, and then nothing in the picture is assumed. */
static void test_a_surface_over_the_structure(void **state)
{
    (void)state;
    for (int t = 0; t < 2; t++) {
        char text[640];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 1, downstream: 0}\nbase: -9\n"
                       "structure: {underside: [[0, -1], [8, -1]], top: [[0, 1], [8, 0]], "
                       "unit_weight: 24}\n"
                       "walls: [{x: 0, top: 0, tip: -4}]\n"
                       "soils: [{kh: 1e-4, kv: 1e-4}]\n"
                       "water: [{upstream: 3, downstream: 1.5%s}]\n",
                       t == 1 ? ", surface: [[0, 3], [4, 1.2], [8, 1.5]]" : "");
        picture made;
        picture_compose(&made, text, US_PICTURE_UPLIFT, 0);
        assert_int_equal(picture_says(&made, "Weight of the water on it"), t);
        assert_int_equal(picture_says(&made, "structure is not counted"), 1 - t);
        assert_int_equal(picture_says(&made, "assumed, not computed"), 1 - t);
        picture_discard(&made);
    }
}

static void test_level_water(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, still, US_PICTURE_EXIT, 0);
    assert_true(picture_says(&made, "no water leaves the bed"));
    assert_true(picture_says(&made, "it stands level on both sides"));
    assert_true(picture_says(&made, "sand has no unit weight"));
    assert_false(picture_says(&made, "exit gradient 0"));
    picture_discard(&made);
    picture_compose(&made, still, US_PICTURE_UPLIFT, 0);
    /* 3 m of water on 8 m. */
    assert_true(picture_says(&made, "U 235."));
    assert_true(picture_says(&made, "It acts at distance 4.00"));
    picture_discard(&made);
}

static us_status draw(const char *text, us_picture what, const char **message)
{
    static char said[200];
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.02);
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.what = what;
    us_buffer *made = NULL;
    us_status status = us_section_draw(context, section, solution, &options, &made);
    size_t count = us_context_diagnostic_count(context);
    (void)snprintf(said, sizeof said, "%s",
                   count > 0 ? us_context_diagnostic(context, count - 1)->message : "");
    *message = said;
    assert_int_equal(made != NULL, status == US_OK);
    us_buffer_free(made);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return status;
}

static void test_what_has_no_subject_is_refused(void **state)
{
    (void)state;
    const char *message = NULL;
    assert_int_equal(draw(bare, US_PICTURE_UPLIFT, &message), US_ERROR_INPUT);
    assert_non_null(strstr(message, "no structure"));
    assert_int_equal(draw(no_bed, US_PICTURE_EXIT, &message), US_ERROR_INPUT);
    assert_non_null(strstr(message, "no downstream bed"));
    assert_int_equal(draw(bare, US_PICTURE_EXIT, &message), US_OK);
    assert_int_equal(draw(no_bed, US_PICTURE_UPLIFT, &message), US_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_curve_of_gradients_carries_the_flow),
        cmocka_unit_test(test_the_curve_passes_through_the_value_of_the_table),
        cmocka_unit_test(test_the_curve_of_pressures_adds_up_to_the_uplift),
        cmocka_unit_test(test_an_unbounded_gradient_is_cut_off),
        cmocka_unit_test(test_what_an_uplift_says),
        cmocka_unit_test(test_a_surface_over_the_structure),
        cmocka_unit_test(test_level_water),
        cmocka_unit_test(test_what_has_no_subject_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
