#include "grid/hard_point.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/exponent.h"

/* A straight piece of boundary, wall or layer interface on the frame. */
typedef struct segment {
    usi_point a;
    usi_point b;
    bool fixed; /* head is fixed on it */
} segment;

typedef struct segment_list {
    size_t count;
    segment *list;
} segment_list;

static bool is_real(usi_border border)
{
    return border != USI_BORDER_NONE && border != USI_BORDER_LEFT_END &&
           border != USI_BORDER_RIGHT_END;
}

static bool same_soil(const usi_grid *frame, int a, int b)
{
    const usi_soil *first = &frame->section->soils[a];
    const usi_soil *second = &frame->section->soils[b];
    return first->kh_m_s == second->kh_m_s && first->kv_m_s == second->kv_m_s;
}

/* True where side `direction` of a soil cell is a piece; walls and interfaces
 * are seen from the left and from below only. */
static bool is_piece(const usi_grid *frame, size_t i, size_t j, usi_direction direction)
{
    usi_border border = usi_grid_border(frame, i, j, direction);
    if (border == USI_BORDER_WALL) {
        return direction == USI_RIGHT || usi_grid_soil(frame, (ptrdiff_t)i - 1, (ptrdiff_t)j) < 0;
    }
    if (is_real(border)) {
        return true;
    }
    if (border != USI_BORDER_NONE || direction != USI_UP) {
        return false;
    }
    int above = usi_grid_soil(frame, (ptrdiff_t)i, (ptrdiff_t)j + 1);
    return !same_soil(frame, usi_grid_soil(frame, (ptrdiff_t)i, (ptrdiff_t)j), above);
}

static segment side_of(const usi_grid *frame, size_t i, size_t j, usi_direction direction)
{
    size_t right = direction == USI_LEFT ? i : i + 1;
    size_t left = direction == USI_RIGHT ? i + 1 : i;
    size_t top = direction == USI_DOWN ? j : j + 1;
    size_t bottom = direction == USI_UP ? j + 1 : j;
    usi_border border = usi_grid_border(frame, i, j, direction);
    return (segment){{frame->x_m[left], frame->z_m[bottom]},
                     {frame->x_m[right], frame->z_m[top]},
                     border == USI_BORDER_LEFT_BED || border == USI_BORDER_RIGHT_BED};
}

/* Appends the pieces of one cell, or only counts them while there is no list. */
static void gather_cell(const usi_grid *frame, size_t i, size_t j, segment_list *pieces)
{
    for (int d = 0; d < 4; d++) {
        if (!is_piece(frame, i, j, (usi_direction)d)) {
            continue;
        }
        if (pieces->list != NULL) {
            pieces->list[pieces->count] = side_of(frame, i, j, (usi_direction)d);
        }
        pieces->count++;
    }
}

static void gather_all(const usi_grid *frame, segment_list *pieces)
{
    pieces->count = 0;
    for (size_t j = 0; j < frame->rows; j++) {
        for (size_t i = 0; i < frame->columns; i++) {
            if (usi_grid_soil(frame, (ptrdiff_t)i, (ptrdiff_t)j) >= 0) {
                gather_cell(frame, i, j, pieces);
            }
        }
    }
}

static us_status gather(us_context *context, const usi_grid *frame, segment_list *pieces)
{
    gather_all(frame, pieces);
    pieces->list = usi_memory_array(context, pieces->count, sizeof *pieces->list);
    if (pieces->list == NULL) {
        return US_ERROR_MEMORY;
    }
    gather_all(frame, pieces);
    return US_OK;
}

static bool same_point(usi_point a, usi_point b)
{
    return a.x_m == b.x_m && a.z_m == b.z_m;
}

static double distance(usi_point at, const segment *piece)
{
    double x_m = fmin(fmax(at.x_m, piece->a.x_m), piece->b.x_m);
    double z_m = fmin(fmax(at.z_m, piece->a.z_m), piece->b.z_m);
    return hypot(at.x_m - x_m, at.z_m - z_m);
}

/* The end of the straight run of pieces that starts at `at` with `first`: it
 * goes on while exactly one piece, in the same direction and of the same kind,
 * leaves its end: where a flush floor meets the bed, the next point begins. */
static usi_point run_end(const segment_list *pieces, usi_point at, const segment *first)
{
    usi_point end = same_point(first->a, at) ? first->b : first->a;
    bool upright = first->a.x_m == first->b.x_m;
    for (;;) {
        const segment *next = NULL;
        size_t touching = 0;
        for (size_t k = 0; k < pieces->count; k++) {
            const segment *other = &pieces->list[k];
            if (same_point(other->a, end) || same_point(other->b, end)) {
                touching++;
                usi_point far = same_point(other->a, end) ? other->b : other->a;
                bool ahead =
                    upright ? far.x_m == end.x_m && (far.z_m - end.z_m) * (end.z_m - at.z_m) > 0.0
                            : far.z_m == end.z_m && (far.x_m - end.x_m) * (end.x_m - at.x_m) > 0.0;
                next = ahead && other->fixed == first->fixed ? other : next;
            }
        }
        if (touching != 2 || next == NULL) {
            return end;
        }
        end = same_point(next->a, end) ? next->b : next->a;
    }
}

/* True when a piece lies on the straight run from `at` to `end`. */
static bool on_run(const segment *piece, usi_point at, usi_point end)
{
    double low_x_m = fmin(at.x_m, end.x_m);
    double high_x_m = fmax(at.x_m, end.x_m);
    double low_z_m = fmin(at.z_m, end.z_m);
    double high_z_m = fmax(at.z_m, end.z_m);
    return piece->a.x_m >= low_x_m && piece->b.x_m <= high_x_m && piece->a.z_m >= low_z_m &&
           piece->b.z_m <= high_z_m;
}

static double free_length(const segment_list *pieces, usi_point at)
{
    usi_point ends[8];
    size_t runs = 0;
    double length_m = HUGE_VAL;
    for (size_t k = 0; k < pieces->count && runs < 8; k++) {
        const segment *piece = &pieces->list[k];
        if (same_point(piece->a, at) || same_point(piece->b, at)) {
            ends[runs] = run_end(pieces, at, piece);
            length_m = fmin(length_m, hypot(ends[runs].x_m - at.x_m, ends[runs].z_m - at.z_m));
            runs++;
        }
    }
    for (size_t k = 0; k < pieces->count; k++) {
        bool incident = false;
        for (size_t r = 0; r < runs; r++) {
            incident = incident || on_run(&pieces->list[k], at, ends[r]);
        }
        if (!incident) {
            length_m = fmin(length_m, distance(at, &pieces->list[k]));
        }
    }
    return length_m;
}

/* Smallest exponent of the unknowns at node (i, j); `inside` where soil is all round. */
static double node_exponent(const usi_grid *frame, size_t i, size_t j, bool *inside)
{
    double lambda = 1.0;
    *inside = true;
    for (int r = 0; r < 4; r++) {
        usi_cell cell = usi_grid_cell_at(i, j, (usi_corner)r);
        if (usi_grid_soil(frame, cell.i, cell.j) >= 0) {
            lambda =
                fmin(lambda, usi_exponent_at(frame, (size_t)cell.i, (size_t)cell.j, (usi_corner)r));
        } else {
            *inside = false;
        }
    }
    return lambda;
}

us_status usi_hard_points_find(us_context *context, const usi_grid *frame, usi_hard_point **points,
                               size_t *count)
{
    segment_list pieces = {0, NULL};
    us_status status = gather(context, frame, &pieces);
    usi_hard_point *list = NULL;
    size_t used = 0;
    size_t room = 0;
    for (size_t j = 0; status == US_OK && j <= frame->rows; j++) {
        for (size_t i = 0; status == US_OK && i <= frame->columns; i++) {
            bool inside = false;
            double lambda = node_exponent(frame, i, j, &inside);
            /* The far cut itself is no feature of the section. */
            if (lambda > 0.999 || i == 0 || i == frame->columns) {
                continue;
            }
            if (used == room) {
                room = 2 * room + 8;
                usi_hard_point *grown = usi_memory_resize(context, list, room, sizeof *list);
                if (grown == NULL) {
                    status = US_ERROR_MEMORY;
                    break;
                }
                list = grown;
            }
            usi_point at = {frame->x_m[i], frame->z_m[j]};
            list[used++] = (usi_hard_point){at, free_length(&pieces, at), lambda, inside};
        }
    }
    free(pieces.list);
    if (status != US_OK) {
        free(list);
        return status;
    }
    *points = list;
    *count = used;
    return US_OK;
}
