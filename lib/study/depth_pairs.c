#include "study/depth_pairs.h"

#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/depth_levels.h"
#include "study/depth_samples.h"

/* The grids for pairs: which of them pass is all that they tell. */
static const double PAIR_ACCURACY = 0.04;
/* Of the levels that a table of the second wall would have; levels of the first wall; how often
 * steps about the shortest pair are halved. */
enum { EVERY = 2, SAMPLES = 32, CLOSER = 3 };

/* The intervals of the first wall with the second one's tip at a level, where `section` has it. */
static us_status find_intervals(us_context *context, const usi_depth_solver *all,
                                const us_section *section, us_depth_pair *pair,
                                usi_depth_list *found)
{
    usi_depth_solver solver;
    usi_depth_samples samples = {0, NULL};
    us_status status = usi_depth_solver_at(context, all, section, &solver, &pair->afresh);
    if (status == US_OK) {
        double levels_m[2] = {solver.high_m, solver.low_m};
        usi_depth_wanted wanted = {2, levels_m, SAMPLES};
        status = usi_depth_samples_take(context, &solver, &wanted, &samples);
    }
    if (status == US_OK) {
        status = usi_depth_intervals_find(context, &solver, &samples, found);
    }
    for (size_t k = 0; k < samples.count; k++) {
        pair->afresh = pair->afresh || samples.points[k].afresh;
    }
    usi_depth_samples_free(&samples);
    usi_depth_solver_free(&solver);
    return status;
}

/* One more level of the second wall, behind those there are. */
static us_status look_at(us_context *context, us_depth *depth, const usi_depth_solver *all,
                         double level_m)
{
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    usi_tip tip = {depth->with, level_m};
    usi_tipped *tipped = NULL;
    usi_depth_list *list = &depth->pair_lists[depth->pair_count];
    us_depth_pair *pair = &depth->pairs[depth->pair_count++];
    *list = (usi_depth_list){0, NULL};
    *pair = (us_depth_pair){.with_tip_m = level_m,
                            .with_length_m = depth->section->walls[depth->with].top_m - level_m};
    us_status status = usi_tipped_make(context, depth->section, &tip, 1, &tipped);
    if (status == US_OK) {
        status = find_intervals(context, all, &tipped->section, pair, list);
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

/* Moves the last level to its place among the others, of which one was the best; gives that of
 * the better one. */
static size_t sort_in(us_depth *depth, size_t best)
{
    size_t last = depth->pair_count - 1;
    us_depth_pair pair = depth->pairs[last];
    usi_depth_list list = depth->pair_lists[last];
    bool better = pair.total_length_m.present &&
                  pair.total_length_m.value < depth->pairs[best].total_length_m.value;
    size_t at = last;
    for (; at > 0 && depth->pairs[at - 1].with_tip_m < pair.with_tip_m; at--) {
        depth->pairs[at] = depth->pairs[at - 1];
        depth->pair_lists[at] = depth->pair_lists[at - 1];
    }
    depth->pairs[at] = pair;
    depth->pair_lists[at] = list;
    return better ? at : best + (at <= best ? 1 : 0);
}

/* Halves the steps about the shortest pair. */
static us_status look_closer(us_context *context, us_depth *depth, const usi_depth_solver *all)
{
    const us_depth_pair *shortest = us_depth_shortest(depth);
    us_status status = US_OK;
    if (shortest == NULL || shortest->afresh) {
        return status;
    }
    size_t best = (size_t)(shortest - depth->pairs);
    for (int round = 0; round < CLOSER; round++) {
        if (status == US_OK && best > 0) {
            double next_m = depth->pairs[best - 1].with_tip_m;
            status = look_at(context, depth, all, 0.5 * (depth->pairs[best].with_tip_m + next_m));
            best = status == US_OK ? sort_in(depth, best) : best;
        }
        if (status == US_OK && best + 1 < depth->pair_count) {
            double next_m = depth->pairs[best + 1].with_tip_m;
            status = look_at(context, depth, all, 0.5 * (depth->pairs[best].with_tip_m + next_m));
            best = status == US_OK ? sort_in(depth, best) : best;
        }
    }
    return status;
}

static us_status look_at_levels(us_context *context, us_depth *depth, usi_tip_levels levels[2])
{
    double levels_m[USI_DEPTH_ROWS_MOST];
    usi_depth_solver all;
    double accuracy = fmax(depth->solver.accuracy, PAIR_ACCURACY);
    us_status status = usi_depth_solver_make_pairs(context, depth->section, levels, accuracy, &all);
    size_t count = usi_depth_levels_lay(depth->section, levels[1].wall, levels[1].high_m,
                                        levels[1].low_m, levels_m);
    size_t room = count + 2 * CLOSER;
    depth->pairs = usi_memory_array(context, room + 1, sizeof *depth->pairs);
    depth->pair_lists = usi_memory_array(context, room + 1, sizeof *depth->pair_lists);
    if (depth->pairs == NULL || depth->pair_lists == NULL) {
        status = US_ERROR_MEMORY;
    }
    for (size_t k = 0; status == US_OK && k < count; k += EVERY) {
        status = usi_context_pulse(context, "looking at pairs", count, (double)k / (double)count);
        if (status == US_OK) {
            status = look_at(context, depth, &all, levels_m[k]);
        }
    }
    if (status == US_OK) {
        status = look_closer(context, depth, &all);
    }
    usi_depth_solver_free(&all);
    return status;
}

us_status usi_depth_pairs_fill(us_context *context, us_depth *depth, const char *with)
{
    usi_tip_levels levels[2] = {depth->solver.levels, {0}};
    if (with == NULL) {
        return US_OK;
    }
    us_status status = usi_depth_levels_find(context, depth->section, with, &levels[1]);
    if (status == US_OK && levels[1].wall == levels[0].wall) {
        usi_context_report(context, US_ERROR, NULL, NULL,
                           "a pair is of two walls: '%s' is named twice", with);
        status = US_ERROR_INPUT;
    }
    if (status != US_OK || !depth->requires_any) {
        return status;
    }
    depth->with = levels[1].wall;
    return look_at_levels(context, depth, levels);
}

void usi_depth_pairs_free(us_depth *depth)
{
    for (size_t k = 0; depth->pair_lists != NULL && k < depth->pair_count; k++) {
        free(depth->pair_lists[k].list);
    }
    free(depth->pair_lists);
    free(depth->pairs);
}
