#include "draw/caption.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "draw/fringe.h"

static const double line_height = 20;

void usi_caption_say(usi_sheet *sheet, usi_column *at, const char *format, ...)
{
    char words[600];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(words, sizeof words, format, arguments);
    va_end(arguments);
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.limit = at->right - at->left;
    double lines =
        (usi_sheet_write(sheet, words, type, at->left, at->y) - at->y) / (1.5 * type.size);
    at->y += line_height * round(lines);
}

static void say_flow(usi_sheet *sheet, usi_column *at, const usi_netting *netting)
{
    const us_section *section = sheet->section;
    const us_flow_result *flow = &sheet->result->flow;
    if (section->situation != NULL) {
        usi_caption_say(sheet, at, "%d drops between heads of %s and %s", netting->mesh.drops,
                        usi_phrase_length(section, netting->highest_m, sheet->decimals).text,
                        usi_phrase_measure(section, netting->lowest_m, sheet->decimals).text);
        if (!flow->bounded) {
            usi_caption_say(sheet, at, "%s without limit: no total flow",
                            section->has_base ? "Base with water below it" : "Depth");
        }
    } else if (!netting->counted) {
        usi_caption_say(sheet, at,
                        "%d drops; depth without limit: no total flow, channels not counted",
                        netting->mesh.drops);
        return;
    } else {
        usi_caption_say(
            sheet, at, "%d drops, %d channels; head difference %s", netting->mesh.drops,
            netting->mesh.channels,
            usi_phrase_measure(section, sheet->result->head_difference_m, sheet->decimals).text);
    }
    if (flow->rate_m2_s.present) {
        usi_caption_say(sheet, at, "Flow per unit width %s",
                        usi_phrase_flow(section, flow->rate_m2_s).text);
    }
    if (flow->total_m3_s.present) {
        usi_caption_say(sheet, at, "Flow over the whole width of %s: %s",
                        usi_phrase_measure(section, section->width_m, sheet->decimals).text,
                        usi_phrase_total(section, flow->total_m3_s).text);
    }
}

void usi_caption_exit(usi_sheet *sheet, usi_column *at)
{
    const us_section *section = sheet->section;
    const us_exit_result *exit = &sheet->result->exit;
    if (!exit->present) {
        return;
    }
    usi_phrase x = usi_phrase_measure(section, exit->x_m, sheet->decimals);
    usi_phrase z = usi_phrase_measure(section, exit->level_m, sheet->decimals);
    if (exit->enters) {
        usi_caption_say(sheet, at, "Water enters the bed downstream: no exit gradient");
    } else if (exit->bounded && exit->gradient.present) {
        usi_caption_say(sheet, at, "Largest exit gradient %s at distance %s, level %s",
                        usi_phrase_value(exit->gradient).text, x.text, z.text);
    } else if (!exit->bounded) {
        usi_caption_say(sheet, at, "Exit gradient unbounded at distance %s, level %s", x.text,
                        z.text);
    }
    if (!exit->bounded && exit->mean.present) {
        usi_caption_say(sheet, at, "Its mean over %s of depth: %s",
                        usi_phrase_measure(section, exit->mean_depth_m, sheet->decimals).text,
                        usi_phrase_value(exit->mean).text);
    }
}

static void say_squares(usi_sheet *sheet, usi_column *at, const usi_netting *netting)
{
    const usi_soil *soil = netting->reference;
    usi_phrase name = usi_phrase_name(soil->name, 22);
    double stretch = sqrt(soil->kv_m_s / soil->kh_m_s);
    bool squares = fabs(stretch - 1) < 1e-6;
    double off =
        netting->counted ? netting->mesh.channels / (netting->mesh.drops * netting->shape) - 1 : 0;
    if (squares && fabs(off) < 0.05) {
        usi_caption_say(sheet, at, "Meshes are near squares in %s (isotropic)%s", name.text,
                        sheet->window.exaggeration == 1 ? "" : " at true scale");
    } else if (fabs(log1p(off)) > 0.5) {
        usi_caption_say(sheet, at, "No soil has square meshes: they would be too many to draw");
    } else if (squares) {
        usi_caption_say(sheet, at, "Meshes in %s (isotropic): breadth over length %s", name.text,
                        usi_phrase_fixed(1 / (1 + off), 2).text);
    } else {
        usi_caption_say(sheet, at, "Meshes are squares in %s with distances times %s", name.text,
                        usi_phrase_fixed(stretch, 2).text);
    }
}

static void say_net(usi_sheet *sheet, usi_column *at, const usi_netting *netting)
{
    if (!netting->heads) {
        bool level = !(sheet->result->head_difference_m > 0) && !netting->sealed;
        usi_caption_say(sheet, at, "There is no flow: %s",
                        level ? "the water stands level on both sides" : "no water can pass");
        return;
    }
    say_flow(sheet, at, netting);
    usi_caption_exit(sheet, at);
    if (netting->flows) {
        say_squares(sheet, at, netting);
    }
}

static void key_of_drains(usi_sheet *sheet, usi_column *at, bool feeds, const char *words)
{
    usi_point mark = {at->left + 22, at->y};
    usi_caption_line(sheet, at, usi_sheet_drain_look(feeds), words);
    usi_sheet_lozenge(sheet, mark, true, feeds);
}

void usi_caption_window(usi_sheet *sheet, usi_column *at)
{
    const us_section *section = sheet->section;
    const usi_window *window = &sheet->window;
    usi_fringe_explain(sheet, at);
    if (sheet->drained) {
        key_of_drains(sheet, at, false, "drain or row of weeps (lozenge, hollow: shut)");
    }
    if (sheet->fed) {
        key_of_drains(sheet, at, true, "drain that feeds water into the soil");
    }
    if (window->exaggeration == 1) {
        usi_caption_say(sheet, at, "Drawn to true scale");
    } else {
        usi_caption_say(sheet, at, "Heights drawn %s times as large as distances",
                        usi_phrase_fixed(window->exaggeration,
                                         floor(window->exaggeration) < window->exaggeration ? 1 : 0)
                            .text);
    }
    if (sheet->overflow) {
        usi_caption_say(sheet, at, "Water surface over the structure: assumed, not computed");
    }
    if (!section->has_base) {
        usi_caption_say(sheet, at, "Soil goes on below the picture without limit");
    } else if (window->base_below) {
        usi_phrase level =
            usi_phrase_measure(section, section->base.points[0].z_m, sheet->decimals);
        usi_caption_say(sheet, at, "The %sbase%s%s lies below the picture",
                        section->artesian.acts ? "" : "impervious ",
                        section->base.count == 1 ? " at " : "",
                        section->base.count == 1 ? level.text : "");
    }
    if (window->water_above) {
        usi_caption_say(sheet, at, "Water stands higher than the picture");
    }
}

void usi_caption_line(usi_sheet *sheet, usi_column *at, usi_look look, const char *words)
{
    usi_point from = {at->left, at->y};
    usi_point to = {at->left + 44, at->y};
    usi_sheet_line(sheet, USI_SPACE_PAGE, from, to, look);
    usi_column text = {at->left + 54, at->right, at->y};
    usi_caption_say(sheet, &text, "%s", words);
    at->y = text.y;
}

static void show_key(usi_sheet *sheet, usi_column *at, const usi_netting *netting)
{
    if (!netting->heads) {
        return;
    }
    const us_section *section = sheet->section;
    double span_m = netting->highest_m - netting->lowest_m;
    if (section->situation == NULL) {
        span_m = sheet->result->head_difference_m;
    }
    double drop_m = span_m / netting->mesh.drops;
    usi_phrase drop = usi_phrase_number(drop_m / section->units.length->factor, 3);
    usi_phrase words = usi_phrase_print("equal head, a drop of %s\u00a0%s apart", drop.text,
                                        section->units.length->name);
    usi_caption_line(sheet, at, usi_netting_drop_look(), words.text);
    if (netting->flows) {
        us_value channel = {netting->channel_m2_s, 0, true};
        words =
            usi_phrase_print("flow line, %s between two", usi_phrase_flow(section, channel).text);
        usi_caption_line(sheet, at, usi_netting_flow_look(), words.text);
    } else {
        usi_caption_say(sheet, at,
                        "No flow lines: water is taken out inside the soil, so that flow has no "
                        "single value between two places");
    }
    if (sheet->left_out > 250) {
        usi_caption_say(sheet, at, "Where lines of equal head crowd, some are left out");
    }
}

usi_column usi_caption_left(const usi_sheet *sheet)
{
    return (usi_column){14, 560, sheet->foot + 64};
}

usi_column usi_caption_right(const usi_sheet *sheet)
{
    return (usi_column){590, USI_PAGE_WIDTH - 26, sheet->foot + 64};
}

void usi_caption_end(usi_sheet *sheet, double y)
{
    if (sheet->solution != NULL && !us_solution_grid(sheet->solution)->converged) {
        usi_column whole = {14, USI_PAGE_WIDTH - 26, y};
        usi_caption_say(sheet, &whole,
                        "Not converged to the accuracy asked for: go by the errors stated");
        y = whole.y;
    }
    y = usi_sheet_key(sheet, y) + 8;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    type.slanted = true;
    type.limit = USI_PAGE_WIDTH - 40;
    usi_scene_text(&sheet->scene,
                   "Computed numbers inform the judgement of a licensed engineer; they cannot "
                   "take its place.",
                   type, 14, y);
    sheet->scene.view.page_height = ceil(y + 18);
}

void usi_sheet_caption(usi_sheet *sheet, const usi_netting *netting)
{
    usi_column left = usi_caption_left(sheet);
    usi_column right = usi_caption_right(sheet);
    if (sheet->what == US_PICTURE_NET) {
        say_net(sheet, &left, netting);
        show_key(sheet, &right, netting);
        usi_caption_window(sheet, &right);
    } else {
        if (sheet->water->undermined != NULL) {
            usi_caption_say(sheet, &left,
                            "Undermined: nothing can be solved for this water case. %s",
                            sheet->water->undermined);
        }
        usi_caption_window(sheet, &left);
    }
    usi_caption_end(sheet, fmax(left.y, right.y));
}
