/* Tips of two walls: what one wall reads for any tip of the other. */
#include <stdlib.h>

#include "base/memory.h"
#include "study/tips_parts.h"

us_status usi_tip_pairs_make(us_context *context, const us_section *section,
                             const usi_tip_levels levels[2], double accuracy, usi_tip_pairs **made)
{
    usi_tip_pairs *pairs = usi_memory_array(context, 1, sizeof *pairs);
    if (pairs == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = usi_tip_plan_make(context, section, levels, 2, accuracy, &pairs->plan);
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        status = usi_tips_read(context, &pairs->plan, g, &pairs->sheets[g]);
    }
    if (status == US_OK) {
        *made = pairs;
    } else {
        usi_tip_pairs_free(pairs);
    }
    return status;
}

void usi_tip_pairs_free(usi_tip_pairs *pairs)
{
    if (pairs == NULL) {
        return;
    }
    for (int g = 0; g < USI_TIP_GRIDS; g++) {
        usi_tip_sheet_free(&pairs->sheets[g]);
    }
    usi_tip_plan_free(&pairs->plan);
    free(pairs);
}

/* The coarse grid is what limits; its rows are alike. */
static usi_tip_grid limiting(const usi_tip_pairs *pairs)
{
    const usi_tip_sheet *sheet = &pairs->sheets[0];
    return sheet->count > 0 ? sheet->rows[0] : (usi_tip_grid){0};
}

double usi_tip_pairs_high(const usi_tip_pairs *pairs)
{
    usi_tip_grid grid = limiting(pairs);
    return usi_tip_grid_high(&grid, &pairs->plan.axes[1].levels);
}

double usi_tip_pairs_low(const usi_tip_pairs *pairs)
{
    usi_tip_grid grid = limiting(pairs);
    return usi_tip_grid_low(&grid, &pairs->plan.axes[1].levels);
}

/* One tip of the first wall, from the row of tips of the second; not usable where these do not
 * do. */
static us_status take_node(us_context *context, const usi_tip_pairs *pairs,
                           const us_section *section, const usi_tip_grid *row, usi_tip_node *node)
{
    double level_m = section->walls[pairs->plan.axes[1].levels.wall].solved_tip_m;
    usi_tip acts = {pairs->plan.axes[0].levels.wall, row->level_m + row->shift_m};
    usi_tipped *acting = NULL;
    node->level_m = row->level_m;
    node->shift_m = row->shift_m;
    us_status status = usi_tipped_make(context, section, &acts, 1, &acting);
    if (status == US_OK) {
        status = usi_nest_begin(context, &acting->section, pairs->plan.accuracy, &node->places);
    }
    if (status == US_OK) {
        usi_tip_place at = {&pairs->plan, 1, &acting->section, level_m};
        status = usi_tips_between(context, &at, row, &node->places, &node->reading);
        node->usable = status == US_OK;
    }
    usi_tipped_free(acting);
    return status == US_NOT_CONVERGED ? US_OK : status;
}

static us_status take_grid(us_context *context, const usi_tip_pairs *pairs, int index,
                           const us_section *section, usi_tip_grid *to)
{
    const usi_tip_sheet *sheet = &pairs->sheets[index];
    to->nodes = usi_memory_array(context, sheet->count + 1, sizeof *to->nodes);
    us_status status = to->nodes != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < sheet->count; k++) {
        status = take_node(context, pairs, section, &sheet->rows[k], &to->nodes[to->count++]);
    }
    return status;
}

/* True where most tips are usable. */
static bool will_do(const usi_tip_grid *grid)
{
    size_t usable = 0;
    for (size_t k = 0; k < grid->count; k++) {
        usable += grid->nodes[k].usable ? 1 : 0;
    }
    return usable > 0 && 2 * usable >= grid->count;
}

us_status usi_tip_pairs_take(us_context *context, const usi_tip_pairs *pairs,
                             const us_section *section, usi_tips **made, bool *afresh)
{
    usi_tips *tips = usi_memory_array(context, 1, sizeof *tips);
    if (tips == NULL) {
        return US_ERROR_MEMORY;
    }
    *afresh = false;
    us_status status = usi_tip_plan_make(context, section, &pairs->plan.axes[0].levels, 1,
                                         pairs->plan.accuracy, &tips->plan);
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        status = take_grid(context, pairs, g, section, &tips->grids[g]);
        *afresh = *afresh || !will_do(&tips->grids[g]);
    }
    if (status == US_OK && !*afresh) {
        *made = tips;
    } else {
        usi_tips_free(tips);
    }
    return status;
}
