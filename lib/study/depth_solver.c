/* The whole section, all water cases and checks, for any tip of one wall. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "study/checks.h"
#include "study/criterion.h"
#include "study/depth.h"
#include "study/register.h"
#include "study/results.h"

static us_status begin_part(us_context *context, const us_section *section, usi_depth_part *part)
{
    part->section = *section;
    part->waters = usi_memory_array(context, section->water_count + 1, sizeof *part->waters);
    part->cases = usi_memory_array(context, section->water_count + 1, sizeof *part->cases);
    part->section.waters = part->waters;
    part->section.water_count = 0;
    return part->waters != NULL && part->cases != NULL ? US_OK : US_ERROR_MEMORY;
}

static void add_case(usi_depth_part *part, const usi_water *water, size_t index)
{
    part->waters[part->count] = *water;
    part->cases[part->count++] = index;
    part->section.water_count = part->count;
}

/* Puts a case into the part that it shares, which is the first, or into one of its own. */
static us_status sort_case(us_context *context, size_t water, usi_depth_solver *solver)
{
    const us_section *section = solver->section;
    if (section->waters[water].undermined != NULL) {
        return US_OK;
    }
    usi_view view;
    us_status status =
        usi_view_make(context, section, water, USI_VARIANT_NONE, solver->accuracy, &view);
    if (status != US_OK) {
        return status;
    }
    usi_depth_part *part = &solver->parts[0];
    if (usi_view_differs(&view, section)) {
        part = &solver->parts[solver->part_count++];
        status = begin_part(context, &view.section, part);
        part->view = view;
    } else {
        usi_view_free(&view);
    }
    if (status == US_OK) {
        add_case(part, part == &solver->parts[0] ? &section->waters[water] : view.section.waters,
                 water);
    }
    return status;
}

static void narrow(usi_depth_solver *solver, const usi_tips *tips)
{
    solver->high_m = fmin(solver->high_m, usi_tips_high(tips));
    solver->low_m = fmax(solver->low_m, usi_tips_low(tips));
}

static us_status make_tips(us_context *context, usi_depth_solver *solver, usi_depth_part *part)
{
    us_status status =
        usi_tips_make(context, &part->section, &solver->levels, solver->accuracy, &part->tips);
    if (status == US_OK) {
        narrow(solver, part->tips);
    }
    return status;
}

/* The parts of a section, nothing solved yet. */
static us_status begin_solver(us_context *context, const us_section *section,
                              const usi_tip_levels *levels, double accuracy,
                              usi_depth_solver *solver)
{
    *solver = (usi_depth_solver){.section = section,
                                 .accuracy = accuracy,
                                 .levels = *levels,
                                 .part_count = 1,
                                 .high_m = levels->high_m,
                                 .low_m = levels->low_m};
    solver->parts = usi_memory_array(context, section->water_count + 1, sizeof *solver->parts);
    us_status status =
        solver->parts != NULL ? begin_part(context, section, &solver->parts[0]) : US_ERROR_MEMORY;
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        status = sort_case(context, w, solver);
    }
    return status;
}

us_status usi_depth_solver_make(us_context *context, const us_section *section,
                                const usi_tip_levels *levels, double accuracy,
                                usi_depth_solver *solver)
{
    us_status status = begin_solver(context, section, levels, accuracy, solver);
    for (size_t p = 0; status == US_OK && p < solver->part_count; p++) {
        if (solver->parts[p].count > 0) {
            status = make_tips(context, solver, &solver->parts[p]);
        }
    }
    solver->low_m = fmin(solver->low_m, levels->deepest_m);
    return status;
}

us_status usi_depth_solver_make_pairs(us_context *context, const us_section *section,
                                      usi_tip_levels levels[2], double accuracy,
                                      usi_depth_solver *pairs)
{
    us_status status = begin_solver(context, section, &levels[0], accuracy, pairs);
    const usi_tip_levels asked[2] = {levels[0], levels[1]};
    const usi_wall *walls = section->walls;
    double apart_m = fabs(walls[levels[0].wall].x_m - walls[levels[1].wall].x_m);
    bool apart = apart_m > usi_section_tolerance(section); /* else they share a line of the grid */
    for (size_t p = 0; apart && status == US_OK && p < pairs->part_count; p++) {
        usi_depth_part *part = &pairs->parts[p];
        if (part->count > 0) {
            status = usi_tip_pairs_make(context, &part->section, asked, accuracy, &part->pairs);
        }
        if (status == US_OK && part->pairs != NULL) {
            levels[1].high_m = fmin(levels[1].high_m, usi_tip_pairs_high(part->pairs));
            levels[1].low_m = fmax(levels[1].low_m, usi_tip_pairs_low(part->pairs));
        }
    }
    return status;
}

us_status usi_depth_solver_at(us_context *context, const usi_depth_solver *pairs,
                              const us_section *section, usi_depth_solver *solver, bool *afresh)
{
    us_status status = begin_solver(context, section, &pairs->levels, pairs->accuracy, solver);
    solver->coarse = true;
    bool same = solver->part_count == pairs->part_count;
    *afresh = false;
    for (size_t p = 0; status == US_OK && p < solver->part_count; p++) {
        usi_depth_part *part = &solver->parts[p];
        const usi_tip_pairs *from = same ? pairs->parts[p].pairs : NULL;
        bool alone = from == NULL;
        if (part->count == 0) {
            continue;
        }
        if (!alone) {
            status = usi_tip_pairs_take(context, from, &part->section, &part->tips, &alone);
        }
        if (status == US_OK && alone) {
            *afresh = true;
            status = make_tips(context, solver, part);
        } else if (status == US_OK) {
            narrow(solver, part->tips);
        }
    }
    return status;
}

void usi_depth_solver_free(usi_depth_solver *solver)
{
    for (size_t p = 0; solver->parts != NULL && p < solver->part_count; p++) {
        usi_tips_free(solver->parts[p].tips);
        usi_tip_pairs_free(solver->parts[p].pairs);
        usi_view_free(&solver->parts[p].view);
        free(solver->parts[p].waters);
        free(solver->parts[p].cases);
    }
    free(solver->parts);
    *solver = (usi_depth_solver){0};
}

/* How a level is solved that states will not do for; `strict`: as well where their errors are
 * several times those asked for. */
typedef enum alone { ALONE_NOT, ALONE_COARSE, ALONE_FINE, ALONE_STRICT } alone;

/* States of a level that misses the accuracy by less stay, with a note: it is one of many. */
static const double MISSED_TIMES = 2.0;

/* True where flow or exit gradient is far from known to the accuracy asked for. */
static bool is_missed(const us_section *section, const usi_nest *nest)
{
    usi_target targets[USI_TARGET_MOST];
    size_t count = usi_criterion_targets(section, nest, targets);
    bool missed = false;
    for (size_t k = 0; k < count; k++) {
        bool counts =
            targets[k].driver == USI_DRIVER_FLOW || targets[k].driver == USI_DRIVER_GRADIENT;
        missed = missed || (counts && targets[k].error > MISSED_TIMES * targets[k].allowed);
    }
    return missed;
}

/* One part, from its states or by itself. */
static us_status solve_part(us_context *context, const usi_depth_part *part, usi_tip tip, alone how,
                            usi_depth_point *point)
{
    us_solution *solution = point->solution;
    usi_tipped *tipped = NULL;
    usi_nest nest;
    bool afresh = false;
    us_status status = usi_tipped_make(context, &part->section, &tip, 1, &tipped);
    if (status != US_OK) {
        return status;
    }
    status = usi_tips_nest(context, part->tips, &tipped->section, &nest, &afresh);
    if (status == US_OK && !afresh && how == ALONE_STRICT && is_missed(&tipped->section, &nest)) {
        usi_nest_free(&nest);
        afresh = true;
    }
    if (status == US_OK && afresh) {
        point->afresh = true;
        if (how == ALONE_NOT) {
            usi_tipped_free(tipped);
            return US_OK;
        }
        double accuracy = solution->accuracy;
        status = how == ALONE_COARSE ? usi_nest_pair(context, &tipped->section, accuracy, &nest)
                                     : usi_nest_refine(context, &tipped->section, accuracy, &nest);
    }
    for (size_t k = 0; status == US_OK && k < part->count; k++) {
        status =
            usi_results_fill(context, &tipped->section, &nest, k, &solution->water[part->cases[k]]);
    }
    if (status == US_OK) {
        const usi_reading *finest = usi_nest_finest(&nest);
        solution->grid.converged = solution->grid.converged && nest.converged;
        if (finest->unknowns > solution->grid.unknowns) {
            solution->grid.unknowns = finest->unknowns;
            solution->grid.columns = finest->columns;
            solution->grid.rows = finest->rows;
        }
        solution->grid.mass_balance = fmax(solution->grid.mass_balance, finest->imbalance);
        usi_nest_free(&nest);
    }
    usi_tipped_free(tipped);
    return status;
}

static us_status begin_point(us_context *context, const usi_depth_solver *solver, double tip_m,
                             usi_depth_point *point)
{
    const us_section *section = solver->section;
    usi_tip tip = {solver->levels.wall, tip_m};
    *point = (usi_depth_point){.tip_m = tip_m};
    us_status status = usi_tipped_make(context, section, &tip, 1, &point->tipped);
    if (status != US_OK) {
        return status;
    }
    point->solution = usi_memory_array(context, 1, sizeof *point->solution);
    if (point->solution == NULL) {
        return US_ERROR_MEMORY;
    }
    us_solution *solution = point->solution;
    solution->section = &point->tipped->section;
    solution->accuracy = solver->accuracy;
    solution->grid.converged = true;
    solution->water = usi_memory_array(context, section->water_count, sizeof *solution->water);
    if (solution->water == NULL) {
        return US_ERROR_MEMORY;
    }
    solution->water_count = section->water_count;
    for (size_t w = 0; w < section->water_count; w++) {
        usi_results_name(section, w, &solution->water[w]);
    }
    return US_OK;
}

static us_status solve_point(us_context *context, const usi_depth_solver *solver, double tip_m,
                             alone how, usi_depth_point *point)
{
    us_status status = begin_point(context, solver, tip_m, point);
    usi_tip tip = {solver->levels.wall, tip_m};
    for (size_t p = 0; status == US_OK && p < solver->part_count; p++) {
        if (solver->parts[p].count > 0) {
            status = solve_part(context, &solver->parts[p], tip, how, point);
        }
        if (point->afresh && how == ALONE_NOT) {
            usi_depth_point_free(point);
            return status;
        }
    }
    if (status == US_OK) {
        usi_results_share_pressures(point->solution);
        status = usi_checks_fill(context, point->solution);
    }
    if (status == US_OK) {
        status = usi_register_fill(context, point->solution);
    }
    point->passes = status == US_OK && !us_solution_fails(point->solution);
    return status;
}

us_status usi_depth_point_solve(us_context *context, const usi_depth_solver *solver, double tip_m,
                                usi_depth_point *point)
{
    return solve_point(context, solver, tip_m, solver->coarse ? ALONE_COARSE : ALONE_FINE, point);
}

us_status usi_depth_point_refine(us_context *context, const usi_depth_solver *solver, double tip_m,
                                 usi_depth_point *point)
{
    return solve_point(context, solver, tip_m, solver->coarse ? ALONE_COARSE : ALONE_STRICT, point);
}

us_status usi_depth_point_look(us_context *context, const usi_depth_solver *solver, double tip_m,
                               usi_depth_point *point)
{
    return solve_point(context, solver, tip_m, ALONE_NOT, point);
}

void usi_depth_point_free(usi_depth_point *point)
{
    us_solution_free(point->solution);
    usi_tipped_free(point->tipped);
    *point = (usi_depth_point){0};
}
