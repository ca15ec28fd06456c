/* Places where water leaves the soil, in text. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "output/text_page.h"

enum { CRITICAL_WIDTH = 12, FACTOR_WIDTH = 12, PLACE_ROOM = 256 };

static us_value steep_of(const us_exit_place *exit)
{
    return exit->gradient.present ? exit->gradient : exit->mean;
}

/* One exit on level bed says all in the lines above. */
static bool is_worth_a_table(const us_exit_result *exit)
{
    const us_exit_place *first = exit->exit_count > 0 ? &exit->exits[0] : NULL;
    return exit->exit_count > 1 ||
           (first != NULL && (!exit->present || first->slope_rad > 0.0 || first->lacks != NULL));
}

static void tell_place(const usi_page *to, const us_exit_place *exit, char *text)
{
    char x[USI_NUMBER_ROOM];
    const char *name = exit->name != NULL ? exit->name : exit->kind;
    double unit = to->scale->length_m;
    if (strcmp(exit->kind, "bed") == 0) {
        enum { DIGITS = 4 }; /* where the grid has a line */
        (void)usi_number_write(x, exit->x_m / unit, DIGITS);
    } else {
        (void)usi_page_plain(x, exit->x_m, unit);
    }
    (void)snprintf(text, PLACE_ROOM, "  %.150s, x = %s %s", name, x, to->scale->length);
}

static void tell_slope(const usi_page *to, const us_exit_place *exit)
{
    const double degree_rad = 3.14159265358979323846 / 180.0;
    enum { DIGITS = 3 };
    char angle[USI_NUMBER_ROOM];
    char text[PLACE_ROOM];
    bool face = exit->mean_depth_m == 0.0 && !exit->gradient.present;
    if (exit->slope_rad > 0.0 && !face) {
        (void)snprintf(text, sizeof text, "bed at %s degrees, %s",
                       usi_number_write(angle, exit->slope_rad / degree_rad, DIGITS),
                       exit->emerges ? "out of the water" : "under water");
        usi_words_wrap(to->out, "    ", text);
    }
    if (exit->retained) {
        usi_words_wrap(to->out, "    ", "said to be retained: counts in retention, not in piping");
    } else if (exit->lacks != NULL) {
        (void)snprintf(text, sizeof text, "NOT CHECKED: no %s of %.120s", exit->lacks, exit->soil);
        usi_words_wrap(to->out, "    ", text);
    } else if (face && !exit->critical.present) {
        usi_words_wrap(to->out, "    ",
                       "not judged by a factor: a filter has to hold the soil there");
    }
}

static void add_exit(const usi_page *to, const us_exit_place *exit)
{
    char place[PLACE_ROOM];
    us_value steep = steep_of(exit);
    tell_place(to, exit, place);
    if (usi_words_width(place) >= USI_LABEL_WIDTH) {
        usi_words_wrap(to->out, "", place);
        place[0] = '\0';
    }
    usi_figure gradient = usi_figure_of(steep, usi_page_finest(to, steep.value), "-");
    usi_figure critical =
        usi_figure_of(exit->critical, usi_page_finest(to, exit->critical.value), "-");
    usi_figure factor = usi_figure_of(exit->factor, usi_page_finest(to, exit->factor.value), "-");
    usi_words_pad(to->out, place, USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, gradient.value, USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, critical.value, CRITICAL_WIDTH, 1);
    usi_words_pad(to->out, factor.value, FACTOR_WIDTH, 1);
    usi_buffer_print(to->out, "%s\n", exit->gradient.present ? "" : "  mean");
    tell_slope(to, exit);
}

void usi_page_exits(const usi_page *to, const us_water_result *water)
{
    if (!to->flows || !is_worth_a_table(&water->exit)) {
        return;
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "Where water leaves the soil", USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, "gradient", USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, "critical", CRITICAL_WIDTH, 1);
    usi_words_pad(to->out, "factor", FACTOR_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
    for (size_t i = 0; i < water->exit.exit_count; i++) {
        add_exit(to, &water->exit.exits[i]);
    }
}

void usi_page_profile_row(const usi_page *to, const char *label, const us_profile_point *point)
{
    char words[USI_NUMBER_ROOM + 16] = "";
    if (point->factor.present) {
        usi_figure factor =
            usi_figure_of(point->factor, usi_page_finest(to, point->factor.value), "-");
        (void)snprintf(words, sizeof words, "factor %s", factor.value);
    }
    usi_page_row(to, label, point->gradient, words, "-");
}

/* Some case has an exit that its section sets no limit for. */
static bool lacks_limit(const us_solution *solution)
{
    bool exits = false;
    for (size_t w = 0; w < solution->water_count; w++) {
        exits = exits || solution->water[w].exit.exit_count > 0;
    }
    return exits && !solution->section->require.piping.given;
}

void usi_page_advice(us_buffer *out, const us_solution *solution)
{
    if (!lacks_limit(solution)) {
        return;
    }
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "",
                   "No `require.piping` is set. For orientation, no limit: exit gradients called "
                   "safe by Khosla, Bose and Taylor (1936) are 1/6 to 1/7 in fine sand, and, from "
                   "memory, 1/5 to 1/6 in coarse sand and 1/4 to 1/5 in shingle.");
}
