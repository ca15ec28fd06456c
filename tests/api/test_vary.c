/* Variants of a section: other values at dotted keys. */
#include "support/support.h"

static const char *const TEXT = "units: {length: ft, conductivity: ft/day}\n"
                                "bed: {upstream: 30, downstream: [[0, 30], [50, 30]]}\n"
                                "base: 0\n"
                                "walls:\n"
                                "  - {name: sheet, x: 0, top: 33, tip: 20}\n"
                                "soils: [{name: sand, kh: 10, unit_weight: 120}]\n"
                                "water:\n"
                                "  - {name: high, upstream: 36, downstream: 33}\n"
                                "  - {name: dry, upstream: 33, downstream: at_bed}\n";

/* The section with a text in place of another, read from the text itself. */
static us_section *read_edited(us_context *context, const char *from, const char *into)
{
    char edited[1024];
    const char *at = strstr(TEXT, from);
    assert_non_null(at);
    (void)snprintf(edited, sizeof edited, "%.*s%s%s", (int)(at - TEXT), TEXT, into,
                   at + strlen(from));
    return support_read(context, edited);
}

/* What `check` says of a section, without the digest. */
static char *explain(us_context *context, const us_section *section)
{
    us_buffer *text = NULL;
    assert_int_equal(us_section_explain(context, section, &text), US_OK);
    char *copy = strdup(us_buffer_data(text));
    assert_non_null(copy);
    us_buffer_free(text);
    return copy;
}

static void assert_same(us_context *context, const us_section *one, const us_section *other)
{
    char *a = explain(context, one);
    char *b = explain(context, other);
    assert_string_equal(a, b);
    free(a);
    free(b);
}

static void a_variant_is_the_section_with_edited_text(void **state)
{
    (void)state;
    static const struct {
        us_change change;
        const char *from;
        const char *into;
    } cases[] = {
        {{"walls[0].tip", NULL, 17.3}, "tip: 20", "tip: 17.3"},
        {{"walls[sheet].tip", "5 m", 0.0}, "tip: 20", "tip: 5 m"},
        {{"bed.upstream", NULL, 31.0}, "upstream: 30", "upstream: 31"},
        {{"bed.downstream[1][0]", NULL, 60.0}, "[50, 30]", "[60, 30]"},
        {{"bed.downstream", NULL, 29.5}, "[[0, 30], [50, 30]]", "29.5"},
        {{"soils[sand].kv", NULL, 0.1}, "kh: 10", "kh: 10, kv: 0.1"},
        {{"width", NULL, 25.0}, "base: 0", "base: 0\nwidth: 25"},
        {{"base", "none", 0.0}, "base: 0", "base: none"},
        {{"water[dry].downstream", "32", 0.0}, "at_bed", "32"},
        {{"units", "us", 0.0}, "{length: ft, conductivity: ft/day}", "us"},
    };
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        us_section *variant = NULL;
        us_section *edited = read_edited(context, cases[i].from, cases[i].into);
        us_status status = us_section_vary(context, section, &cases[i].change, 1, &variant);
        support_print_diagnostics(context);
        assert_int_equal(status, US_OK);
        assert_same(context, variant, edited);
        us_section_free(variant);
        us_section_free(edited);
    }
    us_section_free(section);
    us_context_free(context);
}

static void changes_add_up_and_outlive_the_section(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_change both[] = {{"walls[0].tip", NULL, 10.0}, {"walls[0].top", NULL, 34.0}};
    us_section *once = NULL;
    us_section *twice = NULL;
    us_section *same = NULL;
    assert_int_equal(us_section_vary(context, section, &both[0], 1, &once), US_OK);
    assert_int_equal(us_section_vary(context, section, NULL, 0, &same), US_OK);
    assert_same(context, section, same);
    us_section_free(section);
    assert_int_equal(us_section_vary(context, once, &both[1], 1, &twice), US_OK);
    us_section_free(once);
    us_section *edited = read_edited(context, "top: 33, tip: 20", "top: 34, tip: 10");
    assert_same(context, twice, edited);
    us_section_free(twice);
    us_section_free(edited);
    us_section_free(same);
    us_context_free(context);
}

static void a_change_without_a_place_is_refused(void **state)
{
    (void)state;
    static const char *const keys[] = {
        "wals[0].tip",   "walls[1].tip",    "walls[toe].tip", "walls.tip",
        "walls[0.tip",   "walls[0]tip",     "walls[0].",      ".bed",
        "bed[0]",        "bed.upstream.x",  "walls[0].tipp",  "structure.top",
        "walls[-1].tip", "walls[0][0].tip", "walls[].tip",    "walls[99999999999999999999].tip",
    };
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        us_change change = {keys[i], NULL, 10.0};
        us_section *variant = NULL;
        us_context_clear(context);
        assert_int_equal(us_section_vary(context, section, &change, 1, &variant), US_ERROR_INPUT);
        assert_null(variant);
        assert_int_equal(us_context_diagnostic_count(context), 1);
        assert_string_equal(us_context_diagnostic(context, 0)->key, keys[i]);
    }
    us_section_free(section);
    us_context_free(context);
}

static void a_variant_is_judged_by_the_rules_of_a_section(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, TEXT);
    us_section *variant = NULL;
    us_change above = {"walls[0].tip", NULL, 40.0};
    assert_int_equal(us_section_vary(context, section, &above, 1, &variant), US_ERROR_INPUT);
    us_change words = {"walls[0].tip", "deep", 0.0};
    assert_int_equal(us_section_vary(context, section, &words, 1, &variant), US_ERROR_INPUT);
    assert_null(variant);
    us_context_clear(context);
    const us_change broken[] = {
        {NULL, NULL, 1.0},
        {"", NULL, 1.0},
        {"width", "", 1.0},
        {"width", "1\n2", 1.0},
        {"width", NULL, (double)NAN},
        {"width", NULL, (double)INFINITY},
    };
    for (size_t i = 0; i < sizeof broken / sizeof broken[0]; i++) {
        assert_int_equal(us_section_vary(context, section, &broken[i], 1, &variant),
                         US_ERROR_ARGUMENT);
    }
    assert_int_equal(us_section_vary(context, section, NULL, 1, &variant), US_ERROR_ARGUMENT);
    assert_null(variant);
    us_section_free(section);
    us_context_free(context);
}

/* The rows stay as they are; the digest is that of text, line break and table. */
static void a_table_of_cases_stays_with_its_section(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    static const char table[] = "name,upstream,downstream\nfirst,48,at_bed\nsecond,49,37\n";
    us_input from = {.text = TEXT, .length = strlen(TEXT)};
    us_input cases = {.text = table, .length = strlen(table), .name = "floods.csv"};
    us_section *plain = support_read(context, TEXT);
    us_section *section = NULL;
    us_section *variant = NULL;
    assert_int_equal(us_section_read_cases(context, &from, &cases, &section), US_OK);
    size_t before = us_section_water_count(plain);
    assert_int_equal(us_section_water_count(section), before + 2);
    assert_string_equal(us_section_water_name(section, before + 1), "second");
    us_section *whole = NULL;
    assert_int_equal(us_section_read_cases(context, &from, NULL, &whole), US_OK);
    assert_string_equal(us_section_sha256(whole), us_section_sha256(plain));
    assert_string_not_equal(us_section_sha256(section), us_section_sha256(plain));
    us_input fewer = {.text = table, .length = strlen(table) - strlen("second,49,37\n")};
    us_section *other = NULL;
    assert_int_equal(us_section_read_cases(context, &from, &fewer, &other), US_OK);
    assert_string_not_equal(us_section_sha256(section), us_section_sha256(other));
    us_section_free(other);
    us_change tip = {"walls[0].tip", NULL, 10.0};
    assert_int_equal(us_section_vary(context, section, &tip, 1, &variant), US_OK);
    us_section_free(section);
    assert_int_equal(us_section_water_count(variant), before + 2);
    assert_string_equal(us_section_water_name(variant, before), "first");
    us_section_free(variant);
    us_section_free(plain);
    us_section_free(whole);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_variant_is_the_section_with_edited_text),
        cmocka_unit_test(changes_add_up_and_outlive_the_section),
        cmocka_unit_test(a_table_of_cases_stays_with_its_section),
        cmocka_unit_test(a_change_without_a_place_is_refused),
        cmocka_unit_test(a_variant_is_judged_by_the_rules_of_a_section),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
