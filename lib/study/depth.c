/* us_section_depth(): a wall's tip at every level, and which levels pass. */
#include "study/depth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "study/depth_levels.h"
#include "study/depth_notes.h"
#include "study/depth_orders.h"
#include "study/depth_pairs.h"
#include "study/depth_samples.h"

static const double FINEST_ACCURACY = 1e-5;
static const double COARSEST_ACCURACY = 0.2;
/* The grids for another kh / kv: the ends of intervals are all that they give. */
static const double RATIO_ACCURACY = 0.04;
static const double RATIO_TIMES = 2.0;
/* Levels that verdict and chart go by, and those on coarser grids. */
enum { SAMPLES = 200, COARSE_SAMPLES = 100 };

/* Which check decides, asked of any solution: what is required at all. */
static bool requires_any(const us_solution *solution)
{
    for (size_t w = 0; w < solution->water_count; w++) {
        for (size_t c = 0; c < solution->water[w].check_count; c++) {
            if (solution->water[w].checks[c].required.present) {
                return true;
            }
        }
    }
    return false;
}

static us_status solve_rows(us_context *context, us_depth *depth)
{
    const us_section *section = depth->section;
    const usi_wall *wall = &section->walls[depth->solver.levels.wall];
    double levels_m[USI_DEPTH_ROWS_MOST];
    size_t count = usi_depth_levels_lay(section, depth->solver.levels.wall, depth->solver.high_m,
                                        depth->solver.low_m, levels_m);
    usi_depth_wanted wanted = {count, levels_m, SAMPLES};
    depth->rows = usi_memory_array(context, count + 1, sizeof *depth->rows);
    us_status status = depth->rows != NULL ? usi_depth_samples_take(context, &depth->solver,
                                                                    &wanted, &depth->samples)
                                           : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < depth->samples.count; k++) {
        const usi_depth_point *point = &depth->samples.points[k];
        if (point->wanted) {
            depth->rows[depth->row_count++] = (us_depth_row){.tip_m = point->tip_m,
                                                             .length_m = wall->top_m - point->tip_m,
                                                             .drawn = point->tip_m == wall->tip_m,
                                                             .passes = point->passes,
                                                             .afresh = point->afresh,
                                                             .solution = point->solution};
        }
    }
    depth->requires_any =
        status == US_OK && depth->row_count > 0 && requires_any(depth->rows[0].solution);
    return status;
}

/* All soils, those of water cases with beds of their own as well. */
static us_status change_ratio(us_context *context, us_section *section)
{
    usi_soil *soils = usi_memory_array(context, section->soil_count, sizeof *soils);
    if (soils == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(soils, section->soils, section->soil_count * sizeof *soils);
    for (size_t s = 0; s < section->soil_count; s++) {
        soils[s].kh_m_s *= sqrt(RATIO_TIMES);
        soils[s].kv_m_s /= sqrt(RATIO_TIMES);
    }
    section->soils = soils;
    return US_OK;
}

static us_status look_with_ratio(us_context *context, us_depth *depth, const us_section *section)
{
    usi_depth_solver solver;
    usi_depth_samples samples = {0, NULL};
    double accuracy = fmax(depth->solver.accuracy, RATIO_ACCURACY);
    us_status status =
        usi_depth_solver_make(context, section, &depth->solver.levels, accuracy, &solver);
    solver.coarse = true;
    if (status == US_OK) {
        double ends_m[2] = {solver.high_m, solver.low_m};
        usi_depth_wanted wanted = {2, ends_m, COARSE_SAMPLES};
        status = usi_depth_samples_take(context, &solver, &wanted, &samples);
    }
    if (status == US_OK) {
        status = usi_depth_intervals_find(context, &solver, &samples, &depth->ratio);
    }
    usi_depth_samples_free(&samples);
    usi_depth_solver_free(&solver);
    return status;
}

/* What happens to the intervals were kh / kv another. */
static us_status try_ratio(us_context *context, us_depth *depth)
{
    usi_tipped *changed = NULL;
    us_status status = usi_tipped_make(context, depth->section, NULL, 0, &changed);
    size_t done = 0;
    bool whole = false;
    if (status == US_OK) {
        status = change_ratio(context, &changed->section);
        whole = status == US_OK;
    }
    while (status == US_OK && done < changed->ground_count) {
        status = change_ratio(context, &changed->grounds[done]->section);
        done += status == US_OK ? 1 : 0;
    }
    if (status == US_OK) {
        status = look_with_ratio(context, depth, &changed->section);
    }
    for (size_t g = 0; g < done; g++) {
        free(changed->grounds[g]->section.soils);
    }
    if (whole) {
        free(changed->section.soils);
    }
    usi_tipped_free(changed);
    return status;
}

static us_status study(us_context *context, const us_depth_options *options,
                       const usi_tip_levels *levels, us_depth *depth)
{
    us_status status =
        usi_depth_solver_make(context, depth->section, levels, options->accuracy, &depth->solver);
    if (status == US_OK) {
        status = solve_rows(context, depth);
    }
    if (status == US_OK) {
        status =
            usi_depth_intervals_find(context, &depth->solver, &depth->samples, &depth->passing);
    }
    if (status == US_OK && options->ratio && depth->requires_any) {
        status = try_ratio(context, depth);
    }
    if (status == US_OK) {
        status = usi_depth_pairs_fill(context, depth, options->with);
    }
    if (status == US_OK) {
        status = usi_depth_orders_fill(context, depth);
    }
    return status == US_OK ? usi_depth_notes_fill(context, depth, options->ratio) : status;
}

static us_status refuse(us_context *context, const char *message)
{
    usi_context_report(context, US_ERROR, NULL, NULL, "%s", message);
    return US_ERROR_ARGUMENT;
}

us_status us_section_depth(us_context *context, const us_section *section,
                           const us_depth_options *given, us_depth **depth)
{
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    if (context == NULL || section == NULL || depth == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        return refuse(context, "depth options of a later release, or never initialised");
    }
    if (!(options.accuracy >= FINEST_ACCURACY) || !(options.accuracy <= COARSEST_ACCURACY)) {
        return refuse(context,
                      "the accuracy is a share from 1e-5 to 0.2, that is 0.001 %% to 20 %%");
    }
    usi_tip_levels levels;
    us_status status = usi_depth_levels_find(context, section, options.wall, &levels);
    us_depth *made = NULL;
    if (status == US_OK) {
        made = usi_memory_array(context, 1, sizeof *made);
        status = made != NULL ? US_OK : US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        made->section = section;
        status = study(context, &options, &levels, made);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    if (status == US_OK) {
        *depth = made;
    } else {
        us_depth_free(made);
    }
    return status;
}

void us_depth_free(us_depth *depth)
{
    if (depth == NULL) {
        return;
    }
    usi_depth_samples_free(&depth->samples);
    for (size_t n = 0; n < depth->note_count; n++) {
        free(depth->notes[n]);
    }
    for (size_t k = 0; k < depth->kept_count; k++) {
        usi_tipped_free(depth->kept[k]);
    }
    usi_depth_pairs_free(depth);
    usi_depth_solver_free(&depth->solver);
    free(depth->kept);
    free(depth->rows);
    free(depth->passing.list);
    free(depth->ratio.list);
    free(depth->orders);
    free(depth->notes);
    free(depth);
}
