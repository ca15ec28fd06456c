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

/* A place in a cell: how far along and up. */
typedef struct place {
    size_t i;
    size_t j;
    double s;
    double t;
} place;

static double share(double value, double low, double high)
{
    return fmin(fmax((value - low) / (high - low), 0.0), 1.0);
}

static double across(const usi_field *field, size_t i, size_t j, double t, bool right)
{
    double lower = usi_field_head(field, i, j, right ? USI_LOWER_RIGHT : USI_LOWER_LEFT);
    double upper = usi_field_head(field, i, j, right ? USI_UPPER_RIGHT : USI_UPPER_LEFT);
    return (1.0 - t) * lower + t * upper;
}

static double along(const usi_field *field, size_t i, size_t j, double s, bool top)
{
    double left = usi_field_head(field, i, j, top ? USI_UPPER_LEFT : USI_LOWER_LEFT);
    double right = usi_field_head(field, i, j, top ? USI_UPPER_RIGHT : USI_LOWER_RIGHT);
    return (1.0 - s) * left + s * right;
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

/* d2h/dx2 of cell column `first` and the next. */
static double curve_from(const usi_field *field, const place *in, size_t first)
{
    double value[3] = {across(field, first, in->j, in->t, false),
                       across(field, first, in->j, in->t, true),
                       across(field, first + 1, in->j, in->t, true)};
    return curvature(&field->grid->x_m[first], value);
}

/* d2h/dx2 with the cell beside, on the nearer side where there is one, and with both in the very
 * middle, so that a mirror image has it too; false where there is none. */
static bool curve_along(const usi_field *field, const place *in, double *curve)
{
    bool right = goes_on(field->grid, in->i, in->j, USI_RIGHT);
    bool left = goes_on(field->grid, in->i, in->j, USI_LEFT);
    if (right && left && in->s == 0.5) {
        *curve = 0.5 * (curve_from(field, in, in->i - 1) + curve_from(field, in, in->i));
    } else if (right && (in->s >= 0.5 || !left)) {
        *curve = curve_from(field, in, in->i);
    } else if (left) {
        *curve = curve_from(field, in, in->i - 1);
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
    size_t first = up ? in->j : in->j - 1;
    double value[3] = {along(field, in->i, first, in->s, false),
                       along(field, in->i, first, in->s, true),
                       along(field, in->i, first + 1, in->s, true)};
    *curve = curvature(&grid->z_m[first], value);
    return true;
}

/* Between four corners: linear both ways, less what the curvature takes off. Along
 * the one axis it is read off three lines, along the other it follows from
 * kh d2h/dx2 + kv d2h/dz2 = 0; `bow_s` is what it counts for along. Without it the error would
 * depend on where in its cell the point lies, and nested grids would not tell it. */
static double between(const usi_field *field, const place *in, double bow_s)
{
    const usi_grid *grid = field->grid;
    const usi_soil *soil =
        &grid->section->soils[usi_grid_soil(grid, (ptrdiff_t)in->i, (ptrdiff_t)in->j)];
    double lower = along(field, in->i, in->j, in->s, false);
    double upper = along(field, in->i, in->j, in->s, true);
    double linear = (1.0 - in->t) * lower + in->t * upper;
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
    double corners[4] = {
        across(field, in->i, in->j, 0.0, false), across(field, in->i, in->j, 1.0, false),
        across(field, in->i, in->j, 0.0, true), across(field, in->i, in->j, 1.0, true)};
    double least = fmin(fmin(corners[0], corners[1]), fmin(corners[2], corners[3]));
    double most = fmax(fmax(corners[0], corners[1]), fmax(corners[2], corners[3]));
    return fmin(fmax(head, least), most);
}

double usi_head_along(const usi_field *field, size_t i, size_t j, const double span[2], double t)
{
    double a = span[0];
    double b = span[1];
    place in = {i, j, 0.5 * (a + b), t};
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
    double tolerance_m = usi_section_tolerance(grid->section);
    size_t column = usi_grid_column(grid, at.x_m);
    size_t row = usi_grid_row(grid, at.z_m);
    /* On a line, the cell on the asked side comes first, then its neighbours. */
    for (int attempt = 0; attempt < 4; attempt++) {
        bool left = (side != USI_FACE_RIGHT) != ((attempt & 1) != 0);
        bool below = (attempt & 2) == 0;
        ptrdiff_t i = beside_line(grid->x_m, grid->columns, column, at.x_m, tolerance_m, left);
        ptrdiff_t j = beside_line(grid->z_m, grid->rows, row, at.z_m, tolerance_m, below);
        if (usi_grid_soil(grid, i, j) >= 0) {
            place in = {(size_t)i, (size_t)j, share(at.x_m, grid->x_m[i], grid->x_m[i + 1]),
                        share(at.z_m, grid->z_m[j], grid->z_m[j + 1])};
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
