/* What the tables say of drains, stretches of the underside, dry bed, the base, floods
 * and cases that could not be solved. */
#include "support/tables.h"

static const us_drain_result drains[] = {{.name = "weeps",
                                          .open = true,
                                          .flow_m2_s = PRESENT(1.2345e-6, 4e-9),
                                          .lower_m2_s = 1.2e-6,
                                          .upper_m2_s = 1.3e-6,
                                          .total_m3_s = PRESENT(1.2345e-6 * 24.0, 4e-9 * 24.0),
                                          .head_m = 102.0,
                                          .face_m = PRESENT(102.25, 0.01)},
                                         {.name = "toe_drain",
                                          .open = true,
                                          .flow_m2_s = PRESENT(-3.0e-7, 2e-9),
                                          .total_m3_s = PRESENT(-3.0e-7 * 24.0, 2e-9 * 24.0),
                                          .head_m = 102.5,
                                          .feeds = true},
                                         {.name = "old", .open = false}};

static void drains_are_listed_with_what_they_do(void **state)
{
    scene *made = *state;
    made->water.drains = drains;
    made->water.drain_count = 3;
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_has(text, "Drains                        inflow       +/-   lets out at   inflow in "
                     "all\n");
    assert_has(text, "  weeps                    1.235e-06     4e-09           102       "
                     "2.963e-05\n");
    assert_has(text, "  toe_drain                -3.00e-07     2e-09         102.5       "
                     "-7.20e-06\n"
                     "    CAUTION: this drain feeds water into the soil: ");
    assert_has(text, "  old                           shut\n");
    us_buffer_free(text);
    us_buffer *csv = tabulate(made, US_FORMAT_CSV);
    assert_has(csv, "flood,drain.flow,weeps,1.2345e-06,4e-09,m^2/s,\r\n"
                    "flood,drain.lower,weeps,1.2e-06,,m^2/s,bound\r\n"
                    "flood,drain.upper,weeps,1.3e-06,,m^2/s,bound\r\n"
                    "flood,drain.total,weeps,2.9628e-05,9.6e-08,m^3/s,\r\n"
                    "flood,drain.head,weeps,102,,m,\r\n"
                    "flood,drain.face_head,weeps,102.25,0.01,m,\r\n");
    assert_has(csv, "flood,drain.flow,toe_drain,-3e-07,2e-09,m^2/s,feeds water into the soil\r\n");
    assert_has(csv, "flood,drain.flow,old,,,m^2/s,shut\r\n");
    us_buffer_free(csv);
}

/* It touches water of another head. */
static void a_drain_without_limit_has_no_number(void **state)
{
    static const us_drain_result meeting[] = {
        {.name = "pipe", .open = true, .head_m = 102.0, .face_m = PRESENT(102.0, 0.0)}};
    scene *made = *state;
    made->water.drains = meeting;
    made->water.drain_count = 1;
    assert_table(made, US_FORMAT_TEXT,
                 "  pipe                     unbounded                     102\n");
    assert_table(made, US_FORMAT_CSV,
                 "flood,drain.flow,pipe,,,m^2/s,unbounded\r\nflood,drain.head,pipe,102,,m,\r\n");
    json_t *root = load_scene(made);
    static const char *const absent[] = {"flow", "error", "lower", "upper", "certified", "total"};
    for (size_t k = 0; k < sizeof absent / sizeof absent[0]; k++) {
        char path[64];
        (void)snprintf(path, sizeof path, "water.0.drains.0.%s", absent[k]);
        assert_true(json_is_null(at(root, path)));
    }
    assert_true(json_is_true(at(root, "water.0.drains.0.open")));
    json_decref(root);
}

static void what_stands_shut_says_so_without_columns(void **state)
{
    scene *made = *state;
    made->water.drains = &drains[2];
    made->water.drain_count = 1;
    assert_table(made, US_FORMAT_TEXT, "Drains\n  old                           shut\n\n");
}

static void stretches_dry_bed_and_base_have_their_rows(void **state)
{
    static const us_stretch_result stretches[] = {
        {US_STRETCH_PERMEABLE, 3.0, 5.0, PRESENT(2e-6, 2e-8), PRESENT(102.0, 0.0)},
        {US_STRETCH_CONTACT_LOST, 6.0, 8.5, {0.0, 0.0, false}, PRESENT(102.75, 0.02)}};
    scene *made = *state;
    made->water.stretches = stretches;
    made->water.stretch_count = 2;
    made->water.dry = (us_dry_result){.present = true,
                                      .open_m = PRESENT(3.25, 0.02),
                                      .closed_m = PRESENT(12.5, 0.02),
                                      .flow_m2_s = PRESENT(4e-6, 2e-8),
                                      .rounds = 4};
    made->water.base_flow_m2_s = (us_value)PRESENT(-5e-6, 2e-8);
    assert_table(made, US_FORMAT_TEXT,
                 "Permeable, x = 3 to 5 m\n"
                 "  water that passes up                2.00e-06     2e-08  m^2/s\n"
                 "Void, x = 6 to 8.5 m\n"
                 "  head along it                         102.75      0.02  m\n"
                 "Bed above the water: water may come out, none goes in\n"
                 "  comes out over                          3.25      0.02  m\n"
                 "  none comes out over                    12.50      0.02  m\n"
                 "  water that comes out                4.00e-06     2e-08  m^2/s\n"
                 "Out through the base                  5.00e-06     2e-08  m^2/s\n");
    assert_table(made, US_FORMAT_CSV,
                 "flood,stretch.flow,permeable from x = 3 to 5 m,2e-06,2e-08,m^2/s,\r\n"
                 "flood,stretch.head,permeable from x = 3 to 5 m,102,,m,\r\n"
                 "flood,stretch.head,contact_lost from x = 6 to 8.5 m,102.75,0.02,m,\r\n"
                 "flood,outflow.open,,3.25,0.02,m,\r\n"
                 "flood,outflow.closed,,12.5,0.02,m,\r\n"
                 "flood,outflow.flow,,4e-06,2e-08,m^2/s,estimate\r\n"
                 "flood,outflow.steps,,4,,,\r\n"
                 "flood,base_flow,,-5e-06,2e-08,m^2/s,\r\n");
}

static void the_case_with_drains_shut_stands_beside(void **state)
{
    scene *made = *state;
    us_water_result shut = made->water;
    shut.flow.rate_m2_s = (us_value)PRESENT(2e-5, 1e-8);
    shut.exit.bounded = false;
    shut.exit.gradient = (us_value){0.0, 0.0, false};
    shut.exit.mean_depth_m = 0.5;
    shut.flow.accuracy = US_ACCURACY_MISSED;
    made->water.drains_shut = &shut;
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_has(text,
               "With all drains shut                  as it is        then       +/-  unit\n"
               "  flow, per unit width               2.346e-05   2.000e-05     1e-08  m^2/s\n"
               "    NOT CONVERGED\n"
               "  exit gradient, upward                 0.2346   unbounded\n"
               "  mean below the exit                    0.210       0.210     0.002\n"
               "    means over the upper 0.9 and 0.5 m\n"
               "  piping factor                           4.20        4.20      0.03\n"
               "  uplift on the underside                123.5       123.5       0.3  kN/m\n");
    us_buffer_free(text);
    us_buffer *csv = tabulate(made, US_FORMAT_CSV);
    assert_has(csv, "flood,drains_shut.flow,,2e-05,1e-08,m^2/s,not converged\r\n");
    assert_has(csv, "flood,drains_shut.exit_gradient,silty_sand,,,,unbounded\r\n");
    assert_has(csv, "flood,drains_shut.uplift.force,,123.456,0.3,kN/m,\r\n");
    us_buffer_free(csv);
}

static void an_undermined_case_has_words_and_no_numbers(void **state)
{
    scene *made = *state;
    us_water_result *water = &made->water;
    *water = (us_water_result){.name = "scoured",
                               .upstream_m = 103.4,
                               .downstream_m = 102.0,
                               .head_difference_m = 1.4,
                               .undermined = "The bed reaches the tip of wall toe.",
                               .discharge_m3_s = PRESENT(120.0, 0.0),
                               .return_period_years = PRESENT(100.0, 0.0)};
    made->solution.register_count = 0;
    assert_table(made, US_FORMAT_TEXT,
                 "  discharge 120 m^3/s, return period 100 years\n\n"
                 "Undermined: The bed reaches the tip of wall toe.\n"
                 "  nothing was solved for this case\n\n"
                 "Notes\n");
    assert_table(made, US_FORMAT_CSV,
                 "scoured,discharge,,120,,m^3/s,\r\n"
                 "scoured,return_period,,100,,years,\r\n"
                 "scoured,undermined,,,,,The bed reaches the tip of wall toe.\r\n"
                 ",undersill,");
    json_t *root = load_scene(made);
    assert_true(json_is_null(at(root, "water.0.flow")));
    assert_word(root, "units.discharge", "m^3/s");
    assert_near(json_number_value(at(root, "water.0.discharge")), 120.0, 1e-12, 0.0);
    json_decref(root);
}

static void water_that_enters_the_bed_is_no_exit(void **state)
{
    scene *made = *state;
    us_exit_result *exit = &made->water.exit;
    exit->enters = true;
    exit->gradient = (us_value){0.0, 0.0, false};
    exit->mean = (us_value){0.0, 0.0, false};
    assert_table(made, US_FORMAT_TEXT,
                 "Exit gradient: none, as water enters the bed downstream\nUplift");
    assert_table(made, US_FORMAT_CSV, "flood,exit_gradient,silty_sand,,,,water enters the bed\r\n");
    json_t *root = load_scene(made);
    assert_true(json_is_true(at(root, "water.0.exit_gradient.enters")));
    assert_true(json_is_null(at(root, "water.0.exit_gradient.value")));
    json_decref(root);
}

static void an_estimate_closer_than_its_error_has_no_bounds(void **state)
{
    scene *made = *state;
    made->water.flow.certified = false;
    made->water.flow.lower_m2_s = 2.3456e-5;
    made->water.flow.upper_m2_s = 2.3457e-5;
    assert_table(made, US_FORMAT_TEXT, "m^2/s\n  an estimate, without bounds\n");
}

static void bounds_may_lie_below_zero(void **state)
{
    scene *made = *state;
    made->water.flow.rate_m2_s = (us_value)PRESENT(-2.34567e-5, 2.4e-8);
    made->water.flow.lower_m2_s = -2.4e-5;
    made->water.flow.upper_m2_s = -2.3e-5;
    assert_table(made, US_FORMAT_TEXT, "  bounded by -2.40e-05 and -2.30e-05 m^2/s\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        SCENE(drains_are_listed_with_what_they_do),
        SCENE(a_drain_without_limit_has_no_number),
        SCENE(what_stands_shut_says_so_without_columns),
        SCENE(stretches_dry_bed_and_base_have_their_rows),
        SCENE(the_case_with_drains_shut_stands_beside),
        SCENE(an_undermined_case_has_words_and_no_numbers),
        SCENE(water_that_enters_the_bed_is_no_exit),
        SCENE(an_estimate_closer_than_its_error_has_no_bounds),
        SCENE(bounds_may_lie_below_zero),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
