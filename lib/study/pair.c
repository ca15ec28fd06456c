#include "study/pair.h"

#include <math.h>
#include <stdlib.h>

static const double FIRST_CELLS = 7.0;
/* Rounding in a solve, relative to the value. */
static const double ROUNDING = 1e-11;
static const double BRACKET_SHARE = 0.01;
enum { ROUND_CAP = 10 };

us_value usi_pair_value(const usi_pair *pair, double coarse, double fine)
{
    double error = fabs(fine - coarse) + (pair->fine.truncation + ROUNDING) * fabs(fine);
    return (us_value){fine, error, true};
}

us_value usi_pair_head(const usi_pair *pair, double coarse, double fine)
{
    const usi_reading *reading = &pair->fine;
    double error = fabs(fine - coarse) + reading->truncation;
    if (reading->flow_m_s > 0.0) {
        double width = (reading->upper_m_s - reading->lower_m_s) / reading->flow_m_s;
        error = fmax(error, BRACKET_SHARE * fmin(width, 1.0));
    }
    return (us_value){fine, error, true};
}

us_value usi_pair_gradient(const usi_pair *pair)
{
    if (pair->exit_count == 0) {
        return (us_value){0.0, 0.0, false};
    }
    if (pair->peak_governs) {
        return usi_pair_value(pair, pair->coarse.peak.gradient_1_m, pair->fine.peak.gradient_1_m);
    }
    const usi_exit_reading *fine = &pair->fine.exits[pair->governing];
    if (!fine->bounded) {
        return (us_value){0.0, 0.0, false};
    }
    us_value value =
        usi_pair_value(pair, pair->coarse.exits[pair->governing].gradient_1_m, fine->gradient_1_m);
    /* The nested difference may vanish by chance; two routes to one value do not
     * agree by chance at the same time. */
    value.error = fmax(value.error, fabs(fine->gradient_1_m - fine->second_1_m));
    return value;
}

us_value usi_pair_mean(const usi_pair *pair)
{
    if (pair->exit_count == 0) {
        return (us_value){0.0, 0.0, false};
    }
    double depth_m = pair->exits[pair->governing].mean_depth_m;
    us_value head = usi_pair_head(pair, pair->coarse.exits[pair->governing].mean_1_m * depth_m,
                                  pair->fine.exits[pair->governing].mean_1_m * depth_m);
    return (us_value){head.value / depth_m, head.error / depth_m, true};
}

static void find_governing(usi_pair *pair)
{
    pair->governing = 0;
    for (size_t e = 1; e < pair->exit_count; e++) {
        if (pair->fine.exits[e].mean_1_m > pair->fine.exits[pair->governing].mean_1_m) {
            pair->governing = e;
        }
    }
    pair->peak_governs = false;
    if (pair->exit_count == 0 || !pair->fine.exits[pair->governing].bounded) {
        return;
    }
    const usi_bed_peak *peak = &pair->fine.peak;
    double there = pair->fine.exits[pair->governing].gradient_1_m;
    pair->peak_governs =
        peak->found && pair->coarse.peak.found && peak->gradient_1_m > there * (1.0 + 1e-9);
}

static double relative(us_value value)
{
    return value.value > 0.0 ? value.error / value.value : 0.0;
}

/* Stated error of what drives the grid. */
static double stated_error(const us_section *section, const usi_pair *pair)
{
    if (pair->fine.sealed) {
        return 0.0;
    }
    double worst = 0.0;
    if (section->has_base) {
        worst = relative(usi_pair_value(pair, pair->coarse.flow_m_s, pair->fine.flow_m_s));
    }
    if (pair->exit_count > 0) {
        us_value gradient = usi_pair_gradient(pair);
        worst = fmax(worst, relative(gradient.present ? gradient : usi_pair_mean(pair)));
    }
    return worst;
}

/* Largest error of a wall head, as a share of the head difference. */
static double head_error(const us_section *section, const usi_pair *pair)
{
    double worst = 0.0;
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall_reading *a = &pair->coarse.walls[w];
        const usi_wall_reading *b = &pair->fine.walls[w];
        worst = fmax(worst, fabs(a->tip.value - b->tip.value));
        worst = fmax(worst, fabs(a->left_face_top.value - b->left_face_top.value));
        worst = fmax(worst, fabs(a->right_face_top.value - b->right_face_top.value));
    }
    return worst;
}

static us_status take_pair(us_context *context, const us_section *section,
                           const usi_grid_options *coarse, usi_pair *pair)
{
    usi_grid_options options = *coarse;
    us_status status =
        usi_reading_take(context, section, &options, pair->exits, pair->exit_count, &pair->coarse);
    if (status == US_OK) {
        options.halvings++;
        status = usi_reading_take(context, section, &options, pair->exits, pair->exit_count,
                                  &pair->fine);
    }
    if (status != US_OK) {
        usi_reading_free(&pair->coarse);
        return status;
    }
    pair->cells = coarse->cells;
    find_governing(pair);
    return US_OK;
}

static void drop_readings(usi_pair *pair)
{
    usi_reading_free(&pair->coarse);
    usi_reading_free(&pair->fine);
}

/* One step: a finer pair replaces the present one, unless it would be too large. */
static us_status step(us_context *context, const us_section *section, double growth, usi_pair *pair)
{
    usi_pair next = {.exit_count = pair->exit_count, .exits = pair->exits};
    usi_grid_options options = {.cells = pair->cells * growth};
    us_status status = take_pair(context, section, &options, &next);
    if (status == US_OK) {
        drop_readings(pair);
        *pair = next;
    }
    return status;
}

/* Equal levels leave nothing to resolve, even where the beds meet openly and
 * the flow per head has no limit. */
static bool anything_flows(const us_section *section)
{
    for (size_t i = 0; i < section->water_count; i++) {
        if (section->waters[i].upstream_m > section->waters[i].downstream_m) {
            return true;
        }
    }
    return false;
}

us_status usi_pair_refine(us_context *context, const us_section *section, double accuracy,
                          usi_pair *pair)
{
    *pair = (usi_pair){0};
    us_status status = usi_exits_list(context, section, &pair->exits, &pair->exit_count);
    if (status == US_OK) {
        usi_grid_options options = {.cells = FIRST_CELLS};
        status = take_pair(context, section, &options, pair);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    double before = HUGE_VAL;
    double growth = 1.0;
    for (int round = 0; status == US_OK && round < ROUND_CAP; round++) {
        double ratio = stated_error(section, pair) / accuracy;
        ratio = fmax(ratio, head_error(section, pair) / (0.5 * accuracy));
        ratio = anything_flows(section) ? ratio : 0.0;
        pair->converged = ratio <= 1.0;
        /* A point that no grading resolves shows by an error that hardly falls:
         * slower than the square root of the cells where the square is due. */
        if (pair->converged || ratio > before / sqrt(growth)) {
            break;
        }
        before = ratio;
        /* Second order: the error falls with the square of the cells. */
        growth = fmin(fmax(1.1 * sqrt(ratio), 1.25), 4.0);
        status = step(context, section, growth, pair);
    }
    if (status == US_NOT_CONVERGED) {
        status = US_OK;
    }
    if (status != US_OK) {
        usi_pair_free(pair);
    }
    return status;
}

us_status usi_pair_sealed(us_context *context, const us_section *section, const usi_pair *pair,
                          usi_pair *sealed)
{
    *sealed = (usi_pair){0};
    us_status status = usi_exits_list(context, section, &sealed->exits, &sealed->exit_count);
    if (status == US_OK) {
        usi_grid_options options = {.cells = pair->cells, .sealed = true};
        status = take_pair(context, section, &options, sealed);
    }
    sealed->converged = pair->converged;
    if (status != US_OK) {
        usi_pair_free(sealed);
    }
    return status;
}

void usi_pair_free(usi_pair *pair)
{
    drop_readings(pair);
    free(pair->exits);
    *pair = (usi_pair){0};
}
