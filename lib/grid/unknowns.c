#include "grid/unknowns.h"

#include <stdlib.h>

#include "base/memory.h"

/* A piece of soil that touches a node: a whole cell, or a triangle. It reaches to two
 * rays from the node; pieces that have one in common touch along it. */
typedef struct touch {
    int ring;           /* of a whole cell: its place round the node; else -1 */
    usi_triangle *part; /* of a triangle */
    int corner;
    long rays[2]; /* 0 to 3: right, up, left, down; else 4 plus the place at its far end */
    int label;
} touch;

typedef struct crowd {
    us_context *context;
    size_t count;
    size_t room;
    touch *list;
    bool failed;
} crowd;

static void add(crowd *to, touch one)
{
    if (to->count == to->room) {
        size_t room = 2 * to->room + 16;
        touch *grown = usi_memory_resize(to->context, to->list, room, sizeof *grown);
        if (grown == NULL) {
            to->failed = true;
            return;
        }
        to->list = grown;
        to->room = room;
    }
    one.label = (int)to->count;
    to->list[to->count++] = one;
}

/* The ray from a node of a cell to another place of that cell. */
static long ray_to(const usi_grid *grid, size_t cell, int32_t node, int32_t other)
{
    usi_direction side;
    if (!usi_grid_on_side(grid, cell, node, other, &side)) {
        return 4 + (long)other;
    }
    usi_point from = usi_grid_place(grid, node);
    usi_point to = usi_grid_place(grid, other);
    if (side == USI_LEFT || side == USI_RIGHT) {
        return to.z_m > from.z_m ? 1 : 3;
    }
    return to.x_m > from.x_m ? 0 : 2;
}

static void add_parts(usi_grid *grid, size_t cell, int32_t node, crowd *to)
{
    size_t count;
    const usi_triangle *found = usi_grid_triangles(grid, cell, &count);
    for (size_t k = 0; k < count; k++) {
        usi_triangle *part = &grid->triangles[(size_t)(found - grid->triangles) + k];
        for (int c = 0; c < 3; c++) {
            if (part->place[c] == node) {
                add(to, (touch){.ring = -1,
                                .part = part,
                                .corner = c,
                                .rays = {ray_to(grid, cell, node, part->place[(c + 1) % 3]),
                                         ray_to(grid, cell, node, part->place[(c + 2) % 3])}});
            }
        }
    }
}

/* Whole cells come first: their labels have two bits each. */
static void gather(usi_grid *grid, size_t i, size_t j, crowd *to)
{
    to->count = 0;
    for (int r = 0; r < 4; r++) {
        usi_cell cell = usi_grid_cell_at(i, j, (usi_corner)r);
        if (usi_grid_soil(grid, cell.i, cell.j) >= 0) {
            add(to, (touch){.ring = r, .rays = {r, (r + 1) % 4}});
        }
    }
    int32_t node = (int32_t)(j * (grid->columns + 1) + i);
    for (int r = 0; r < 4; r++) {
        usi_cell at = usi_grid_cell_at(i, j, (usi_corner)r);
        bool inside = at.i >= 0 && at.j >= 0 && at.i < (ptrdiff_t)grid->columns &&
                      at.j < (ptrdiff_t)grid->rows;
        size_t cell = inside ? (size_t)at.j * grid->columns + (size_t)at.i : 0;
        if (inside && grid->soil[cell] == USI_CELL_CUT) {
            add_parts(grid, cell, node, to);
        }
    }
}

static bool touching(const touch *a, const touch *b, const bool wall[4])
{
    for (int m = 0; m < 2; m++) {
        for (int n = 0; n < 2; n++) {
            if (a->rays[m] == b->rays[n] && (a->rays[m] >= 4 || !wall[a->rays[m]])) {
                return true;
            }
        }
    }
    return false;
}

/* Gives pieces that hang together one label, the least of theirs. */
static void join(crowd *of, const bool wall[4])
{
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t a = 0; a < of->count; a++) {
            for (size_t b = a + 1; b < of->count; b++) {
                touch *x = &of->list[a];
                touch *y = &of->list[b];
                if (x->label != y->label && touching(x, y, wall)) {
                    int least = x->label < y->label ? x->label : y->label;
                    x->label = least;
                    y->label = least;
                    changed = true;
                }
            }
        }
    }
}

/* True where four whole cells of soil meet and no wall stands: most nodes. */
static bool is_plain(const usi_grid *grid, size_t i, size_t j)
{
    if (i == 0 || j == 0 || i == grid->columns || j == grid->rows) {
        return false;
    }
    const int16_t *below = &grid->soil[(j - 1) * grid->columns + i - 1];
    const int16_t *above = below + grid->columns;
    const uint8_t *wall = &grid->wall_left[(j - 1) * (grid->columns + 1) + i];
    return below[0] >= 0 && below[1] >= 0 && above[0] >= 0 && above[1] >= 0 && wall[0] == 0 &&
           wall[grid->columns + 1] == 0;
}

/* Numbers the unknowns of one node from `first` on; returns how many it has. */
static int32_t number_node(usi_grid *grid, size_t i, size_t j, int32_t first, crowd *around)
{
    size_t lines = grid->columns + 1;
    if (is_plain(grid, i, j)) {
        grid->first_unknown[j * lines + i] = first;
        grid->corner_share[j * lines + i] = 0;
        return 1;
    }
    bool wall[4] = {false, j < grid->rows && grid->wall_left[j * lines + i] != 0, false,
                    j > 0 && grid->wall_left[(j - 1) * lines + i] != 0};
    gather(grid, i, j, around);
    join(around, wall);
    int32_t used = 0;
    uint8_t shares = 0;
    for (size_t k = 0; k < around->count && !around->failed; k++) {
        touch *one = &around->list[k];
        /* The least label is the index of the piece that had it first. */
        int32_t number = one->label == (int)k ? used++ : around->list[one->label].label;
        one->label = number;
        if (one->ring >= 0) {
            shares = (uint8_t)(shares | (number << (2 * one->ring)));
        } else {
            one->part->unknown[one->corner] = first + number;
        }
    }
    grid->first_unknown[j * lines + i] = first;
    grid->corner_share[j * lines + i] = shares;
    return used;
}

/* Extras have one unknown, or one on each face of a wall. */
static int32_t number_extras(usi_grid *grid, int32_t next)
{
    for (size_t e = 0; e < grid->extra_count; e++) {
        usi_extra *extra = &grid->extras[e];
        bool wall =
            extra->upright && grid->wall_left[extra->j * (grid->columns + 1) + extra->i] != 0;
        extra->unknown = next;
        next += wall ? 2 : 1;
    }
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    for (size_t t = 0; t < grid->triangle_count; t++) {
        usi_triangle *part = &grid->triangles[t];
        for (int c = 0; c < 3; c++) {
            if ((size_t)part->place[c] < nodes) {
                continue;
            }
            const usi_extra *extra = &grid->extras[(size_t)part->place[c] - nodes];
            bool wall =
                extra->upright && grid->wall_left[extra->j * (grid->columns + 1) + extra->i] != 0;
            bool right = part->cell == extra->j * grid->columns + extra->i;
            part->unknown[c] = extra->unknown + (wall && right ? 1 : 0);
        }
    }
    return next;
}

us_status usi_unknowns_number(us_context *context, usi_grid *grid)
{
    crowd around = {.context = context};
    int32_t next = 0;
    for (size_t j = 0; j <= grid->rows && !around.failed; j++) {
        for (size_t i = 0; i <= grid->columns && !around.failed; i++) {
            next += number_node(grid, i, j, next, &around);
        }
    }
    free(around.list);
    if (around.failed) {
        return US_ERROR_MEMORY;
    }
    grid->unknowns = (size_t)number_extras(grid, next);
    return US_OK;
}
