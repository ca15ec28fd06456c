#include "study/tips.h"

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
/* How far beyond the outermost nodes readings are trusted, in steps between nodes. */
static const double BEYOND = 0.4;

/* Where the soil on either side of the wall changes, and the base. */
static us_status list_changes(us_context *context, usi_tips *tips)
{
    const us_section *section = tips->section;
    double x_m = section->walls[tips->levels.wall].x_m;
    for (int side = 0; side < 2; side++) {
        usi_course_line line = {
            {x_m, tips->levels.high_m}, {x_m, tips->levels.low_m}, side != 0, false};
        usi_soil_runs runs = {0};
        us_status status = usi_soils_along(context, section, &line, &runs);
        double *grown = NULL;
        if (status == US_OK) {
            grown = usi_memory_resize(context, tips->changes_m, tips->change_count + runs.count + 2,
                                      sizeof *grown);
            status = grown != NULL ? US_OK : US_ERROR_MEMORY;
            tips->changes_m = grown != NULL ? grown : tips->changes_m;
        }
        for (size_t k = 1; status == US_OK && k < runs.count; k++) {
            tips->changes_m[tips->change_count++] = tips->levels.high_m - runs.items[k].from_m;
        }
        if (status == US_OK && section->has_base && side == 0) {
            tips->changes_m[tips->change_count++] = tips->levels.base_m;
        }
        usi_soil_runs_clear(&runs);
        if (status != US_OK) {
            return status;
        }
    }
    return US_OK;
}

us_status usi_tips_make(us_context *context, const us_section *section,
                        const usi_tip_levels *levels, double accuracy, usi_tips **made)
{
    usi_tips *tips = usi_memory_array(context, 1, sizeof *tips);
    if (tips == NULL) {
        return US_ERROR_MEMORY;
    }
    double cells = CELLS * sqrt(CELLS_ACCURACY / accuracy);
    *tips = (usi_tips){.section = section,
                       .levels = *levels,
                       .accuracy = accuracy,
                       .cells = fmin(fmax(cells, CELLS_LEAST), CELLS_MOST)};
    us_status status = list_changes(context, tips);
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        status = usi_tips_read(context, tips, g, &tips->grids[g]);
    }
    if (status == US_OK) {
        *made = tips;
    } else {
        usi_tips_free(tips);
    }
    return status;
}

void usi_tips_free(usi_tips *tips)
{
    if (tips == NULL) {
        return;
    }
    for (int g = 0; g < USI_TIP_GRIDS; g++) {
        for (size_t k = 0; k < tips->grids[g].count; k++) {
            usi_nest_free(&tips->grids[g].nodes[k].places);
            usi_reading_free(&tips->grids[g].nodes[k].reading);
        }
        free(tips->grids[g].nodes);
    }
    free(tips->changes_m);
    free(tips);
}

/* Where the wall of a node acts for heads; the coarse grid is what limits. */
static double acts_at(const usi_tip_node *node)
{
    return node->level_m + node->shift_m;
}

double usi_tips_high(const usi_tips *tips)
{
    const usi_tip_grid *grid = &tips->grids[0];
    return grid->count > 0 ? grid->nodes[grid->count - 1].level_m : tips->levels.low_m;
}

double usi_tips_low(const usi_tips *tips)
{
    const usi_tip_grid *grid = &tips->grids[0];
    return grid->count > 0 ? acts_at(&grid->nodes[0]) : tips->levels.high_m;
}

/* True on a level bed with the toe as its one exit: places along it are laid by the embedment,
 * from the toe outwards, and one list is the beginning of the other. */
static bool is_plain(const usi_tips *tips, const usi_nest *places)
{
    return places->exit_count <= 1 && usi_section_downstream_bed(tips->section)->count == 1;
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
static bool alike(const usi_tips *tips, const usi_nest *one, const usi_nest *other)
{
    size_t prisms = common_prisms(one, other);
    bool whole = prisms == one->prism_count && prisms == other->prism_count;
    bool near = is_plain(tips, one) && prisms < one->prism_count && prisms > 0 &&
                one->prisms[prisms - 1].kind == USI_PRISM_ALONG;
    bool same = one->exit_count == other->exit_count && one->tight_count == other->tight_count &&
                (whole || near || (prisms == one->prism_count && is_plain(tips, one)));
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

/* True where no soil changes between a node and a level, nor at the node: there what is read
 * bends. */
static bool same_soil(const usi_tips *tips, const usi_tip_node *node, double level_m)
{
    double tolerance_m = usi_section_tolerance(tips->section);
    double low_m = fmin(fmin(node->level_m, acts_at(node)), level_m);
    double high_m = fmax(fmax(node->level_m, acts_at(node)), level_m);
    for (size_t k = 0; k < tips->change_count; k++) {
        double at_m = tips->changes_m[k];
        if (at_m >= low_m - tolerance_m && at_m <= high_m + tolerance_m &&
            fabs(at_m - level_m) > tolerance_m) {
            return false;
        }
    }
    return true;
}

static bool fits(const usi_tips *tips, const usi_tip_node *node, const usi_nest *places,
                 double level_m)
{
    return node->usable && alike(tips, &node->places, places) && same_soil(tips, node, level_m);
}

/* The nodes about a level that have readings of the same places, at most USI_BLEND_MOST of
 * them, taken from the level outwards, below and above in turn; returns how many. */
static size_t find_stencil(const usi_tips *tips, const usi_tip_grid *grid, const usi_nest *places,
                           double level_m, const usi_tip_node **stencil)
{
    size_t low = 0;
    while (low < grid->count && acts_at(&grid->nodes[low]) < level_m) {
        low++;
    }
    size_t high = low;
    bool down = true;
    bool up = true;
    while (high - low < USI_BLEND_MOST && (down || up)) {
        down = down && low > 0 && fits(tips, &grid->nodes[low - 1], places, level_m);
        low -= down ? 1 : 0;
        up = up && high < grid->count && fits(tips, &grid->nodes[high], places, level_m);
        high += up && high - low < USI_BLEND_MOST ? 1 : 0;
    }
    for (size_t k = low; k < high; k++) {
        stencil[k - low] = &grid->nodes[k];
    }
    return high - low;
}

/* True where the level lies within the stencil, or not far beyond. */
static bool is_within(const usi_tip_node *const *stencil, size_t count, double level_m)
{
    if (count < 2) {
        return false;
    }
    double low_m = acts_at(stencil[0]);
    double high_m = acts_at(stencil[count - 1]);
    double step_m = (high_m - low_m) / (double)(count - 1);
    return level_m >= low_m - BEYOND * step_m && level_m <= high_m + BEYOND * step_m;
}

/* Flow falls as a wall grows: a shorter one bounds it from above, a longer one from below. */
static void bound_flow(const usi_tip_grid *grid, double level_m, usi_reading *reading)
{
    bool above = false;
    bool below = false;
    for (size_t k = 0; k < grid->count; k++) {
        const usi_tip_node *node = &grid->nodes[k];
        if (node->usable && node->level_m <= level_m) {
            reading->lower_m_s = node->reading.lower_m_s;
            below = true;
        }
        if (node->usable && node->level_m >= level_m && !above) {
            reading->upper_m_s = node->reading.upper_m_s;
            above = true;
        }
    }
    reading->bracketed = reading->bracketed && above && below && reading->outflows == NULL;
}

static us_status blend_grid(us_context *context, const usi_tips *tips, int index,
                            const us_section *section, double level_m, usi_nest *nest)
{
    const usi_tip_grid *grid = &tips->grids[index];
    const usi_tip_node *stencil[USI_BLEND_MOST];
    size_t count = find_stencil(tips, grid, nest, level_m, stencil);
    if (!is_within(stencil, count, level_m)) {
        return US_NOT_CONVERGED;
    }
    usi_blend blend = {.count = count};
    weigh(stencil, count, level_m, 1.0, blend.heads);
    weigh(stencil, count, level_m, -1.0, blend.stream);
    weigh(stencil, count, level_m, 0.0, blend.both);
    for (size_t k = 0; k < count; k++) {
        blend.from[k] = &stencil[k]->reading;
        size_t prisms = common_prisms(&stencil[k]->places, nest);
        nest->prism_count = prisms < nest->prism_count ? prisms : nest->prism_count;
        double off_m = fabs(acts_at(stencil[k]) - level_m);
        blend.nearest = off_m < fabs(acts_at(stencil[blend.nearest]) - level_m) ? k : blend.nearest;
    }
    usi_places places = {nest->exit_count, nest->exits,       nest->prism_count,
                         nest->prisms,     nest->tight_count, nest->tights};
    usi_reading *reading = &nest->readings[nest->count];
    us_status status = usi_blend_make(context, section, &places, &blend, reading);
    if (status == US_OK) {
        bound_flow(grid, level_m, reading);
        nest->count++;
    }
    return status;
}

us_status usi_tips_nest(us_context *context, const usi_tips *tips, const us_section *section,
                        double level_m, usi_nest *nest, bool *afresh)
{
    us_status status = usi_nest_begin(context, section, tips->accuracy, nest);
    if (status != US_OK) {
        return status;
    }
    nest->cells = tips->cells;
    nest->blended = true;
    *afresh = false;
    for (int g = 0; status == US_OK && g < USI_TIP_GRIDS; g++) {
        status = blend_grid(context, tips, g, section, level_m, nest);
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
