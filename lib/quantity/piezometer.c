#include "quantity/piezometer.h"

#include <math.h>

/* Of the cells on both sides of the line beside cell `low`, if the value lies on one:
 * the one before it when `before`. */
static ptrdiff_t beside_line(const double *lines_m, size_t cells, size_t low, double value,
                             double tolerance_m, bool before)
{
    if (before && low > 0 && fabs(value - lines_m[low]) <= tolerance_m) {
        return (ptrdiff_t)low - 1;
    }
    if (!before && low + 1 < cells && fabs(value - lines_m[low + 1]) <= tolerance_m) {
        return (ptrdiff_t)low + 1;
    }
    return (ptrdiff_t)low;
}

/* A place in a cell: how far along and up; the heads at the cell's corners. */
typedef struct place {
    size_t i;
    size_t j;
    double s;
    double t;
    double corner[4]; /* as usi_corner has them */
} place;

static double share(double value, double low, double high)
{
    return fmin(fmax((value - low) / (high - low), 0.0), 1.0);
}

/* Between two values, one a side. */
static double mix(double share, double first, double second)
{
    return (1.0 - share) * first + share * second;
}

/* True where the soil of cell (i, j) goes on in the next cell that way. */
static bool goes_on(const usi_grid *grid, size_t i, size_t j, usi_direction direction)
{
    static const int steps[4][2] = {{0, -1}, {1, 0}, {0, 1}, {-1, 0}};
    return usi_grid_border(grid, i, j, direction) == USI_BORDER_NONE &&
           usi_grid_soil(grid, (ptrdiff_t)i + steps[direction][0],
                         (ptrdiff_t)j + steps[direction][1]) ==
               usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j);
}

/* Second derivative through three values. */
static double curvature(const double at[3], const double value[3])
{
    double before = (value[1] - value[0]) / (at[1] - at[0]);
    double after = (value[2] - value[1]) / (at[2] - at[1]);
    return 2.0 * (after - before) / (at[2] - at[0]);
}

/* d2h/dx2 of the cell and the one to the right of it, or to the left. */
static double curve_with(const usi_field *field, const place *in, bool right)
{
    size_t beside = right ? in->i + 1 : in->i - 1;
    double far =
        mix(in->t, usi_field_head(field, beside, in->j, right ? USI_LOWER_RIGHT : USI_LOWER_LEFT),
            usi_field_head(field, beside, in->j, right ? USI_UPPER_RIGHT : USI_UPPER_LEFT));
    double left = mix(in->t, in->corner[USI_LOWER_LEFT], in->corner[USI_UPPER_LEFT]);
    double own = mix(in->t, in->corner[USI_LOWER_RIGHT], in->corner[USI_UPPER_RIGHT]);
    double value[3] = {right ? left : far, right ? own : left, right ? far : own};
    return curvature(&field->grid->x_m[right ? in->i : beside], value);
}

/* d2h/dx2 with the cell beside, on the nearer side where there is one, and with both in the very
 * middle, so that a mirror image has it too; false where there is none. */
static bool curve_along(const usi_field *field, const place *in, double *curve)
{
    bool right = goes_on(field->grid, in->i, in->j, USI_RIGHT);
    bool left = goes_on(field->grid, in->i, in->j, USI_LEFT);
    if (right && left && in->s == 0.5) {
        *curve = 0.5 * (curve_with(field, in, false) + curve_with(field, in, true));
    } else if (right && (in->s >= 0.5 || !left)) {
        *curve = curve_with(field, in, true);
    } else if (left) {
        *curve = curve_with(field, in, false);
    }
    return right || left;
}

static bool curve_up(const usi_field *field, const place *in, double *curve)
{
    const usi_grid *grid = field->grid;
    bool up = in->t >= 0.5;
    if (!goes_on(grid, in->i, in->j, up ? USI_UP : USI_DOWN)) {
        up = !up;
        if (!goes_on(grid, in->i, in->j, up ? USI_UP : USI_DOWN)) {
            return false;
        }
    }
    size_t beside = up ? in->j + 1 : in->j - 1;
    double far =
        mix(in->s, usi_field_head(field, in->i, beside, up ? USI_UPPER_LEFT : USI_LOWER_LEFT),
            usi_field_head(field, in->i, beside, up ? USI_UPPER_RIGHT : USI_LOWER_RIGHT));
    double lower = mix(in->s, in->corner[USI_LOWER_LEFT], in->corner[USI_LOWER_RIGHT]);
    double upper = mix(in->s, in->corner[USI_UPPER_LEFT], in->corner[USI_UPPER_RIGHT]);
    double value[3] = {up ? lower : far, up ? upper : lower, up ? far : upper};
    *curve = curvature(&grid->z_m[up ? in->j : beside], value);
    return true;
}

/* Between four corners: linear both ways, less what the curvature takes off. Along
 * the one axis it is read off three lines, along the other it follows from
 * kh d2h/dx2 + kv d2h/dz2 = 0; `bow_s` is what it counts for along. Without it the error would
 * depend on where in its cell the point lies, and nested grids would not tell it. */
static double between(const usi_field *field, place *in, double bow_s)
{
    double *corner = in->corner;
    for (int c = 0; c < 4; c++) {
        corner[c] = usi_field_head(field, in->i, in->j, (usi_corner)c);
    }
    const usi_grid *grid = field->grid;
    const usi_soil *soil =
        &grid->section->soils[usi_grid_soil(grid, (ptrdiff_t)in->i, (ptrdiff_t)in->j)];
    double lower = mix(in->s, corner[USI_LOWER_LEFT], corner[USI_LOWER_RIGHT]);
    double upper = mix(in->s, corner[USI_UPPER_LEFT], corner[USI_UPPER_RIGHT]);
    double linear = mix(in->t, lower, upper);
    double dx_m = grid->x_m[in->i + 1] - grid->x_m[in->i];
    double dz_m = grid->z_m[in->j + 1] - grid->z_m[in->j];
    double bow_x = bow_s * dx_m * dx_m;
    double bow_z = 0.5 * in->t * (1.0 - in->t) * dz_m * dz_m;
    double curve_x = 0.0;
    double curve_z = 0.0;
    bool has_x = curve_along(field, in, &curve_x);
    bool has_z = curve_up(field, in, &curve_z);
    if (has_x && !has_z) {
        curve_z = -curve_x * soil->kh_m_s / soil->kv_m_s;
    } else if (has_z && !has_x) {
        curve_x = -curve_z * soil->kv_m_s / soil->kh_m_s;
    }
    double head = linear - bow_x * curve_x - bow_z * curve_z;
    double least = fmin(fmin(corner[0], corner[1]), fmin(corner[2], corner[3]));
    double most = fmax(fmax(corner[0], corner[1]), fmax(corner[2], corner[3]));
    return fmin(fmax(head, least), most);
}

double usi_head_along(const usi_field *field, size_t i, size_t j, const double span[2], double t)
{
    double a = span[0];
    double b = span[1];
    place in = {i, j, 0.5 * (a + b), t, {0.0}};
    /* The mean of s (1 - s) / 2 over the span. */
    double bow_s = 0.5 * (in.s - (a * a + a * b + b * b) / 3.0);
    return between(field, &in, bow_s);
}

/* Inside a triangle: linear. False where the point lies outside, by more than a
 * trifle. */
static bool in_triangle(const usi_field *field, const usi_triangle *triangle, usi_point at,
                        double *head)
{
    const double trifle = 1e-9;
    usi_point corner[3];
    for (int k = 0; k < 3; k++) {
        corner[k] = usi_grid_place(field->grid, triangle->place[k]);
    }
    double whole = 0.0;
    double part[3];
    for (int k = 0; k < 3; k++) {
        usi_point a = corner[(k + 1) % 3];
        usi_point b = corner[(k + 2) % 3];
        part[k] = (b.x_m - a.x_m) * (at.z_m - a.z_m) - (at.x_m - a.x_m) * (b.z_m - a.z_m);
        whole += part[k];
    }
    *head = 0.0;
    bool inside = true;
    for (int k = 0; k < 3; k++) {
        inside = inside && part[k] >= -trifle * whole;
        *head += part[k] / whole * field->reduced[triangle->unknown[k]];
    }
    return inside;
}

static bool in_triangles(const usi_field *field, size_t cell, usi_point at, double *head)
{
    size_t count;
    const usi_triangle *triangles = usi_grid_triangles(field->grid, cell, &count);
    for (size_t t = 0; t < count; t++) {
        if (in_triangle(field, &triangles[t], at, head)) {
            return true;
        }
    }
    return false;
}

usi_reduced usi_head_at(const usi_field *field, usi_point at, usi_face side)
{
    const usi_grid *grid = field->grid;
    double tolerance_m = grid->tolerance_m;
    size_t column = usi_grid_column(grid, at.x_m);
    size_t row = usi_grid_row(grid, at.z_m);
    /* On a line, the cell on the asked side comes first, then its neighbours. */
    for (int attempt = 0; attempt < 4; attempt++) {
        bool left = (side != USI_FACE_RIGHT) != ((attempt & 1) != 0);
        bool below = (attempt & 2) == 0;
        ptrdiff_t i = beside_line(grid->x_m, grid->columns, column, at.x_m, tolerance_m, left);
        ptrdiff_t j = beside_line(grid->z_m, grid->rows, row, at.z_m, tolerance_m, below);
        if (usi_grid_soil(grid, i, j) >= 0) {
            place in = {(size_t)i,
                        (size_t)j,
                        share(at.x_m, grid->x_m[i], grid->x_m[i + 1]),
                        share(at.z_m, grid->z_m[j], grid->z_m[j + 1]),
                        {0.0}};
            return (usi_reduced){true, between(field, &in, 0.5 * in.s * (1.0 - in.s))};
        }
        double head = 0.0;
        if (i >= 0 && j >= 0 && i < (ptrdiff_t)grid->columns && j < (ptrdiff_t)grid->rows &&
            in_triangles(field, (size_t)j * grid->columns + (size_t)i, at, &head)) {
            return (usi_reduced){true, head};
        }
    }
    return (usi_reduced){false, 0.0};
}
