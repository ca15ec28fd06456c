/* us_convergence_draw(): the chart of a convergence study. */
#include <math.h>

#include "base/context.h"
#include "draw/chart.h"
#include "draw/phrase.h"
#include "study/convergence.h"

enum { SERIES_MOST = 6, REMARKS_MOST = 4 };

/* A chart with all that it points to. */
typedef struct drawing {
    const us_convergence *study;
    size_t count;
    usi_phrase names[SERIES_MOST];
    usi_chart_point points[SERIES_MOST][USI_RUNGS_MOST];
    usi_chart_series series[SERIES_MOST];
    size_t remark_count;
    const char *remarks[REMARKS_MOST];
    usi_phrase title;
    usi_phrase subtitle;
    usi_phrase orders;
    bool any_shown;
    bool any_hollow;
    bool any_bracket;
} drawing;

static usi_phrase name_of(const us_trend *trend)
{
    enum { PLACE_MOST = 30 };
    switch (trend->kind) {
    case US_TREND_FLOW:
        return usi_phrase_print("flow");
    case US_TREND_EXIT_GRADIENT:
        return usi_phrase_print("exit gradient");
    case US_TREND_EXIT_MEAN:
        return usi_phrase_print("mean exit gradient");
    case US_TREND_UPLIFT:
        return usi_phrase_print("uplift");
    case US_TREND_HEAD:
        return usi_phrase_print("head at %s", usi_phrase_name(trend->place, PLACE_MOST).text);
    case US_TREND_FLOW_LOWER:
    case US_TREND_FLOW_UPPER:
    case US_TREND_FLOW_BRACKET:
        break;
    }
    return usi_phrase_print("bracket of flow");
}

/* The error of a step as a share; 0, which a chart leaves out, where there is none. */
static double error_of(const us_trend *trend, const us_trend_step *step, bool hollow)
{
    if (!hollow) {
        return step->error.value;
    }
    return step->difference.present && trend->scale > 0
               ? fabs(step->difference.value) / trend->scale
               : 0;
}

static void add_series(drawing *made, const us_trend *trend)
{
    size_t s = made->count++;
    bool bracket = trend->kind == US_TREND_FLOW_BRACKET;
    bool hollow = !bracket && !usi_convergence_is_extrapolated(trend);
    made->names[s] = name_of(trend);
    for (size_t k = 0; k < trend->step_count; k++) {
        made->points[s][k] = (usi_chart_point){(double)made->study->rungs[k].unknowns,
                                               error_of(trend, &trend->steps[k], hollow)};
    }
    made->series[s] = (usi_chart_series){.name = made->names[s].text,
                                         .count = trend->step_count,
                                         .points = made->points[s],
                                         .joined = true,
                                         .hollow = hollow};
    for (size_t k = 0; k < trend->step_count; k++) {
        made->any_shown = made->any_shown || made->points[s][k].y > 0;
    }
    made->any_hollow = made->any_hollow || hollow;
    made->any_bracket = made->any_bracket || bracket;
    us_value order = trend->steps[trend->step_count - 1].order;
    if (order.present) {
        const char *short_name = trend->kind == US_TREND_HEAD ? "head" : made->names[s].text;
        made->orders = usi_phrase_print("%s%s%s %s", made->orders.text,
                                        made->orders.text[0] != '\0' ? "; " : "", short_name,
                                        usi_phrase_fixed(order.value, 2).text);
    }
}

static void remark(drawing *made)
{
    size_t count = 0;
    if (!made->any_shown) {
        made->remark_count = 1;
        made->remarks[0] = "Nothing to show: no quantity changes from grid to grid.";
        return;
    }
    made->remarks[count++] =
        "Filled marks: distance from the extrapolated value, as a share of it (of heads: of the "
        "head difference).";
    if (made->any_hollow) {
        made->remarks[count++] =
            "Hollow marks, dashed: nothing to extrapolate to; difference from the grid before.";
    }
    if (made->any_bracket) {
        made->remarks[count++] = "Bracket of flow: upper less lower bound, over the flow; the true "
                                 "flow lies between them.";
    }
    if (made->orders.text[0] != '\0') {
        made->orders = usi_phrase_print("Observed order at the end: %s", made->orders.text);
        made->remarks[count++] = made->orders.text;
    }
    made->remark_count = count;
}

static void head(drawing *made)
{
    const us_section *section = made->study->section;
    const usi_water *water = &section->waters[made->study->water];
    double head_m = water->upstream_m - water->downstream_m;
    made->title =
        usi_phrase_print("%s", section->title[0] != '\0' ? section->title : "Seepage section");
    made->subtitle = usi_phrase_print(
        "Convergence on nested grids; water case %s, head difference %s",
        usi_phrase_name(water->name, 40).text,
        usi_phrase_measure(section, head_m, usi_phrase_decimals(section, head_m)).text);
}

us_status us_convergence_draw(us_context *context, const us_convergence *study,
                              const us_draw_options *given, us_buffer **picture)
{
    if (context == NULL || study == NULL || picture == NULL) {
        return US_ERROR_ARGUMENT;
    }
    us_draw_options options;
    us_status status = usi_chart_take(context, given, &options);
    if (status != US_OK) {
        return status;
    }
    drawing made = {.study = study};
    for (size_t t = 0; t < study->trend_count && made.count < SERIES_MOST; t++) {
        if (study->trends[t].leading) {
            add_series(&made, &study->trends[t]);
        }
    }
    head(&made);
    remark(&made);
    static const usi_chart_slope slopes[] = {{-1, "order 2"}, {-0.5, "order 1"}};
    usi_chart chart = {.title = made.title.text,
                       .subtitle = made.subtitle.text,
                       .across = "unknowns",
                       .up = "estimated error",
                       .series_count = made.count,
                       .series = made.series,
                       .slope_count = made.any_shown ? sizeof slopes / sizeof slopes[0] : 0,
                       .slopes = slopes,
                       .remark_count = made.remark_count,
                       .remarks = made.remarks,
                       .digest = study->section->sha256};
    return usi_chart_write(context, &chart, &options, picture);
}
