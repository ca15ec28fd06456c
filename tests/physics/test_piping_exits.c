/* Piping where water leaves the soil: on slopes, at drains, and which way the factor goes. */
#include "support/support.h"

enum { TEXT_ROOM = 2048 };

static support_solved solve(const char *text)
{
    return support_solve_text(text, 0.005);
}

static const us_exit_place *worst(const support_solved *one)
{
    const us_exit_result *exit = &one->water->exit;
    assert_true(exit->worst < exit->exit_count);
    return &exit->exits[exit->worst];
}

static const us_exit_place *find(const support_solved *one, const char *kind)
{
    const us_exit_result *exit = &one->water->exit;
    for (size_t k = 0; k < exit->exit_count; k++) {
        if (strcmp(exit->exits[k].kind, kind) == 0) {
            return &exit->exits[k];
        }
    }
    return NULL;
}

static bool notes_say(const support_solved *one, const char *words)
{
    for (size_t n = 0; n < us_solution_note_count(one->solution); n++) {
        if (strstr(us_solution_note(one->solution, n), words) != NULL) {
            return true;
        }
    }
    return false;
}

/* A bed that falls 1 in 3 from the wall, under water or out of it. */
static const char *slope(char *text, const char *soil, const char *water, const char *require)
{
    (void)snprintf(text, TEXT_ROOM,
                   "bed: {upstream: 10, downstream: [[0, 8], [30, -2]]}\nbase: -20\n"
                   "walls: [{name: w, x: 0, top: 10.2, tip: 4}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 19.62%s}]\n"
                   "water: [{name: a, upstream: 12, %s}]\n%s",
                   soil, water, require);
    return text;
}

/* The factor is 0.4426 of what the same gradient would have on level bed: by hand, b = atan(1/3),
 * cos b - sin b / tan 32 degrees = 0.9487 - 0.3162 / 0.6249. */
static void test_slope_under_water(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    support_solved one =
        solve(slope(text, ", friction_angle: 32 deg", "downstream: 11", "require: {piping: 2}\n"));
    const us_exit_place *place = worst(&one);
    assert_string_equal(place->kind, "bed");
    assert_near(place->slope_rad, atan(1.0 / 3.0), 1e-9, 0.0);
    assert_false(place->emerges);
    double level = one.water->exit.critical.value / place->gradient.value;
    assert_near(place->factor.value / level, 0.4426, 0.0, 1e-4);
    assert_near(place->gradient.value, one.water->exit.gradient.value, 1e-12, 0.0);
    assert_near(one.water->checks[0].value.value, place->factor.value, 1e-12, 0.0);
    assert_int_equal(one.water->checks[0].verdict, US_PASS);
    support_release(&one);
}

/* The same bed and gradients, once with no angle: no number, and nothing passes. */
static void test_slope_without_an_angle(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    support_solved one = solve(slope(text, "", "downstream: 11", "require: {piping: 2}\n"));
    const us_check_result *check = &one.water->checks[0];
    assert_string_equal(check->name, "piping");
    assert_int_equal(check->verdict, US_NOT_CHECKED);
    assert_false(check->value.present);
    assert_false(one.water->exit.piping_factor.present);
    assert_non_null(strstr(check->basis, "friction_angle"));
    assert_true(us_solution_fails(one.solution));
    assert_true(notes_say(&one, "Not checked"));
    support_release(&one);
    one = solve(slope(text, "", "downstream: 11", ""));
    assert_int_equal(one.water->checks[0].verdict, US_NOT_CHECKED);
    assert_false(us_solution_fails(one.solution));
    support_release(&one);
}

/* Out of the water this slope bears nothing: tan b = 1/3 against half of tan 32 degrees. */
static void test_slope_out_of_the_water(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    support_solved one = solve(slope(text, ", friction_angle: 32 deg", "downstream: at_bed", ""));
    const us_exit_place *place = worst(&one);
    assert_true(place->emerges);
    assert_near(place->critical.value, 0.0, 0.0, 0.0);
    assert_true(place->factor.present);
    assert_near(place->factor.value, 0.0, 0.0, 0.0);
    support_release(&one);
    one = solve(slope(text, ", friction_angle: 45 deg", "downstream: at_bed", ""));
    place = worst(&one);
    /* cos b - 2 sin b: 0.9487 - 0.6325 = 0.3162 */
    assert_near(place->critical.value, 0.3162, 0.0, 5e-5);
    assert_near(place->factor.value, place->critical.value / place->gradient.value, 1e-9, 0.0);
    support_release(&one);
}

/* A lens of light soil on the bed governs, though the bed is steeper elsewhere. */
static void test_lighter_soil_further_on(void **state)
{
    (void)state;
    support_solved one =
        solve("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
              "walls: [{name: w, x: 0, top: 0, tip: -5}]\n"
              "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20},\n"
              "        {name: peat, kh: 1e-5, kv: 1e-5, unit_weight: 10.5}]\n"
              "zones: [{soil: peat, outline: [[2, 0], [6, 0], [6, -2], [2, -2]]}]\n"
              "water: [{name: a, upstream: 3, downstream: 0.5}]\n");
    const us_exit_place *place = worst(&one);
    assert_string_equal(place->kind, "bed");
    assert_string_equal(place->soil, "peat");
    assert_near(place->x_m, 2.0, 0.0, 0.2);
    assert_true(place->factor.value < 0.2 * one.water->exit.piping_factor.value);
    assert_near(one.water->checks[0].value.value, place->factor.value, 1e-12, 0.0);
    support_release(&one);
}

/* A floor, two walls and a drain in between. */
static const char *drained(char *text, const char *drain)
{
    (void)snprintf(text, TEXT_ROOM,
                   "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                   "structure: {underside: [[0, -1], [12, -1]]}\n"
                   "walls: [{x: 0, top: -1, tip: -4}, {x: 12, top: -1, tip: -4}]\n"
                   "soils: [{name: sand, kh: 4e-5, kv: 1e-5, unit_weight: 19.62}]\n"
                   "drains: [%s]\n"
                   "water: [{name: a, upstream: 3, downstream: 1}]\n",
                   drain);
    return text;
}

/* Mean gradient over the face of a drain: flow over kv and area; of weeps, over the holes. */
static void test_drains(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    support_solved one =
        solve(drained(text, "{name: d, from: [5, -1], to: [6.5, -1], outlet: tailwater}"));
    const us_exit_place *place = find(&one, "drain");
    assert_non_null(place);
    assert_string_equal(place->name, "d");
    double flow_m2_s = one.water->drains[0].flow_m2_s.value;
    assert_near(place->mean.value, flow_m2_s / (1e-5 * 1.5), 1e-12, 0.0);
    assert_near(place->factor.value, 1.0 / place->mean.value, 1e-12, 0.0);
    assert_false(place->gradient.present);
    support_release(&one);
    one = solve(drained(text, "{name: w, at: [6, -1], diameter: 0.1, spacing: 2, outlet: 1}"));
    place = find(&one, "weeps");
    assert_non_null(place);
    flow_m2_s = one.water->drains[0].flow_m2_s.value;
    double hole_m2 = 0.25 * 3.14159265358979323846 * 0.01;
    assert_near(place->mean.value, flow_m2_s * 2.0 / (1e-5 * hole_m2), 1e-12, 0.0);
    support_release(&one);
    one = solve(drained(text, "{name: u, from: [6, -3], to: [6, -6], outlet: 1}"));
    place = find(&one, "drain");
    assert_non_null(place);
    assert_true(place->mean.present); /* but nothing boils sideways */
    assert_false(place->factor.present);
    assert_false(place->critical.present);
    assert_null(place->lacks);
    support_release(&one);
}

static double factor_with(double tip_m, double weight_kn_m3)
{
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 1, downstream: 0}\nbase: -12\n"
                   "structure: {underside: [[0, -1], [10, -1]]}\n"
                   "walls: [{x: 0, top: -1, tip: -4}, {x: 10, top: -1, tip: %.17g}]\n"
                   "soils: [{name: sand, kh: 2e-5, kv: 1e-5, unit_weight: %.17g}]\n"
                   "water: [{name: a, upstream: 3, downstream: 1}]\n",
                   tip_m, weight_kn_m3);
    support_solved one = solve(text);
    double factor = one.water->checks[0].value.value;
    assert_true(one.water->checks[0].value.present);
    support_release(&one);
    return factor;
}

/* In one soil with one exit and no drain a deeper toe wall never lowers the factor, nor does more
 * weight of the soil. */
static void test_which_way_it_goes(void **state)
{
    (void)state;
    double before = 0.0;
    for (double tip_m = -1.5; tip_m > -11.5; tip_m -= 1.0) {
        double factor = factor_with(tip_m, 20.0);
        assert_true(factor > before);
        before = factor;
    }
    before = 0.0;
    for (double weight = 11.0; weight < 24.0; weight += 2.0) {
        double factor = factor_with(-3.0, weight);
        assert_true(factor > before);
        before = factor;
    }
}

/* Again, with the note on other ratios of kh and kv. */
static void solve_ratios(support_solved *one)
{
    us_solution_free(one->solution);
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.005;
    options.other_ratios = true;
    assert_int_equal(us_section_solve(one->context, one->section, &options, &one->solution), US_OK);
    one->water = us_solution_water(one->solution, 0);
}

static void test_what_a_colleague_would_ask(void **state)
{
    (void)state;
    static const char frame[] =
        "bed: {upstream: 1, downstream: 0}\nbase: -12\n"
        "structure: {underside: [[0, -1], [10, -1]], top: [[0, 1], [10, 0.5]]}\n"
        "walls: [{x: 0, top: -1, tip: -4}, {x: 10, top: -1, tip: -3}]\n"
        "soils: [{name: sand, kh: 2e-5, kv: 1e-5, unit_weight: 20}]\n%s";
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text, frame, "water: [{name: a, upstream: 3, downstream: 1}]\n");
    support_solved one = solve(text);
    assert_true(notes_say(&one, "No case of low flow"));
    assert_false(notes_say(&one, "What kh / kv does"));
    assert_true(notes_say(&one, "neither passed nor failed: piping"));
    assert_false(notes_say(&one, "none stands on the bed"));
    solve_ratios(&one);
    assert_true(notes_say(&one, "What kh / kv does, in `a`"));
    support_release(&one);
    (void)snprintf(text, sizeof text, frame,
                   "water: [{name: a, upstream: 3, downstream: 2}, {name: b, upstream: 1.2, "
                   "downstream: at_bed}]\n");
    one = solve(text);
    assert_false(notes_say(&one, "No case of low flow"));
    assert_true(notes_say(&one, "b: water stands 0.2 m over the top"));
    support_release(&one);
    (void)snprintf(text, sizeof text, frame, "water: [{name: a, upstream: 900, downstream: 1}]\n");
    one = solve(text);
    assert_true(notes_say(&one, "Worth a second look: water case a stands 899 m"));
    support_release(&one);
}

/* Below a bare wall in one soil the ratio makes no difference to gradients, as widths drawn
 * together by sqrt(kv / kh) leave wall and base as they are (in every text). */
static void test_ratio_below_a_bare_wall(void **state)
{
    (void)state;
    support_solved one = solve("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                               "walls: [{name: w, x: 0, top: 0, tip: -5}]\n"
                               "soils: [{name: sand, kh: 2e-5, kv: 0.5e-5, unit_weight: 20}]\n"
                               "water: [{name: a, upstream: 3, downstream: 1}]\n");
    double factors[3] = {0.0};
    solve_ratios(&one);
    for (size_t n = 0; n < us_solution_note_count(one.solution); n++) {
        const char *at = strstr(us_solution_note(one.solution, n), "smallest piping factor ");
        if (at != NULL) {
            assert_int_equal(sscanf(at, "smallest piping factor %lf, %lf and %lf", &factors[0],
                                    &factors[1], &factors[2]),
                             3);
        }
    }
    assert_near(factors[0], one.water->checks[0].value.value, 5e-3, 0.0);
    assert_near(factors[1], factors[0], 0.05, 0.0);
    assert_near(factors[2], factors[0], 0.05, 0.0);
    support_release(&one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slope_under_water),
        cmocka_unit_test(test_slope_without_an_angle),
        cmocka_unit_test(test_slope_out_of_the_water),
        cmocka_unit_test(test_lighter_soil_further_on),
        cmocka_unit_test(test_drains),
        cmocka_unit_test(test_which_way_it_goes),
        cmocka_unit_test(test_what_a_colleague_would_ask),
        cmocka_unit_test(test_ratio_below_a_bare_wall),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
