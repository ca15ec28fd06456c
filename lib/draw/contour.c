#include "draw/contour.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* A piece of line inside a cell. Each end lies on a cell side; the sides' keys
 * say which pieces meet. */
typedef struct piece {
    usi_point at[2];
    size_t key[2];
    int soil;
} piece;

typedef struct pieces {
    us_context *context;
    piece *list;
    size_t count;
    size_t room;
    bool failed;
} pieces;

typedef struct end {
    size_t key;
    size_t index; /* twice the piece, plus one for its second end */
} end;

static const size_t alone = (size_t)-1;

/* Key of a cell side. A vertical side that is wall has two keys, one for each
 * face, so that nothing is joined across it. */
static size_t side_key(const usi_grid *grid, size_t i, size_t j, usi_direction side)
{
    size_t across = grid->columns + 1;
    size_t column = side == USI_RIGHT ? i + 1 : i;
    size_t row = side == USI_UP ? j + 1 : j;
    size_t key = 2 * (row * across + column);
    if (side == USI_DOWN || side == USI_UP) {
        return key;
    }
    if (side == USI_RIGHT && grid->wall_left[row * across + column] != 0) {
        return key + 1 + 2 * across * (grid->rows + 1);
    }
    return key + 1;
}

/* Where the level crosses a side of a cell. */
static usi_point crossing(const usi_grid *grid, const size_t cell[2], const double value[4],
                          double level, usi_direction side)
{
    const double x[4] = {grid->x_m[cell[0]], grid->x_m[cell[0] + 1], grid->x_m[cell[0] + 1],
                         grid->x_m[cell[0]]};
    const double z[4] = {grid->z_m[cell[1]], grid->z_m[cell[1]], grid->z_m[cell[1] + 1],
                         grid->z_m[cell[1] + 1]};
    /* Down, right, up, left join the corners in their order round the cell. */
    int a = (int)side;
    int b = (a + 1) % 4;
    double share = (level - value[a]) / (value[b] - value[a]);
    return (usi_point){x[a] + share * (x[b] - x[a]), z[a] + share * (z[b] - z[a])};
}

static void add_piece(pieces *all, piece one)
{
    if (all->count == all->room) {
        size_t room = all->room == 0 ? 256 : 2 * all->room;
        piece *list = usi_memory_resize(all->context, all->list, room, sizeof *list);
        if (list == NULL) {
            all->failed = true;
            return;
        }
        all->list = list;
        all->room = room;
    }
    all->list[all->count++] = one;
}

/* The sides that the level crosses, in pairs that belong together. */
static int crossed_sides(const double value[4], double level, usi_direction sides[4])
{
    bool above[4];
    int crossed = 0;
    for (int k = 0; k < 4; k++) {
        above[k] = value[k] > level;
    }
    for (int k = 0; k < 4; k++) {
        if (above[k] != above[(k + 1) % 4]) {
            sides[crossed++] = (usi_direction)k;
        }
    }
    if (crossed == 4) {
        /* A saddle: the middle decides which corners hang together. */
        bool middle = 0.25 * (value[0] + value[1] + value[2] + value[3]) > level;
        if (middle != above[0]) {
            usi_direction last = sides[3];
            sides[3] = sides[2];
            sides[2] = sides[1];
            sides[1] = last;
        }
    }
    return crossed;
}

static void cross_cell(pieces *all, const usi_contour_source *source, double level, size_t i,
                       size_t j)
{
    double value[4];
    for (int k = 0; k < 4; k++) {
        value[k] = source->value(source->data, i, j, (usi_corner)k);
    }
    usi_direction sides[4];
    int crossed = crossed_sides(value, level, sides);
    const size_t cell[2] = {i, j};
    for (int k = 0; k + 1 < crossed; k += 2) {
        piece one = {.soil = source->grid->soil[j * source->grid->columns + i]};
        for (int e = 0; e < 2; e++) {
            one.at[e] = crossing(source->grid, cell, value, level, sides[k + e]);
            one.key[e] = side_key(source->grid, i, j, sides[k + e]);
        }
        add_piece(all, one);
    }
}

/* Key of a side of a triangle: that of the cell side where it is a whole one, else
 * one of its own, which the neighbour across it has too. */
static size_t part_key(const usi_grid *grid, const usi_triangle *part, int k)
{
    int32_t a = part->place[k];
    int32_t b = part->place[(k + 1) % 3];
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    usi_direction side = USI_DOWN;
    bool along = usi_grid_on_side(grid, part->cell, a, b, &side);
    if (along && (size_t)a < nodes && (size_t)b < nodes) {
        return side_key(grid, part->cell % grid->columns, part->cell / grid->columns, side);
    }
    size_t low = (size_t)(a < b ? a : b);
    size_t high = (size_t)(a < b ? b : a);
    size_t places = usi_grid_place_count(grid);
    /* Beyond all keys of cell sides; the two faces of a wall do not meet. */
    bool face = part->border[k] == USI_BORDER_WALL && side == USI_LEFT;
    return 8 * nodes + 2 * (low * places + high) + (face ? 1 : 0);
}

static void cross_part(pieces *all, const usi_contour_source *source, double level,
                       const usi_triangle *part)
{
    double value[3];
    for (int k = 0; k < 3; k++) {
        value[k] = source->part_value(source->data, part, k);
    }
    piece one = {.soil = part->soil};
    int ends = 0;
    for (int k = 0; k < 3; k++) {
        int next = (k + 1) % 3;
        if ((value[k] > level) != (value[next] > level)) {
            usi_point a = usi_grid_place(source->grid, part->place[k]);
            usi_point b = usi_grid_place(source->grid, part->place[next]);
            double share = (level - value[k]) / (value[next] - value[k]);
            one.at[ends] =
                (usi_point){a.x_m + share * (b.x_m - a.x_m), a.z_m + share * (b.z_m - a.z_m)};
            one.key[ends++] = part_key(source->grid, part, k);
        }
    }
    if (ends == 2) {
        add_piece(all, one);
    }
}

static void gather_parts(pieces *all, const usi_contour_source *source, double level)
{
    const usi_grid *grid = source->grid;
    for (size_t t = 0; t < grid->triangle_count && !all->failed; t++) {
        size_t i = grid->triangles[t].cell % grid->columns;
        size_t j = grid->triangles[t].cell / grid->columns;
        if (grid->z_m[j + 1] >= source->low.z_m && grid->z_m[j] <= source->high.z_m &&
            grid->x_m[i + 1] >= source->low.x_m && grid->x_m[i] <= source->high.x_m) {
            cross_part(all, source, level, &grid->triangles[t]);
        }
    }
}

static void gather(pieces *all, const usi_contour_source *source, double level)
{
    const usi_grid *grid = source->grid;
    for (size_t j = 0; j < grid->rows && !all->failed; j++) {
        if (grid->z_m[j + 1] < source->low.z_m || grid->z_m[j] > source->high.z_m) {
            continue;
        }
        for (size_t i = 0; i < grid->columns && !all->failed; i++) {
            if (grid->x_m[i + 1] >= source->low.x_m && grid->x_m[i] <= source->high.x_m &&
                grid->soil[j * grid->columns + i] >= 0) {
                cross_cell(all, source, level, i, j);
            }
        }
    }
}

static int compare_ends(const void *a, const void *b)
{
    const end *left = a;
    const end *right = b;
    if (left->key != right->key) {
        return left->key < right->key ? -1 : 1;
    }
    return left->index < right->index ? -1 : left->index > right->index;
}

/* For every end of a piece the end it meets, or `alone`. */
static size_t *pair_ends(const pieces *all)
{
    size_t count = 2 * all->count;
    end *ends = usi_memory_array(all->context, count, sizeof *ends);
    size_t *partner = usi_memory_array(all->context, count, sizeof *partner);
    if (ends == NULL || partner == NULL) {
        free(ends);
        free(partner);
        return NULL;
    }
    for (size_t e = 0; e < count; e++) {
        ends[e] = (end){all->list[e / 2].key[e % 2], e};
        partner[e] = alone;
    }
    qsort(ends, count, sizeof *ends, compare_ends);
    for (size_t e = 0; e + 1 < count; e++) {
        if (ends[e].key == ends[e + 1].key) {
            partner[ends[e].index] = ends[e + 1].index;
            partner[ends[e + 1].index] = ends[e].index;
            e++;
        }
    }
    free(ends);
    return partner;
}

typedef struct tracing {
    const pieces *all;
    const size_t *partner;
    bool *used;
    usi_curves *curves;
    size_t points;
} tracing;

/* Follows a line from a free end, or round from any. */
static void follow(tracing *trace, size_t from)
{
    usi_curves *curves = trace->curves;
    curves->points[trace->points++] = trace->all->list[from / 2].at[from % 2];
    size_t here = from;
    while (here != alone && !trace->used[here / 2]) {
        trace->used[here / 2] = true;
        size_t other = here ^ 1;
        const piece *passed = &trace->all->list[other / 2];
        curves->points[trace->points++] = passed->at[other % 2];
        here = trace->partner[other];
        if (here != alone && !trace->used[here / 2] &&
            trace->all->list[here / 2].soil != passed->soil) {
            curves->points[trace->points++] = passed->at[other % 2];
        }
    }
    curves->starts[++curves->count] = trace->points;
}

static us_status join(const pieces *all, usi_curves *curves)
{
    size_t *partner = pair_ends(all);
    bool *used = usi_memory_array(all->context, all->count, sizeof *used);
    /* Each line has one point more than pieces, and one more at each bend between two;
     * there are no more lines than pieces. */
    curves->points = usi_memory_array(all->context, 3 * all->count, sizeof *curves->points);
    curves->starts = usi_memory_array(all->context, all->count + 1, sizeof *curves->starts);
    us_status status = US_ERROR_MEMORY;
    if (partner != NULL && used != NULL && curves->points != NULL && curves->starts != NULL) {
        tracing trace = {all, partner, used, curves, 0};
        for (size_t e = 0; e < 2 * all->count; e++) {
            if (partner[e] == alone && !used[e / 2]) {
                follow(&trace, e);
            }
        }
        for (size_t e = 0; e < 2 * all->count; e += 2) {
            if (!used[e / 2]) {
                follow(&trace, e);
            }
        }
        status = US_OK;
    }
    free(partner);
    free(used);
    return status;
}

us_status usi_contour_trace(us_context *context, const usi_contour_source *source, double level,
                            usi_curves *curves)
{
    pieces all = {.context = context};
    usi_curves made = {0};
    gather(&all, source, level);
    gather_parts(&all, source, level);
    us_status status = all.failed ? US_ERROR_MEMORY : join(&all, &made);
    free(all.list);
    if (status == US_OK) {
        *curves = made;
    } else {
        usi_curves_clear(&made);
    }
    return status;
}

void usi_curves_clear(usi_curves *curves)
{
    free(curves->starts);
    free(curves->points);
    memset(curves, 0, sizeof *curves);
}
