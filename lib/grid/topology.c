#include "grid/topology.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/cut.h"
#include "grid/stations.h"
#include "grid/unknowns.h"

/* The interval between lines that holds a value. */
static size_t interval_of(const double *lines, size_t intervals, double value)
{
    size_t low = 0;
    size_t high = intervals;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (lines[middle] <= value) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

static size_t line_near(const double *lines, size_t count, double value)
{
    size_t low = interval_of(lines, count - 1, value);
    return fabs(lines[low] - value) <= fabs(lines[low + 1] - value) ? low : low + 1;
}

size_t usi_grid_x_line(const usi_grid *grid, double x_m)
{
    return line_near(grid->x_m, grid->columns + 1, x_m);
}

size_t usi_grid_z_line(const usi_grid *grid, double z_m)
{
    return line_near(grid->z_m, grid->rows + 1, z_m);
}

size_t usi_grid_column(const usi_grid *grid, double x_m)
{
    return interval_of(grid->x_m, grid->columns, x_m);
}

size_t usi_grid_row(const usi_grid *grid, double z_m)
{
    return interval_of(grid->z_m, grid->rows, z_m);
}

size_t usi_grid_place_count(const usi_grid *grid)
{
    return (grid->columns + 1) * (grid->rows + 1) + grid->extra_count;
}

usi_point usi_grid_place(const usi_grid *grid, int32_t place)
{
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    if ((size_t)place >= nodes) {
        return grid->extras[(size_t)place - nodes].at;
    }
    return (usi_point){grid->x_m[(size_t)place % (grid->columns + 1)],
                       grid->z_m[(size_t)place / (grid->columns + 1)]};
}

/* The lines that a place lies on; an extra lies on one only. */
typedef struct place_lines {
    bool upright;
    size_t i;
    bool level;
    size_t j;
} place_lines;

static place_lines lines_of(const usi_grid *grid, int32_t place)
{
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    if ((size_t)place < nodes) {
        return (place_lines){true, (size_t)place % (grid->columns + 1), true,
                             (size_t)place / (grid->columns + 1)};
    }
    const usi_extra *extra = &grid->extras[(size_t)place - nodes];
    return (place_lines){extra->upright, extra->i, !extra->upright, extra->j};
}

bool usi_grid_on_side(const usi_grid *grid, size_t cell, int32_t a, int32_t b, usi_direction *side)
{
    place_lines x = lines_of(grid, a);
    place_lines y = lines_of(grid, b);
    if (x.upright && y.upright && x.i == y.i) {
        *side = x.i == cell % grid->columns ? USI_LEFT : USI_RIGHT;
        return true;
    }
    if (x.level && y.level && x.j == y.j) {
        *side = x.j == cell / grid->columns ? USI_DOWN : USI_UP;
        return true;
    }
    return false;
}

const usi_triangle *usi_grid_triangles(const usi_grid *grid, size_t cell, size_t *count)
{
    size_t low = 0;
    size_t high = grid->triangle_count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (grid->triangles[middle].cell < cell) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    *count = 0;
    while (low + *count < grid->triangle_count && grid->triangles[low + *count].cell == cell) {
        (*count)++;
    }
    return *count > 0 ? &grid->triangles[low] : NULL;
}

/* An edge where it crosses the middle of a column. */
typedef struct crossing {
    double z_m;
    int above; /* soil */
} crossing;

static int by_level(const void *a, const void *b)
{
    const crossing *x = a;
    const crossing *y = b;
    return (x->z_m > y->z_m) - (x->z_m < y->z_m);
}

static size_t cross_column(const usi_plan *plan, double x_m, crossing *list)
{
    size_t count = 0;
    for (size_t e = 0; e < plan->edge_count; e++) {
        usi_point a = plan->vertices[plan->edges[e].a];
        usi_point b = plan->vertices[plan->edges[e].b];
        if (a.x_m < x_m && b.x_m > x_m) {
            double share = (x_m - a.x_m) / (b.x_m - a.x_m);
            list[count++] = (crossing){a.z_m + share * (b.z_m - a.z_m), plan->edges[e].left};
        }
    }
    qsort(list, count, sizeof *list, by_level);
    return count;
}

/* The soil of a whole cell is what the nearest edge below its middle has above it. */
static us_status place_soils(us_context *context, const usi_plan *plan, usi_grid *grid)
{
    crossing *list = usi_memory_array(context, plan->edge_count, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t i = 0; i < grid->columns; i++) {
        size_t count = cross_column(plan, 0.5 * (grid->x_m[i] + grid->x_m[i + 1]), list);
        size_t next = 0;
        int soil = -1;
        for (size_t j = 0; j < grid->rows; j++) {
            double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
            while (next < count && list[next].z_m < z_m) {
                soil = list[next++].above;
            }
            if (grid->soil[j * grid->columns + i] != USI_CELL_CUT) {
                grid->soil[j * grid->columns + i] = (int16_t)soil;
            }
        }
    }
    free(list);
    return US_OK;
}

/* Level and upright edges of the plan lie along whole sides. */
static void place_sides(const usi_plan *plan, usi_grid *grid)
{
    for (size_t e = 0; e < plan->edge_count; e++) {
        const usi_edge *edge = &plan->edges[e];
        usi_point a = plan->vertices[edge->a];
        usi_point b = plan->vertices[edge->b];
        uint8_t border = (uint8_t)usi_cut_border(grid->section, plan, edge);
        if (border == USI_BORDER_NONE) {
            continue;
        }
        size_t i = usi_grid_x_line(grid, a.x_m);
        size_t j = usi_grid_z_line(grid, a.z_m);
        if (a.z_m == b.z_m) {
            for (size_t last = usi_grid_x_line(grid, b.x_m); i < last; i++) {
                grid->level_side[j * grid->columns + i] = border;
            }
        } else if (a.x_m == b.x_m) {
            for (size_t last = usi_grid_z_line(grid, b.z_m); j < last; j++) {
                grid->upright_side[j * (grid->columns + 1) + i] = border;
            }
        }
    }
}

static void place_walls(usi_grid *grid, bool sealed)
{
    const us_section *section = grid->section;
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        if (wall->x_m < grid->x_m[0] || wall->x_m > grid->x_m[grid->columns]) {
            continue;
        }
        size_t i = usi_grid_x_line(grid, wall->x_m);
        for (size_t p = 0; p < usi_stations_pane_count(wall); p++) {
            usi_pane pane = usi_stations_pane(wall, p, sealed);
            for (size_t j = 0; j < grid->rows; j++) {
                double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
                if (z_m > pane.low_m && z_m < pane.high_m) {
                    grid->wall_left[j * (grid->columns + 1) + i] = (uint8_t)(1 + pane.kind);
                }
            }
        }
    }
}

/* Arrays whose sizes follow from the lines. */
static bool make_room(us_context *context, usi_grid *grid)
{
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    grid->soil = usi_memory_array(context, grid->rows * grid->columns, sizeof(int16_t));
    grid->wall_left = usi_memory_array(context, nodes, sizeof(uint8_t));
    grid->level_side = usi_memory_array(context, nodes, sizeof(uint8_t));
    grid->upright_side = usi_memory_array(context, nodes, sizeof(uint8_t));
    grid->first_unknown = usi_memory_array(context, nodes, sizeof(int32_t));
    grid->corner_share = usi_memory_array(context, nodes, sizeof(uint8_t));
    return grid->soil != NULL && grid->wall_left != NULL && grid->level_side != NULL &&
           grid->upright_side != NULL && grid->first_unknown != NULL && grid->corner_share != NULL;
}

us_status usi_topology_build(us_context *context, const us_section *section, const usi_plan *plan,
                             bool sealed, usi_lines *lines, usi_grid **grid)
{
    usi_grid *built = usi_memory_array(context, 1, sizeof *built);
    if (built == NULL) {
        free(lines->x_m);
        free(lines->z_m);
        *lines = (usi_lines){0};
        return US_ERROR_MEMORY;
    }
    built->section = section;
    built->columns = lines->x_count - 1;
    built->rows = lines->z_count - 1;
    built->x_m = lines->x_m;
    built->z_m = lines->z_m;
    *lines = (usi_lines){0};
    us_status status = make_room(context, built) ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        place_sides(plan, built);
        place_walls(built, sealed);
        status = usi_cut_cells(context, plan, built);
    }
    if (status == US_OK) {
        status = place_soils(context, plan, built);
    }
    if (status == US_OK) {
        status = usi_unknowns_number(context, built);
    }
    if (status != US_OK) {
        usi_grid_free(built);
        return status;
    }
    *grid = built;
    return US_OK;
}

void usi_grid_free(usi_grid *grid)
{
    if (grid == NULL) {
        return;
    }
    free(grid->x_m);
    free(grid->z_m);
    free(grid->soil);
    free(grid->wall_left);
    free(grid->level_side);
    free(grid->upright_side);
    free(grid->extras);
    free(grid->triangles);
    free(grid->first_unknown);
    free(grid->corner_share);
    free(grid->locals);
    free(grid);
}
