#include "study/depth_picks.h"

#include <string.h>

bool usi_depth_has_gradient(const us_depth *depth, size_t water)
{
    for (size_t k = 0; k < depth->row_count; k++) {
        if (depth->rows[k].solution->water[water].exit.gradient.present) {
            return true;
        }
    }
    return false;
}

static us_value check_value(const us_water_result *water, const char *name)
{
    us_value found = {0.0, 0.0, false};
    for (size_t c = 0; c < water->check_count; c++) {
        const us_check_result *check = &water->checks[c];
        found = strcmp(check->name, name) == 0 ? check->value : found;
    }
    return found;
}

us_value usi_depth_pick(const us_depth *depth, const us_solution *level, size_t water,
                        usi_depth_quantity what)
{
    const us_water_result *result = &level->water[water];
    switch (what) {
    case USI_DEPTH_FLOW:
        return result->flow.rate_m2_s;
    case USI_DEPTH_GRADIENT:
        return result->exit.gradient;
    case USI_DEPTH_MEAN_GRADIENT:
        return result->exit.mean;
    case USI_DEPTH_EXIT:
        return usi_depth_has_gradient(depth, water) ? result->exit.gradient : result->exit.mean;
    case USI_DEPTH_FORCE:
        return result->uplift.force_n_m;
    case USI_DEPTH_PIPING:
        return check_value(result, "piping");
    case USI_DEPTH_HEAVE:
        return check_value(result, "heave");
    case USI_DEPTH_UPLIFT:
        return check_value(result, "uplift");
    }
    return (us_value){0.0, 0.0, false};
}
