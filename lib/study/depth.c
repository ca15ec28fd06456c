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

static const double FINEST_ACCURACY = 1e-5;
static const double COARSEST_ACCURACY = 0.2;
/* The grids for another kh / kv: the ends of intervals are all that they give. */
static const double RATIO_ACCURACY = 0.04;
static const double RATIO_TIMES = 2.0;

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
    depth->rows = usi_memory_array(context, count + 1, sizeof *depth->rows);
    depth->points = usi_memory_array(context, count + 1, sizeof *depth->points);
    us_status status = depth->rows != NULL && depth->points != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < count; k++) {
        usi_depth_point *point = &depth->points[k];
        depth->row_count = k + 1;
        status = usi_context_pulse(context, "looking at tips", count, (double)k / (double)count);
        if (status == US_OK) {
            status = usi_depth_point_solve(context, &depth->solver, levels_m[k], point);
        }
        depth->rows[k] = (us_depth_row){.tip_m = levels_m[k],
                                        .length_m = wall->top_m - levels_m[k],
                                        .drawn = levels_m[k] == wall->tip_m,
                                        .passes = point->passes,
                                        .afresh = point->afresh,
                                        .solution = point->solution};
    }
    depth->requires_any = status == US_OK && count > 0 && requires_any(depth->points[0].solution);
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
    usi_depth_point *points = usi_memory_array(context, depth->row_count + 1, sizeof *points);
    double accuracy = fmax(depth->solver.accuracy, RATIO_ACCURACY);
    us_status status =
        points != NULL
            ? usi_depth_solver_make(context, section, &depth->solver.levels, accuracy, &solver)
            : US_ERROR_MEMORY;
    size_t count = 0;
    for (size_t k = 0; status == US_OK && k < depth->row_count; k++) {
        double tip_m = fmin(fmax(depth->rows[k].tip_m, solver.low_m), solver.high_m);
        status = usi_depth_point_solve(context, &solver, tip_m, &points[count++]);
    }
    if (status == US_OK) {
        status = usi_depth_intervals_find(context, &solver, points, count, &depth->ratio);
    }
    for (size_t k = 0; k < count; k++) {
        usi_depth_point_free(&points[k]);
    }
    free(points);
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
        status = usi_depth_intervals_find(context, &depth->solver, depth->points, depth->row_count,
                                          &depth->passing);
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
    for (size_t k = 0; depth->points != NULL && k < depth->row_count; k++) {
        usi_depth_point_free(&depth->points[k]);
    }
    for (size_t n = 0; n < depth->note_count; n++) {
        free(depth->notes[n]);
    }
    for (size_t k = 0; k < depth->kept_count; k++) {
        usi_tipped_free(depth->kept[k]);
    }
    usi_depth_pairs_free(depth);
    usi_depth_solver_free(&depth->solver);
    free(depth->kept);
    free(depth->points);
    free(depth->rows);
    free(depth->passing.list);
    free(depth->ratio.list);
    free(depth->orders);
    free(depth->notes);
    free(depth);
}
