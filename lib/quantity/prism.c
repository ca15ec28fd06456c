#include "quantity/prism.h"

#include <math.h>

#include "quantity/piezometer.h"

/* Of a length: what may be missing by rounding. */
static const double MISSING = 1e-6;

/* A level line on its way through the grid. */
typedef struct course {
    const usi_field *field;
    double from_m;
    double to_m;
    double level_m;
    double tolerance_m;
    double sum;      /* head times length */
    double length_m; /* that has been passed in soil */
} course;

static void add(course *of, double length_m, double head)
{
    of->length_m += length_m;
    of->sum += length_m * head;
}

static void pass_whole(course *of, size_t i, size_t j)
{
    const usi_grid *grid = of->field->grid;
    double left_m = grid->x_m[i];
    double width_m = grid->x_m[i + 1] - left_m;
    double a_m = fmax(left_m, of->from_m);
    double b_m = fmin(grid->x_m[i + 1], of->to_m);
    double span[2] = {(a_m - left_m) / width_m, (b_m - left_m) / width_m};
    double t = (of->level_m - grid->z_m[j]) / (grid->z_m[j + 1] - grid->z_m[j]);
    if (b_m > a_m) {
        add(of, b_m - a_m, usi_head_along(of->field, i, j, span, fmin(fmax(t, 0.0), 1.0)));
    }
}

/* Where a level line meets the sides of a triangle: at most two places count, the outermost. */
typedef struct chord {
    int count;
    double x_m[2];
    double head[2];
} chord;

static void meet(chord *of, double x_m, double head)
{
    if (of->count == 0) {
        of->x_m[0] = of->x_m[1] = x_m;
        of->head[0] = of->head[1] = head;
    } else if (x_m < of->x_m[0]) {
        of->x_m[0] = x_m;
        of->head[0] = head;
    } else if (x_m > of->x_m[1]) {
        of->x_m[1] = x_m;
        of->head[1] = head;
    }
    of->count++;
}

/* Lays the line through a triangle that reaches above it. */
static chord cross(const course *of, const usi_triangle *triangle)
{
    const usi_grid *grid = of->field->grid;
    chord made = {0};
    usi_point at[3];
    double over_m[3];
    double head[3];
    bool above = false;
    for (int k = 0; k < 3; k++) {
        at[k] = usi_grid_place(grid, triangle->place[k]);
        over_m[k] = at[k].z_m - of->level_m;
        over_m[k] = fabs(over_m[k]) <= of->tolerance_m ? 0.0 : over_m[k];
        head[k] = of->field->reduced[triangle->unknown[k]];
        above = above || over_m[k] > 0.0;
    }
    for (int k = 0; above && k < 3; k++) {
        int next = (k + 1) % 3;
        if (over_m[k] == 0.0) {
            meet(&made, at[k].x_m, head[k]);
        } else if (over_m[next] != 0.0 && (over_m[k] > 0.0) != (over_m[next] > 0.0)) {
            double share = over_m[k] / (over_m[k] - over_m[next]);
            meet(&made, at[k].x_m + share * (at[next].x_m - at[k].x_m),
                 head[k] + share * (head[next] - head[k]));
        }
    }
    return made;
}

static void pass_cut(course *of, size_t cell)
{
    size_t count;
    const usi_triangle *triangles = usi_grid_triangles(of->field->grid, cell, &count);
    for (size_t k = 0; k < count; k++) {
        chord through = cross(of, &triangles[k]);
        double a_m = fmax(through.x_m[0], of->from_m);
        double b_m = fmin(through.x_m[1], of->to_m);
        if (through.count >= 2 && b_m > a_m) {
            double slope = (through.head[1] - through.head[0]) / (through.x_m[1] - through.x_m[0]);
            double middle_m = 0.5 * (a_m + b_m);
            add(of, b_m - a_m, through.head[0] + slope * (middle_m - through.x_m[0]));
        }
    }
}

usi_reduced usi_head_mean(const usi_field *field, double from_m, double to_m, double level_m)
{
    const usi_grid *grid = field->grid;
    course of = {.field = field,
                 .from_m = from_m,
                 .to_m = to_m,
                 .level_m = level_m,
                 .tolerance_m = grid->tolerance_m};
    size_t row = usi_grid_row(grid, level_m);
    if (row + 1 < grid->rows && grid->z_m[row + 1] - level_m <= of.tolerance_m) {
        row++; /* on a line: the cells above it */
    }
    if (from_m < grid->x_m[0] || to_m > grid->x_m[grid->columns]) {
        return (usi_reduced){false, 0.0};
    }
    size_t last = usi_grid_column(grid, to_m);
    for (size_t i = usi_grid_column(grid, from_m); i <= last; i++) {
        size_t cell = row * grid->columns + i;
        if (grid->soil[cell] >= 0) {
            pass_whole(&of, i, row);
        } else if (grid->soil[cell] == USI_CELL_CUT) {
            pass_cut(&of, cell);
        }
    }
    bool whole = fabs(of.length_m - (to_m - from_m)) <= MISSING * (to_m - from_m);
    return (usi_reduced){whole, whole ? of.sum / of.length_m : 0.0};
}

usi_prism_reading usi_prism_read(const usi_field *field, const usi_prism *prism)
{
    bool right = prism->bed == USI_FACE_RIGHT;
    usi_point corner = {right ? prism->from_m : prism->to_m, prism->level_m};
    return (usi_prism_reading){.mean =
                                   usi_head_mean(field, prism->from_m, prism->to_m, prism->level_m),
                               .corner = usi_head_at(field, corner, prism->bed)};
}
