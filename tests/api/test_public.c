/* The library as a stranger meets it: through the public headers alone. */
#include "support/support.h"

static const char *const TEXT = "bed: {upstream: 10, downstream: 10}\n"
                                "base: 0\n"
                                "walls:\n"
                                "  - {name: sheet, x: 0, top: 11, tip: 6}\n"
                                "soils:\n"
                                "  - {name: sand, kh: 1e-4, kv: 1e-4, unit_weight: 20}\n"
                                "water:\n"
                                "  - {name: high, upstream: 13, downstream: 11}\n"
                                "  - {name: dry, upstream: 12, downstream: at_bed}\n";

static void frees_take_null(void **state)
{
    (void)state;
    us_context_free(NULL);
    us_section_free(NULL);
    us_solution_free(NULL);
    us_buffer_free(NULL);
}

static void questions_about_null_have_an_answer(void **state)
{
    (void)state;
    us_context_clear(NULL);
    us_context_set_progress(NULL, NULL, NULL);
    us_context_set_threads(NULL, 2);
    assert_int_equal(us_context_diagnostic_count(NULL), 0);
    assert_null(us_context_diagnostic(NULL, 0));
    assert_string_equal(us_buffer_data(NULL), "");
    assert_int_equal(us_buffer_length(NULL), 0);
    assert_string_equal(us_section_title(NULL), "");
    assert_string_equal(us_section_sha256(NULL), "");
    assert_false(us_section_flows_left(NULL));
    assert_true(us_section_width(NULL) == 0.0);
    assert_int_equal(us_section_water_count(NULL), 0);
    assert_null(us_section_water_name(NULL, 0));
    assert_int_equal(us_solution_water_count(NULL), 0);
    assert_null(us_solution_water(NULL, 0));
    assert_null(us_solution_grid(NULL));
    assert_true(us_solution_accuracy(NULL) == 0.0);
    assert_int_equal(us_solution_note_count(NULL), 0);
    assert_null(us_solution_note(NULL, 0));
    assert_false(us_solution_fails(NULL));
}

static void calls_without_their_arguments_are_refused(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_solution *solution = support_solve(context, section, 0.05);
    us_section *other = NULL;
    us_solution *solved = NULL;
    us_buffer *made = NULL;
    us_convergence *studied = NULL;
    const us_input one = {.text = TEXT, .length = strlen(TEXT)};
    const us_input two = {.text = TEXT, .length = strlen(TEXT), .path = "a"};
    const us_input none = {.name = "a"};
    const us_status statuses[] = {
        us_section_read(NULL, TEXT, strlen(TEXT), "a", &other),
        us_section_read(context, NULL, 0, "a", &other),
        us_section_read(context, TEXT, strlen(TEXT), "a", NULL),
        us_section_read_file(NULL, "a", &other),
        us_section_read_file(context, NULL, &other),
        us_section_read_stream(context, NULL, "a", &other),
        us_section_read_cases(NULL, &one, NULL, &other),
        us_section_read_cases(context, NULL, NULL, &other),
        us_section_read_cases(context, &none, NULL, &other),
        us_section_read_cases(context, &two, NULL, &other),
        us_section_read_cases(context, &one, &none, &other),
        us_section_read_cases(context, &one, NULL, NULL),
        us_section_vary(NULL, section, NULL, 0, &other),
        us_section_vary(context, NULL, NULL, 0, &other),
        us_section_vary(context, section, NULL, 0, NULL),
        us_section_explain(NULL, section, &made),
        us_section_explain(context, NULL, &made),
        us_section_explain(context, section, NULL),
        us_section_solve(NULL, section, NULL, &solved),
        us_section_solve(context, NULL, NULL, &solved),
        us_section_solve(context, section, NULL, NULL),
        us_solution_tabulate(NULL, solution, US_FORMAT_TEXT, &made),
        us_solution_tabulate(context, NULL, US_FORMAT_TEXT, &made),
        us_solution_tabulate(context, solution, US_FORMAT_TEXT, NULL),
        us_solution_tabulate(context, solution, (us_format)99, &made),
        us_section_draw(NULL, section, solution, NULL, &made),
        us_section_draw(context, NULL, solution, NULL, &made),
        us_section_draw(context, section, NULL, NULL, &made),
        us_section_draw(context, section, solution, NULL, NULL),
        us_section_converge(NULL, section, NULL, &studied),
        us_section_converge(context, NULL, NULL, &studied),
        us_section_converge(context, section, NULL, NULL),
        us_convergence_tabulate(context, NULL, US_FORMAT_TEXT, &made),
        us_convergence_draw(context, NULL, NULL, &made),
        us_buffer_write_file(NULL, NULL, "a", NULL),
        us_buffer_write_file(context, NULL, "a", NULL),
    };
    for (size_t i = 0; i < sizeof statuses / sizeof statuses[0]; i++) {
        assert_int_equal(statuses[i], US_ERROR_ARGUMENT);
    }
    assert_true(other == NULL && solved == NULL && made == NULL && studied == NULL);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

/* A program compiled for an older release hands in shorter options. */
static void options_may_be_shorter_and_not_longer(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_solution *solution = NULL;
    us_solve_options longer = US_SOLVE_OPTIONS_INIT;
    longer.size++;
    us_solve_options never = {0};
    assert_int_equal(us_section_solve(context, section, &longer, &solution), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_solve(context, section, &never, &solution), US_ERROR_ARGUMENT);
    assert_null(solution);
    assert_int_equal(us_context_diagnostic_count(context), 2);
    us_context_clear(context);
    us_draw_options shorter = US_DRAW_OPTIONS_INIT;
    shorter.size = offsetof(us_draw_options, format);
    shorter.format = (us_draw_format)99;
    shorter.what = US_PICTURE_SECTION;
    us_buffer *picture = NULL;
    assert_int_equal(us_section_draw(context, section, NULL, &shorter, &picture), US_OK);
    assert_memory_equal(us_buffer_data(picture), "\x89PNG", 4);
    us_buffer_free(picture);
    us_section_free(section);
    us_context_free(context);
}

static void studies_refuse_what_they_cannot_do(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_converge_options wrong[] = {US_CONVERGE_OPTIONS_INIT, US_CONVERGE_OPTIONS_INIT,
                                   US_CONVERGE_OPTIONS_INIT, US_CONVERGE_OPTIONS_INIT,
                                   US_CONVERGE_OPTIONS_INIT};
    wrong[0].rungs = 1;
    wrong[1].rungs = 9;
    wrong[2].unknowns_most = 999;
    wrong[3].water = 99;
    wrong[4].size++;
    us_convergence *study = NULL;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        assert_int_equal(us_section_converge(context, section, &wrong[i], &study),
                         US_ERROR_ARGUMENT);
        assert_int_equal(us_context_diagnostic_count(context), i + 1);
        assert_null(study);
    }
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    options.rungs = 2;
    assert_int_equal(us_section_converge(context, section, &options, &study), US_OK);
    us_buffer *made = NULL;
    us_draw_options narrow = US_DRAW_OPTIONS_INIT;
    narrow.width_px = 899;
    assert_int_equal(us_convergence_draw(context, study, &narrow, &made), US_ERROR_ARGUMENT);
    narrow.format = (us_draw_format)99;
    assert_int_equal(us_convergence_draw(context, study, &narrow, &made), US_ERROR_ARGUMENT);
    assert_int_equal(us_convergence_tabulate(context, study, (us_format)99, &made),
                     US_ERROR_ARGUMENT);
    assert_null(made);
    assert_null(us_convergence_trend(study, us_convergence_trend_count(study)));
    assert_null(us_convergence_note(study, us_convergence_note_count(study)));
    us_convergence_free(study);
    us_section_free(section);
    us_context_free(context);
}

static void a_solution_of_another_section_is_not_drawn(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_section *twin = support_read(context, TEXT);
    us_solution *solution = support_solve(context, twin, 0.05);
    us_buffer *picture = NULL;
    assert_int_equal(us_section_draw(context, section, solution, NULL, &picture),
                     US_ERROR_ARGUMENT);
    assert_null(picture);
    us_solution_free(solution);
    us_section_free(twin);
    us_section_free(section);
    us_context_free(context);
}

static void what_tables_hold_can_be_asked_for(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_change changes[] = {{"flow_toward", "left", 0.0}, {"width", NULL, 12.0}};
    us_section *variant = NULL;
    assert_int_equal(us_section_vary(context, section, changes, 2, &variant), US_OK);
    assert_true(!us_section_flows_left(section) && us_section_flows_left(variant));
    assert_near(us_section_width(variant), 12.0, 0.0, 0.0);
    assert_int_equal(strlen(us_section_sha256(section)), 64);
    assert_string_not_equal(us_section_sha256(section), us_section_sha256(variant));
    us_solution *solution = support_solve(context, section, 0.03);
    assert_near(us_solution_accuracy(solution), 0.03, 0.0, 0.0);
    us_solution_free(solution);
    us_section_free(variant);
    us_section_free(section);
    us_context_free(context);
}

static void a_section_goes_all_the_way(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    assert_non_null(context);
    us_section *section = support_read(context, TEXT);
    assert_int_equal(us_section_water_count(section), 2);
    assert_string_equal(us_section_water_name(section, 1), "dry");
    us_solution *solution = support_solve(context, section, 0.01);
    assert_int_equal(us_solution_water_count(solution), 2);
    const us_water_result *high = us_solution_water(solution, 0);
    assert_true(high->flow.rate_m2_s.present && high->exit.gradient.present);
    assert_true(high->flow.lower_m2_s <= high->flow.rate_m2_s.value);
    assert_true(high->flow.rate_m2_s.value <= high->flow.upper_m2_s);
    assert_false(us_solution_fails(solution));
    us_buffer *made = NULL;
    assert_int_equal(us_solution_tabulate(context, solution, US_FORMAT_JSON, &made), US_OK);
    assert_memory_equal(us_buffer_data(made), "{", 1);
    us_buffer_free(made);
    made = NULL;
    assert_int_equal(us_section_draw(context, section, solution, NULL, &made), US_OK);
    assert_memory_equal(us_buffer_data(made), "\x89PNG", 4);
    us_buffer_free(made);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

static void what_is_out_of_range_is_null(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_solution *solution = support_solve(context, section, 0.05);
    assert_null(us_section_water_name(section, 2));
    assert_null(us_solution_water(solution, 2));
    assert_null(us_solution_note(solution, us_solution_note_count(solution)));
    assert_null(us_context_diagnostic(context, us_context_diagnostic_count(context)));
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

static void a_failure_leaves_the_output_alone(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    const char *wrong = "bed: {upstream: 10, downstream: 10}\nbase: 20\nwals: []\n";
    assert_int_equal(us_section_read(context, wrong, strlen(wrong), "wrong.yaml", &section),
                     US_ERROR_INPUT);
    assert_null(section);
    assert_true(us_context_diagnostic_count(context) > 1);
    assert_string_equal(us_context_diagnostic(context, 0)->file, "wrong.yaml");
    us_context_clear(context);
    assert_int_equal(us_context_diagnostic_count(context), 0);
    section = support_read(context, TEXT);
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 2.0;
    us_solution *solution = NULL;
    assert_int_equal(us_section_solve(context, section, &options, &solution), US_ERROR_ARGUMENT);
    assert_null(solution);
    us_section_free(section);
    us_context_free(context);
}

static void every_status_has_a_name(void **state)
{
    (void)state;
    for (int status = US_OK; status <= US_CANCELLED; status++) {
        assert_true(strlen(us_status_name((us_status)status)) > 1);
    }
}

static void the_release_is_told_in_one_voice(void **state)
{
    (void)state;
    char parts[32];
    (void)snprintf(parts, sizeof parts, "%d.%d.%d", US_VERSION_MAJOR, US_VERSION_MINOR,
                   US_VERSION_PATCH);
    assert_string_equal(US_VERSION, parts);
    assert_string_equal(us_version(), US_VERSION);
    assert_int_equal(us_version_number(), US_VERSION_NUMBER);
}

static void every_library_underneath_has_a_version(void **state)
{
    (void)state;
    static const char *const expected[] = {"CHOLMOD", "libyaml", "jansson",
                                           "cairo",   "pango",   "libpng"};
    us_library library;
    size_t count = 0;
    for (; us_version_library(count, &library); count++) {
        assert_true(count < sizeof expected / sizeof expected[0]);
        assert_string_equal(library.name, expected[count]);
        assert_true(library.version[0] >= '0' && library.version[0] <= '9');
    }
    assert_int_equal(count, sizeof expected / sizeof expected[0]);
    assert_false(us_version_library(0, NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(frees_take_null),
        cmocka_unit_test(questions_about_null_have_an_answer),
        cmocka_unit_test(calls_without_their_arguments_are_refused),
        cmocka_unit_test(options_may_be_shorter_and_not_longer),
        cmocka_unit_test(studies_refuse_what_they_cannot_do),
        cmocka_unit_test(a_solution_of_another_section_is_not_drawn),
        cmocka_unit_test(what_tables_hold_can_be_asked_for),
        cmocka_unit_test(a_section_goes_all_the_way),
        cmocka_unit_test(what_is_out_of_range_is_null),
        cmocka_unit_test(a_failure_leaves_the_output_alone),
        cmocka_unit_test(every_status_has_a_name),
        cmocka_unit_test(the_release_is_told_in_one_voice),
        cmocka_unit_test(every_library_underneath_has_a_version),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
