#include "grid/topology.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/stations.h"

static size_t line_near(const double *lines, size_t count, double value)
{
    size_t low = 0;
    size_t high = count - 1;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (lines[middle] <= value) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return fabs(lines[low] - value) <= fabs(lines[high] - value) ? low : high;
}

size_t usi_grid_x_line(const usi_grid *grid, double x_m)
{
    return line_near(grid->x_m, grid->columns + 1, x_m);
}

size_t usi_grid_z_line(const usi_grid *grid, double z_m)
{
    return line_near(grid->z_m, grid->rows + 1, z_m);
}

size_t usi_grid_node_i(size_t i, usi_corner corner)
{
    return i + (corner == USI_LOWER_RIGHT || corner == USI_UPPER_RIGHT ? 1 : 0);
}

size_t usi_grid_node_j(size_t j, usi_corner corner)
{
    return j + (corner == USI_UPPER_RIGHT || corner == USI_UPPER_LEFT ? 1 : 0);
}

usi_cell usi_grid_cell_at(size_t node_i, size_t node_j, usi_corner corner)
{
    return (usi_cell){(ptrdiff_t)node_i - (ptrdiff_t)usi_grid_node_i(0, corner),
                      (ptrdiff_t)node_j - (ptrdiff_t)usi_grid_node_j(0, corner)};
}

int usi_grid_soil(const usi_grid *grid, ptrdiff_t i, ptrdiff_t j)
{
    if (i < 0 || j < 0 || i >= (ptrdiff_t)grid->columns || j >= (ptrdiff_t)grid->rows) {
        return -1;
    }
    return grid->soil[(size_t)j * grid->columns + (size_t)i];
}

int32_t usi_grid_unknown(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    size_t node = usi_grid_node_j(j, corner) * (grid->columns + 1) + usi_grid_node_i(i, corner);
    return grid->first_unknown[node] + ((grid->corner_share[node] >> (2 * corner)) & 3);
}

static void place_soils(usi_grid *grid)
{
    const us_section *section = grid->section;
    for (size_t i = 0; i < grid->columns; i++) {
        double x_m = 0.5 * (grid->x_m[i] + grid->x_m[i + 1]);
        double top_m = usi_section_surface(section, x_m, true);
        double base_m = section->has_base ? usi_section_base(section, x_m, true) : -HUGE_VAL;
        for (size_t j = 0; j < grid->rows; j++) {
            double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
            bool soil = z_m < top_m && z_m > base_m;
            grid->soil[j * grid->columns + i] =
                soil ? (int16_t)usi_section_layer(section, z_m, false) : (int16_t)-1;
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
        double tip_m = usi_stations_tip(wall, sealed);
        for (size_t j = 0; j < grid->rows; j++) {
            double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
            if (z_m > tip_m && z_m < wall->top_m) {
                grid->wall_left[j * (grid->columns + 1) + i] = 1;
            }
        }
    }
}

/* Shares the soil cells around node (i, j) out among its unknowns: cells that
 * touch along a side that is no wall belong together. Returns how many unknowns
 * the node has. */
static int32_t share_node(const usi_grid *grid, size_t i, size_t j, uint8_t *shares)
{
    bool soil[4];
    bool joined[4]; /* ring cell r with cell r + 1 */
    size_t lines = grid->columns + 1;
    for (int r = 0; r < 4; r++) {
        usi_cell cell = usi_grid_cell_at(i, j, (usi_corner)r);
        soil[r] = usi_grid_soil(grid, cell.i, cell.j) >= 0;
    }
    bool wall_above = j < grid->rows && grid->wall_left[j * lines + i] != 0;
    bool wall_below = j > 0 && grid->wall_left[(j - 1) * lines + i] != 0;
    joined[0] = soil[0] && soil[1] && !wall_above;
    joined[1] = soil[1] && soil[2];
    joined[2] = soil[2] && soil[3] && !wall_below;
    joined[3] = soil[3] && soil[0];
    int label[4] = {0, 1, 2, 3};
    for (int pass = 0; pass < 3; pass++) {
        for (int r = 0; r < 4; r++) {
            int next = (r + 1) % 4;
            if (joined[r]) {
                int low = label[r] < label[next] ? label[r] : label[next];
                label[r] = low;
                label[next] = low;
            }
        }
    }
    int32_t used = 0;
    int number[4] = {-1, -1, -1, -1};
    *shares = 0;
    for (int r = 0; r < 4; r++) {
        if (soil[r]) {
            if (number[label[r]] < 0) {
                number[label[r]] = used++;
            }
            *shares = (uint8_t)(*shares | (number[label[r]] << (2 * r)));
        }
    }
    return used;
}

static void number_unknowns(usi_grid *grid)
{
    int32_t next = 0;
    for (size_t j = 0; j <= grid->rows; j++) {
        for (size_t i = 0; i <= grid->columns; i++) {
            size_t node = j * (grid->columns + 1) + i;
            grid->first_unknown[node] = next;
            next += share_node(grid, i, j, &grid->corner_share[node]);
        }
    }
    grid->unknowns = (size_t)next;
}

us_status usi_topology_build(us_context *context, const us_section *section, bool sealed,
                             usi_lines *lines, usi_grid **grid)
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
    size_t nodes = (built->columns + 1) * (built->rows + 1);
    built->soil = usi_memory_array(context, built->rows * built->columns, sizeof(int16_t));
    built->wall_left = usi_memory_array(context, nodes, sizeof(uint8_t));
    built->first_unknown = usi_memory_array(context, nodes, sizeof(int32_t));
    built->corner_share = usi_memory_array(context, nodes, sizeof(uint8_t));
    if (built->soil == NULL || built->wall_left == NULL || built->first_unknown == NULL ||
        built->corner_share == NULL) {
        usi_grid_free(built);
        return US_ERROR_MEMORY;
    }
    place_soils(built);
    place_walls(built, sealed);
    number_unknowns(built);
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
    free(grid->first_unknown);
    free(grid->corner_share);
    free(grid->locals);
    free(grid);
}
