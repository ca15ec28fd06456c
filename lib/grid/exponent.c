#include "grid/exponent.h"

#include <math.h>

#include "grid/fan.h"

/* Quadrants of soil round a node, from one border to the next. */
typedef struct quadrants {
    usi_fan fan;
    int first; /* ring cell of the first sector */
} quadrants;

/* The rays of ring cell r, in counter-clockwise order, as sides of that cell. */
static const usi_direction FIRST_SIDE[4] = {USI_DOWN, USI_RIGHT, USI_UP, USI_LEFT};
static const usi_direction LAST_SIDE[4] = {USI_LEFT, USI_DOWN, USI_RIGHT, USI_UP};

static usi_border ray(const usi_grid *grid, size_t node_i, size_t node_j, int r, bool last)
{
    usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)r);
    return usi_grid_border(grid, (size_t)cell.i, (size_t)cell.j,
                           last ? LAST_SIDE[r] : FIRST_SIDE[r]);
}

/* Closed, as if smooth, where a sloping edge leaves the node: no fan of quadrants. */
static quadrants gather(const usi_grid *grid, size_t node_i, size_t node_j, int start)
{
    const double quarter = acos(0.0);
    int first = start;
    for (int step = 0; step < 3 && ray(grid, node_i, node_j, first, false) == USI_BORDER_NONE;
         step++) {
        first = (first + 3) % 4;
    }
    usi_border before = ray(grid, node_i, node_j, first, false);
    quadrants found = {.first = first};
    usi_fan *fan = &found.fan;
    fan->closed = before == USI_BORDER_NONE;
    fan->fixed_first = usi_border_holds(grid->section, before);
    for (int r = first; fan->count < 4; r++) {
        usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)(r % 4));
        int index = usi_grid_soil(grid, cell.i, cell.j);
        if (index < 0) {
            fan->closed = true;
            break;
        }
        const usi_soil *soil = &grid->section->soils[index];
        fan->sectors[fan->count++] =
            (usi_fan_sector){r * quarter, (r + 1) * quarter, soil->kh_m_s, soil->kv_m_s};
        usi_border after = ray(grid, node_i, node_j, r % 4, true);
        if (after != USI_BORDER_NONE) {
            fan->fixed_last = usi_border_holds(grid->section, after);
            break;
        }
    }
    return found;
}

double usi_exponent_at(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    quadrants around =
        gather(grid, usi_grid_node_i(i, corner), usi_grid_node_j(j, corner), (int)corner);
    return around.fan.closed ? 1.0 : usi_fan_exponent(&around.fan);
}

bool usi_local_find(const usi_grid *grid, size_t i, size_t j, usi_corner corner, usi_local *local)
{
    size_t node_i = usi_grid_node_i(i, corner);
    size_t node_j = usi_grid_node_j(j, corner);
    quadrants around = gather(grid, node_i, node_j, (int)corner);
    double lambda = around.fan.closed ? 1.0 : usi_fan_exponent(&around.fan);
    if (lambda >= 1.0) {
        return false;
    }
    *local = (usi_local){.node_i = node_i,
                         .node_j = node_j,
                         .lambda = lambda,
                         .first = around.first,
                         .count = around.fan.count};
    usi_fan_state begins[USI_FAN_MOST];
    usi_fan_follow(&around.fan, lambda, begins);
    for (int q = 0; q < local->count; q++) {
        const usi_fan_sector *sector = &around.fan.sectors[q];
        local->quadrants[q] = (usi_local_quadrant){sqrt(sector->kh_m_s * sector->kv_m_s),
                                                   sqrt(sector->kv_m_s / sector->kh_m_s),
                                                   begins[q].value, begins[q].flux};
    }
    return true;
}

usi_local_value usi_local_at(const usi_local *local, usi_corner ring, double dx_m, double dz_m)
{
    int q = ((int)ring - local->first + 4) % 4;
    if (q >= local->count) {
        return (usi_local_value){0.0, 0.0};
    }
    const usi_local_quadrant *quadrant = &local->quadrants[q];
    double along_m = dx_m * quadrant->stretch;
    double p[4] = {along_m, dz_m, -along_m, -dz_m};
    double r_m = hypot(along_m, dz_m);
    if (r_m == 0.0) {
        return (usi_local_value){0.0, 0.0};
    }
    double angle = local->lambda * atan2(p[((int)ring + 1) % 4], p[ring]);
    double size = pow(r_m, local->lambda);
    double k = quadrant->conductance;
    return (usi_local_value){
        size * (quadrant->value * cos(angle) + quadrant->flux / k * sin(angle)),
        size * (quadrant->flux * cos(angle) - quadrant->value * k * sin(angle))};
}
