#include "solve/scaling.h"

#include <math.h>

#include "grid/exponent.h"

static const usi_scaling PLAIN = {1.0, true};
/* Below a wall tip neither drop nor flow is left, but for rounding. */
static const double LEAST_DROP = 1e-14;
static const double LEAST_ACROSS = 1e-6;
/* Further from the plain conductance than this no ratio is sound. */
static const double LEAST_RATIO = 1e-12;

/* The cell across a side, or none where the side is a border. */
static bool cell_across(const usi_grid *grid, size_t i, size_t j, usi_direction direction,
                        size_t *next_i, size_t *next_j)
{
    static const int step_i[4] = {0, 1, 0, -1};
    static const int step_j[4] = {-1, 0, 1, 0};
    if (usi_grid_border(grid, i, j, direction) != USI_BORDER_NONE) {
        return false;
    }
    *next_i = (size_t)((ptrdiff_t)i + step_i[direction]);
    *next_j = (size_t)((ptrdiff_t)j + step_j[direction]);
    return true;
}

/* The ring cell of the point in which soil cell (i, j) lies. */
static usi_corner ring_of(const usi_local *local, size_t i, size_t j)
{
    bool right = i >= local->node_i;
    bool above = j >= local->node_j;
    if (above) {
        return right ? USI_LOWER_LEFT : USI_LOWER_RIGHT;
    }
    return right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
}

/* True where the whole cell lies within reach of the point, in its soil. */
static bool within_reach(const usi_grid *grid, const usi_local *local, size_t i, size_t j)
{
    double x_m = grid->x_m[local->node_i];
    double z_m = grid->z_m[local->node_j];
    double far_x_m = fmax(fabs(grid->x_m[i] - x_m), fabs(grid->x_m[i + 1] - x_m));
    double far_z_m = fmax(fabs(grid->z_m[j] - z_m), fabs(grid->z_m[j + 1] - z_m));
    int quadrant = ((int)ring_of(local, i, j) - local->first + 4) % 4;
    return quadrant < local->count && hypot(far_x_m, far_z_m) <= local->reach_m &&
           far_x_m <= local->across_m;
}

static usi_local_value local_value(const usi_grid *grid, const usi_local *local, size_t i, size_t j,
                                   usi_point at)
{
    return usi_local_at(local, ring_of(local, i, j), at.x_m - grid->x_m[local->node_i],
                        at.z_m - grid->z_m[local->node_j]);
}

static usi_point node_point(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    return (usi_point){grid->x_m[usi_grid_node_i(i, corner)],
                       grid->z_m[usi_grid_node_j(j, corner)]};
}

static usi_point centre(const usi_grid *grid, size_t i, size_t j)
{
    return (usi_point){0.5 * (grid->x_m[i] + grid->x_m[i + 1]),
                       0.5 * (grid->z_m[j] + grid->z_m[j + 1])};
}

static double conductivity(const usi_grid *grid, size_t i, size_t j)
{
    const usi_soil *soil = &grid->section->soils[grid->soil[j * grid->columns + i]];
    return sqrt(soil->kh_m_s * soil->kv_m_s);
}

/* What the local solution says of a link: the flow across its dual face and the
 * drop along it, and the size of both if they do not vanish; in the stream
 * problem flow and head change places. */
typedef struct local_link {
    double across;
    double drop;
    double across_size;
    double drop_size;
} local_link;

static local_link link_between(const usi_network *network, double conductivity_m_s,
                               const usi_local_value faces[2], const usi_local_value ends[2])
{
    double head = fmax(hypot(ends[0].head, ends[0].flux / conductivity_m_s),
                       hypot(ends[1].head, ends[1].flux / conductivity_m_s));
    if (network->stream) {
        return (local_link){faces[0].head - faces[1].head, ends[0].flux - ends[1].flux, head,
                            conductivity_m_s * head};
    }
    return (local_link){faces[0].flux - faces[1].flux, ends[0].head - ends[1].head,
                        conductivity_m_s * head, head};
}

/* `plain` is the conductance of the whole link as linear elements have it. */
static usi_scaling scale_link(const usi_network *network, const local_link *link, double plain)
{
    if (fabs(link->drop) <= LEAST_DROP * link->drop_size) {
        return (usi_scaling){1.0, fabs(link->across) <= LEAST_ACROSS * link->across_size};
    }
    double unit = network->stream ? network->scale_m_s : 1.0 / network->scale_m_s;
    double ratio = unit * link->across / link->drop / plain;
    bool sound = fabs(ratio) >= LEAST_RATIO && fabs(ratio) <= 1.0 / LEAST_RATIO;
    return sound ? (usi_scaling){fabs(ratio), true} : (usi_scaling){1.0, false};
}

/* Near one point; the cell is within its reach. */
static usi_scaling scale_at(const usi_network *network, const usi_local *local, size_t i, size_t j,
                            usi_direction direction)
{
    const usi_grid *grid = network->grid;
    usi_corner corners[2];
    usi_links_corners(direction, corners);
    usi_point a = node_point(grid, i, j, corners[0]);
    usi_point b = node_point(grid, i, j, corners[1]);
    usi_point middle = {0.5 * (a.x_m + b.x_m), 0.5 * (a.z_m + b.z_m)};
    usi_local_value ends[2] = {local_value(grid, local, i, j, a),
                               local_value(grid, local, i, j, b)};
    usi_local_value faces[2] = {local_value(grid, local, i, j, centre(grid, i, j)),
                                local_value(grid, local, i, j, middle)};
    double plain = usi_links_half(network, i, j, direction);
    size_t next_i = 0;
    size_t next_j = 0;
    if (cell_across(grid, i, j, direction, &next_i, &next_j)) {
        if (!within_reach(grid, local, next_i, next_j)) {
            return PLAIN;
        }
        plain += usi_links_half(network, next_i, next_j, direction);
        faces[1] = local_value(grid, local, next_i, next_j, centre(grid, next_i, next_j));
    }
    local_link link = link_between(network, conductivity(grid, i, j), faces, ends);
    return scale_link(network, &link, plain);
}

usi_scaling usi_scaling_find(const usi_network *network, size_t i, size_t j,
                             usi_direction direction)
{
    const usi_grid *grid = network->grid;
    for (size_t k = 0; k < grid->local_count; k++) {
        if (within_reach(grid, &grid->locals[k], i, j)) {
            return scale_at(network, &grid->locals[k], i, j, direction);
        }
    }
    return PLAIN;
}
