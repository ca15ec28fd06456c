/* Tables of a solution built by hand: what is written, digit by digit. */
#include "support/tables.h"

#include <locale.h>

#include "output/words.h"

static void text_is_for_people(void **state)
{
    us_buffer *table = tabulate(*state, US_FORMAT_TEXT);
    assert_has(table, "Reach ?[31m 7\n");
    assert_has(table, "Water case flood\n");
    assert_has(table, "upstream 103.4 m, downstream 102 m, head difference 1.4 m\n");
    assert_has(table, "2.346e-05     3e-08  m^2/s\n");
    assert_has(table, "bounded by 2.30e-05 and 2.40e-05 m^2/s\n");
    assert_has(table, "over 24 m of channel");
    assert_has(table, "0.2346    0.0012\n");
    assert_has(table, "at x = 15 m, level 100 m, in silty_sand\n");
    assert_has(table, "123.5       0.3  kN/m\n");
    assert_has(table, "-76.5       0.3  kN/m\n");
    assert_has(table, "  piping                      4.20      0.03  at least 4      PASS\n");
    assert_has(table, "\nRegister of checks; a margin of 1 is just enough\n\npiping: 4.20 +/- "
                      "0.03, at least 4 required: PASS\n");
    assert_has(table, "  margin 1.050 +/- 0.008: GOVERNS\n");
    assert_has(table, "102.346         102.200         102.000     0.003\n");
    assert_has(table, "103.400               -               -     0.001\n");
    assert_has(table, "102.710           0.004           4.710\n");
    assert_lacks(table, "NOT");
    us_buffer_free(table);
}

static void lines_fit_the_page(void **state)
{
    us_buffer *table = tabulate(*state, US_FORMAT_TEXT);
    const char *line = us_buffer_data(table);
    while (*line != '\0') {
        size_t length = strcspn(line, "\n");
        if (length > USI_PAGE_WIDTH) {
            fail_msg("too long: %.*s", (int)length, line);
        }
        line += length + 1;
    }
    us_buffer_free(table);
}

static void text_says_when_a_verdict_is_close(void **state)
{
    scene *made = *state;
    made->check.value = (us_value)PRESENT(3.99, 0.03);
    made->check.verdict = US_FAIL;
    made->solution.grid.converged = false;
    us_buffer *table = tabulate(made, US_FORMAT_TEXT);
    assert_has(table, ": FAIL, by less than the error\n");
    assert_has(table, "NOT CONVERGED");
    us_buffer_free(table);
}

static void make_unbounded(scene *made)
{
    made->water.flow = (us_flow_result){.bounded = false};
    made->water.exit.bounded = false;
    made->water.exit.gradient = (us_value){0};
    made->water.uplift = (us_uplift_result){0};
    made->check.value = (us_value){0};
    made->check.required = (us_value){0};
    made->check.verdict = US_NOT_REQUIRED;
}

static void the_unbounded_is_never_a_number(void **state)
{
    scene *made = *state;
    make_unbounded(made);
    us_buffer *table = tabulate(made, US_FORMAT_TEXT);
    assert_has(table, "Flow, per unit width                 unbounded\n");
    assert_has(table, "Exit gradient, upward                unbounded\n");
    assert_has(table, "Piping factor, critical / mean");
    assert_has(table,
               "  piping                      none            -               no limit set\n");
    assert_lacks(table, "proven");
    assert_lacks(table, "Uplift");
    us_buffer_free(table);
    table = tabulate(made, US_FORMAT_CSV);
    assert_has(table, "\r\nflood,flow,,,,m^2/s,unbounded\r\n");
    assert_has(table, "\r\nflood,exit_gradient,silty_sand,,,,unbounded\r\n");
    us_buffer_free(table);
}

static void csv_is_one_long_table(void **state)
{
    us_buffer *table = tabulate(*state, US_FORMAT_CSV);
    assert_memory_equal(us_buffer_data(table), "water,quantity,place,value,error,unit,note\r\n",
                        44);
    assert_has(table, "\r\nflood,flow,,2.34567e-05,2.4e-08,m^2/s,\r\n");
    assert_has(table, "\r\nflood,uplift.net,,-76.544,0.3,kN/m,\r\n");
    assert_has(table, "\r\nflood,wall.upstream_face_top,'=sum(1),103.4,0.001,m,\r\n");
    assert_has(table, "\r\nflood,wall.tip,'=sum(1),,,m,\r\n");
    assert_has(table, "\r\nflood,piezometer.head,\"P \"\"1\"\", left\",102.71,0.004,m,\r\n");
    assert_has(table, "\r\nflood,check.piping,x 15 m,4.2,0.03,,pass\r\n");
    assert_has(table, "\r\nflood,register.piping,x 15 m,4.2,0.03,,governs\r\n");
    assert_has(table, "\r\n,grid.accuracy,,0.01,,,converged\r\n");
    us_buffer_free(table);
}

static void json_has_every_member(void **state)
{
    us_buffer *table = tabulate(*state, US_FORMAT_JSON);
    json_t *root = load(table);
    assert_word(root, "undersill", US_VERSION);
    assert_word(root, "section.sha256", "0123456789abcdef0123456789abcdef");
    assert_word(root, "units.flow", "m^2/s");
    assert_word(root, "units.force", "kN/m");
    assert_member(root, "water.0.head_difference", 1.4);
    assert_member(root, "water.0.flow.value", 2.34567e-5);
    assert_member(root, "water.0.flow.upper", 2.4e-5);
    assert_true(json_is_true(at(root, "water.0.flow.bounded")));
    assert_true(json_is_true(at(root, "water.0.flow.certified")));
    assert_word(root, "water.0.flow.accuracy", "reached");
    assert_word(root, "water.0.exit_gradient.accuracy", "reached");
    assert_member(root, "water.0.flow.total.width", 24.0);
    assert_member(root, "water.0.exit_gradient.mean.depth", 0.9);
    assert_member(root, "water.0.uplift.force", 123.456);
    assert_member(root, "water.0.uplift.water_on_top", 0.0);
    assert_member(root, "water.0.uplift.x_error", 0.01);
    assert_member(root, "water.0.uplift.net_error", 0.3);
    assert_member(root, "water.0.uplift.factor_error", 0.004);
    assert_member(root, "water.0.walls.0.error", 0.0021);
    assert_true(json_is_null(at(root, "water.0.walls.1.tip")));
    assert_word(root, "water.0.piezometers.0.name", "P \"1\", left");
    assert_member(root, "water.0.checks.0.required", 4.0);
    assert_true(json_is_true(at(root, "water.0.checks.0.pass")));
    assert_true(json_is_true(at(root, "register.0.governs")));
    assert_member(root, "register.0.required", 4.0);
    assert_int_equal(json_integer_value(at(root, "grid.unknowns")), 6000);
    assert_int_equal(json_array_size(at(root, "notes")), 1);
    json_decref(root);
    us_buffer_free(table);
}

static void json_has_null_for_what_is_absent(void **state)
{
    scene *made = *state;
    make_unbounded(made);
    made->water.uplift.force_n_m = (us_value){.value = NAN, .present = true};
    json_t *root = load_scene(made);
    assert_true(json_is_null(at(root, "water.0.flow.value")));
    assert_true(json_is_null(at(root, "water.0.flow.lower")));
    assert_true(json_is_false(at(root, "water.0.flow.bounded")));
    assert_true(json_is_null(at(root, "water.0.exit_gradient.value")));
    assert_true(json_is_null(at(root, "water.0.uplift")));
    assert_true(json_is_null(at(root, "water.0.checks.0.pass")));
    json_decref(root);
    made->water.uplift.present = true;
    made->water.exit.present = false;
    root = load_scene(made);
    assert_true(json_is_null(at(root, "water.0.exit_gradient")));
    assert_true(json_is_null(at(root, "water.0.uplift.force"))); /* NaN is no number */
    json_decref(root);
}

static void units_of_the_file_are_used(void **state)
{
    scene *made = *state;
    made->section.units.length = usi_unit_find("ft", 2);
    made->section.units.conductivity = usi_unit_find("ft/day", 6);
    made->section.units.pounds = true;
    json_t *root = load_scene(made);
    assert_word(root, "units.length", "ft");
    assert_word(root, "units.flow", "ft^2/day");
    assert_word(root, "units.force", "lb/ft");
    assert_member(root, "water.0.upstream", 103.4 / 0.3048);
    assert_member(root, "water.0.flow.value", 2.34567e-5 * 86400.0 / (0.3048 * 0.3048));
    assert_member(root, "water.0.flow.total.value",
                  2.34567e-5 * 24.0 * 86400.0 / (0.3048 * 0.3048 * 0.3048));
    assert_member(root, "water.0.uplift.force", 123456.0 / (4.4482216152605 / 0.3048));
    json_decref(root);
}

static void the_locale_does_not_matter(void **state)
{
    static const us_format formats[] = {US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV};
    us_buffer *plain[3];
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        plain[i] = tabulate(*state, formats[i]);
    }
    support_switch_to_comma();
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        us_buffer *table = tabulate(*state, formats[i]);
        assert_string_equal(us_buffer_data(table), us_buffer_data(plain[i]));
        us_buffer_free(table);
        us_buffer_free(plain[i]);
    }
    (void)setlocale(LC_ALL, "C");
}

static void the_contract_is_checked(void **state)
{
    scene *made = *state;
    us_buffer *table = NULL;
    assert_int_equal(us_solution_tabulate(made->context, NULL, US_FORMAT_TEXT, &table),
                     US_ERROR_ARGUMENT);
    assert_int_equal(us_solution_tabulate(made->context, &made->solution, (us_format)9, &table),
                     US_ERROR_ARGUMENT);
    assert_int_equal(us_solution_tabulate(made->context, &made->solution, US_FORMAT_CSV, NULL),
                     US_ERROR_ARGUMENT);
    assert_null(table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        SCENE(text_is_for_people),
        SCENE(lines_fit_the_page),
        SCENE(text_says_when_a_verdict_is_close),
        SCENE(the_unbounded_is_never_a_number),
        SCENE(csv_is_one_long_table),
        SCENE(json_has_every_member),
        SCENE(json_has_null_for_what_is_absent),
        SCENE(units_of_the_file_are_used),
        SCENE(the_locale_does_not_matter),
        SCENE(the_contract_is_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
