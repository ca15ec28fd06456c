/* Checks for people: a table in each water case, and the register of all of them. */
#include <math.h>
#include <stdio.h>

#include "output/text_page.h"

enum { CHECK_WIDTH = 24, FACTOR_WIDTH = 10 };

static const char *verdict_of(const us_check_result *check)
{
    bool close = check->value.present && check->required.present &&
                 fabs(check->value.value - check->required.value) <= check->value.error;
    switch (check->verdict) {
    case US_PASS:
        return close ? "PASS, by less than the error" : "PASS";
    case US_FAIL:
        return close ? "FAIL, by less than the error" : "FAIL";
    case US_NOT_CHECKED:
        return "NOT CHECKED";
    case US_NOT_REQUIRED:
        break;
    }
    return "no limit set";
}

/* `at least 4`, `at most 1`, or `-`. */
static const char *limit_of(const us_check_result *check, char *text, size_t room)
{
    char number[USI_NUMBER_ROOM];
    if (!check->required.present) {
        return "-";
    }
    (void)snprintf(text, room, "%s %s", check->at_most ? "at most" : "at least",
                   usi_page_plain(number, check->required.value, 1.0));
    return text;
}

static usi_figure figure_of(const usi_page *to, us_value value)
{
    return usi_figure_of(value, usi_page_finest(to, value.value), "none");
}

void usi_page_checks(const usi_page *to, const us_water_result *water)
{
    if (water->check_count == 0) {
        return;
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "Checks", CHECK_WIDTH, 0);
    usi_words_pad(to->out, "value", FACTOR_WIDTH, 1);
    usi_words_pad(to->out, "+/-", FACTOR_WIDTH, 1);
    usi_buffer_add_text(to->out, "  limit           verdict\n");
    for (size_t i = 0; i < water->check_count; i++) {
        const us_check_result *check = &water->checks[i];
        usi_figure value = figure_of(to, check->value);
        char name[64];
        char limit[64];
        (void)snprintf(name, sizeof name, "  %s", check->name);
        usi_words_pad(to->out, name, CHECK_WIDTH, 0);
        usi_words_pad(to->out, value.value, FACTOR_WIDTH, 1);
        usi_words_pad(to->out, value.error, FACTOR_WIDTH, 1);
        usi_buffer_print(to->out, "  %-16s%s\n", limit_of(check, limit, sizeof limit),
                         verdict_of(check));
    }
}

static void add_entry(const usi_page *to, const us_register_entry *entry)
{
    const us_check_result *check = entry->check;
    usi_figure value = figure_of(to, check->value);
    char limit[64];
    usi_buffer_print(to->out, "\n%s: %s%s%s", check->name, value.value,
                     value.error[0] != '\0' ? " +/- " : "", value.error);
    if (check->required.present) {
        usi_buffer_print(to->out, ", %s required", limit_of(check, limit, sizeof limit));
    }
    usi_buffer_print(to->out, ": %s\n", verdict_of(check));
    if (check->margin.present) {
        usi_figure margin = figure_of(to, check->margin);
        usi_buffer_print(to->out, "  margin %s%s%s%s\n", margin.value,
                         margin.error[0] != '\0' ? " +/- " : "", margin.error,
                         entry->governs ? ": GOVERNS" : "");
    } else if (entry->governs) {
        usi_buffer_add_text(to->out, "  GOVERNS\n");
    }
    if (to->solution->water_count > 1) {
        usi_words_wrap(to->out, "  in ", entry->water);
    }
    if (check->where[0] != '\0') {
        usi_words_wrap(to->out, "  ", check->where);
    }
    if (check->basis[0] != '\0') {
        usi_words_wrap(to->out, "  ", check->basis);
    }
}

void usi_form_register(us_buffer *out, const us_solution *solution, const usi_scale *scale)
{
    usi_page to = {out, solution, scale, 0.0, true};
    if (solution->register_count == 0) {
        return;
    }
    usi_buffer_add_text(out, "\n");
    for (size_t rule = USI_PAGE_WIDTH; rule > 0; rule--) {
        usi_buffer_add_text(out, "-");
    }
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(
        out, "",
        solution->water_count > 1
            ? "Register of checks: each in the water case nearest to its limit; a margin "
              "of 1 is just enough"
            : "Register of checks; a margin of 1 is just enough");
    for (size_t k = 0; k < solution->register_count; k++) {
        add_entry(&to, &solution->entries[k]);
    }
}
