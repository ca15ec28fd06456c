#include "quantity/underside.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/situation.h"

/* Reduced head that presses on the structure: below a clogged drain, that in the drain. */
static double pressing(const usi_field *field, usi_border border, int32_t unknown)
{
    const usi_situation *situation = field->grid->section->situation;
    int terminal = usi_border_terminal(border);
    if (terminal > 1 && situation->terminals[terminal].resistance_s > 0.0) {
        return (situation->terminals[terminal].head_m - situation->datum_m) / situation->scale_m;
    }
    return field->reduced[unknown];
}

/* The underside between two places, whose unknowns are given. */
typedef struct stretch_of_side {
    usi_border border;
    usi_point ends[2];
    int32_t unknowns[2];
} stretch_of_side;

static void add_side(const usi_field *field, const stretch_of_side *side, usi_underside *to)
{
    if (side->ends[0].x_m == side->ends[1].x_m) {
        return;
    }
    int first = side->ends[0].x_m < side->ends[1].x_m ? 0 : 1;
    usi_underside_piece *piece = &to->pieces[to->count++];
    for (int k = 0; k < 2; k++) {
        int from = k == 0 ? first : 1 - first;
        piece->ends[k] = side->ends[from];
        piece->reduced[k] = pressing(field, side->border, side->unknowns[from]);
    }
}

/* With `to->pieces` NULL it only counts. */
static size_t add_cells(const usi_field *field, usi_underside *to)
{
    const usi_grid *grid = field->grid;
    size_t found = 0;
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        size_t i = cell % grid->columns;
        size_t j = cell / grid->columns;
        if (grid->soil[cell] < 0) {
            continue;
        }
        usi_border border = usi_grid_border(grid, i, j, USI_UP);
        if (!usi_border_underside(grid->section, border)) {
            continue;
        }
        found++;
        stretch_of_side side = {
            border,
            {{grid->x_m[i], grid->z_m[j + 1]}, {grid->x_m[i + 1], grid->z_m[j + 1]}},
            {usi_grid_unknown(grid, i, j, USI_UPPER_LEFT),
             usi_grid_unknown(grid, i, j, USI_UPPER_RIGHT)}};
        if (to->pieces != NULL) {
            add_side(field, &side, to);
        }
    }
    return found;
}

static size_t add_triangles(const usi_field *field, usi_underside *to)
{
    const usi_grid *grid = field->grid;
    size_t found = 0;
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            int next = (k + 1) % 3;
            usi_border border = (usi_border)triangle->border[k];
            if (!usi_border_underside(grid->section, border)) {
                continue;
            }
            found++;
            stretch_of_side side = {border,
                                    {usi_grid_place(grid, triangle->place[k]),
                                     usi_grid_place(grid, triangle->place[next])},
                                    {triangle->unknown[k], triangle->unknown[next]}};
            if (to->pieces != NULL) {
                add_side(field, &side, to);
            }
        }
    }
    return found;
}

static int by_place(const void *a, const void *b)
{
    const usi_underside_piece *first = a;
    const usi_underside_piece *second = b;
    return (first->ends[0].x_m > second->ends[0].x_m) - (first->ends[0].x_m < second->ends[0].x_m);
}

us_status usi_underside_read(us_context *context, const usi_field *field, usi_underside *underside)
{
    *underside = (usi_underside){.section = field->grid->section};
    size_t most = add_cells(field, underside) + add_triangles(field, underside);
    underside->pieces = usi_memory_array(context, most, sizeof *underside->pieces);
    if (underside->pieces == NULL) {
        return US_ERROR_MEMORY;
    }
    (void)add_cells(field, underside);
    (void)add_triangles(field, underside);
    qsort(underside->pieces, underside->count, sizeof *underside->pieces, by_place);
    return US_OK;
}

void usi_underside_free(usi_underside *underside)
{
    free(underside->pieces);
    *underside = (usi_underside){0};
}

double usi_underside_head(const usi_underside *underside, double x_m, bool right)
{
    const usi_underside_piece *piece = &underside->pieces[0];
    if (underside->count == 0) {
        return 0.0;
    }
    for (size_t k = 0; k < underside->count; k++) {
        const usi_underside_piece *next = &underside->pieces[k];
        if (right ? next->ends[0].x_m <= x_m : next->ends[0].x_m < x_m) {
            piece = next;
        }
    }
    double width_m = piece->ends[1].x_m - piece->ends[0].x_m;
    double share = (x_m - piece->ends[0].x_m) / width_m;
    share = share < 0.0 ? 0.0 : share;
    share = share > 1.0 ? 1.0 : share;
    return (1.0 - share) * piece->reduced[0] + share * piece->reduced[1];
}
