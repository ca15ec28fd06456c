/* A study of tip levels for people. */
#include <math.h>
#include <stdio.h>

#include "output/depth.h"
#include "output/figure.h"
#include "output/words.h"
#include "study/depth_picks.h"
#include "undersill/version.h"

enum { TIP_WIDTH = 10, WIDTH = 11, NAME_WIDTH = 18, MARK_ROOM = 64 };

/* A column of the table of a water case. */
typedef struct column {
    const char *title;
    const char *unit; /* "" for none */
    double size;
    usi_depth_quantity what;
} column;

enum { COLUMNS = 6 };

/* The means where no gradient exists on any level. */
static void lay_columns(const us_depth *depth, const usi_scale *scale, size_t water,
                        column columns[COLUMNS])
{
    bool gradient = usi_depth_has_gradient(depth, water);
    columns[0] = (column){"flow", scale->flow, scale->flow_m2_s, USI_DEPTH_FLOW};
    columns[1] = gradient ? (column){"exit grad.", "", 1.0, USI_DEPTH_GRADIENT}
                          : (column){"mean grad.", "", 1.0, USI_DEPTH_MEAN_GRADIENT};
    columns[2] = (column){"uplift", scale->force, scale->force_n_m, USI_DEPTH_FORCE};
    columns[3] = (column){"piping", "factor", 1.0, USI_DEPTH_PIPING};
    columns[4] = (column){"heave", "factor", 1.0, USI_DEPTH_HEAVE};
    columns[5] = (column){"uplift", "factor", 1.0, USI_DEPTH_UPLIFT};
}

static void add_value(us_buffer *out, us_value value, double size)
{
    us_value shown = {value.value / size, value.error / size, value.present};
    usi_buffer_add_text(out, " "); /* many digits would join the column before */
    usi_words_pad(out, usi_figure_of(shown, 0.0, "-").value, WIDTH - 1, 1);
}

/* A level in the unit of the file, to thousandths. */
static const char *level_text(char text[USI_NUMBER_ROOM], double level_m, const usi_scale *scale)
{
    return usi_figure_fixed(text, level_m / scale->length_m, 3);
}

static void add_case(us_buffer *out, const us_depth *depth, const usi_scale *scale, size_t water)
{
    column columns[COLUMNS];
    char text[USI_NUMBER_ROOM];
    const us_water_result *first = &depth->rows[0].solution->water[water];
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "Water case ", first->name);
    if (first->undermined != NULL) {
        usi_words_wrap(out, "  undermined: ", first->undermined);
        return;
    }
    lay_columns(depth, scale, water, columns);
    usi_words_pad(out, "tip", TIP_WIDTH, 1);
    for (int c = 0; c < COLUMNS; c++) {
        usi_words_pad(out, columns[c].title, WIDTH, 1);
    }
    usi_buffer_add_text(out, "\n");
    usi_words_pad(out, scale->length, TIP_WIDTH, 1);
    for (int c = 0; c < COLUMNS; c++) {
        usi_words_pad(out, columns[c].unit, WIDTH, 1);
    }
    usi_buffer_add_text(out, "\n");
    for (size_t k = 0; k < depth->row_count; k++) {
        const us_depth_row *row = &depth->rows[k];
        usi_words_pad(out, level_text(text, row->tip_m, scale), TIP_WIDTH, 1);
        for (int c = 0; c < COLUMNS; c++) {
            add_value(out, usi_depth_pick(depth, row->solution, water, columns[c].what),
                      columns[c].size);
        }
        usi_buffer_add_text(out, row->drawn ? " *\n" : "\n");
    }
}

/* Which check governs at each level, and by what margin. */
static void add_verdicts(us_buffer *out, const us_depth *depth, const usi_scale *scale)
{
    enum { MARGIN_WIDTH = 10 };
    char text[USI_NUMBER_ROOM];
    usi_buffer_add_text(out, "\nAll requirements, in all water cases\n");
    usi_words_pad(out, "tip", TIP_WIDTH, 1);
    usi_words_pad(out, "length", WIDTH, 1);
    usi_buffer_add_text(out, "          ");
    usi_words_pad(out, "margin", MARGIN_WIDTH, 1);
    usi_buffer_add_text(out, "  governs\n");
    for (size_t k = 0; k < depth->row_count; k++) {
        const us_depth_row *row = &depth->rows[k];
        const us_register_entry *entry = usi_depth_governing(row->solution);
        usi_words_pad(out, level_text(text, row->tip_m, scale), TIP_WIDTH, 1);
        usi_words_pad(out, level_text(text, row->length_m, scale), WIDTH, 1);
        usi_buffer_add_text(out, row->passes ? "  passes  " : "  FAILS   ");
        us_value none = {0.0, 0.0, false};
        us_value margin = entry != NULL ? entry->check->margin : none;
        usi_words_pad(out, usi_figure_of(margin, 0.0, "-").value, MARGIN_WIDTH, 1);
        if (entry != NULL) {
            usi_buffer_print(out, "  %s, ", entry->check->name);
            usi_words_add(out, entry->water);
        }
        usi_buffer_add_text(out, row->drawn ? " *\n" : "\n");
    }
}

static void add_end(us_buffer *out, const char *words, const us_depth_end *end,
                    const usi_scale *scale)
{
    char tip[USI_NUMBER_ROOM];
    char error[USI_NUMBER_ROOM];
    char line[512];
    if (end->edge) {
        (void)snprintf(line, sizeof line, "%s %s: the levels that were looked at end there",
                       level_text(tip, end->tip_m, scale), scale->length);
    } else {
        (void)snprintf(line, sizeof line, "%s +/- %s %s: beyond, %s fails in %s",
                       level_text(tip, end->tip_m, scale),
                       usi_number_write(error, end->error_m / scale->length_m, 2), scale->length,
                       end->check != NULL ? end->check : "something",
                       end->water != NULL ? end->water : "a water case");
    }
    usi_words_wrap(out, words, line);
}

static void add_list(us_buffer *out, const char *title, const usi_depth_list *list,
                     const usi_scale *scale)
{
    usi_buffer_print(out, "\n%s\n", title);
    if (list->count == 0) {
        usi_buffer_add_text(out, "  none: no level that was looked at passes\n");
    }
    for (size_t k = 0; k < list->count; k++) {
        add_end(out, "  from ", &list->list[k].high, scale);
        add_end(out, "  to   ", &list->list[k].low, scale);
    }
}

static void add_orders(us_buffer *out, const us_depth *depth, const usi_scale *scale)
{
    char text[USI_NUMBER_ROOM];
    double mass = usi_depth_mass_unit(depth->section);
    char head[MARK_ROOM];
    usi_buffer_add_text(out, "\nLengths that can be ordered\n");
    usi_words_pad(out, "length", TIP_WIDTH, 1);
    usi_words_pad(out, "tip", WIDTH, 1);
    usi_words_pad(out, "", WIDTH, 1);
    (void)snprintf(head, sizeof head, "area, %s^2", scale->length);
    usi_words_pad(out, head, NAME_WIDTH, 1);
    (void)snprintf(head, sizeof head, "mass, %s", usi_depth_mass_name(depth->section));
    usi_words_pad(out, head, NAME_WIDTH, 1);
    usi_buffer_add_text(out, depth->section->width_m > 0.0 ? "\n" : "  per unit width\n");
    bool whole = depth->section->width_m > 0.0;
    for (size_t k = 0; k < depth->order_count; k++) {
        const us_depth_order *order = &depth->orders[k];
        const char *verdict = !order->known          ? "not known"
                              : !depth->requires_any ? "-"
                              : order->passes        ? "passes"
                                                     : "FAILS";
        us_value area = whole ? order->area_m2 : (us_value){order->area_m2_m, 0.0, true};
        us_value weight = whole ? order->mass_kg : order->mass_kg_m;
        double length = scale->length_m;
        usi_words_pad(out, level_text(text, order->length_m, scale), TIP_WIDTH, 1);
        usi_words_pad(out, level_text(text, order->tip_m, scale), WIDTH, 1);
        usi_words_pad(out, verdict, WIDTH, 1);
        area.value /= whole ? length * length : length;
        usi_words_pad(out, usi_figure_of(area, 0.0, "-").value, NAME_WIDTH, 1);
        weight.value /= whole ? mass : mass / length;
        usi_words_pad(out, usi_figure_of(weight, 0.0, "-").value, NAME_WIDTH, 1);
        usi_buffer_add_text(out, "\n");
    }
}

/* Tips of both walls that pass together. */
static void add_pairs(us_buffer *out, const us_depth *depth, const usi_scale *scale)
{
    char text[3][USI_NUMBER_ROOM];
    const us_depth_pair *best = us_depth_shortest(depth);
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "Pairs: tips that pass, by the tip of ",
                   depth->section->walls[depth->with].name);
    for (size_t k = 0; k < depth->pair_count; k++) {
        const us_depth_pair *pair = &depth->pairs[k];
        usi_words_pad(out, level_text(text[0], pair->with_tip_m, scale), TIP_WIDTH, 1);
        usi_buffer_add_text(out, pair->interval_count == 0 ? "   none" : "");
        for (size_t i = 0; i < pair->interval_count; i++) {
            usi_buffer_print(out, "%s%s to %s", i == 0 ? "   " : "; ",
                             level_text(text[1], pair->intervals[i].high.tip_m, scale),
                             level_text(text[2], pair->intervals[i].low.tip_m, scale));
        }
        if (pair->total_length_m.present) {
            usi_buffer_print(out, "   both %s %s long at least%s",
                             level_text(text[1], pair->total_length_m.value, scale), scale->length,
                             pair == best ? ": the least" : "");
        }
        usi_buffer_add_text(out, "\n");
    }
}

static void add_head(us_buffer *out, const us_depth *depth)
{
    enum { DIGEST_SHOWN = 16 };
    const us_section *section = depth->section;
    if (section->title[0] != '\0') {
        usi_words_wrap(out, "", section->title);
    }
    usi_words_wrap(out, "Tip level of wall ", us_depth_wall(depth));
    usi_buffer_print(out, "Undersill %s; section file sha256 %.*s...\n", us_version(), DIGEST_SHOWN,
                     section->sha256);
}

void usi_depth_text(us_buffer *out, const us_depth *depth, const usi_scale *scale)
{
    add_head(out, depth);
    if (depth->requires_any) {
        add_list(out, "Tip levels that pass every requirement", &depth->passing, scale);
        if (depth->ratio.list != NULL) {
            add_list(out, "The same, were kh / kv twice what it is", &depth->ratio, scale);
        }
    }
    if (depth->pair_count > 0) {
        add_pairs(out, depth, scale);
    }
    if (depth->order_count > 0) {
        add_orders(out, depth, scale);
    }
    if (depth->requires_any) {
        add_verdicts(out, depth, scale);
    }
    for (size_t w = 0; depth->row_count > 0 && w < depth->section->water_count; w++) {
        add_case(out, depth, scale, w);
    }
    usi_buffer_add_text(out, "\nNotes\n");
    usi_words_wrap(out, "- ",
                   "* is the tip as the section file has it. Digits end where the "
                   "stated error begins; CSV and JSON have errors and all quantities.");
    for (size_t k = 0; k < depth->note_count; k++) {
        usi_words_wrap(out, "- ", depth->notes[k]);
    }
}
