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
    static const char *const expected[] = {"CHOLMOD", "OpenBLAS", "libyaml", "jansson",
                                           "cairo",   "pango",    "libpng"};
    us_library library;
    size_t count = 0;
    for (; us_version_library(count, &library); count++) {
        assert_true(count < sizeof expected / sizeof expected[0]);
        /* Another BLAS than OpenBLAS does its work, and cannot be asked. */
        if (strcmp(library.name, "BLAS") != 0) {
            assert_string_equal(library.name, expected[count]);
            assert_true(library.version[0] >= '0' && library.version[0] <= '9');
        }
    }
    assert_int_equal(count, sizeof expected / sizeof expected[0]);
    assert_false(us_version_library(0, NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(frees_take_null),
        cmocka_unit_test(a_section_goes_all_the_way),
        cmocka_unit_test(what_is_out_of_range_is_null),
        cmocka_unit_test(a_failure_leaves_the_output_alone),
        cmocka_unit_test(every_status_has_a_name),
        cmocka_unit_test(the_release_is_told_in_one_voice),
        cmocka_unit_test(every_library_underneath_has_a_version),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
