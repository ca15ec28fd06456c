/* Between the tips of one wall that a grid has. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "quantity/soils_along.h"
#include "study/blend.h"
#include "study/tips_parts.h"

/* Cells at which the stated errors come to about a third of one per cent. */
static const double CELLS = 5.0;
static const double CELLS_ACCURACY = 0.01;
static const double CELLS_LEAST = 2.5;
static const double CELLS_MOST = 40.0;
/* How far beyond the outermost nodes readings are trusted, in steps between nodes; towards a
 * change of soil not at all. */
static const double BEYOND = 0.1;

/* Where the soil on either side of the wall changes, and the base. */
static us_status list_changes(us_context *context, const us_section *section, usi_tip_axis *axis)
{
    double x_m = section->walls[axis->levels.wall].x_m;
    for (int side = 0; side < 2; side++) {
        usi_course_line line = {
            {x_m, axis->levels.high_m}, {x_m, axis->levels.low_m}, side != 0, false};
        usi_soil_runs runs = {0};
        us_status status = usi_soils_along(context, section, &line, &runs);
        double *grown = NULL;
        if (status == US_OK) {
            grown = usi_memory_resize(context, axis->changes_m, axis->change_count + runs.count + 2,
                                      sizeof *grown);
            status = grown != NULL ? US_OK : US_ERROR_MEMORY;
            axis->changes_m = grown != NULL ? grown : axis->changes_m;
        }
        for (size_t k = 1; status == US_OK && k < runs.count; k++) {
            axis->changes_m[axis->change_count++] = axis->levels.high_m - runs.items[k].from_m;
        }
        if (status == US_OK && section->has_base && side == 0) {
            axis->changes_m[axis->change_count++] = axis->levels.base_m;
        }
        usi_soil_runs_clear(&runs);
        if (status != US_OK) {
            return status;
        }
    }
    return US_OK;
}

/* And where an opening begins and ends. */
static us_status list_openings(us_context *context, const us_section *section, usi_tip_axis *axis)
{
    const usi_wall *wall = &section->walls[axis->levels.wall];
    double *grown = usi_memory_resize(
        context, axis->changes_m, axis->change_count + 2 * wall->opening_count + 1, sizeof *grown);
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    axis->changes_m = grown;
    for (size_t k = 0; k < wall->opening_count; k++) {
        double edges_m[2] = {wall->openings[k].high_m, wall->openings[k].low_m};
        for (int e = 0; e < 2; e++) {
            if (edges_m[e] > axis->levels.low_m && edges_m[e] < axis->levels.high_m) {
                axis->changes_m[axis->change_count++] = edges_m[e];
            }
        }
    }
    return US_OK;
}

us_status usi_tip_plan_make(us_context *context, const us_section *section,
                            const usi_tip_levels *levels, size_t count, double accuracy,
                            usi_tip_plan *plan)
{
    double cells = CELLS * sqrt(CELLS_ACCURACY / accuracy);
    *plan = (usi_tip_plan){.section = section,
                           .accuracy = accuracy,
                           .cells = fmin(fmax(cells, CELLS_LEAST), CELLS_MOST),
                           .axis_count = count};
    us_status status = US_OK;
    for (size_t a = 0; status == US_OK && a < count; a++) {
        plan->axes[a].levels = levels[a];
        status = list_changes(context, section, &plan->axes[a]);
        status = status == US_OK ? list_openings(context, section, &plan->axes[a]) : status;
    }
    return status;
}

void usi_tip_plan_free(usi_tip_plan *plan)
{
    for (size_t a = 0; a < 2; a++) {
        free(plan->axes[a].changes_m);
    }
}

double usi_tip_acts_at(const usi_tip_node *node)
{
    return node->level_m + node->shift_m;
}

/* True on a level bed with the toe as its one exit: places along it are laid by the embedment,
 * from the toe outwards, and one list is the beginning of the other. */
static bool is_plain(const usi_tip_plan *plan, const usi_nest *places)
{
    return places->exit_count <= 1 && usi_section_downstream_bed(plan->section)->count == 1;
}

/* How many prisms two lists have alike from the first on. */
static size_t common_prisms(const usi_nest *one, const usi_nest *other)
{
    size_t count = 0;
    while (count < one->prism_count && count < other->prism_count &&
           one->prisms[count].kind == other->prisms[count].kind &&
           one->prisms[count].narrow == other->prisms[count].narrow) {
        count++;
    }
    return count;
}

/* True where two lists of places have the same kinds of place in the same order; on a plain bed
 * the far ones may differ. */
static bool alike(const usi_tip_plan *plan, const usi_nest *one, const usi_nest *other)
{
    size_t prisms = common_prisms(one, other);
    bool whole = prisms == one->prism_count && prisms == other->prism_count;
    bool near = is_plain(plan, one) && prisms < one->prism_count && prisms > 0 &&
                one->prisms[prisms - 1].kind == USI_PRISM_ALONG;
    bool same = one->exit_count == other->exit_count && one->tight_count == other->tight_count &&
                (whole || near || (prisms == one->prism_count && is_plain(plan, one)));
    for (size_t e = 0; same && e < one->exit_count; e++) {
        const usi_exit *a = &one->exits[e];
        const usi_exit *b = &other->exits[e];
        same = a->kind == b->kind && (a->embedment_m > 0.0) == (b->embedment_m > 0.0);
    }
    return same;
}

/* Lagrange's weights of the stencil at a level, by where its nodes count. */
static void weigh(const usi_tip_node *const *nodes, size_t count, double level_m, double side,
                  double *weights)
{
    for (size_t i = 0; i < count; i++) {
        double at_m = nodes[i]->level_m + side * nodes[i]->shift_m;
        weights[i] = 1.0;
        for (size_t j = 0; j < count; j++) {
            double other_m = nodes[j]->level_m + side * nodes[j]->shift_m;
            weights[i] *= i == j ? 1.0 : (level_m - other_m) / (at_m - other_m);
        }
    }
}

/* True where no soil changes between a node and a level, nor at either: there what is read
 * bends. */
static bool same_soil(const usi_tip_place *at, const usi_tip_node *node)
{
    const usi_tip_axis *axis = &at->plan->axes[at->axis];
    double level_m = at->level_m;
    double tolerance_m = usi_section_tolerance(at->plan->section);
    double low_m = fmin(fmin(node->level_m, usi_tip_acts_at(node)), level_m);
    double high_m = fmax(fmax(node->level_m, usi_tip_acts_at(node)), level_m);
    for (size_t k = 0; k < axis->change_count; k++) {
        double change_m = axis->changes_m[k];
        if (change_m >= low_m - tolerance_m && change_m <= high_m + tolerance_m) {
            return false;
        }
    }
    return true;
}

static bool fits(const usi_tip_place *at, const usi_tip_node *node, const usi_nest *places)
{
    return node->usable && alike(at->plan, &node->places, places) && same_soil(at, node);
}

/* The nodes about a level that have readings of the same places, at most USI_BLEND_MOST of
 * them, taken from the level outwards, below and above in turn; returns how many. */
static size_t find_stencil(const usi_tip_place *at, const usi_tip_grid *grid,
                           const usi_nest *places, const usi_tip_node **stencil)
{
    size_t low = 0;
    while (low < grid->count && usi_tip_acts_at(&grid->nodes[low]) < at->level_m) {
        low++;
    }
    size_t high = low;
    bool down = true;
    bool up = true;
    while (high - low < USI_BLEND_MOST && (down || up)) {
        down = down && low > 0 && fits(at, &grid->nodes[low - 1], places);
        low -= down ? 1 : 0;
        up = up && high < grid->count && fits(at, &grid->nodes[high], places);
        high += up && high - low < USI_BLEND_MOST ? 1 : 0;
    }
    for (size_t k = low; k < high; k++) {
        stencil[k - low] = &grid->nodes[k];
    }
    return high - low;
}

/* True where the level lies within the stencil, or not far beyond the outermost nodes of all. */
static bool is_within(const usi_tip_grid *grid, const usi_tip_node *const *stencil, size_t count,
                      double level_m)
{
    if (count < 2) {
        return false;
    }
    double low_m = usi_tip_acts_at(stencil[0]);
    double high_m = usi_tip_acts_at(stencil[count - 1]);
    double beyond_m = BEYOND * (high_m - low_m) / (double)(count - 1);
    bool lowest = stencil[0] == &grid->nodes[0];
    bool highest = stencil[count - 1] == &grid->nodes[grid->count - 1];
    return level_m >= low_m - (lowest ? beyond_m : 0.0) &&
           level_m <= high_m + (highest ? beyond_m : 0.0);
}

/* A mean is what is left of head at its depth, over that depth: heads are what is smooth. */
static void blend_means(const usi_blend *blend, const usi_tip_node *const *stencil,
                        const usi_nest *places, usi_reading *reading)
{
    for (size_t e = 0; e < reading->exit_count; e++) {
        double head = 0.0;
        for (size_t k = 0; k < blend->count; k++) {
            head += blend->heads[k] * blend->from[k]->exits[e].mean_1_m *
                    stencil[k]->places.exits[e].mean_depth_m;
        }
        reading->exits[e].mean_1_m = head / places->exits[e].mean_depth_m;
    }
}

/* The bounds of a level by the readings of `count` of the stencil's nodes from `first` on, where
 * the walls of the grid end: as bounds go. */
static void bounds_by(const usi_tip_node *const *stencil, size_t count, double level_m,
                      double bounds_m_s[2])
{
    double weights[USI_BLEND_MOST];
    weigh(stencil, count, level_m, 0.0, weights);
    bounds_m_s[0] = 0.0;
    bounds_m_s[1] = 0.0;
    for (size_t k = 0; k < count; k++) {
        bounds_m_s[0] += weights[k] * stencil[k]->reading.lower_m_s;
        bounds_m_s[1] += weights[k] * stencil[k]->reading.upper_m_s;
    }
}

/* Between the bounds of nodes, further apart by what one node less would change. Flow falls as a
 * wall grows: a shorter one bounds it from above, a longer one from below. */
static void bound_flow(const usi_tip_grid *grid, const usi_tip_node *const *stencil, size_t count,
                       double level_m, usi_reading *reading)
{
    double all_m_s[2];
    double some_m_s[2];
    double high_m_s = HUGE_VAL;
    double low_m_s = -HUGE_VAL;
    for (size_t k = 0; k < grid->count; k++) {
        const usi_tip_node *node = &grid->nodes[k];
        if (node->usable && node->level_m <= level_m) {
            low_m_s = node->reading.lower_m_s;
        }
        if (node->usable && node->level_m >= level_m && isinf(high_m_s)) {
            high_m_s = node->reading.upper_m_s;
        }
    }
    bool last = count > 2 &&
                fabs(stencil[0]->level_m - level_m) < fabs(stencil[count - 1]->level_m - level_m);
    bounds_by(stencil, count, level_m, all_m_s);
    bounds_by(last ? stencil : stencil + 1, count - 1, level_m, some_m_s);
    double apart_m_s = fmax(fabs(all_m_s[0] - some_m_s[0]), fabs(all_m_s[1] - some_m_s[1]));
    reading->lower_m_s = fmin(fmax(all_m_s[0] - apart_m_s, low_m_s), reading->flow_m_s);
    reading->upper_m_s = fmax(fmin(all_m_s[1] + apart_m_s, high_m_s), reading->flow_m_s);
}

us_status usi_tips_between(us_context *context, const usi_tip_place *at, const usi_tip_grid *grid,
                           usi_nest *places, usi_reading *reading)
{
    const usi_tip_node *stencil[USI_BLEND_MOST];
    size_t count = find_stencil(at, grid, places, stencil);
    if (!is_within(grid, stencil, count, at->level_m)) {
        return US_NOT_CONVERGED;
    }
    usi_blend blend = {.count = count};
    weigh(stencil, count, at->level_m, 1.0, blend.heads);
    weigh(stencil, count, at->level_m, -1.0, blend.stream);
    weigh(stencil, count, at->level_m, 0.0, blend.both);
    double least_m = HUGE_VAL;
    for (size_t k = 0; k < count; k++) {
        blend.from[k] = &stencil[k]->reading;
        size_t prisms = common_prisms(&stencil[k]->places, places);
        places->prism_count = prisms < places->prism_count ? prisms : places->prism_count;
        double off_m = fabs(usi_tip_acts_at(stencil[k]) - at->level_m);
        blend.nearest = off_m < least_m ? k : blend.nearest;
        least_m = fmin(least_m, off_m);
    }
    usi_places all = {places->exit_count, places->exits,       places->prism_count,
                      places->prisms,     places->tight_count, places->tights};
    us_status status = usi_blend_make(context, at->section, &all, &blend, reading);
    if (status == US_OK) {
        blend_means(&blend, stencil, places, reading);
    }
    if (status == US_OK && reading->outflows == NULL) {
        bound_flow(grid, stencil, count, at->level_m, reading);
    }
    return status;
}
