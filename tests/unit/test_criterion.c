/* When refinement may stop: stated errors against the accuracy asked for, on
 * readings made by hand. */
#include "study/criterion.h"

#include "study/notes.h"
#include "study/results.h"
#include "support/support.h"

typedef struct bench {
    us_section section;
    usi_soil soils[3];
    usi_wall wall;
    usi_water waters[2];
    usi_exit exit;
    usi_exit_reading exits[2];
    usi_wall_reading walls[2];
    usi_uplift_reading uplift[2][2];
    usi_nest nest;
} bench;

/* A wall of 5 m in soil of k = 2e-5 over tighter soil that is no layer. */
static int enter(void **state)
{
    bench *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->soils[0] = (usi_soil){.layer = true, .kh_m_s = 4e-5, .kv_m_s = 1e-5};
    made->soils[1] = (usi_soil){.layer = true, .kh_m_s = 1e-3, .kv_m_s = 1e-3};
    made->soils[2] = (usi_soil){.layer = false, .kh_m_s = 1e-9, .kv_m_s = 1e-9};
    made->wall = (usi_wall){.name = "sheet"};
    made->waters[0] = (usi_water){.name = "dry", .upstream_m = 1.0, .downstream_m = 1.0};
    made->waters[1] = (usi_water){.name = "flood", .upstream_m = 3.0, .downstream_m = 1.0};
    made->exit.mean_depth_m = 5.0;
    made->section = (us_section){.has_base = true,
                                 .soil_count = 3,
                                 .soils = made->soils,
                                 .wall_count = 1,
                                 .walls = &made->wall,
                                 .water_count = 2,
                                 .waters = made->waters,
                                 .right_end_m = 10.0,
                                 .water_unit_weight_n_m3 = 9810.0};
    made->nest = (usi_nest){
        .exit_count = 1, .exits = &made->exit, .count = 2, .accuracy = 0.01, .halvings = 0};
    for (int k = 0; k < 2; k++) {
        made->exits[k] =
            (usi_exit_reading){.bounded = true, .gradient_1_m = 0.1, .second_1_m = 0.1};
        made->nest.readings[k] = (usi_reading){.flow_m_s = 1e-5,
                                               .exit_count = 1,
                                               .exits = &made->exits[k],
                                               .walls = &made->walls[k],
                                               .uplift = made->uplift[k]};
    }
    *state = made;
    return 0;
}

static int leave(void **state)
{
    free(*state);
    return 0;
}

static usi_target target_of(const bench *made, usi_driver driver)
{
    usi_target targets[USI_TARGET_MOST];
    size_t count = usi_criterion_targets(&made->section, &made->nest, targets);
    for (size_t k = 0; k < count; k++) {
        if (targets[k].driver == driver) {
            return targets[k];
        }
    }
    fail_msg("no such target");
    return targets[0];
}

static void an_error_counts_relative_to_its_value(void **state)
{
    bench *made = *state;
    made->nest.readings[0].flow_m_s = 1.02e-5;
    usi_target flow = target_of(made, USI_DRIVER_FLOW);
    assert_near(flow.error, 0.02, 1e-6, 0.0);
    assert_near(flow.allowed, 0.01, 1e-15, 0.0);
    assert_false(flow.on_scale);
    assert_near(usi_criterion_excess(&made->section, &made->nest), 2.0, 1e-6, 0.0);
}

static void what_tends_to_zero_is_judged_on_its_scale(void **state)
{
    bench *made = *state;
    /* sqrt(kh kv) of the tightest layer; what is no layer does not count. */
    double scale = usi_criterion_flow_scale(&made->section);
    assert_near(scale, 2e-5, 1e-12, 0.0);
    assert_near(usi_criterion_gradient_scale(&made->nest), 0.2, 1e-12, 0.0);
    made->nest.readings[0].flow_m_s = 1.5e-6 * scale;
    made->nest.readings[1].flow_m_s = 1e-6 * scale;
    made->exits[0].gradient_1_m = 3e-7;
    made->exits[1].gradient_1_m = 2e-7;
    made->exits[1].second_1_m = 2e-7;
    usi_target flow = target_of(made, USI_DRIVER_FLOW);
    assert_true(flow.on_scale);
    assert_near(flow.error, 0.5e-6 / 1e-3, 1e-6, 0.0); /* 50 % of the flow itself */
    usi_target gradient = target_of(made, USI_DRIVER_GRADIENT);
    assert_true(gradient.on_scale);
    assert_near(gradient.error, 1e-7 / (1e-3 * 0.2), 1e-6, 0.0);
    assert_true(usi_criterion_excess(&made->section, &made->nest) < 1.0);
    /* A flow twice as large as what counts as small is held to its own size. */
    made->nest.readings[0].flow_m_s = 2.2e-3 * scale;
    made->nest.readings[1].flow_m_s = 2e-3 * scale;
    flow = target_of(made, USI_DRIVER_FLOW);
    assert_false(flow.on_scale);
    assert_near(flow.error, 0.1, 1e-6, 0.0);
}

static void a_value_is_judged_as_refinement_judges_it(void **state)
{
    (void)state;
    const us_value exact = {1.0, 0.01, true};
    const us_value wide = {1.0, 0.0101, true};
    const us_value small = {1e-6, 9e-6, true};
    const us_value lost = {1e-6, 1.1e-5, true};
    const us_value zero = {0.0, 0.0, true};
    const us_value none = {0.0, 0.0, false};
    assert_int_equal(usi_criterion_judge(exact, 1.0, 0.01), US_ACCURACY_REACHED);
    assert_int_equal(usi_criterion_judge(wide, 1.0, 0.01), US_ACCURACY_MISSED);
    assert_int_equal(usi_criterion_judge(small, 1.0, 0.01), US_ACCURACY_ON_SCALE);
    assert_int_equal(usi_criterion_judge(lost, 1.0, 0.01), US_ACCURACY_MISSED);
    assert_int_equal(usi_criterion_judge(zero, 0.0, 0.01), US_ACCURACY_REACHED);
    assert_int_equal(usi_criterion_judge(none, 1.0, 0.01), US_ACCURACY_REACHED);
}

static void heads_are_shares_of_the_head_difference(void **state)
{
    bench *made = *state;
    made->walls[0].tip.value = 0.51;
    made->walls[1].tip.value = 0.5;
    usi_target heads = target_of(made, USI_DRIVER_HEADS);
    assert_near(heads.error, 0.01, 1e-9, 0.0);
    assert_near(heads.allowed, 0.005, 1e-12, 0.0);
    made->nest.accuracy = 1e-4; /* beside flow, no less than 0.0005 */
    assert_near(target_of(made, USI_DRIVER_HEADS).allowed, 5e-4, 1e-12, 0.0);
}

static void without_flow_and_exit_uplift_is_what_counts(void **state)
{
    bench *made = *state;
    made->section.has_base = false;
    made->section.has_structure = true;
    made->nest.exit_count = 0;
    made->uplift[0][1].force_n_m = 9810.0 * 10.0 * 2.0 * 0.52;
    made->uplift[1][1].force_n_m = 9810.0 * 10.0 * 2.0 * 0.50;
    usi_target uplift = target_of(made, USI_DRIVER_UPLIFT);
    assert_near(uplift.error, 0.02, 1e-6, 0.0);
    assert_near(uplift.allowed, 0.005, 1e-12, 0.0);
    assert_int_equal(uplift.index, 1);
}

static void nothing_flows_nothing_is_asked(void **state)
{
    bench *made = *state;
    usi_target targets[USI_TARGET_MOST];
    made->waters[1].upstream_m = 1.0;
    made->nest.readings[0].flow_m_s = 1.0;
    assert_int_equal(usi_criterion_targets(&made->section, &made->nest, targets), 0);
    assert_true(usi_criterion_excess(&made->section, &made->nest) <= 0.0);
}

/* Fills the notes of a solution whose nest has not converged. */
static void note(bench *made, us_water_result *water, char *text, size_t room)
{
    us_context *context = us_context_create();
    us_solution solution = {.section = &made->section, .water_count = 2, .water = water};
    assert_int_equal(usi_notes_accuracy(context, &made->nest, &solution), US_OK);
    text[0] = '\0';
    for (size_t n = 0; n < solution.note_count; n++) {
        (void)snprintf(text + strlen(text), room - strlen(text), "%s\n", solution.notes[n]);
        free(solution.notes[n]);
    }
    free(solution.notes);
    us_context_free(context);
}

static void a_note_names_what_missed_and_by_how_much(void **state)
{
    bench *made = *state;
    char text[2048];
    us_water_result water[2] = {0}; /* the first has no head difference */
    water[1].head_difference_m = 2.0;
    water[1].flow.rate_m2_s = (us_value){4e-5, 1.2e-6, true};
    water[1].flow.accuracy = US_ACCURACY_MISSED;
    water[1].exit.mean = (us_value){1e-3, 5e-3, true};
    water[1].exit.accuracy = US_ACCURACY_MISSED;
    made->walls[0].tip.value = 0.51;
    made->walls[1].tip.value = 0.5;
    note(made, water, text, sizeof text);
    assert_non_null(strstr(text, "NOT CONVERGED"));
    assert_non_null(strstr(text, "flow: error 3 % of the value, 1 % asked for; "));
    assert_non_null(strstr(text, "mean exit gradient: error 100 % of the value or more"));
    assert_non_null(strstr(text, "heads at wall `sheet`: error 1 % of the head difference, 0.5 % "
                                 "asked for."));
    water[1].exit.gradient = (us_value){0.2, 0.1, true};
    made->walls[0].tip.value = 0.5;
    note(made, water, text, sizeof text);
    assert_non_null(strstr(text, "; exit gradient: error 50 % of the value, 1 % asked for."));
    assert_null(strstr(text, "heads at wall"));
    made->nest.converged = true;
    water[1].flow.accuracy = US_ACCURACY_ON_SCALE;
    water[1].exit.accuracy = US_ACCURACY_REACHED;
    note(made, water, text, sizeof text);
    assert_non_null(strstr(text, "Flow tends to zero"));
    assert_null(strstr(text, "NOT CONVERGED"));
    assert_null(strstr(text, "gradient"));
}

#define BENCH(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH(an_error_counts_relative_to_its_value),
        BENCH(what_tends_to_zero_is_judged_on_its_scale),
        cmocka_unit_test(a_value_is_judged_as_refinement_judges_it),
        BENCH(heads_are_shares_of_the_head_difference),
        BENCH(without_flow_and_exit_uplift_is_what_counts),
        BENCH(nothing_flows_nothing_is_asked),
        BENCH(a_note_names_what_missed_and_by_how_much),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
