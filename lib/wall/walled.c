/* The same grid with other walls. */
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "wall/seams.h"

/* The segment between two places, -1 for none. */
static ptrdiff_t find(const usi_segments *segments, int32_t one, int32_t other)
{
    for (size_t k = 0; k < segments->count; k++) {
        const int32_t *place = segments->list[k].place;
        if ((place[0] == one && place[1] == other) || (place[0] == other && place[1] == one)) {
            return (ptrdiff_t)k;
        }
    }
    return -1;
}

/* Triangles know what their sides border on. */
static us_status wall_triangles(us_context *context, const usi_segments *segments, const bool *open,
                                usi_walled *walled)
{
    const usi_grid *grid = &walled->grid;
    walled->triangles = usi_memory_array(context, grid->triangle_count, sizeof *walled->triangles);
    if (walled->triangles == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(walled->triangles, grid->triangles, grid->triangle_count * sizeof *walled->triangles);
    for (size_t t = 0; t < grid->triangle_count; t++) {
        usi_triangle *triangle = &walled->triangles[t];
        for (int k = 0; k < 3; k++) {
            if (triangle->border[k] != USI_BORDER_WALL) {
                continue;
            }
            ptrdiff_t on = find(segments, triangle->place[k], triangle->place[(k + 1) % 3]);
            if (on >= 0 && (open == NULL || open[on])) {
                triangle->border[k] = USI_BORDER_NONE;
            }
        }
    }
    walled->grid.triangles = walled->triangles;
    return US_OK;
}

us_status usi_walled_make(us_context *context, const usi_grid *grid, const usi_segments *segments,
                          const bool *open, usi_walled *walled)
{
    size_t lines = grid->columns + 1;
    size_t nodes = lines * (grid->rows + 1);
    *walled = (usi_walled){.grid = *grid};
    walled->wall_left = usi_memory_array(context, nodes, sizeof *walled->wall_left);
    if (walled->wall_left == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(walled->wall_left, grid->wall_left, nodes * sizeof *walled->wall_left);
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        size_t line = usi_grid_x_line(grid, grid->section->walls[of->wall].x_m);
        if (open == NULL || open[k]) {
            walled->wall_left[of->row * lines + line] = 0;
        }
    }
    walled->grid.wall_left = walled->wall_left;
    return grid->triangle_count > 0 ? wall_triangles(context, segments, open, walled) : US_OK;
}

void usi_walled_free(usi_walled *walled)
{
    free(walled->wall_left);
    free(walled->triangles);
    *walled = (usi_walled){0};
}
