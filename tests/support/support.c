#include "support/support.h"

#include <locale.h>

#include "model/section.h"

void support_assert_near(double actual, double expected, double relative, double absolute,
                         const char *file, int line)
{
    double allowed = fmax(relative * fabs(expected), absolute);
    if (!(fabs(actual - expected) <= allowed)) {
        print_error("%.12g is not near %.12g: off by %.3g, allowed %.3g\n", actual, expected,
                    actual - expected, allowed);
        _fail(file, line);
    }
}

void support_print_diagnostics(const us_context *context)
{
    for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *said = us_context_diagnostic(context, i);
        print_error("%s:%d:%d: %s: %s\n", said->file != NULL ? said->file : "", said->line,
                    said->column, said->key != NULL ? said->key : "", said->message);
    }
}

us_section *support_read(us_context *context, const char *text)
{
    us_section *section = NULL;
    us_status status = us_section_read(context, text, strlen(text), "test.yaml", &section);
    if (status != US_OK) {
        support_print_diagnostics(context);
        print_error("%s\n", text);
    }
    assert_int_equal(status, US_OK);
    return section;
}

us_section *support_section(const char *text)
{
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_context_free(context);
    return section;
}

bool support_has_note(const us_section *section, const char *part)
{
    for (size_t i = 0; i < section->note_count; i++) {
        if (strstr(section->notes[i], part) != NULL) {
            return true;
        }
    }
    return false;
}

void support_check_refused(const char *text, const char *key, const char *message)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_status status = us_section_read(context, text, strlen(text), "test.yaml", &section);
    if (us_context_diagnostic_count(context) != 1) {
        print_error("%s\n", text);
        support_print_diagnostics(context);
    }
    assert_int_equal(status, US_ERROR_INPUT);
    assert_int_equal(us_context_diagnostic_count(context), 1);
    const us_diagnostic *said = us_context_diagnostic(context, 0);
    assert_string_equal(said->key, key);
    if (strstr(said->message, message) == NULL) {
        print_error("'%s' lacks '%s'\n", said->message, message);
        fail();
    }
    us_context_free(context);
}

void support_check_told(const char *text, const char *part, bool expected)
{
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_buffer *told = NULL;
    assert_int_equal(us_section_explain(context, section, &told), US_OK);
    const char *words = us_buffer_data(told);
    size_t length = us_buffer_length(told);
    size_t size = strlen(part);
    bool found = false;
    for (size_t i = 0; i + size <= length && !found; i++) {
        found = memcmp(words + i, part, size) == 0;
    }
    if (found != expected) {
        print_error("'%s' %s\n%.*s\n", part, expected ? "is not in" : "is in", (int)length, words);
        fail();
    }
    us_buffer_free(told);
    us_section_free(section);
    us_context_free(context);
}

us_solution *support_solve(us_context *context, const us_section *section, double accuracy)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = accuracy;
    us_solution *solution = NULL;
    us_status status = us_section_solve(context, section, &options, &solution);
    if (status != US_OK) {
        support_print_diagnostics(context);
    }
    assert_int_equal(status, US_OK);
    return solution;
}

support_solved support_solve_text(const char *text, double accuracy)
{
    support_solved one = {.context = us_context_create()};
    one.section = support_read(one.context, text);
    one.solution = support_solve(one.context, one.section, accuracy);
    one.water = us_solution_water(one.solution, 0);
    return one;
}

void support_release(support_solved *one)
{
    us_solution_free(one->solution);
    us_section_free(one->section);
    us_context_free(one->context);
}

bool support_says(const us_solution *solution, const char *words)
{
    for (size_t n = 0; n < us_solution_note_count(solution); n++) {
        if (strstr(us_solution_note(solution, n), words) != NULL) {
            return true;
        }
    }
    return false;
}

void support_switch_to_comma(void)
{
    char text[16];
    assert_int_equal(setenv("LOCPATH", UNDERSILL_TEST_LOCALES, 1), 0);
    assert_non_null(setlocale(LC_ALL, "de_DE.UTF-8"));
    (void)snprintf(text, sizeof text, "%.1f", 1.5);
    assert_string_equal(text, "1,5");
}
