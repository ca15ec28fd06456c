/* Readings of every tip of a wall on one grid. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "quantity/piezometer.h"
#include "study/tips_parts.h"

/* Lines along the wall, for one cell, as shares of the range and of the depth below its top or
 * the height above the base. */
static const double FIRST_SHARE = 0.06;
static const double GROWTH = 0.5;

typedef struct reader {
    us_context *context;
    usi_tips *tips;
    const usi_grid *grid;
    usi_engine *engine;
    double *pass_m_s;
    int stride; /* every how many nodes are read */
} reader;

static double ratio_at(const us_section *section, double x_m, double level_m)
{
    double sum = 0.0;
    for (int side = 0; side < 4; side++) {
        usi_point at = {x_m, level_m};
        const usi_soil *soil =
            &section->soils[usi_section_soil_at(section, at, side % 2 == 0, side / 2 == 0)];
        sum += 0.25 * soil->kv_m_s / soil->kh_m_s;
    }
    return sum;
}

/* On a lattice of cells dx by dz a wall acts as if it ended a quarter of the diagonal of a cell
 * above its last node, dx counted by sqrt(kv / kh): the head on the wall line then goes as the
 * square root of the distance from there (Wiener and Hopf's method for the lattice; derived
 * here). For the stream function it ends as much below the node. */
static double shift_at(const usi_grid *grid, double x_m, size_t row)
{
    size_t line = usi_grid_x_line(grid, x_m);
    double across_m = 0.5 * (grid->x_m[line + 1] - grid->x_m[line - 1]);
    double up_m = 0.5 * (grid->z_m[row + 1] - grid->z_m[row - 1]);
    return 0.25 *
           sqrt(up_m * up_m + across_m * across_m * ratio_at(grid->section, x_m, grid->z_m[row]));
}

/* The tip is where head has one value; what is read there is read at the tip itself. */
static void read_tip(const usi_tips *tips, const usi_field *field, usi_tip_node *node)
{
    const us_section *section = tips->section;
    double x_m = section->walls[tips->levels.wall].x_m;
    double level_m = node->level_m + node->shift_m;
    double tolerance_m = usi_section_tolerance(section);
    usi_reduced tip = node->reading.walls[tips->levels.wall].tip;
    for (size_t p = 0; tip.present && p < node->places.prism_count; p++) {
        const usi_prism *prism = &node->places.prisms[p];
        double side_m = prism->bed == USI_FACE_RIGHT ? prism->from_m : prism->to_m;
        if (fabs(side_m - x_m) <= tolerance_m && fabs(prism->level_m - level_m) <= tolerance_m) {
            node->reading.prisms[p].corner = tip;
        }
    }
    for (size_t e = 0; tip.present && e < node->places.exit_count; e++) {
        const usi_exit *exit = &node->places.exits[e];
        if (fabs(exit->at.x_m - x_m) <= tolerance_m &&
            fabs(exit->at.z_m - exit->mean_depth_m - level_m) <= tolerance_m) {
            double bed =
                section->situation != NULL ? usi_head_at(field, exit->at, exit->bed).value : 0.0;
            node->reading.exits[e].mean_1_m = (tip.value - bed) / exit->mean_depth_m;
        }
    }
}

/* The state with the tip at the lower end of a segment. */
static us_status read_state(const reader *of, size_t segment, const us_section *section,
                            usi_tip_node *node)
{
    const usi_segments *segments = usi_engine_segments(of->engine);
    usi_wall_state *state = NULL;
    for (size_t k = 0; k < segments->count; k++) {
        of->pass_m_s[k] = k < segment ? HUGE_VAL : 0.0;
    }
    us_status status = usi_engine_state(of->context, of->engine, section, of->pass_m_s, &state);
    if (status != US_OK || state->one_way) {
        usi_wall_state_free(state);
        return status == US_NOT_CONVERGED ? US_OK : status;
    }
    usi_places places = {node->places.exit_count,  node->places.exits,
                         node->places.prism_count, node->places.prisms,
                         node->places.tight_count, node->places.tights};
    status = usi_reading_fill(of->context, state->field, &places, &node->reading);
    if (status == US_OK) {
        node->usable = true;
        read_tip(of->tips, state->field, node);
    }
    usi_wall_state_free(state);
    return status;
}

/* One tip: exits and prisms go by where it acts, the wall itself ends at the node. */
static us_status read_node(const reader *of, size_t segment, usi_tip_node *node)
{
    const usi_tips *tips = of->tips;
    const usi_segment *at = &usi_engine_segments(of->engine)->list[segment];
    double x_m = tips->section->walls[tips->levels.wall].x_m;
    node->level_m = at->low_m;
    node->shift_m = shift_at(of->grid, x_m, usi_grid_z_line(of->grid, at->low_m));
    usi_tip acts = {tips->levels.wall, node->level_m + node->shift_m};
    usi_tip ends = {tips->levels.wall, node->level_m};
    usi_tipped *acting = NULL;
    usi_tipped *ending = NULL;
    us_status status = usi_tipped_make(of->context, tips->section, &acts, 1, &acting);
    if (status == US_OK) {
        status = usi_tipped_make(of->context, tips->section, &ends, 1, &ending);
    }
    if (status == US_OK) {
        status = usi_nest_begin(of->context, &acting->section, tips->accuracy, &node->places);
    }
    if (status == US_OK) {
        status = read_state(of, segment, &ending->section, node);
    }
    usi_tipped_free(acting);
    usi_tipped_free(ending);
    return status;
}

/* A tip at an end of a segment that lies on a node of the grid; the lowest of all is one. */
static bool is_tip(const reader *of, size_t segment)
{
    size_t nodes = (of->grid->columns + 1) * (of->grid->rows + 1);
    int32_t place = usi_engine_segments(of->engine)->list[segment].place[0];
    size_t row = (size_t)place / (of->grid->columns + 1);
    return (size_t)place < nodes && row > 0 && row < of->grid->rows &&
           row % (size_t)of->stride == 0;
}

static us_status read_nodes(const reader *of, usi_tip_grid *to)
{
    size_t count = usi_engine_segments(of->engine)->count;
    to->nodes = usi_memory_array(of->context, count + 1, sizeof *to->nodes);
    us_status status = to->nodes != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < count; k++) {
        if (is_tip(of, k)) {
            status = usi_context_pulse(of->context, "reading tips", of->grid->unknowns,
                                       (double)k / (double)count);
            status = status == US_OK ? read_node(of, k, &to->nodes[to->count++]) : status;
        }
    }
    return status;
}

static us_status read_grid(us_context *context, usi_tips *tips, int halvings, const usi_grid *grid,
                           usi_tip_grid *to)
{
    reader of = {.context = context, .tips = tips, .grid = grid, .stride = 1 << halvings};
    usi_wall_span span = {tips->levels.wall, tips->levels.low_m, tips->levels.high_m};
    us_status status = usi_engine_make(context, grid, &span, 1, &of.engine);
    if (status == US_OK) {
        of.pass_m_s = usi_memory_array(context, usi_engine_segments(of.engine)->count + 1,
                                       sizeof *of.pass_m_s);
        status = of.pass_m_s != NULL ? read_nodes(&of, to) : US_ERROR_MEMORY;
    }
    free(of.pass_m_s);
    usi_engine_free(of.engine);
    return status;
}

us_status usi_tips_read(us_context *context, usi_tips *tips, int halvings, usi_tip_grid *to)
{
    const us_section *section = tips->section;
    const usi_tip_levels *levels = &tips->levels;
    usi_tip lowest = {levels->wall, levels->low_m};
    usi_tipped *closed = NULL;
    usi_grid *grid = NULL;
    double x_m = section->walls[levels->wall].x_m;
    double length_m = levels->high_m - levels->low_m;
    double stretch = 1.0 / sqrt(ratio_at(section, x_m, 0.5 * (levels->high_m + levels->low_m)));
    usi_tip_range range = {.x_m = x_m,
                           .low_m = levels->low_m,
                           .high_m = levels->high_m,
                           .floor_count = tips->change_count,
                           .floors_m = tips->changes_m,
                           .first_m = FIRST_SHARE * length_m,
                           .growth = GROWTH,
                           .across_m = FIRST_SHARE * length_m * stretch};
    usi_grid_options options = {.cells = tips->cells,
                                .halvings = halvings,
                                .truncation = tips->accuracy * 0.01,
                                .range_count = 1,
                                .ranges = &range};
    us_status status = usi_tipped_make(context, section, &lowest, 1, &closed);
    if (status == US_OK) {
        status = usi_grid_build(context, &closed->section, &options, &grid);
    }
    if (status == US_OK) {
        status = read_grid(context, tips, halvings, grid, to);
    }
    usi_grid_free(grid);
    usi_tipped_free(closed);
    return status;
}
