/* Section files: what is read, and what is said about what is not. */
#include "support/support.h"

#include "base/units.h"
#include "model/section.h"

#define BED "bed: {upstream: 2, downstream: 0}\nbase: -10\n"
#define WALL "walls: [{name: wall, x: 0, top: 2.5, tip: -5}]\n"
#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
#define WATER "water: [{name: flood, upstream: 3, downstream: 1}]\n"
#define WHOLE BED WALL SOIL WATER

/* One message a text is to be refused with. */
typedef struct refusal {
    const char *text;
    int line;
    int column;
    const char *key;     /* NULL for none */
    const char *message; /* part of it */
    const char *hint;    /* part of it, or NULL */
} refusal;

static void check_part(const char *whole, const char *part)
{
    if (whole == NULL || strstr(whole, part) == NULL) {
        print_error("'%s' lacks '%s'\n", whole != NULL ? whole : "(nothing)", part);
        fail();
    }
}

static void check_diagnostic(const us_diagnostic *said, const refusal *expected)
{
    assert_int_equal(said->severity, US_ERROR);
    assert_int_equal(said->line, expected->line);
    assert_int_equal(said->column, expected->column);
    if (expected->key == NULL) {
        assert_null(said->key);
    } else {
        assert_string_equal(said->key, expected->key);
    }
    check_part(said->message, expected->message);
    if (expected->hint != NULL) {
        check_part(said->hint, expected->hint);
    }
}

/* Exactly one error, and no section. */
static void check_refused(const refusal *expected)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_status status =
        us_section_read(context, expected->text, strlen(expected->text), "test.yaml", &section);
    if (us_context_diagnostic_count(context) != 1) {
        print_error("%s\n", expected->text);
        support_print_diagnostics(context);
    }
    assert_int_equal(status, US_ERROR_INPUT);
    assert_null(section);
    assert_int_equal(us_context_diagnostic_count(context), 1);
    check_diagnostic(us_context_diagnostic(context, 0), expected);
    us_context_free(context);
}

static void check_all(const refusal *list, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        check_refused(&list[i]);
    }
}

#define CHECK_ALL(list) check_all((list), sizeof(list) / sizeof((list)[0]))

static void refuses_what_is_no_text(void **state)
{
    (void)state;
    static const refusal list[] = {
        {"", 0, 0, NULL, "empty", "example"},
        {"# a comment\n", 0, 0, NULL, "no section", "example"},
        {"\xEF\xBB\xBF" WHOLE, 0, 0, NULL, "byte order mark", "UTF-8"},
        {"\xFF\xFE" WHOLE, 0, 0, NULL, "UTF-16", NULL},
        {"title: a\xC0\xAF\n" WHOLE, 1, 9, NULL, "not valid UTF-8", NULL},
        {"title: \xED\xA0\x80\n" WHOLE, 1, 8, NULL, "not valid UTF-8", NULL},
        {"title: \xF4\x90\x80\x80\n" WHOLE, 1, 8, NULL, "not valid UTF-8", NULL},
        {"title: caf\xC3", 1, 11, NULL, "not valid UTF-8", NULL},
        {"title: caf\xC3\xA9 \x07\n" WHOLE, 1, 13, NULL, "U+0007", NULL},
        {"title: a\n# \xE2\x80\xAE\n" WHOLE, 2, 3, NULL, "U+202E", NULL},
    };
    CHECK_ALL(list);
}

static void refuses_yaml_beyond_plain_trees(void **state)
{
    (void)state;
    static const refusal list[] = {
        {"a: [1, 2\nb: 3\n", 2, 2, NULL, "not valid YAML", "brackets"},
        {"bed:\n\tupstream: 1\n", 2, 1, NULL, "not valid YAML", "tabs"},
        {"title: a: b\n", 1, 9, NULL, "not valid YAML", "colon"},
        {"title: &a deep\n" WHOLE, 1, 8, NULL, "anchors", NULL},
        {"title: *a\n" WHOLE, 1, 8, NULL, "aliases", NULL},
        {"title: !!str deep\n" WHOLE, 1, 8, NULL, "tags", NULL},
        {"<<: {title: a}\n" WHOLE, 1, 1, "<<", "merge keys", NULL},
        {WHOLE "---\ntitle: a\n", 6, 1, NULL, "second document", NULL},
        {"? [a]\n: 1\n" WHOLE, 1, 3, NULL, "cannot be a key", NULL},
        {"title: \"a\\nb\"\n" WHOLE, 1, 8, NULL, "line break or control code", NULL},
        {"title: \"a\\uFFFF\"\n" WHOLE, 1, 8, NULL, "line break or control code", NULL},
        {"title: \"a\\uFDD0\"\n" WHOLE, 1, 8, NULL, "line break or control code", NULL},
        {"title: \"a\\U0001FFFE\"\n" WHOLE, 1, 8, NULL, "line break or control code", NULL},
        {"- a\n", 1, 1, NULL, "keys with values", "title"},
        {"just words\n", 1, 1, NULL, "keys with values", NULL},
    };
    CHECK_ALL(list);
}

static void refuses_keys_by_path(void **state)
{
    (void)state;
    static const refusal list[] = {
        {"titel: a\n" WHOLE, 1, 1, "titel", "unknown key", "did you mean `title`?"},
        {BED "walls: [{x: 0, top: 2.5, tpi: -5}]\n" SOIL WATER, 3, 26, "walls[0].tpi",
         "unknown key", "did you mean `tip`?"},
        {BED "walls: [{x: 0, top: 2.5, tip: -5, tip: -6}]\n" SOIL WATER, 3, 35, "walls[0].tip",
         "twice", "line 3"},
        {BED "walls: [{x: 0, top: 2.5}]\n" SOIL WATER, 3, 9, "walls[0].tip", "needs the key `tip`",
         NULL},
        {WHOLE "lengths: [5, 4]\n", 6, 14, "lengths[1]", "not greater", NULL},
        {"bed: {upstream: {level: 2}, downstream: 0}\nbase: -10\n" WALL SOIL WATER, 1, 17,
         "bed.upstream", "a level, or points", NULL},
        {"bed: {upstream: 2, downstream: 0}\nbase: {head: -10}\n" WALL SOIL WATER, 2, 7,
         "base.level", "needs the key `level`", NULL},
        {"bed: {upstream: 2, downstream: 0}\nbase: {level: none, head: 3}\n" WALL SOIL WATER, 2, 15,
         "base.level", "is not a number", NULL},
        {WHOLE "sides: {left: {x: -40, kind: open}}\n", 6, 30, "sides.left.kind",
         "`closed` or `fixed_head`", NULL},
        {BED "walls: 3\n" SOIL WATER, 3, 8, "walls", "a list belongs here", NULL},
        {BED "walls: [3]\n" SOIL WATER, 3, 9, "walls[0]", "keys with values", "tip"},
        {BED WALL SOIL "water: []\n", 5, 8, "water", "at least one", NULL},
    };
    CHECK_ALL(list);
}

/* The number stands in place of the base: "base: ..." in line 2, column 7. */
static void check_number(const char *number, const char *message, const char *hint)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 2, downstream: 0}\nbase: %s\n" WALL SOIL WATER, number);
    refusal expected = {text, 2, 7, "base", message, hint};
    check_refused(&expected);
}

static void refuses_numbers_by_name(void **state)
{
    (void)state;
    check_number("0x10", "hexadecimal", NULL);
    check_number("-0X10", "hexadecimal", NULL);
    check_number("0b11", "binary", NULL);
    check_number("-010", "octal", NULL);
    check_number("0o10", "octal", NULL);
    check_number("-1_000", "underscore", NULL);
    check_number("12:30", "time", NULL);
    check_number("'-1,5'", "comma", "point");
    check_number("-.inf", "not a finite number", NULL);
    check_number(".NaN", "not a finite number", NULL);
    check_number("infinity", "not a finite number", NULL);
    check_number("1e400", "too large to be a number", NULL);
    check_number("-1e307 km", "too large to be a number", NULL);
    check_number("-2e6", "out of range", "1e6 m");
    check_number("-2000 km", "out of range", "1e6 m");
    check_number("non", "neither a number nor `none`", NULL);
    check_number("-10 fts", "unknown unit, 'fts'", "m, mm, cm, km, ft, in, yd");
    check_number("-10 kPa", "not a level", "m, mm");
    check_number("-10 m/s", "unit of conductivity", "m, mm");
    check_number("-10 m 5 cm", "goes on", NULL);
    check_number("-3 ft 12 in", "goes on", "3 ft 6 in");
    check_number("-3 ft 6", "goes on", NULL);
    check_number("-3 ft -6 in", "goes on", NULL);
    check_number("1+250", "station", NULL);
    check_number("--10", "not a number", NULL);
    check_number("''", "there is none", NULL);
}

static void refuses_values_out_of_range(void **state)
{
    (void)state;
    static const refusal list[] = {
        {BED WALL "soils: [{kh: 0, kv: 1e-5}]\n" WATER, 4, 14, "soils[0].kh", "is zero", "1e-16"},
        {BED WALL "soils: [{kh: -1e-5, kv: 1e-5}]\n" WATER, 4, 14, "soils[0].kh", "negative", NULL},
        {BED WALL "soils: [{kh: 11, kv: 1e-5}]\n" WATER, 4, 14, "soils[0].kh", "out of range",
         "10 m/s"},
        {BED WALL "soils: [{kh: 0.99e-16, kv: 1e-16}]\n" WATER, 4, 14, "soils[0].kh",
         "out of range", NULL},
        {BED WALL "soils: [{kh: 1e-3, kv: 0.99e-9}]\n" WATER, 4, 24, "soils[0].kv", "1e6", NULL},
        {WHOLE "width: 0\n", 6, 8, "width", "is zero", NULL},
        {WHOLE "require: {piping: 4 m}\n", 6, 19, "require.piping", "plain number", NULL},
    };
    CHECK_ALL(list);
}

static us_section *read_text(const char *text)
{
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_context_free(context);
    return section;
}

static double base_of(const char *units, const char *number)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   "units: %s\nbed: {upstream: 2 m, downstream: 0}\nbase: %s\n"
                   "walls: [{x: 0, top: 2.5 m, tip: -0.5 m}]\nsoils: [{kh: 1e-5 m/s, kv: 1e-5 "
                   "m/s}]\nwater: [{upstream: 3 m, downstream: 1 m}]\n",
                   units, number);
    us_section *section = read_text(text);
    double base_m = section->base.points[0].z_m;
    us_section_free(section);
    return base_m;
}

static void values_may_carry_units(void **state)
{
    (void)state;
    assert_near(base_of("{length: m}", "-10"), -10.0, 0.0, 0.0);
    assert_near(base_of("{length: m}", "-10 m"), -10.0, 0.0, 0.0);
    assert_near(base_of("{length: m}", "-10ft"), -3.048, 1e-15, 0.0);
    assert_near(base_of("{length: m}", "-1.2e3 cm"), -12.0, 1e-15, 0.0);
    assert_near(base_of("{length: m}", "-8 ft 6 in"), -(8.5 * 0.3048), 1e-15, 0.0);
    assert_near(base_of("{length: m}", "'-8 ft 6.5in'"), -(8.0 + 6.5 / 12.0) * 0.3048, 1e-15, 0.0);
    assert_near(base_of("us", "-10"), -3.048, 1e-15, 0.0);
    assert_near(base_of("{length: cm}", "-1e3"), -10.0, 1e-15, 0.0);
    assert_near(base_of("us", "-10 m"), -10.0, 0.0, 0.0);
}

static double wall_x(const char *units, const char *x)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   "units: {length: %s}\nbed: {upstream: 2 m, downstream: 0}\nbase: -10 m\n"
                   "walls: [{x: %s, top: 2.5 m, tip: -5 m}]\nsoils: [{kh: 1e-5, kv: 1e-5}]\n"
                   "water: [{upstream: 3 m, downstream: 1 m}]\n",
                   units, x);
    us_section *section = read_text(text);
    double x_m = section->walls[0].x_m;
    us_section_free(section);
    return x_m;
}

static void x_may_be_a_station(void **state)
{
    (void)state;
    assert_near(wall_x("ft", "12+50"), 1250.0 * 0.3048, 1e-15, 0.0);
    assert_near(wall_x("ft", "12+50.25"), 1250.25 * 0.3048, 1e-15, 0.0);
    assert_near(wall_x("m", "1+250"), 1250.0, 0.0, 0.0);
    assert_near(wall_x("m", "12+50 ft"), 1250.0 * 0.3048, 1e-15, 0.0);
    assert_near(wall_x("cm", "1+250 m"), 1250.0, 0.0, 0.0);
    static const char *const wrong[] = {"12+5", "-1+250", "1.5+250", "1+", "1+250 ft"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        char text[512];
        (void)snprintf(text, sizeof text, BED "walls: [{x: %s, top: 2.5, tip: -5}]\n" SOIL WATER,
                       wrong[i]);
        refusal expected = {text, 3, 13, "walls[0].x", "is not a station", "12+50"};
        check_refused(&expected);
    }
}

static void units_name_the_file(void **state)
{
    (void)state;
    us_section *section = read_text("units: us\nbed: {upstream: 6, downstream: 0}\nbase: -30\n"
                                    "walls: [{x: 0, top: 7, tip: -15}]\n"
                                    "soils: [{kh: 3, kv: 1, unit_weight: 125}]\n"
                                    "water: [{upstream: 9, downstream: 3}]\n");
    assert_string_equal(section->units.length->name, "ft");
    assert_string_equal(section->units.conductivity->name, "ft/day");
    assert_string_equal(section->units.unit_weight->name, "lb/ft^3");
    assert_true(section->units.pounds);
    assert_near(section->soils[0].kh_m_s, 3.0 * 0.3048 / 86400.0, 1e-15, 0.0);
    assert_near(section->soils[0].unit_weight_n_m3, 19635.9, 1e-5, 0.0);
    assert_near(section->water_unit_weight_n_m3, 9810.0, 0.0, 0.0);
    us_section_free(section);
    static const refusal list[] = {
        {"units: metric\n" WHOLE, 1, 8, "units", "`us` or a mapping", NULL},
        {"units: {length: s}\n" WHOLE, 1, 17, "units.length", "not a unit of length", "yd"},
        {"units: {force: kN}\n" WHOLE, 1, 9, "units", "unknown key", "conductivity"},
    };
    CHECK_ALL(list);
}

static void reports_every_mistake_in_one_run(void **state)
{
    (void)state;
    static const char text[] = "titel: a\nbed: {upstream: 2, downstream: 0}\nbase: -10 fts\n"
                               "walls: [{name: wall, x: 0, top: -6, tip: -5}]\n"
                               "soils: [{kh: 0}]\nwater: [{upstream: 1, downstream: 3}]\n";
    static const refusal expected[] = {
        {text, 1, 1, "titel", "unknown key", NULL},
        {text, 3, 7, "base", "unknown unit", NULL},
        {text, 5, 14, "soils[0].kh", "is zero", NULL},
        {text, 4, 42, "walls[0].tip", "not below the top", NULL},
        {text, 6, 35, "water[0].downstream", "above the upstream water", "flow_toward"},
    };
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, text, strlen(text), "a.yaml", &section),
                     US_ERROR_INPUT);
    assert_int_equal(us_context_diagnostic_count(context), 5);
    for (size_t i = 0; i < 5; i++) {
        check_diagnostic(us_context_diagnostic(context, i), &expected[i]);
        assert_string_equal(us_context_diagnostic(context, i)->file, "a.yaml");
    }
    assert_string_equal(us_context_diagnostic(context, 1)->source_line, "base: -10 fts");
    us_context_free(context);
}

static void earlier_errors_do_not_count(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, "", 0, NULL, &section), US_ERROR_INPUT);
    assert_int_equal(us_section_read(context, WHOLE, strlen(WHOLE), NULL, &section), US_OK);
    assert_non_null(section);
    us_section_free(section);
    us_context_free(context);
}

/* `count` times `piece` between `before` and `after`; free() it. */
static char *repeat(const char *before, const char *piece, size_t count, const char *after)
{
    size_t length = strlen(piece);
    char *text = calloc(strlen(before) + count * length + strlen(after) + 1, 1);
    assert_non_null(text);
    char *at = text + strlen(strcpy(text, before));
    for (size_t i = 0; i < count; i++) {
        memcpy(at + i * length, piece, length);
    }
    (void)strcpy(at + count * length, after);
    return text;
}

static void check_cap(char *text, const char *key, const char *message)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, text, strlen(text), "a", &section), US_ERROR_INPUT);
    const us_diagnostic *said = us_context_diagnostic(context, 0);
    assert_non_null(said);
    check_part(said->message, message);
    if (key != NULL) {
        assert_string_equal(said->key, key);
    }
    us_context_free(context);
    free(text);
}

static void caps_are_named(void **state)
{
    (void)state;
    check_cap(repeat(BED "walls: [", "{x: 0},", 65, "]\n" SOIL WATER), "walls", "at most 64");
    check_cap(repeat(BED "soils: [", "{kh: 1},", 257, "]\n" WATER), "soils", "at most 256");
    check_cap(repeat(BED SOIL "water: [", "{name: a},", 257, "]\n"), "water", "at most 256");
    check_cap(repeat(WHOLE "piezometers: [", "{at: 1},", 10001, "]\n"), "piezometers",
              "at most 10000");
    check_cap(repeat("bed: {upstream: [", "[1,2],", 10001, "], downstream: 0}\n"), "bed.upstream",
              "10,000 points");
    check_cap(repeat("", "[", 33, ""), NULL, "more than 32 deep");
    check_cap(repeat("", "[", 1000000, ""), NULL, "more than 32 deep");
    check_cap(repeat("", "- ", 500000, ""), NULL, "more than 32 deep");
    check_cap(repeat("#", "#", 1 << 20, ""), NULL, "at most 1 MiB");
    check_cap(repeat("{", "a: 1,", 65, "}"), NULL, "more than 64 keys");
    check_cap(repeat("title: ", "x", 121, "\n" WHOLE), "title", "at most 120 bytes");
}

static void names_are_any_text(void **state)
{
    (void)state;
    us_section *section = read_text("title: '=1+2 <b> \xC3\xA9t\xC3\xA9 \xE6\xB0\xB4'\n" WHOLE);
    assert_string_equal(us_section_title(section), "=1+2 <b> \xC3\xA9t\xC3\xA9 \xE6\xB0\xB4");
    assert_int_equal(us_section_water_count(section), 1);
    assert_string_equal(us_section_water_name(section, 0), "flood");
    assert_null(us_section_water_name(section, 1));
    us_section_free(section);
}

static void windows_line_ends_are_read(void **state)
{
    (void)state;
    us_section *section =
        read_text("title: a\r\nbed: {upstream: 2, downstream: 0}\r\nbase: -10\r\n" WALL SOIL WATER);
    us_section_free(section);
    static const refusal expected = {"title: a\r\nbase: x\r\n", 2, 7, "base", "neither", NULL};
    us_context *context = us_context_create();
    assert_int_equal(us_section_read(context, expected.text, strlen(expected.text), "a", &section),
                     US_ERROR_INPUT);
    check_diagnostic(us_context_diagnostic(context, 0), &expected);
    assert_string_equal(us_context_diagnostic(context, 0)->source_line, "base: x");
    us_context_free(context);
}

/* The digest expected was taken with sha256sum. */
static void digest_is_of_the_bytes(void **state)
{
    (void)state;
    us_section *section = read_text(WHOLE);
    assert_string_equal(section->sha256,
                        "a6c84370184fdc97f8cb9f6e1247f93a41e9c724e39b72af0da75ee81bdb26d7");
    us_section_free(section);
}

/* Every cut of a file, and every byte of it broken, ends in a verdict. */
static void any_damage_ends_in_a_verdict(void **state)
{
    (void)state;
    static const char damage[] = {'\0', '[', '{', '&', '*', '!', '"', '\t', '-', ':', '\xFF', '%'};
    const size_t length = strlen(WHOLE);
    char text[sizeof WHOLE];
    us_context *context = us_context_create();
    for (size_t i = 0; i < length; i++) {
        for (size_t k = 0; k <= sizeof damage; k++) {
            memcpy(text, WHOLE, sizeof WHOLE);
            text[i] = k < sizeof damage ? damage[k] : text[i];
            us_section *section = NULL;
            us_status status =
                us_section_read(context, text, k < sizeof damage ? length : i, "a", &section);
            assert_true((status == US_OK) == (section != NULL));
            assert_true(status == US_OK ||
                        (status == US_ERROR_INPUT && us_context_diagnostic_count(context) > 0));
            us_section_free(section);
            us_context_clear(context);
        }
    }
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refuses_what_is_no_text),
        cmocka_unit_test(refuses_yaml_beyond_plain_trees),
        cmocka_unit_test(refuses_keys_by_path),
        cmocka_unit_test(refuses_numbers_by_name),
        cmocka_unit_test(refuses_values_out_of_range),
        cmocka_unit_test(values_may_carry_units),
        cmocka_unit_test(x_may_be_a_station),
        cmocka_unit_test(units_name_the_file),
        cmocka_unit_test(reports_every_mistake_in_one_run),
        cmocka_unit_test(earlier_errors_do_not_count),
        cmocka_unit_test(caps_are_named),
        cmocka_unit_test(names_are_any_text),
        cmocka_unit_test(windows_line_ends_are_read),
        cmocka_unit_test(digest_is_of_the_bytes),
        cmocka_unit_test(any_damage_ends_in_a_verdict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
