/* True error against unknowns: some exact cases on a ladder of grids. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/context.h"
#include "draw/chart.h"
#include "undersill/convergence.h"
#include "verify/tables.h"
#include "verify/verification.h"

/* Of every kind one, the extremes of depth among them, none its own dual. */
static const char *const drawn[] = {
    "wall_05",        "wall_quarter",      "wall_95",        "wall_step_3",
    "floor_wall_toe", "two_walls_unequal", "apron_embedded", "layers_equal_floor",
};

enum { RUNGS = 4, UNKNOWNS_MOST = 60000 };
enum { GRADIENT, EXTRAPOLATED, BOUND, MEAN, CURVES };

typedef struct worst {
    size_t rungs; /* that all sections have */
    double unknowns[RUNGS];
    double error[CURVES][RUNGS]; /* largest over the sections; 0 where none is known */
} worst;

static const usi_verify_case *find(const char *name)
{
    size_t i = 0;
    while (usi_verify_case_at(i) != NULL && strcmp(usi_verify_case_at(i)->name, name) != 0) {
        i++;
    }
    return usi_verify_case_at(i);
}

/* 0 where the case does not know it. */
static double expected_of(const usi_verify_case *one, usi_verify_quantity quantity)
{
    for (size_t i = 0; i < one->check_count; i++) {
        if (one->checks[i].quantity == quantity && isfinite(one->checks[i].expected)) {
            return one->checks[i].expected;
        }
    }
    return 0.0;
}

static void note(double *largest, double value, double expected)
{
    if (expected != 0.0) {
        *largest = fmax(*largest, fabs(value / expected - 1.0));
    }
}

static void follow(const us_trend *trend, const usi_verify_case *one, worst *of)
{
    double flow = expected_of(one, USI_VERIFY_FLOW);
    double gradient = expected_of(one, USI_VERIFY_EXIT_GRADIENT);
    for (size_t r = 0; r < trend->step_count && r < RUNGS; r++) {
        const us_trend_step *step = &trend->steps[r];
        if (trend->kind == US_TREND_FLOW) {
            note(&of->error[MEAN][r], step->value, flow);
        } else if (trend->kind == US_TREND_FLOW_LOWER || trend->kind == US_TREND_FLOW_UPPER) {
            note(&of->error[BOUND][r], step->value, flow);
        } else if (trend->kind == US_TREND_EXIT_GRADIENT) {
            note(&of->error[GRADIENT][r], step->value, gradient);
            if (step->extrapolated.present) {
                note(&of->error[EXTRAPOLATED][r], step->extrapolated.value, gradient);
            }
        }
    }
}

static us_status study(us_context *context, const usi_verify_case *one, worst *of)
{
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    options.rungs = RUNGS;
    options.unknowns_most = UNKNOWNS_MOST;
    us_section *section = NULL;
    us_convergence *ladder = NULL;
    us_status status =
        us_section_read(context, one->section, strlen(one->section), one->name, &section);
    if (status == US_OK) {
        status = us_section_converge(context, section, &options, &ladder);
    }
    if (status == US_OK) {
        size_t rungs = us_convergence_rung_count(ladder);
        of->rungs = rungs < of->rungs ? rungs : of->rungs;
        for (size_t r = 0; r < of->rungs; r++) {
            of->unknowns[r] =
                fmax(of->unknowns[r], (double)us_convergence_rung(ladder, r)->unknowns);
        }
        for (size_t t = 0; t < us_convergence_trend_count(ladder); t++) {
            follow(us_convergence_trend(ladder, t), one, of);
        }
    }
    us_convergence_free(ladder);
    us_section_free(section);
    return status;
}

static us_status draw(us_context *context, const worst *of, const us_draw_options *options,
                      us_buffer **picture)
{
    enum { ROOM = 120 };
    static const char *const names[CURVES] = {
        [GRADIENT] = "exit gradient, as read",
        [EXTRAPOLATED] = "exit gradient, extrapolated",
        [BOUND] = "flow, the worse bound",
        [MEAN] = "flow, mean of the bounds",
    };
    static const usi_chart_slope slopes[] = {{-1.0, "order 2"}};
    static const char *const remarks[] = {
        "Each point is the worst of them: how far from the exact answer, as a share of it, on "
        "grids halved equally often.",
        "The number of unknowns is the largest among them.",
    };
    char subtitle[ROOM];
    (void)snprintf(subtitle, sizeof subtitle,
                   "Largest true error over %zu sections with exact answers",
                   USI_VERIFY_COUNT(drawn));
    usi_chart_point points[CURVES][RUNGS];
    usi_chart_series series[CURVES];
    for (size_t c = 0; c < CURVES; c++) {
        for (size_t r = 0; r < of->rungs && r < RUNGS; r++) {
            points[c][r] = (usi_chart_point){of->unknowns[r], of->error[c][r]};
        }
        series[c] = (usi_chart_series){.name = names[c],
                                       .count = of->rungs,
                                       .points = points[c],
                                       .joined = true,
                                       .hollow = c == EXTRAPOLATED || c == MEAN};
    }
    const usi_chart chart = {.title = "Verification: error against unknowns",
                             .subtitle = subtitle,
                             .across = "unknowns",
                             .up = "true error",
                             .series_count = CURVES,
                             .series = series,
                             .slope_count = USI_VERIFY_COUNT(slopes),
                             .slopes = slopes,
                             .remark_count = USI_VERIFY_COUNT(remarks),
                             .remarks = remarks,
                             .digest = NULL};
    return usi_chart_write(context, &chart, options, picture);
}

us_status us_verification_draw(us_context *context, const us_draw_options *given,
                               us_buffer **picture)
{
    if (context == NULL || picture == NULL) {
        return US_ERROR_ARGUMENT;
    }
    us_draw_options options;
    us_status status = usi_chart_take(context, given, &options);
    worst of = {.rungs = RUNGS};
    for (size_t i = 0; status == US_OK && i < USI_VERIFY_COUNT(drawn); i++) {
        const usi_verify_case *one = find(drawn[i]);
        status = one == NULL ? US_ERROR_INTERNAL : study(context, one, &of);
    }
    return status == US_OK ? draw(context, &of, &options, picture) : status;
}
