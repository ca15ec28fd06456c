/* A program that set a locale with a decimal comma gets the same bytes from the
 * library as one that did not. */
#include "support/support.h"

#include <locale.h>

enum { FORMS = 3, PICTURES = 3 };

typedef struct results {
    us_buffer *explained;
    us_buffer *tables[FORMS];
    us_buffer *pictures[PICTURES];
} results;

static us_section *read_example(us_context *context, const char *name)
{
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/%s.yaml", UNDERSILL_EXAMPLES, name);
    us_section *section = NULL;
    us_status status = us_section_read_file(context, path, &section);
    support_print_diagnostics(context);
    assert_int_equal(status, US_OK);
    return section;
}

static results work(const char *name)
{
    static const us_format forms[FORMS] = {US_FORMAT_TEXT, US_FORMAT_CSV, US_FORMAT_JSON};
    static const us_draw_format pictures[PICTURES] = {US_DRAW_PNG, US_DRAW_SVG, US_DRAW_PDF};
    results made = {0};
    us_context *context = us_context_create();
    assert_non_null(context);
    us_section *section = read_example(context, name);
    assert_int_equal(us_section_explain(context, section, &made.explained), US_OK);
    us_solution *solution = support_solve(context, section, 0.02);
    for (size_t i = 0; i < FORMS; i++) {
        us_status status = us_solution_tabulate(context, solution, forms[i], &made.tables[i]);
        assert_int_equal(status, US_OK);
    }
    for (size_t i = 0; i < PICTURES; i++) {
        us_draw_options options = US_DRAW_OPTIONS_INIT;
        options.format = pictures[i];
        us_status status = us_section_draw(context, section, solution, &options, &made.pictures[i]);
        assert_int_equal(status, US_OK);
    }
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return made;
}

static void expect_same(const us_buffer *plain, const us_buffer *comma)
{
    assert_int_equal(us_buffer_length(comma), us_buffer_length(plain));
    assert_memory_equal(us_buffer_data(comma), us_buffer_data(plain), us_buffer_length(plain));
}

static void drop(results *made)
{
    us_buffer_free(made->explained);
    for (size_t i = 0; i < FORMS; i++) {
        us_buffer_free(made->tables[i]);
    }
    for (size_t i = 0; i < PICTURES; i++) {
        us_buffer_free(made->pictures[i]);
    }
}

static void a_decimal_comma_changes_no_byte(void **state)
{
    static const char *const names[] = {"demo", "us", "deep"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        assert_non_null(setlocale(LC_ALL, "C"));
        results plain = work(names[i]);
        support_switch_to_comma();
        results comma = work(names[i]);
        assert_string_equal(setlocale(LC_ALL, NULL), "de_DE.UTF-8");
        expect_same(plain.explained, comma.explained);
        for (size_t k = 0; k < FORMS; k++) {
            expect_same(plain.tables[k], comma.tables[k]);
        }
        for (size_t k = 0; k < PICTURES; k++) {
            expect_same(plain.pictures[k], comma.pictures[k]);
        }
        drop(&plain);
        drop(&comma);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_decimal_comma_changes_no_byte)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
