#include <math.h>
#include <stdio.h>

#include "output/convergence.h"
#include "output/figure.h"
#include "output/words.h"
#include "undersill/version.h"

/* Columns: number of the grid, unknowns, then numbers. */
enum { GRID_WIDTH = 6, COUNT_WIDTH = 12, VALUE_WIDTH = 16, SMALL_WIDTH = 13, ORDER_WIDTH = 8 };

static void add_right(us_buffer *out, const char *text, size_t width)
{
    usi_words_pad(out, text, width, 1);
}

/* Six digits whatever they are worth: the ladder shows which of them settle. */
static void add_value(us_buffer *out, us_value value, double unit, size_t width)
{
    const double share = 1e-6;
    us_value shown = {value.value / unit, share * fabs(value.value / unit), value.present};
    add_right(out, usi_figure_of(shown, 0.0, "-").value, width);
}

static void add_small(us_buffer *out, us_value value, double unit, size_t width)
{
    enum { DIGITS = 2 };
    char text[USI_NUMBER_ROOM];
    bool present = value.present && isfinite(value.value);
    add_right(out, present ? usi_number_write(text, value.value / unit, DIGITS) : "-", width);
}

static void add_order(us_buffer *out, us_value order)
{
    char text[USI_NUMBER_ROOM];
    add_right(out, order.present ? usi_figure_fixed(text, order.value, 2) : "-", ORDER_WIDTH);
}

static void add_share(us_buffer *out, us_value share, size_t width)
{
    enum { DIGITS = 2 };
    char number[USI_NUMBER_ROOM];
    char text[USI_NUMBER_ROOM + 3];
    (void)snprintf(text, sizeof text, "%s %%",
                   usi_number_write(number, 100.0 * share.value, DIGITS));
    add_right(out, share.present ? text : "-", width);
}

static void add_count(us_buffer *out, size_t count, size_t width)
{
    char text[32];
    (void)snprintf(text, sizeof text, "%zu", count);
    add_right(out, text, width);
}

static void add_head(us_buffer *out, const us_convergence *study, const usi_scale *scale)
{
    enum { DIGEST_SHOWN = 16, DIGITS = 7 };
    const us_section *section = study->section;
    const usi_water *water = &section->waters[study->water];
    char number[USI_NUMBER_ROOM];
    if (section->title[0] != '\0') {
        usi_words_wrap(out, "", section->title);
    }
    usi_buffer_add_text(out, "Convergence on nested grids\n");
    usi_buffer_print(out, "Undersill %s; section file sha256 %.*s...\n", us_version(), DIGEST_SHOWN,
                     section->sha256);
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "Water case ", water->name);
    double head_m = water->upstream_m - water->downstream_m;
    usi_buffer_print(out, "  head difference %s %s\n",
                     usi_number_write(number, head_m / scale->length_m, DIGITS), scale->length);
}

static void add_grids(us_buffer *out, const us_convergence *study)
{
    usi_buffer_add_text(out, "\nGrids, each with every cell of the one before halved both ways\n");
    add_right(out, "grid", GRID_WIDTH);
    add_right(out, "unknowns", COUNT_WIDTH);
    add_right(out, "columns", COUNT_WIDTH);
    add_right(out, "rows", COUNT_WIDTH);
    usi_buffer_add_text(out, "\n");
    for (size_t k = 0; k < study->rung_count; k++) {
        add_count(out, k + 1, GRID_WIDTH);
        add_count(out, study->rungs[k].unknowns, COUNT_WIDTH);
        add_count(out, study->rungs[k].columns, COUNT_WIDTH);
        add_count(out, study->rungs[k].rows, COUNT_WIDTH);
        usi_buffer_add_text(out, "\n");
    }
}

static const char *say_kind(us_trend_kind kind)
{
    switch (kind) {
    case US_TREND_FLOW:
        return "Flow, per unit width: mean of both problems";
    case US_TREND_EXIT_GRADIENT:
        return "Exit gradient, upward";
    case US_TREND_EXIT_MEAN:
        return "Mean exit gradient (the gradient itself is unbounded)";
    case US_TREND_UPLIFT:
        return "Uplift on the underside";
    case US_TREND_HEAD:
        return "Head that changes most";
    case US_TREND_FLOW_LOWER:
    case US_TREND_FLOW_UPPER:
    case US_TREND_FLOW_BRACKET:
        break;
    }
    return "Bounds of flow, per unit width";
}

static void add_title(us_buffer *out, const us_trend *trend, const char *unit)
{
    char text[512];
    (void)snprintf(text, sizeof text, "%s%s%s%s%s", say_kind(trend->kind),
                   trend->place != NULL ? ": " : "", trend->place != NULL ? trend->place : "",
                   unit[0] != '\0' ? ", in " : "", unit);
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "", text);
}

static void add_best(us_buffer *out, const us_trend *trend, const usi_trend_words *words)
{
    if (!trend->best.present) {
        return;
    }
    us_value best = {trend->best.value / words->size, trend->best.error / words->size, true};
    usi_figure figure = usi_figure_of(best, 0.0, "-");
    usi_buffer_print(out, "  %s %s",
                     usi_convergence_is_extrapolated(trend) ? "extrapolated" : "not extrapolated:",
                     figure.value);
    if (figure.error[0] != '\0') {
        usi_buffer_print(out, " +/- %s", figure.error);
    }
    usi_buffer_print(out, "%s%s\n", words->unit[0] != '\0' ? " " : "", words->unit);
}

static void add_trend(us_buffer *out, const us_convergence *study, const us_trend *trend,
                      const usi_scale *scale)
{
    usi_trend_words words = usi_trend_words_of(trend->kind, scale);
    add_title(out, trend, words.unit);
    add_right(out, "grid", GRID_WIDTH);
    add_right(out, "value", VALUE_WIDTH);
    add_right(out, "difference", SMALL_WIDTH);
    add_right(out, "order", ORDER_WIDTH);
    add_right(out, "extrapolated", VALUE_WIDTH);
    add_right(out, "est. error", SMALL_WIDTH);
    usi_buffer_add_text(out, "\n");
    for (size_t k = 0; k < study->rung_count; k++) {
        const us_trend_step *step = &trend->steps[k];
        add_count(out, k + 1, GRID_WIDTH);
        add_value(out, (us_value){step->value, 0.0, true}, words.size, VALUE_WIDTH);
        add_small(out, step->difference, words.size, SMALL_WIDTH);
        add_order(out, step->order);
        add_value(out, step->extrapolated, words.size, VALUE_WIDTH);
        add_share(out, step->error, SMALL_WIDTH);
        usi_buffer_add_text(out, "\n");
    }
    add_best(out, trend, &words);
}

/* The three trends of the bounds as one block; `lower` is the first of them. */
static void add_bounds(us_buffer *out, const us_convergence *study, const us_trend *lower,
                       const usi_scale *scale)
{
    usi_trend_words words = usi_trend_words_of(lower->kind, scale);
    const us_trend *upper = lower + 1;
    const us_trend *bracket = lower + 2;
    add_title(out, lower, words.unit);
    add_right(out, "grid", GRID_WIDTH);
    add_right(out, "lower", VALUE_WIDTH);
    add_right(out, "upper", VALUE_WIDTH);
    add_right(out, "apart by", SMALL_WIDTH);
    add_right(out, "order", ORDER_WIDTH);
    usi_buffer_add_text(out, "\n");
    for (size_t k = 0; k < study->rung_count; k++) {
        add_count(out, k + 1, GRID_WIDTH);
        add_value(out, (us_value){lower->steps[k].value, 0.0, true}, words.size, VALUE_WIDTH);
        add_value(out, (us_value){upper->steps[k].value, 0.0, true}, words.size, VALUE_WIDTH);
        add_share(out, (us_value){bracket->steps[k].value, 0.0, true}, SMALL_WIDTH);
        add_order(out, bracket->steps[k].order);
        usi_buffer_add_text(out, "\n");
    }
}

static void add_reading_help(us_buffer *out)
{
    static const char *const lines[] = {
        "difference: what the grid changes against the one before.",
        "order: the power of the width of the cells that differences fall with; 2 is what the "
        "method is made for. That takes three grids, or two for the bounds, which meet in the "
        "end; - where differences change sign, do not fall, or are rounding.",
        "est. error: distance from the value extrapolated at last, as a share of it (of heads: "
        "of the head difference); - where that is not known well enough to tell.",
    };
    usi_buffer_add_text(out, "\nHow to read it\n");
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        usi_words_wrap(out, "  - ", lines[i]);
    }
}

void usi_study_text(us_buffer *out, const us_convergence *study, const usi_scale *scale)
{
    add_head(out, study, scale);
    add_grids(out, study);
    for (size_t t = 0; t < study->trend_count; t++) {
        const us_trend *trend = &study->trends[t];
        if (trend->kind == US_TREND_FLOW_LOWER) {
            add_bounds(out, study, trend, scale);
        } else if (trend->leading && trend->kind != US_TREND_FLOW_BRACKET) {
            add_trend(out, study, trend, scale);
        }
    }
    if (study->note_count > 0) {
        usi_buffer_add_text(out, "\nNotes\n");
    }
    for (size_t i = 0; i < study->note_count; i++) {
        usi_words_wrap(out, "  - ", study->notes[i]);
    }
    add_reading_help(out);
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "",
                   "Small differences speak for the grid, not for the section: soil, walls as "
                   "built and water levels have errors of their own.");
}
