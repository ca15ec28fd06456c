#include "study/depth_pairs.h"

#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/depth_levels.h"

/* The grids for pairs: which of them pass is all that they tell. */
static const double PAIR_ACCURACY = 0.04;
/* Of the levels that a table of the second wall would have. */
enum { EVERY = 2 };

/* The intervals of the first wall with the second one's tip where `section` has it. */
static us_status find_intervals(us_context *context, const us_depth *depth,
                                const us_section *section, usi_depth_list *found)
{
    usi_depth_solver solver;
    double accuracy = fmax(depth->solver.accuracy, PAIR_ACCURACY);
    usi_depth_point *points = usi_memory_array(context, depth->row_count + 1, sizeof *points);
    size_t count = 0;
    if (points == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status =
        usi_depth_solver_make(context, section, &depth->solver.levels, accuracy, &solver);
    for (size_t k = 0; status == US_OK && k < depth->row_count; k++) {
        double tip_m = fmin(fmax(depth->rows[k].tip_m, solver.low_m), solver.high_m);
        status = usi_depth_point_solve(context, &solver, tip_m, &points[count++]);
    }
    if (status == US_OK) {
        status = usi_depth_intervals_find(context, &solver, points, count, found);
    }
    for (size_t k = 0; k < count; k++) {
        usi_depth_point_free(&points[k]);
    }
    free(points);
    usi_depth_solver_free(&solver);
    return status;
}

static us_status look_at(us_context *context, us_depth *depth, double level_m)
{
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    usi_tip tip = {depth->with, level_m};
    usi_tipped *tipped = NULL;
    usi_depth_list *list = &depth->pair_lists[depth->pair_count];
    us_depth_pair *pair = &depth->pairs[depth->pair_count++];
    pair->with_tip_m = level_m;
    pair->with_length_m = depth->section->walls[depth->with].top_m - level_m;
    us_status status = usi_tipped_make(context, depth->section, &tip, 1, &tipped);
    if (status == US_OK) {
        status = find_intervals(context, depth, &tipped->section, list);
    }
    if (status == US_OK && list->count > 0) {
        double length_m = wall->top_m - list->list[0].high.tip_m;
        pair->interval_count = list->count;
        pair->intervals = list->list;
        pair->total_length_m =
            (us_value){pair->with_length_m + length_m, list->list[0].high.error_m, true};
    }
    usi_tipped_free(tipped);
    return status;
}

us_status usi_depth_pairs_fill(us_context *context, us_depth *depth, const char *with)
{
    usi_tip_levels levels;
    double levels_m[USI_DEPTH_ROWS_MOST];
    if (with == NULL) {
        return US_OK;
    }
    us_status status = usi_depth_levels_find(context, depth->section, with, &levels);
    if (status == US_OK && levels.wall == depth->solver.levels.wall) {
        usi_context_report(context, US_ERROR, NULL, NULL,
                           "a pair is of two walls: '%s' is named twice", with);
        status = US_ERROR_INPUT;
    }
    if (status != US_OK || !depth->requires_any) {
        return status;
    }
    depth->with = levels.wall;
    size_t count =
        usi_depth_levels_lay(depth->section, levels.wall, levels.high_m, levels.low_m, levels_m);
    depth->pairs = usi_memory_array(context, count + 1, sizeof *depth->pairs);
    depth->pair_lists = usi_memory_array(context, count + 1, sizeof *depth->pair_lists);
    status = depth->pairs != NULL && depth->pair_lists != NULL ? US_OK : US_ERROR_MEMORY;
    /* The first and the last are next to the soil's edge and to the base. */
    for (size_t k = 1; status == US_OK && k + 1 < count; k += EVERY) {
        status = usi_context_pulse(context, "looking at pairs", count, (double)k / (double)count);
        if (status == US_OK) {
            status = look_at(context, depth, levels_m[k]);
        }
    }
    return status;
}

void usi_depth_pairs_free(us_depth *depth)
{
    for (size_t k = 0; depth->pair_lists != NULL && k < depth->pair_count; k++) {
        free(depth->pair_lists[k].list);
    }
    free(depth->pair_lists);
    free(depth->pairs);
}
