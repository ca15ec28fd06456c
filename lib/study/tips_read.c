/* Readings of every tip of a wall on one grid. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "grid/grading.h"
#include "quantity/piezometer.h"
#include "study/tip_walls.h"

/* Lines along the wall, for one cell, as shares of the range and of the depth below its top or
 * the height above the base. */
static const double FIRST_SHARE = 0.06;
static const double GROWTH = 0.5;
/* Of such a distance, what tips are apart at least. */
static const double LEAST_STEP = 0.4;

typedef struct reader {
    us_context *context;
    const usi_tip_plan *plan;
    const usi_tip_walls *walls;
    const usi_grid *grid;
    usi_engine *engine;
    double *whole_m_s; /* what the segments of whole walls pass */
    double *pass_m_s;
    int stride;     /* every how many nodes are read */
    size_t ends[3]; /* of the segments: those of each axis lie between two of them */
    size_t tip_count[2];
    size_t *tips[2]; /* segments at whose lower end a tip is read, upwards */
    bool *stays;     /* room for one a tip */
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
static void read_tip(const usi_tip_plan *plan, size_t wall, double level_m, const usi_field *field,
                     usi_tip_node *node)
{
    const us_section *section = plan->section;
    double x_m = section->walls[wall].x_m;
    double tolerance_m = usi_section_tolerance(section);
    usi_reduced tip = node->reading.walls[wall].tip;
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

/* The state with each tip at the lower end of a segment; it acts at `acts`. */
static us_status read_state(const reader *of, const size_t *segments, const us_section *section,
                            const usi_tip *acts, usi_tip_node *node)
{
    usi_wall_state *state = NULL;
    size_t axes = of->plan->axis_count;
    for (size_t a = 0; a < axes; a++) {
        for (size_t k = of->ends[a]; k < of->ends[a + 1]; k++) {
            of->pass_m_s[k] = k < segments[a] ? HUGE_VAL : of->whole_m_s[k];
        }
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
    for (size_t a = 0; status == US_OK && a < axes; a++) {
        node->usable = true;
        read_tip(of->plan, acts[a].wall, acts[a].level_m, state->field, node);
    }
    usi_wall_state_free(state);
    return status;
}

/* A tip a wall: exits and prisms go by where it acts, the wall itself ends at the node. */
static us_status read_node(const reader *of, const size_t *segments, usi_tip_node *node)
{
    const us_section *section = of->plan->section;
    usi_tip acts[2];
    usi_tip ends[2];
    for (size_t a = 0; a < of->plan->axis_count; a++) {
        size_t wall = of->plan->axes[a].levels.wall;
        double level_m = usi_engine_segments(of->engine)->list[segments[a]].low_m;
        size_t line = usi_grid_z_line(of->grid, level_m);
        double shift_m = shift_at(of->grid, section->walls[wall].x_m, line);
        acts[a] = (usi_tip){wall, level_m + shift_m};
        ends[a] = (usi_tip){wall, level_m};
        node->level_m = level_m; /* of the last axis */
        node->shift_m = shift_m;
    }
    usi_tipped *acting = NULL;
    usi_tipped *ending = NULL;
    size_t count = of->plan->axis_count;
    us_status status = usi_tipped_make(of->context, section, acts, count, &acting);
    if (status == US_OK) {
        status = usi_tipped_make(of->context, section, ends, count, &ending);
    }
    if (status == US_OK) {
        status = usi_nest_begin(of->context, &acting->section, of->plan->accuracy, &node->places);
    }
    if (status == US_OK && usi_tip_walls_alike(of->plan, &acting->section, &ending->section)) {
        status = read_state(of, segments, &ending->section, acts, node);
    }
    usi_tipped_free(acting);
    usi_tipped_free(ending);
    return status;
}

/* Lines along a wall whose tip varies. */
static usi_tip_range range_of(const usi_tip_plan *plan, size_t axis)
{
    const usi_tip_axis *of = &plan->axes[axis];
    double x_m = plan->section->walls[of->levels.wall].x_m;
    double length_m = of->levels.high_m - of->levels.low_m;
    double middle_m = 0.5 * (of->levels.high_m + of->levels.low_m);
    double stretch = 1.0 / sqrt(ratio_at(plan->section, x_m, middle_m));
    return (usi_tip_range){.x_m = x_m,
                           .low_m = of->levels.low_m,
                           .high_m = of->levels.high_m,
                           .floor_count = of->change_count,
                           .floors_m = of->changes_m,
                           .first_m = FIRST_SHARE * length_m,
                           .growth = GROWTH,
                           .across_m = FIRST_SHARE * length_m * stretch};
}

/* A tip at an end of a segment that lies on a node of the grid; the lowest of all is one. Lines
 * drawn together towards openings lie closer than tips have to: `last_m` is the one before. */
static bool is_tip(const reader *of, size_t axis, size_t segment, double last_m)
{
    size_t nodes = (of->grid->columns + 1) * (of->grid->rows + 1);
    const usi_segment *at = &usi_engine_segments(of->engine)->list[segment];
    size_t row = (size_t)at->place[0] / (of->grid->columns + 1);
    if ((size_t)at->place[0] >= nodes || row == 0 || row >= of->grid->rows ||
        row % (size_t)of->stride != 0) {
        return false;
    }
    if (of->walls->standing == NULL) {
        return true;
    }
    usi_tip_range range = range_of(of->plan, axis);
    double step_m = range.first_m + range.growth * usi_tip_range_depth(&range, at->low_m);
    return usi_tip_walls_clear(of->walls, axis, at->low_m) &&
           at->low_m - last_m > LEAST_STEP * step_m / of->plan->cells;
}

/* True where the soil changes between the tips before and behind. */
static bool is_near_change(const reader *of, size_t axis, size_t index)
{
    const usi_segment *list = usi_engine_segments(of->engine)->list;
    const usi_tip_axis *along = &of->plan->axes[axis];
    size_t last = of->tip_count[axis] - 1;
    double low_m = list[of->tips[axis][index > 1 ? index - 1 : 0]].low_m;
    double high_m = list[of->tips[axis][index + 1 < last ? index + 1 : last]].low_m;
    bool near = false;
    for (size_t k = 0; k < along->change_count; k++) {
        near = near || (along->changes_m[k] >= low_m && along->changes_m[k] <= high_m);
    }
    return near;
}

/* Pairs are many: every second or third tip will do, and all near changes of soil. */
static void thin_out(reader *of, size_t axis)
{
    static const size_t every[2] = {2, 3};
    size_t count = 0;
    size_t *tips = of->tips[axis];
    bool *stays = of->stays;
    for (size_t k = 0; k < of->tip_count[axis]; k++) {
        stays[k] =
            k % every[axis] == 0 || k + 1 == of->tip_count[axis] || is_near_change(of, axis, k);
    }
    for (size_t k = 0; k < of->tip_count[axis]; k++) {
        tips[count] = tips[k];
        count += stays[k] ? 1 : 0;
    }
    of->tip_count[axis] = count;
}

/* Which tips are read. */
static us_status list_tips(reader *of)
{
    size_t all = usi_engine_segments(of->engine)->count;
    of->stays = usi_memory_array(of->context, all + 1, sizeof *of->stays);
    us_status status = of->stays != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t a = 0; status == US_OK && a < of->plan->axis_count; a++) {
        of->tips[a] = usi_memory_array(of->context, all + 1, sizeof *of->tips[a]);
        status = of->tips[a] != NULL ? US_OK : US_ERROR_MEMORY;
        double last_m = -HUGE_VAL;
        for (size_t k = of->ends[a]; status == US_OK && k < of->ends[a + 1]; k++) {
            if (is_tip(of, a, k, last_m)) {
                of->tips[a][of->tip_count[a]++] = k;
                last_m = usi_engine_segments(of->engine)->list[k].low_m;
            }
        }
        if (status == US_OK && of->plan->axis_count > 1) {
            thin_out(of, a);
        }
    }
    return status;
}

/* The tips of the last axis, with that of the axis before it where `segments` says. */
static us_status read_row(const reader *of, size_t *segments, usi_tip_grid *to)
{
    size_t axis = of->plan->axis_count - 1;
    size_t count = of->tip_count[axis];
    to->nodes = usi_memory_array(of->context, count + 1, sizeof *to->nodes);
    us_status status = to->nodes != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < count; k++) {
        status = usi_context_pulse(of->context, "reading tips", of->grid->unknowns,
                                   (double)k / (double)count);
        segments[axis] = of->tips[axis][k];
        status = status == US_OK ? read_node(of, segments, &to->nodes[to->count++]) : status;
    }
    return status;
}

static us_status read_rows(const reader *of, usi_tip_sheet *to)
{
    size_t segments[2];
    size_t count = of->plan->axis_count == 1 ? 1 : of->tip_count[0];
    to->rows = usi_memory_array(of->context, count + 1, sizeof *to->rows);
    if (to->rows == NULL) {
        return US_ERROR_MEMORY;
    }
    if (of->plan->axis_count == 1) {
        to->count = 1;
        return read_row(of, segments, &to->rows[0]);
    }
    double x_m = of->plan->section->walls[of->plan->axes[0].levels.wall].x_m;
    us_status status = US_OK;
    for (size_t k = 0; status == US_OK && k < count; k++) {
        usi_tip_grid *row = &to->rows[to->count++];
        segments[0] = of->tips[0][k];
        row->level_m = usi_engine_segments(of->engine)->list[segments[0]].low_m;
        row->shift_m = shift_at(of->grid, x_m, usi_grid_z_line(of->grid, row->level_m));
        status = read_row(of, segments, row);
    }
    return status;
}

void usi_tip_sheet_free(usi_tip_sheet *sheet)
{
    for (size_t k = 0; k < sheet->count; k++) {
        usi_tip_grid_free(&sheet->rows[k]);
    }
    free(sheet->rows);
    *sheet = (usi_tip_sheet){0, NULL};
}

/* Which segments there are, what they pass, and at which of them tips are read. */
static us_status look_at_segments(reader *of)
{
    const usi_segments *segments = usi_engine_segments(of->engine);
    of->ends[2] = segments->count;
    of->ends[1] = segments->count;
    while (of->plan->axis_count > 1 && of->ends[1] > 0 &&
           segments->list[of->ends[1] - 1].wall == of->plan->axes[1].levels.wall) {
        of->ends[1]--;
    }
    of->pass_m_s = usi_memory_array(of->context, segments->count + 1, sizeof *of->pass_m_s);
    of->whole_m_s = usi_memory_array(of->context, segments->count + 1, sizeof *of->whole_m_s);
    if (of->pass_m_s == NULL || of->whole_m_s == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < segments->count; k++) {
        of->whole_m_s[k] = usi_tip_walls_pass(of->walls, &segments->list[k]);
    }
    return list_tips(of);
}

static us_status read_grid(us_context *context, const usi_tip_walls *walls, int halvings,
                           const usi_grid *grid, usi_tip_sheet *to)
{
    reader of = {.context = context,
                 .plan = walls->plan,
                 .walls = walls,
                 .grid = grid,
                 .stride = 1 << halvings};
    us_status status = usi_engine_make(context, grid, walls->spans, walls->span_count, &of.engine);
    if (status == US_OK) {
        status = look_at_segments(&of);
    }
    if (status == US_OK) {
        status = read_rows(&of, to);
    }
    free(of.pass_m_s);
    free(of.whole_m_s);
    free(of.stays);
    free(of.tips[0]);
    free(of.tips[1]);
    usi_engine_free(of.engine);
    return status;
}

us_status usi_tips_read(us_context *context, const usi_tip_plan *plan, int halvings,
                        usi_tip_sheet *to)
{
    usi_tip_range ranges[2];
    usi_tip_walls walls;
    usi_grid *grid = NULL;
    for (size_t a = 0; a < plan->axis_count; a++) {
        ranges[a] = range_of(plan, a);
    }
    usi_grid_options options = {.cells = plan->cells,
                                .halvings = halvings,
                                .truncation = plan->accuracy * 0.01,
                                .range_count = plan->axis_count,
                                .ranges = ranges};
    us_status status = usi_tip_walls_make(context, plan, &walls);
    if (status == US_OK) {
        options.standing = walls.standing != NULL ? &walls.standing->section : NULL;
        status = usi_grid_build(context, &walls.drawn->section, &options, &grid);
    }
    if (status == US_OK) {
        status = read_grid(context, &walls, halvings, grid, to);
    }
    usi_grid_free(grid);
    usi_tip_walls_free(&walls);
    return status;
}
