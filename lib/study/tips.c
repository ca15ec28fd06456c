#include "study/tips.h"

#include <stdlib.h>

#include "base/memory.h"
#include "study/tips_parts.h"

us_status usi_tips_make(us_context *context, const us_section *section,
                        const usi_tip_levels *levels, double accuracy, usi_tips **made)
{
    usi_tips *tips = usi_memory_array(context, 1, sizeof *tips);
    if (tips == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = usi_tip_plan_make(context, section, levels, 1, accuracy, &tips->plan);
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        usi_tip_sheet sheet = {0, NULL};
        status = usi_tips_read(context, &tips->plan, g, &sheet);
        if (status == US_OK) {
            tips->grids[g] = sheet.rows[0];
            free(sheet.rows);
        } else {
            usi_tip_sheet_free(&sheet);
        }
    }
    if (status == US_OK) {
        *made = tips;
    } else {
        usi_tips_free(tips);
    }
    return status;
}

void usi_tip_grid_free(usi_tip_grid *grid)
{
    for (size_t k = 0; k < grid->count; k++) {
        usi_nest_free(&grid->nodes[k].places);
        usi_reading_free(&grid->nodes[k].reading);
    }
    free(grid->nodes);
    *grid = (usi_tip_grid){0};
}

void usi_tips_free(usi_tips *tips)
{
    if (tips == NULL) {
        return;
    }
    for (int g = 0; g < USI_TIP_GRIDS; g++) {
        usi_tip_grid_free(&tips->grids[g]);
    }
    usi_tip_plan_free(&tips->plan);
    free(tips);
}

double usi_tip_grid_high(const usi_tip_grid *grid, const usi_tip_levels *levels)
{
    return grid->count > 0 ? grid->nodes[grid->count - 1].level_m : levels->low_m;
}

double usi_tip_grid_low(const usi_tip_grid *grid, const usi_tip_levels *levels)
{
    return grid->count > 0 ? usi_tip_acts_at(&grid->nodes[0]) : levels->high_m;
}

/* The coarse grid is what limits. */
double usi_tips_high(const usi_tips *tips)
{
    return usi_tip_grid_high(&tips->grids[0], &tips->plan.axes[0].levels);
}

double usi_tips_low(const usi_tips *tips)
{
    return usi_tip_grid_low(&tips->grids[0], &tips->plan.axes[0].levels);
}

us_status usi_tips_nest(us_context *context, const usi_tips *tips, const us_section *section,
                        usi_nest *nest, bool *afresh)
{
    us_status status = usi_nest_begin(context, section, tips->plan.accuracy, nest);
    if (status != US_OK) {
        return status;
    }
    nest->cells = tips->plan.cells;
    nest->blended = true;
    *afresh = false;
    double level_m = section->walls[tips->plan.axes[0].levels.wall].solved_tip_m;
    usi_tip_place at = {&tips->plan, 0, section, level_m};
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        status = usi_tips_between(context, &at, &tips->grids[g], nest, &nest->readings[g]);
        nest->count += status == US_OK ? 1 : 0;
    }
    if (status == US_OK) {
        usi_nest_settle(nest);
        nest->converged = true; /* what misses the accuracy says so itself */
        return US_OK;
    }
    usi_nest_free(nest);
    *afresh = status == US_NOT_CONVERGED;
    return status == US_NOT_CONVERGED ? US_OK : status;
}
