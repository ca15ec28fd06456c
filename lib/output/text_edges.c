/* Drains, stretches of the underside, dry bed and the base in text. */
#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "output/text_page.h"

enum {
    LABEL_ROOM = 160,
    /* of drains, beside the name */
    INFLOW_WIDTH = 14,
    OUTLET_WIDTH = 14,
    TOTAL_WIDTH = 16
};

void usi_page_flood(const usi_page *to, const us_water_result *water)
{
    const usi_unit *unit = usi_unit_of_discharge(to->solution->section->units.length);
    char number[USI_NUMBER_ROOM];
    char years[USI_NUMBER_ROOM];
    char text[LABEL_ROOM] = "";
    int used = 0;
    if (water->discharge_m3_s.present) {
        used =
            snprintf(text, sizeof text, "discharge %s %s",
                     usi_page_plain(number, water->discharge_m3_s.value, unit->factor), unit->name);
    }
    if (water->return_period_years.present && used >= 0) {
        (void)snprintf(text + used, sizeof text - (size_t)used, "%sreturn period %s years",
                       used > 0 ? ", " : "",
                       usi_page_plain(years, water->return_period_years.value, 1.0));
    }
    if (text[0] != '\0') {
        usi_words_wrap(to->out, "  ", text);
    }
}

static void add_drain_units(const usi_page *to, bool total)
{
    const usi_scale *scale = to->scale;
    usi_words_pad(to->out, "Drains", USI_NAME_WIDTH, 0);
    usi_words_pad(to->out, "inflow", INFLOW_WIDTH, 1);
    usi_words_pad(to->out, "+/-", USI_ERROR_WIDTH, 1);
    usi_words_pad(to->out, "lets out at", OUTLET_WIDTH, 1);
    usi_words_pad(to->out, total ? "inflow in all" : "", total ? TOTAL_WIDTH : 0, 1);
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "", USI_NAME_WIDTH, 0);
    usi_words_pad(to->out, scale->flow, INFLOW_WIDTH, 1);
    usi_words_pad(to->out, "", USI_ERROR_WIDTH, 1);
    usi_words_pad(to->out, scale->length, OUTLET_WIDTH, 1);
    usi_words_pad(to->out, total ? scale->total : "", total ? TOTAL_WIDTH : 0, 1);
    usi_buffer_add_text(to->out, "\n");
}

static void add_drain(const usi_page *to, const us_drain_result *drain)
{
    usi_page_name(to, drain->name);
    if (!drain->open) {
        usi_words_pad(to->out, "shut", INFLOW_WIDTH, 1);
        usi_buffer_add_text(to->out, "\n");
        return;
    }
    char head[USI_NUMBER_ROOM];
    us_value flow = usi_scale_value(drain->flow_m2_s, to->scale->flow_m2_s);
    usi_figure figure = usi_figure_of(flow, usi_page_finest(to, flow.value), "unbounded");
    usi_words_pad(to->out, figure.value, INFLOW_WIDTH, 1);
    usi_words_pad(to->out, figure.error, USI_ERROR_WIDTH, 1);
    usi_words_pad(to->out, usi_page_plain(head, drain->head_m, to->scale->length_m), OUTLET_WIDTH,
                  1);
    if (drain->total_m3_s.present) {
        us_value total = usi_scale_value(drain->total_m3_s, to->scale->total_m3_s);
        figure = usi_figure_of(total, usi_page_finest(to, total.value), "-");
        usi_words_pad(to->out, figure.value, TOTAL_WIDTH, 1);
    }
    usi_buffer_add_text(to->out, "\n");
    if (drain->feeds) {
        usi_words_wrap(to->out, "    CAUTION: ",
                       "this drain feeds water into the soil: the level where it lets out stands "
                       "above the head in the soil around it");
    }
}

static void add_drains(const usi_page *to, const us_water_result *water)
{
    if (water->drain_count == 0) {
        return;
    }
    bool any_open = false;
    for (size_t i = 0; i < water->drain_count; i++) {
        any_open = any_open || water->drains[i].open;
    }
    usi_buffer_add_text(to->out, "\n");
    if (any_open) {
        add_drain_units(to, to->solution->section->width_m > 0.0);
    } else {
        usi_buffer_add_text(to->out, "Drains\n");
    }
    for (size_t i = 0; i < water->drain_count; i++) {
        add_drain(to, &water->drains[i]);
    }
    if (any_open && water->flow.bounded) {
        usi_words_wrap(to->out, "  ",
                       water->flow.certified
                           ? "the flow above comes in upstream; drains may draw from elsewhere too"
                           : "estimates, as is the flow above: what comes in upstream");
    }
}

static void add_stretch(const usi_page *to, const us_stretch_result *stretch)
{
    double unit = to->scale->length_m;
    char from[USI_NUMBER_ROOM];
    char until[USI_NUMBER_ROOM];
    char label[LABEL_ROOM];
    bool lost = stretch->kind == US_STRETCH_CONTACT_LOST;
    (void)snprintf(label, sizeof label, "%s, x = %s to %s %s", lost ? "Void" : "Permeable",
                   usi_page_plain(from, stretch->from_m, unit),
                   usi_page_plain(until, stretch->to_m, unit), to->scale->length);
    usi_words_wrap(to->out, "", label);
    if (lost) {
        us_value head = usi_scale_value(stretch->head_m, unit);
        usi_figure figure = usi_figure_of(head, to->head_step, "-");
        usi_page_figure(to, "  head along it", &figure, to->scale->length);
        return;
    }
    usi_page_row(to, "  water that passes up",
                 usi_scale_value(stretch->flow_m2_s, to->scale->flow_m2_s), to->scale->flow,
                 "unbounded");
    if (stretch->flow_m2_s.value < -stretch->flow_m2_s.error) {
        usi_words_wrap(to->out, "  CAUTION: ", "water passes down into the soil there");
    }
}

static void add_dry(const usi_page *to, const us_dry_result *dry)
{
    if (!dry->present) {
        return;
    }
    double unit = to->scale->length_m;
    usi_words_wrap(to->out, "", "Bed above the water: water may come out, none goes in");
    usi_page_row(to, "  comes out over", usi_scale_value(dry->open_m, unit), to->scale->length,
                 "-");
    usi_page_row(to, "  none comes out over", usi_scale_value(dry->closed_m, unit),
                 to->scale->length, "-");
    usi_page_row(to, "  water that comes out",
                 usi_scale_value(dry->flow_m2_s, to->scale->flow_m2_s), to->scale->flow, "-");
}

static void add_base(const usi_page *to, us_value flow)
{
    if (!flow.present) {
        return;
    }
    bool out = flow.value < -flow.error;
    flow.value = out ? -flow.value : flow.value;
    usi_page_row(to, out ? "Out through the base" : "In through the base",
                 usi_scale_value(flow, to->scale->flow_m2_s), to->scale->flow, "-");
}

void usi_page_edges(const usi_page *to, const us_water_result *water)
{
    for (size_t i = 0; i < water->stretch_count; i++) {
        add_stretch(to, &water->stretches[i]);
    }
    add_dry(to, &water->dry);
    add_base(to, water->base_flow_m2_s);
    add_drains(to, water);
}

/* A quantity as the case is, as it would be, and the error of the latter. */
static void add_pair(const usi_page *to, const char *label, const us_value values[2],
                     const char *const absent[2], const char *unit)
{
    usi_figure now = usi_figure_of(values[0], usi_page_finest(to, values[0].value), absent[0]);
    usi_figure then = usi_figure_of(values[1], usi_page_finest(to, values[1].value), absent[1]);
    usi_words_pad(to->out, label, USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, now.value, USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, then.value, USI_VALUE_WIDTH, 1);
    if (unit[0] != '\0' || then.error[0] != '\0') {
        usi_words_pad(to->out, then.error, USI_ERROR_WIDTH, 1);
    }
    usi_buffer_print(to->out, "%s%s\n", unit[0] != '\0' ? "  " : "", unit);
}

static const char *no_gradient(const us_exit_result *exit)
{
    return !exit->present || exit->enters ? "none" : "unbounded";
}

static void add_exits_beside(const usi_page *to, const us_exit_result *now,
                             const us_exit_result *then)
{
    const char *const none[2] = {"none", "none"};
    const char *const words[2] = {no_gradient(now), no_gradient(then)};
    add_pair(to, "  exit gradient, upward", (us_value[2]){now->gradient, then->gradient}, words,
             "");
    if (!now->bounded || !then->bounded) {
        add_pair(to, "  mean below the exit", (us_value[2]){now->mean, then->mean}, none, "");
    }
    if (fabs(now->mean_depth_m - then->mean_depth_m) > 0.0 && !(now->bounded && then->bounded)) {
        char text[LABEL_ROOM];
        char first[USI_NUMBER_ROOM];
        char second[USI_NUMBER_ROOM];
        (void)snprintf(text, sizeof text, "means over the upper %s and %s %s",
                       usi_page_plain(first, now->mean_depth_m, to->scale->length_m),
                       usi_page_plain(second, then->mean_depth_m, to->scale->length_m),
                       to->scale->length);
        usi_words_wrap(to->out, "    ", text);
    }
}

static void add_factors(const usi_page *to, const us_exit_result *now, const us_exit_result *then)
{
    const char *const none[2] = {"none", "none"};
    add_pair(to, "  piping factor", (us_value[2]){now->piping_factor, then->piping_factor}, none,
             "");
}

static void add_uplift_beside(const usi_page *to, const us_uplift_result *now,
                              const us_uplift_result *then)
{
    const char *const none[2] = {"none", "none"};
    double force = to->scale->force_n_m;
    if (!now->present || !then->present) {
        return;
    }
    add_pair(to, "  uplift on the underside",
             (us_value[2]){usi_scale_value(now->force_n_m, force),
                           usi_scale_value(then->force_n_m, force)},
             none, to->scale->force);
    if (now->weight_n_m.present) {
        add_pair(to, "  uplift less weight",
                 (us_value[2]){usi_scale_value(now->net_n_m, force),
                               usi_scale_value(then->net_n_m, force)},
                 none, to->scale->force);
        add_pair(to, "  weight / uplift", (us_value[2]){now->factor, then->factor}, none, "");
        add_pair(to, "  holding / uplift, of moments",
                 (us_value[2]){now->moment_factor, then->moment_factor}, none, "");
    }
}

/* A short table of a case and of what it would be otherwise. */
static void add_heading(const usi_page *to, const char *title, const us_water_result *now,
                        const us_water_result *then)
{
    const char *const words[2] = {"unbounded", "unbounded"};
    double flow = to->scale->flow_m2_s;
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, title, USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, "as it is", USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, "then", USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, "+/-", USI_ERROR_WIDTH, 1);
    usi_buffer_add_text(to->out, "  unit\n");
    add_pair(to, "  flow, per unit width",
             (us_value[2]){usi_scale_value(now->flow.rate_m2_s, flow),
                           usi_scale_value(then->flow.rate_m2_s, flow)},
             words, to->scale->flow);
    if (then->flow.accuracy == US_ACCURACY_MISSED || then->exit.accuracy == US_ACCURACY_MISSED) {
        usi_words_wrap(to->out, "    ", "NOT CONVERGED");
    }
    add_exits_beside(to, &now->exit, &then->exit);
}

static void add_rises(const usi_page *to, const us_water_result *now, const us_water_result *then)
{
    const char *const none[2] = {"none", "none"};
    for (size_t i = 0; i < now->wall_count && i < then->wall_count; i++) {
        char label[LABEL_ROOM];
        (void)snprintf(label, sizeof label, "  up along %.140s", now->walls[i].name);
        if (usi_words_width(label) >= USI_LABEL_WIDTH) {
            usi_words_wrap(to->out, "", label);
            label[0] = '\0';
        }
        add_pair(to, label, (us_value[2]){now->walls[i].rise, then->walls[i].rise}, none, "");
    }
    usi_words_wrap(
        to->out, "  ",
        "then: water passes up through all of the underside, so that less leaves the bed. "
        "Up along a wall: mean gradient from its tip to the top of its downstream face");
}

void usi_page_beside(const usi_page *to, const us_water_result *water)
{
    if (water->drains_shut != NULL) {
        add_heading(to, "With all drains shut", water, water->drains_shut);
        add_factors(to, &water->exit, &water->drains_shut->exit);
        add_uplift_beside(to, &water->uplift, &water->drains_shut->uplift);
    }
    if (water->without_apron != NULL) {
        add_heading(to, "Without credit for the apron", water, water->without_apron);
        add_rises(to, water, water->without_apron);
    }
}
