/* What tables say about a number beside it: whether it has converged, is a bound,
 * is unbounded, or holds for one spot alone. */
#include "support/tables.h"

static void what_has_not_converged_is_marked(void **state)
{
    scene *made = *state;
    made->water.flow.accuracy = US_ACCURACY_MISSED;
    made->water.exit.accuracy = US_ACCURACY_ON_SCALE;
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_has(text, "m^2/s\n  NOT CONVERGED\n  bounded by 2.30e-05");
    assert_has(text, "  tends to zero: error held to the scale of H over the depth of the mean\n");
    us_buffer_free(text);
    us_buffer *csv = tabulate(made, US_FORMAT_CSV);
    assert_has(csv, "flood,flow,,2.34567e-05,2.4e-08,m^2/s,not converged\r\n");
    assert_has(csv, "flood,exit_gradient,silty_sand,0.23456,0.0012,,tends to zero\r\n");
    us_buffer_free(csv);
    json_t *root = load_scene(made);
    assert_word(root, "water.0.flow.accuracy", "missed");
    assert_word(root, "water.0.exit_gradient.accuracy", "on scale");
    json_decref(root);
    /* Where the point value is unbounded, it is the mean that counts. */
    made->water.exit.bounded = false;
    made->water.exit.gradient.present = false;
    made->water.exit.accuracy = US_ACCURACY_MISSED;
    csv = tabulate(made, US_FORMAT_CSV);
    assert_has(csv, "flood,exit_gradient,silty_sand,,,,unbounded\r\n");
    assert_has(csv, "flood,exit_gradient.mean,silty_sand,0.21,0.002,,not converged\r\n");
    us_buffer_free(csv);
}

static const us_profile_point along[] = {
    {.x_m = 15.0},
    {.x_m = 15.25, .gradient = PRESENT(0.31, 0.012)},
    {.x_m = 15.5, .gradient = PRESENT(0.21, 0.001), .factor = PRESENT(4.75, 0.02)}};

static void an_unbounded_exit_has_its_profile_and_a_way_out(void **state)
{
    scene *made = *state;
    us_exit_result *exit = &made->water.exit;
    exit->bounded = false;
    exit->gradient.present = false;
    exit->profile = along;
    exit->profile_count = 3;
    exit->with_cutoff = (us_value)PRESENT(0.18, 0.001);
    exit->cutoff_m = 0.9;
    assert_table(made, US_FORMAT_TEXT,
                 "  with a cut-off of 0.9 m there         0.1800    0.0010\n"
                 "  along the bed:\n"
                 "    0.25 m from there                    0.310     0.012\n"
                 "    0.5 m from there                    0.2100    0.0010  factor 4.75\n");
    assert_table(made, US_FORMAT_CSV,
                 "flood,exit_gradient.with_cutoff,silty_sand,0.18,0.001,,\r\n"
                 "flood,exit_gradient.with_cutoff.depth,,0.9,,m,\r\n"
                 "flood,exit_gradient.profile,bed at x = 15 m,,,,unbounded\r\n"
                 "flood,exit_gradient.profile,bed at x = 15.25 m,0.31,0.012,,\r\n"
                 "flood,exit_gradient.profile,bed at x = 15.5 m,0.21,0.001,,\r\n"
                 "flood,exit_gradient.profile.factor,bed at x = 15.5 m,4.75,0.02,,\r\n");
    json_t *root = load_scene(made);
    assert_member(root, "water.0.exit_gradient.with_cutoff.depth", 0.9);
    assert_member(root, "water.0.exit_gradient.with_cutoff.value", 0.18);
    assert_true(json_is_null(at(root, "water.0.exit_gradient.profile.0.value")));
    assert_member(root, "water.0.exit_gradient.profile.2.x", 15.5);
    assert_member(root, "water.0.exit_gradient.profile.2.error", 0.001);
    assert_member(root, "water.0.exit_gradient.profile.2.factor", 4.75);
    assert_true(json_is_null(at(root, "water.0.exit_gradient.profile.1.factor")));
    assert_true(json_is_false(at(root, "water.0.exit_gradient.falls_fast")));
    json_decref(root);
}

static void a_gradient_that_falls_fast_is_a_caution(void **state)
{
    scene *made = *state;
    us_exit_result *exit = &made->water.exit;
    exit->profile = along;
    exit->profile_count = 3;
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_null(strstr(us_buffer_data(text), "along the bed")); /* bounded, and slow */
    us_buffer_free(text);
    exit->falls_fast = true;
    assert_table(made, US_FORMAT_TEXT,
                 "  CAUTION: it falls fast along the bed:\n    0.25 m from there");
    assert_table(made, US_FORMAT_CSV,
                 "flood,exit_gradient,silty_sand,0.23456,0.0012,,falls fast along the bed\r\n");
    json_t *root = load_scene(made);
    assert_true(json_is_true(at(root, "water.0.exit_gradient.falls_fast")));
    assert_true(json_is_null(at(root, "water.0.exit_gradient.with_cutoff")));
    json_decref(root);
    made->water.head_difference_m = 0.0; /* nothing flows: nothing to warn of */
    text = tabulate(made, US_FORMAT_TEXT);
    assert_null(strstr(us_buffer_data(text), "along the bed"));
    us_buffer_free(text);
}

static void bounds_and_estimates_are_told_apart(void **state)
{
    scene *made = *state;
    assert_table(made, US_FORMAT_CSV, "flow.lower,,2.3e-05,,m^2/s,bound\r\n");
    made->water.flow.certified = false;
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_has(text, "  estimates: 2.30e-05 and 2.40e-05 m^2/s\n");
    assert_null(strstr(us_buffer_data(text), "bounded by"));
    us_buffer_free(text);
    assert_table(made, US_FORMAT_CSV, "flow.upper,,2.4e-05,,m^2/s,estimate\r\n");
    json_t *root = load_scene(made);
    assert_true(json_is_false(at(root, "water.0.flow.certified")));
    json_decref(root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        SCENE(what_has_not_converged_is_marked),
        SCENE(an_unbounded_exit_has_its_profile_and_a_way_out),
        SCENE(a_gradient_that_falls_fast_is_a_caution),
        SCENE(bounds_and_estimates_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
