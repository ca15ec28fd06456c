/* us_section_converge(): climb the ladder, then follow each quantity along it. */
#include "study/convergence.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "study/criterion.h"
#include "study/ladder.h"
#include "study/pick.h"
#include "study/text.h"
#include "study/trend.h"
#include "study/view.h"

enum { RUNGS_LEAST = 2, UNKNOWNS_LEAST = 1000, PLACE_ROOM = 320 };

typedef struct builder {
    us_context *context;
    const usi_ladder *ladder;
    us_convergence *study;
    size_t water; /* index of the case in the ladder's section */
    usi_datum datum;
} builder;

/* From a reading to a value: base + factor * pick(). */
typedef struct source {
    usi_pick pick;
    size_t index;
    double base;
    double factor;
} source;

static double pick_lower(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->lower_m_s;
}

static double pick_upper(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->upper_m_s;
}

static double pick_bracket(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->flow_m_s > 0.0 ? (reading->upper_m_s - reading->lower_m_s) / reading->flow_m_s
                                   : 0.0;
}

/* Follows one quantity; `place` is copied, NULL for none. */
static us_status follow(builder *with, us_trend_kind kind, const char *place, const source *from)
{
    us_convergence *study = with->study;
    us_trend *trend = &study->trends[study->trend_count];
    us_trend_step *steps = usi_memory_array(with->context, study->rung_count, sizeof *steps);
    char *copy = NULL;
    if (steps != NULL && place != NULL) {
        copy = usi_memory_text(with->context, place, strlen(place));
    }
    if (steps == NULL || (place != NULL && copy == NULL)) {
        free(steps);
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < study->rung_count; k++) {
        double picked = from->pick(&with->ladder->readings[k], from->index);
        steps[k].value = from->base + from->factor * picked;
    }
    *trend = (us_trend){.kind = kind,
                        .place = copy,
                        .leading = kind != US_TREND_FLOW_LOWER && kind != US_TREND_FLOW_UPPER &&
                                   kind != US_TREND_HEAD,
                        .scale = kind == US_TREND_HEAD ? with->datum.unit_m : 0.0,
                        .step_count = study->rung_count,
                        .steps = steps};
    if (kind == US_TREND_FLOW_BRACKET) {
        usi_trend_vanish(trend, steps);
    } else {
        usi_trend_settle(trend, steps, usi_ladder_finest(with->ladder)->truncation);
    }
    study->trend_count++;
    return US_OK;
}

static us_status follow_flow(builder *with)
{
    const usi_reading *finest = usi_ladder_finest(with->ladder);
    if (!usi_criterion_flow_exists(with->ladder->section) || finest->sealed) {
        return US_OK;
    }
    source mean = {usi_pick_flow, 0, 0.0, with->datum.unit_m};
    source lower = {pick_lower, 0, 0.0, with->datum.unit_m};
    source upper = {pick_upper, 0, 0.0, with->datum.unit_m};
    source bracket = {pick_bracket, 0, 0.0, 1.0};
    us_status status = follow(with, US_TREND_FLOW, NULL, &mean);
    if (status == US_OK) {
        status = follow(with, US_TREND_FLOW_LOWER, NULL, &lower);
    }
    if (status == US_OK) {
        status = follow(with, US_TREND_FLOW_UPPER, NULL, &upper);
    }
    return status == US_OK ? follow(with, US_TREND_FLOW_BRACKET, NULL, &bracket) : status;
}

static us_status follow_exit(builder *with)
{
    const usi_ladder *ladder = with->ladder;
    const usi_reading *finest = usi_ladder_finest(ladder);
    if (ladder->exit_count == 0 || finest->sealed) {
        return US_OK;
    }
    const us_section *section = ladder->section;
    usi_point at = usi_ladder_exit(ladder);
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    char depth[USI_TEXT_ROOM];
    char place[PLACE_ROOM];
    (void)usi_text_length(section, at.x_m, x);
    (void)usi_text_length(section, at.z_m, level);
    (void)snprintf(place, sizeof place, "x = %s and level %s", x, level);
    source gradient = {usi_pick_gradient, ladder->governing.exit, 0.0, with->datum.unit_m};
    if (ladder->governing.peak) {
        gradient.pick = usi_pick_peak;
    } else if (!finest->exits[ladder->governing.exit].bounded) {
        gradient.pick = usi_pick_mean;
        double depth_m = ladder->exits[ladder->governing.exit].mean_depth_m;
        (void)usi_text_length(section, depth_m, depth);
        (void)snprintf(place, sizeof place, "upper %s below x = %s and level %s", depth, x, level);
        return follow(with, US_TREND_EXIT_MEAN, place, &gradient);
    }
    return follow(with, US_TREND_EXIT_GRADIENT, place, &gradient);
}

static us_status follow_uplift(builder *with)
{
    if (usi_ladder_finest(with->ladder)->uplift == NULL) {
        return US_OK;
    }
    source force = {usi_pick_uplift, with->water, 0.0, 1.0};
    return follow(with, US_TREND_UPLIFT, NULL, &force);
}

static us_status follow_head(builder *with, const char *words, const char *name, source from)
{
    char place[PLACE_ROOM];
    (void)snprintf(place, sizeof place, "%s %s", words, name);
    from.base = with->datum.zero_m;
    from.factor = with->datum.unit_m;
    return follow(with, US_TREND_HEAD, place, &from);
}

static us_status follow_wall(builder *with, size_t index)
{
    const us_section *section = with->ladder->section;
    const usi_wall_reading *reading = &usi_ladder_finest(with->ladder)->walls[index];
    const char *name = section->walls[index].name;
    const char *left = section->flows_left ? "downstream top of" : "upstream top of";
    const char *right = section->flows_left ? "upstream top of" : "downstream top of";
    us_status status = US_OK;
    if (reading->left_face_top.present) {
        status = follow_head(with, left, name, (source){.pick = usi_pick_left_top, .index = index});
    }
    if (status == US_OK && reading->tip.present) {
        status = follow_head(with, "tip of", name, (source){.pick = usi_pick_tip, .index = index});
    }
    if (status == US_OK && reading->right_face_top.present) {
        status =
            follow_head(with, right, name, (source){.pick = usi_pick_right_top, .index = index});
    }
    return status;
}

static us_status follow_heads(builder *with)
{
    const us_section *section = with->ladder->section;
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < section->wall_count; w++) {
        status = follow_wall(with, w);
    }
    for (size_t p = 0; status == US_OK && p < section->piezometer_count; p++) {
        if (usi_ladder_finest(with->ladder)->piezometers[p].present) {
            status = follow_head(with, "piezometer", section->piezometers[p].name,
                                 (source){.pick = usi_pick_piezometer, .index = p});
        }
    }
    return status;
}

/* Of many heads one stands for all: the one that still changes most. */
static void choose_head(us_convergence *study)
{
    us_trend *worst = NULL;
    double most = -1.0;
    for (size_t t = 0; t < study->trend_count; t++) {
        us_trend *trend = &study->trends[t];
        double change = fabs(trend->steps[trend->step_count - 1].difference.value);
        if (trend->kind == US_TREND_HEAD && change > most) {
            most = change;
            worst = trend;
        }
    }
    if (worst != NULL) {
        worst->leading = true;
    }
}

static us_status note(us_context *context, us_convergence *study, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static us_status note(us_context *context, us_convergence *study, const char *format, ...)
{
    usi_note_list list = {&study->notes, &study->note_count};
    va_list arguments;
    va_start(arguments, format);
    us_status status = usi_note_append(context, list, format, arguments);
    va_end(arguments);
    return status;
}

static us_status note_end(const builder *with, const us_converge_options *options)
{
    const usi_ladder *ladder = with->ladder;
    if (ladder->end == USI_LADDER_UNKNOWNS) {
        return note(with->context, with->study,
                    "The ladder ends at %zu of %zu grids: the next would have more than %zu "
                    "unknowns.",
                    ladder->count, options->rungs, options->unknowns_most);
    }
    if (ladder->end == USI_LADDER_LIMIT) {
        return note(with->context, with->study,
                    "The ladder ends at %zu of %zu grids: the next is too large, or rounding "
                    "would spoil it.",
                    ladder->count, options->rungs);
    }
    return US_OK;
}

static us_status note_flow(const builder *with)
{
    const char *said = NULL;
    if (!(with->datum.unit_m > 0.0)) {
        said = "The water stands level on both sides: nothing flows, and nothing has to settle.";
    } else if (usi_ladder_finest(with->ladder)->sealed) {
        said = "The structure is sealed down to the base: no water passes. Only heads are "
               "followed.";
    } else if (with->ladder->section->has_base &&
               !usi_criterion_flow_exists(with->ladder->section)) {
        said = "Water from below the base enters endless soil: flow is without bound in theory, so "
               "none is followed.";
    } else if (!with->ladder->section->has_base) {
        said = "The soil has no base: flow is without bound in theory, so none is followed.";
    }
    if (said == NULL && !usi_ladder_finest(with->ladder)->bracketed) {
        said = "Something one-way acts, a drain lies in the soil, or heads meet without limit: "
               "what is "
               "called bounds of flow here is what the two problems give, and bounds nothing.";
    }
    return said != NULL ? note(with->context, with->study, "%s", said) : US_OK;
}

static us_status note_rest(const builder *with)
{
    const usi_ladder *ladder = with->ladder;
    us_status status = US_OK;
    if (ladder->section->water_count > 1) {
        status = note(with->context, with->study,
                      "Flow and gradients of the other water cases go with their head "
                      "differences: their orders and relative errors are the same.");
    }
    if (status == US_OK && ladder->governing.peak) {
        status = note(with->context, with->study,
                      "The steepest place of the bed lies between its ends and is found at grid "
                      "lines: as it moves from grid to grid, its order is uneven.");
    }
    return status;
}

static us_status build(builder *with, const us_converge_options *options)
{
    const us_section *section = with->ladder->section;
    us_convergence *study = with->study;
    size_t room = 6 + 3 * section->wall_count + section->piezometer_count;
    study->trends = usi_memory_array(with->context, room, sizeof *study->trends);
    if (study->trends == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status (*const parts[])(builder *) = {follow_flow, follow_exit, follow_uplift, follow_heads};
    us_status status = US_OK;
    for (size_t i = 0; status == US_OK && i < sizeof parts / sizeof parts[0]; i++) {
        status = parts[i](with);
    }
    choose_head(study);
    if (status == US_OK) {
        status = note_end(with, options);
    }
    if (status == US_OK) {
        status = note_flow(with);
    }
    return status == US_OK ? note_rest(with) : status;
}

static us_status refuse(us_context *context, const char *message)
{
    usi_context_report(context, US_ERROR, NULL, NULL, "%s", message);
    return US_ERROR_ARGUMENT;
}

static us_status check_options(us_context *context, const us_section *section,
                               us_converge_options *options)
{
    if (options->rungs < RUNGS_LEAST || options->rungs > USI_RUNGS_MOST) {
        return refuse(context, "a ladder has 2 to 8 grids");
    }
    if (options->unknowns_most < UNKNOWNS_LEAST) {
        return refuse(context, "a ladder needs at least 1000 unknowns");
    }
    if (options->water == US_WATER_FIRST_FLOWING) {
        options->water = 0;
        for (size_t w = section->water_count; w > 0; w--) {
            const usi_water *water = &section->waters[w - 1];
            options->water = water->upstream_m > water->downstream_m ? w - 1 : options->water;
        }
    }
    return options->water < section->water_count ? US_OK : refuse(context, "no such water case");
}

/* `view` is the section as the case sees it, `index` the place of the case there. */
typedef struct subject {
    const us_section *section;
    const us_section *view;
    size_t index;
} subject;

static us_status gather(us_context *context, const us_converge_options *options, const subject *of,
                        const usi_ladder *ladder, us_convergence **study)
{
    us_convergence *made = usi_memory_array(context, 1, sizeof *made);
    if (made == NULL) {
        return US_ERROR_MEMORY;
    }
    made->section = of->section;
    made->water = options->water;
    made->rung_count = ladder->count;
    for (size_t k = 0; k < ladder->count; k++) {
        const usi_reading *reading = &ladder->readings[k];
        made->rungs[k] = (us_rung){reading->unknowns, reading->columns, reading->rows};
    }
    builder with = {context, ladder, made, of->index, usi_datum_of(of->view, of->index)};
    us_status status = build(&with, options);
    if (status != US_OK) {
        us_convergence_free(made);
        return status;
    }
    *study = made;
    return US_OK;
}

static us_status climb(us_context *context, const us_converge_options *options, const subject *of,
                       us_convergence **study)
{
    usi_ladder ladder = {0};
    us_status status = usi_ladder_climb(context, of->view, options, &ladder);
    if (status == US_OK) {
        status = gather(context, options, of, &ladder, study);
    }
    usi_ladder_free(&ladder);
    return status;
}

static us_status refuse_undermined(us_context *context, const usi_water *water)
{
    usi_context_report(context, US_ERROR, NULL, "choose another water case",
                       "nothing can be solved for water case %s: %s", water->name,
                       water->undermined);
    return US_ERROR_INPUT;
}

us_status us_section_converge(us_context *context, const us_section *section,
                              const us_converge_options *given, us_convergence **study)
{
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    if (context == NULL || section == NULL || study == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        return refuse(context, "converge options of a later release, or never initialised");
    }
    us_status status = check_options(context, section, &options);
    if (status != US_OK) {
        return status;
    }
    if (section->waters[options.water].undermined != NULL) {
        return refuse_undermined(context, &section->waters[options.water]);
    }
    usi_view view;
    status =
        usi_view_make(context, section, options.water, USI_VARIANT_NONE, USI_VIEW_ACCURACY, &view);
    if (status != US_OK) {
        return status;
    }
    subject of = {section, section, options.water};
    if (usi_view_differs(&view, section)) {
        of = (subject){section, &view.section, 0};
    }
    status = climb(context, &options, &of, study);
    usi_view_free(&view);
    return status;
}
