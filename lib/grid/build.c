/* From a section to its grid: stations, hard points, graded lines, cells. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/exponent.h"
#include "grid/grading.h"
#include "grid/grid.h"
#include "grid/reach.h"
#include "grid/stations.h"
#include "grid/topology.h"
#include "model/exits.h"
#include "model/situation.h"

/* Grading by d = l t^p resolves r^lambda to second order when p lambda > 1;
 * 1.5 leaves room and gives the cube at a wall tip. */
static const double POWER_TIMES_LAMBDA = 1.5;
static const double POWER_CAP = 4.5;
/* Below this links follow the local solution (solve/links.h), and what is left is
 * smooth: grading gives way. */
static const double LOCAL_LAMBDA = 0.4;
static const double LOCAL_POWER = 2.0;
static const double MIRROR_SHARE = 0.4; /* of the way to the next station */
/* Where dry bed begins to let water out head goes as r^1.5, which even spacing would do
 * for: but the place itself has to be found. */
static const double SPLIT_POWER = 3.0;
/* Where the bed rises out of the water the gradient goes as log(1/r). */
static const double LOG_POWER = 2.0;
/* Even spacing up to the length, for smooth points. */
static const double PLAIN_POWER = 1.0;
enum { LEAST_CELLS = 2, STATION_LIMIT = 4000 };

/* Everything that draws lines together, both axes: entry k of `across` and of
 * `up` comes from the same point. */
typedef struct pull_set {
    size_t count;
    usi_pull *across;
    usi_pull *up;
} pull_set;

static void add_pull(pull_set *pulls, usi_point at, double length_m, double power)
{
    usi_pull pull = {.at_m = at.x_m, .length_m = length_m, .power = power, .weight = 1.0};
    pulls->across[pulls->count] = pull;
    pull.at_m = at.z_m;
    pulls->up[pulls->count] = pull;
    pulls->count++;
}

static void add_point(pull_set *pulls, const usi_hard_point *point)
{
    double power = point->lambda < LOCAL_LAMBDA
                       ? LOCAL_POWER
                       : fmin(POWER_TIMES_LAMBDA / point->lambda, POWER_CAP);
    add_pull(pulls, point->at, point->length_m, power);
    pulls->across[pulls->count - 1].weight = point->weight;
    pulls->up[pulls->count - 1].weight = point->weight;
}

/* True of the lowest tip of a range, which is one among many. */
static bool is_ranged(const us_section *section, const usi_grid_options *options, usi_point at)
{
    double tolerance_m = usi_section_tolerance(section);
    for (size_t k = 0; k < options->range_count; k++) {
        const usi_tip_range *range = &options->ranges[k];
        if (fabs(at.x_m - range->x_m) <= tolerance_m &&
            fabs(at.z_m - range->low_m) <= tolerance_m) {
            return true;
        }
    }
    return false;
}

/* Beside a range lines are even, and then grow apart; the levels follow the range itself, and
 * below it grow apart as well. */
static void add_ranges(const usi_grid_options *options, pull_set *pulls)
{
    for (size_t k = 0; k < options->range_count; k++) {
        const usi_tip_range *range = &options->ranges[k];
        double span_m = range->first_m + range->growth * usi_tip_range_depth(range, range->low_m);
        add_pull(pulls, (usi_point){range->x_m, range->low_m}, range->across_m, PLAIN_POWER);
        pulls->up[pulls->count - 1].length_m = span_m;
    }
}

/* How far water comes out above a water line: to the nearest point where it ceases to. */
static double split_distance(const usi_situation *situation, const usi_exit *exit)
{
    double length_m = exit->mean_depth_m;
    for (size_t k = 0; situation != NULL && k < situation->split_count; k++) {
        double off_m = fabs(situation->splits[k].x_m - exit->at.x_m);
        length_m = off_m > 0.0 ? fmin(length_m, off_m) : length_m;
    }
    return length_m;
}

/* The corner where a side of another head meets the bed: exits are looked for right beside
 * what it spoils. */
static void add_side(pull_set *pulls, const us_section *section, const usi_exit *toe)
{
    if (usi_situation_side_differs(section)) {
        double x_m = section->flows_left ? section->left.x_m : section->right.x_m;
        usi_point corner = {x_m, usi_section_surface(section, x_m, section->flows_left)};
        add_pull(pulls, corner, toe->mean_depth_m, PLAIN_POWER);
    }
}

/* Hard points pull by their exponent. An exit beside an embedded face is smooth,
 * yet its gradient is asked for: cells stay below embedment / n around it. */
static us_status make_pulls(us_context *context, const us_section *section,
                            const usi_grid_options *options, const usi_hard_point *points,
                            size_t count, pull_set *pulls)
{
    usi_exit *exits = NULL;
    size_t exit_count = 0;
    us_status status = usi_exits_list(context, section, &exits, &exit_count);
    if (status != US_OK) {
        return status;
    }
    const usi_situation *situation = section->situation;
    size_t splits = situation != NULL ? situation->split_count : 0;
    size_t room = count + exit_count + splits + options->range_count + 2;
    *pulls = (pull_set){.across = usi_memory_array(context, room, sizeof(usi_pull)),
                        .up = usi_memory_array(context, room, sizeof(usi_pull))};
    if (pulls->across == NULL || pulls->up == NULL) {
        free(exits);
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < count; k++) {
        if (!points[k].ranged) {
            add_point(pulls, &points[k]);
        }
    }
    add_ranges(options, pulls);
    double x_m = usi_section_toe_x(section);
    for (size_t e = 0; e < exit_count; e++) {
        if (exits[e].embedment_m > 0.0) {
            add_pull(pulls, exits[e].at, exits[e].embedment_m, PLAIN_POWER);
        } else if (exits[e].kind == USI_EXIT_WATERLINE) {
            add_pull(pulls, exits[e].at, split_distance(situation, &exits[e]), LOG_POWER);
        }
    }
    for (size_t k = 0; k < splits; k++) {
        double length_m = fabs(situation->splits[k].x_m - x_m);
        for (size_t e = 0; e < exit_count; e++) {
            double off_m = fabs(situation->splits[k].x_m - exits[e].at.x_m);
            bool line = exits[e].kind == USI_EXIT_WATERLINE && off_m > 0.0;
            length_m = line ? fmin(length_m, off_m) : length_m;
        }
        add_pull(pulls, situation->splits[k], fmin(length_m, usi_section_size(section)),
                 SPLIT_POWER);
    }
    usi_point toe = {x_m, usi_section_surface(section, x_m, !section->flows_left)};
    add_pull(pulls, toe, usi_section_size(section), PLAIN_POWER);
    if (exit_count > 0) {
        add_side(pulls, section, &exits[0]);
    }
    free(exits);
    return US_OK;
}

/* Half the width within which lines lie alike on both sides of x station s: where a
 * wall ends in the soil; 0 for no matter. */
static double mirror_width(const usi_hard_point *points, size_t count, const usi_axis *axis,
                           size_t s)
{
    double width_m = 0.0;
    for (size_t k = 0; k < count; k++) {
        if (points[k].inside && points[k].at.x_m == axis->at_m[s]) {
            width_m = fmax(width_m, points[k].length_m);
        }
    }
    if (s == 0 || s + 1 == axis->count) {
        return 0.0;
    }
    double room_m = fmin(axis->at_m[s] - axis->at_m[s - 1], axis->at_m[s + 1] - axis->at_m[s]);
    return fmin(width_m, MIRROR_SHARE * room_m);
}

/* More x stations, to have lines alike on both sides of wall tips. Below a tip head
 * is nearly odd from left to right: uneven lines would give the head at the tip an
 * error of their own, and make exact links (solve/scaling.h) leak. `*wider` is the
 * caller's. */
static us_status add_mirrors(us_context *context, const usi_hard_point *points, size_t count,
                             const usi_axis *axis, pull_set *pulls, usi_axis *wider)
{
    *wider = (usi_axis){usi_memory_array(context, 3 * axis->count, sizeof(double)), 0};
    if (wider->at_m == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t s = 0; s < axis->count; s++) {
        double at_m = axis->at_m[s];
        double width_m = mirror_width(points, count, axis, s);
        if (width_m > 0.0) {
            wider->at_m[wider->count++] = at_m - width_m;
        }
        wider->at_m[wider->count++] = at_m;
        if (width_m > 0.0) {
            wider->at_m[wider->count++] = at_m + width_m;
        }
        for (size_t k = 0; k < pulls->count; k++) {
            if (pulls->across[k].at_m == at_m) {
                pulls->across[k].mirror_m = width_m;
            }
        }
    }
    return US_OK;
}

static void free_pulls(pull_set *pulls)
{
    free(pulls->across);
    free(pulls->up);
}

static size_t most_nodes(const usi_grid_options *options)
{
    return options->most > 0 ? options->most : USI_GRID_LIMIT;
}

static us_status fill_lines(us_context *context, const usi_axis *across, const usi_axis *up,
                            const usi_grid_options *options, const pull_set *pulls,
                            usi_lines *lines)
{
    usi_grading grading = {.pulls = pulls->across,
                           .pull_count = pulls->count,
                           .cells = options->cells,
                           .largest_m = options->step_m,
                           .window_low_m = options->window_low.x_m,
                           .window_high_m = options->window_high.x_m,
                           .halvings = options->halvings,
                           .least = LEAST_CELLS};
    usi_axis x = {NULL, 0};
    usi_axis z = {NULL, 0};
    us_status status = usi_grading_fill(context, &grading, across, most_nodes(options), &x);
    if (status == US_OK) {
        grading.pulls = pulls->up;
        grading.window_low_m = options->window_low.z_m;
        grading.window_high_m = options->window_high.z_m;
        grading.range_count = options->range_count;
        grading.ranges = options->ranges;
        status = usi_grading_fill(context, &grading, up, most_nodes(options) / x.count, &z);
    }
    if (status != US_OK) {
        free(x.at_m);
        return status;
    }
    *lines = (usi_lines){x.at_m, x.count, z.at_m, z.count};
    return US_OK;
}

/* Keeps the local solution of each soil that meets at a point. */
static void keep_local(usi_grid *grid, const usi_hard_point *point, double across_m)
{
    size_t before_count = grid->local_count;
    size_t i = usi_grid_x_line(grid, point->at.x_m);
    size_t j = usi_grid_z_line(grid, point->at.z_m);
    int32_t seen[4];
    for (int r = 0; r < 4; r++) {
        usi_cell cell = usi_grid_cell_at(i, j, (usi_corner)r);
        seen[r] = -1;
        if (usi_grid_soil(grid, cell.i, cell.j) < 0) {
            continue;
        }
        seen[r] = usi_grid_unknown(grid, (size_t)cell.i, (size_t)cell.j, (usi_corner)r);
        bool known = false;
        for (int before = 0; before < r; before++) {
            known = known || seen[before] == seen[r];
        }
        usi_local *local = &grid->locals[grid->local_count];
        if (!known && usi_local_find(grid, (size_t)cell.i, (size_t)cell.j, (usi_corner)r, local) &&
            local->lambda < LOCAL_LAMBDA) {
            local->reach_m = point->length_m;
            local->across_m = across_m;
            grid->local_count++;
        }
    }
    grid->beyond = grid->beyond || grid->local_count == before_count;
}

/* Rounding apart, in which lines at the edge of the mirrored stretch lie. */
static const double MIRROR_EDGE = 1.0 + 1e-9;

/* How far lines lie alike on both sides of an upright line. */
static double mirrored(const pull_set *pulls, double x_m)
{
    double width_m = 0.0;
    for (size_t k = 0; k < pulls->count; k++) {
        if (pulls->across[k].at_m == x_m) {
            width_m = fmax(width_m, pulls->across[k].mirror_m);
        }
    }
    return width_m * MIRROR_EDGE;
}

static us_status keep_locals(us_context *context, const usi_hard_point *points, size_t count,
                             const pull_set *pulls, usi_grid *grid)
{
    size_t hardest = 0;
    for (size_t k = 0; k < count; k++) {
        hardest += points[k].lambda < LOCAL_LAMBDA && !points[k].ranged;
    }
    if (hardest == 0) {
        return US_OK;
    }
    grid->locals = usi_memory_array(context, 4 * hardest, sizeof *grid->locals);
    if (grid->locals == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < count; k++) {
        if (points[k].lambda < LOCAL_LAMBDA && !points[k].ranged) {
            keep_local(grid, &points[k], mirrored(pulls, points[k].at.x_m));
        }
    }
    return US_OK;
}

static us_status build_graded(us_context *context, const us_section *section, const usi_plan *plan,
                              const usi_grid_options *options, const usi_stations *stations,
                              usi_grid **grid)
{
    usi_hard_point *points = NULL;
    size_t count = 0;
    us_status status =
        usi_hard_points_find(context, section, plan, options->sealed, &points, &count);
    pull_set pulls = {0, NULL, NULL};
    for (size_t k = 0; status == US_OK && k < count; k++) {
        points[k].ranged = is_ranged(section, options, points[k].at);
    }
    if (status == US_OK) {
        status = make_pulls(context, section, options, points, count, &pulls);
    }
    usi_lines lines = {NULL, 0, NULL, 0};
    usi_axis across = {stations->x_m, stations->x_count};
    usi_axis up = {stations->z_m, stations->z_count};
    usi_axis wider = {NULL, 0};
    if (status == US_OK) {
        status = add_mirrors(context, points, count, &across, &pulls, &wider);
    }
    if (status == US_OK) {
        status = fill_lines(context, &wider, &up, options, &pulls, &lines);
    }
    free(wider.at_m);
    usi_grid *built = NULL;
    if (status == US_OK) {
        const us_section *standing = options->standing != NULL ? options->standing : section;
        status = usi_topology_build(context, standing, plan, options->sealed, &lines, &built);
    }
    if (status == US_OK) {
        status = keep_locals(context, points, count, &pulls, built);
        /* Edges of what is closed on the grid are no hard points of it. */
        built->beyond = built->beyond && options->standing == NULL;
    }
    free_pulls(&pulls);
    free(points);
    if (status == US_OK) {
        *grid = built;
    } else {
        usi_grid_free(built);
    }
    return status;
}

static us_status build_on_plan(us_context *context, const us_section *section, const usi_plan *plan,
                               const usi_grid_options *options, usi_grid **grid)
{
    usi_stations stations;
    us_status status = usi_stations_collect(context, section, plan, options->sealed, &stations);
    if (status != US_OK) {
        return status;
    }
    if (stations.x_count > STATION_LIMIT || stations.z_count > STATION_LIMIT ||
        stations.x_count * stations.z_count > most_nodes(options) / (LEAST_CELLS * LEAST_CELLS)) {
        status = US_NOT_CONVERGED;
    } else {
        status = build_graded(context, section, plan, options, &stations, grid);
    }
    usi_stations_free(&stations);
    return status;
}

us_status usi_grid_build(us_context *context, const us_section *section,
                         const usi_grid_options *options, usi_grid **grid)
{
    usi_reach reach = usi_reach_find(section, options->truncation);
    usi_plan_window window = {reach.left_m, reach.right_m, reach.floor_m};
    usi_plan plan;
    us_status status = usi_plan_build(context, section, &window, &plan);
    if (status != US_OK) {
        return status;
    }
    usi_grid *built = NULL;
    status = build_on_plan(context, section, &plan, options, &built);
    usi_plan_free(&plan);
    if (status == US_OK) {
        built->truncation = reach.truncation;
        built->tolerance_m = usi_section_tolerance(section);
        *grid = built;
    }
    return status;
}
