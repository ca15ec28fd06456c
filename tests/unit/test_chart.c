/* Charts on logarithmic axes: what is shown, and that nothing collides. */
#include "support/support.h"

#include "draw/chart_page.h"

enum { RUNGS = 6, SERIES = 8 };

typedef struct fixture {
    us_context *context;
    usi_scene scene;
    usi_chart_point points[SERIES][RUNGS];
    usi_chart_series series[SERIES];
    usi_chart chart;
} fixture;

static const char *const names[SERIES] = {"flow",
                                          "exit gradient",
                                          "uplift",
                                          "head at the tip of a wall with quite a long name",
                                          "width of the bracket",
                                          "mean",
                                          "piezometer",
                                          "last"};
static const usi_chart_slope slopes[] = {{-1, "second order"}, {-0.5, "first order"}};
static const usi_chart_limit limits[] = {{1e-2, "1 %"}};
static const char *const remarks[] = {"A remark.", "Another."};

static int set_up(void **state)
{
    fixture *made = calloc(1, sizeof *made);
    made->context = us_context_create();
    assert_int_equal(usi_scene_start(made->context, &made->scene), US_OK);
    for (size_t s = 0; s < SERIES; s++) {
        for (size_t i = 0; i < RUNGS; i++) {
            double unknowns = 800.0 * pow(3.9, (double)i);
            /* All end near one another: names have to make room. */
            made->points[s][i] = (usi_chart_point){unknowns, (1.0 + 0.01 * (double)s) / unknowns};
        }
        made->series[s] = (usi_chart_series){names[s], RUNGS, made->points[s], true, s % 2 == 1};
    }
    made->chart = (usi_chart){.title = "Title",
                              .subtitle = "Subtitle",
                              .across = "unknowns",
                              .up = "error",
                              .series_count = SERIES,
                              .series = made->series,
                              .slope_count = 2,
                              .slopes = slopes,
                              .limit_count = 1,
                              .limits = limits,
                              .remark_count = 2,
                              .remarks = remarks,
                              .digest = "abc"};
    *state = made;
    return 0;
}

static int tear_down(void **state)
{
    fixture *made = *state;
    usi_scene_clear(&made->scene);
    us_context_free(made->context);
    free(made);
    return 0;
}

static size_t count_says(const usi_scene *scene, const char *words)
{
    size_t found = 0;
    for (size_t i = 0; i < scene->text_count; i++) {
        found += strcmp(scene->texts[i].words, words) == 0 ? 1 : 0;
    }
    return found;
}

static void check_texts_keep_apart(const usi_scene *scene)
{
    usi_box page = {0, 0, USI_PAGE_WIDTH, scene->view.page_height};
    for (size_t i = 0; i < scene->text_count; i++) {
        assert_true(usi_box_holds(page, scene->texts[i].box));
        for (size_t k = 0; k < i; k++) {
            if (usi_box_meets(scene->texts[i].box, scene->texts[k].box)) {
                fail_msg("'%s' meets '%s'", scene->texts[i].words, scene->texts[k].words);
            }
        }
    }
}

static void test_all_is_named_and_apart(void **state)
{
    fixture *with = *state;
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    for (size_t s = 0; s < SERIES; s++) {
        assert_int_equal(count_says(&with->scene, names[s]), 1);
    }
    assert_int_equal(count_says(&with->scene, "second order"), 1);
    assert_int_equal(count_says(&with->scene, "first order"), 1);
    assert_int_equal(count_says(&with->scene, "A remark."), 1);
    check_texts_keep_apart(&with->scene);
}

static void test_unjoined_series_stand_in_the_key(void **state)
{
    fixture *with = *state;
    for (size_t s = 0; s < SERIES; s++) {
        with->series[s].joined = false;
    }
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    for (size_t i = 0; i < with->scene.text_count; i++) {
        const usi_text *text = &with->scene.texts[i];
        for (size_t s = 0; s < SERIES; s++) {
            if (strcmp(text->words, names[s]) == 0) {
                assert_true(text->box.top > with->scene.view.plot.bottom);
            }
        }
    }
    assert_int_equal(count_says(&with->scene, "flow"), 1);
    check_texts_keep_apart(&with->scene);
}

/* Every point inside the frame, on a scale of powers of ten. */
static void test_points_stand_where_they_belong(void **state)
{
    fixture *with = *state;
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    usi_box plot = with->scene.view.plot;
    for (size_t i = 0; i < RUNGS; i++) {
        usi_point at = usi_chart_at(&with->scene, with->points[0][i]);
        assert_true(at.x_m > plot.left && at.x_m < plot.right);
        assert_true(at.z_m > plot.top && at.z_m < plot.bottom);
    }
    usi_point a = usi_chart_at(&with->scene, (usi_chart_point){1e3, 1e-3});
    usi_point b = usi_chart_at(&with->scene, (usi_chart_point){1e4, 1e-4});
    usi_point c = usi_chart_at(&with->scene, (usi_chart_point){1e5, 1e-5});
    assert_near(b.x_m - a.x_m, c.x_m - b.x_m, 1e-9, 0.0);
    assert_near(b.z_m - a.z_m, c.z_m - b.z_m, 1e-9, 0.0);
    assert_true(b.x_m > a.x_m && b.z_m > a.z_m);
    assert_int_equal(count_says(&with->scene, "10,000"), 1);
    assert_int_equal(count_says(&with->scene, "0.01\u00a0%"), 1);
}

static void test_what_has_no_logarithm_is_left_out(void **state)
{
    fixture *with = *state;
    usi_chart_point odd[] = {{1e3, 1e-2}, {2e3, 0.0},  {4e3, -1.0},     {8e3, (double)NAN},
                             {-1, 1e-3},  {1e4, 1e-3}, {HUGE_VAL, 1e-3}};
    with->chart.series_count = 1;
    with->series[0] = (usi_chart_series){"odd", sizeof odd / sizeof odd[0], odd, true, false};
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    for (size_t i = 0; i < with->scene.point_count; i++) {
        assert_true(isfinite(with->scene.points[i].x_m) && isfinite(with->scene.points[i].z_m));
    }
    assert_near(with->scene.view.high.x_m, 4.0, 0.1, 0.0);
    check_texts_keep_apart(&with->scene);
}

static void test_an_empty_chart_is_a_frame(void **state)
{
    fixture *with = *state;
    with->chart.series_count = 0;
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    assert_near(with->scene.view.plot.right, USI_PAGE_WIDTH - 26, 1e-12, 0.0);
    check_texts_keep_apart(&with->scene);
}

/* A plot full of points has no room for a triangle: better none than one that hides them. */
static void test_slopes_need_room(void **state)
{
    enum { SIDE = 48 };
    static usi_chart_point crowd[SIDE * SIDE];
    fixture *with = *state;
    for (size_t i = 0; i < SIDE * SIDE; i++) {
        double across = (double)(i % SIDE) / (SIDE - 1);
        double up = (double)(i / SIDE) / (SIDE - 1);
        crowd[i] = (usi_chart_point){pow(10, 3 + across), pow(10, -2 * up)};
    }
    with->chart.series_count = 1;
    with->series[0] = (usi_chart_series){"crowd", SIDE * SIDE, crowd, false, false};
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    assert_int_equal(count_says(&with->scene, "second order"), 0);
    assert_int_equal(count_says(&with->scene, "first order"), 0);
}

/* A line runs where the words of the slopes would stand first. */
static void test_words_dodge_lines(void **state)
{
    fixture *with = *state;
    usi_chart_point flat[] = {{1e3, 1.3e-5}, {1e5, 1.3e-5}};
    with->chart.series_count = 1;
    with->series[0] = (usi_chart_series){"flat", 2, flat, true, false};
    assert_int_equal(usi_chart_compose(&with->chart, &with->scene), US_OK);
    usi_point ends[2] = {usi_chart_at(&with->scene, flat[0]), usi_chart_at(&with->scene, flat[1])};
    for (size_t i = 0; i < with->scene.text_count; i++) {
        assert_false(usi_segment_meets(ends[0], ends[1], with->scene.texts[i].box));
    }
    assert_int_equal(count_says(&with->scene, "second order"), 1);
}

static void test_the_bytes_repeat(void **state)
{
    static const us_draw_format formats[] = {US_DRAW_PNG, US_DRAW_SVG, US_DRAW_PDF};
    fixture *with = *state;
    for (size_t f = 0; f < 3; f++) {
        us_buffer *twice[2] = {NULL, NULL};
        us_draw_options options = US_DRAW_OPTIONS_INIT;
        options.format = formats[f];
        options.width_px = 900;
        for (size_t k = 0; k < 2; k++) {
            assert_int_equal(usi_chart_write(with->context, &with->chart, &options, &twice[k]),
                             US_OK);
        }
        size_t length = us_buffer_length(twice[0]);
        assert_int_equal(length, us_buffer_length(twice[1]));
        assert_memory_equal(us_buffer_data(twice[0]), us_buffer_data(twice[1]), length);
        us_buffer_free(twice[0]);
        us_buffer_free(twice[1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_all_is_named_and_apart, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_unjoined_series_stand_in_the_key, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_points_stand_where_they_belong, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_what_has_no_logarithm_is_left_out, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_an_empty_chart_is_a_frame, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_slopes_need_room, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_words_dodge_lines, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_the_bytes_repeat, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
