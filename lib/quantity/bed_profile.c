#include "quantity/bed_profile.h"

#include <math.h>

enum { POINTS = 4 }; /* of a cubic */

/* The level of bed beside an exit, as cells that all have it on top. */
typedef struct stretch {
    const usi_field *field;
    bool right;
    size_t first; /* cells [first, last) */
    size_t last;
    size_t row;
    double exit_x_m;
    double power; /* gradient ~ r^power near the exit */
    bool skips;   /* the node at the exit itself is left out: the gradient is unbounded there */
} stretch;

static bool is_bed(const usi_grid *grid, size_t i, size_t j)
{
    usi_border bed = grid->section->flows_left ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED;
    return usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) >= 0 &&
           usi_grid_border(grid, i, j, USI_UP) == bed;
}

static bool wall_between(const usi_grid *grid, size_t line, size_t row)
{
    return grid->wall_left[row * (grid->columns + 1) + line] != 0;
}

static stretch find_stretch(const usi_field *field, const usi_exit *exit, bool skips)
{
    const usi_grid *grid = field->grid;
    size_t line = usi_grid_x_line(grid, exit->at.x_m);
    stretch on = {.field = field,
                  .right = exit->bed == USI_FACE_RIGHT,
                  .first = line,
                  .last = line,
                  .row = usi_grid_z_line(grid, exit->at.z_m) - 1,
                  .exit_x_m = exit->at.x_m,
                  .power = exit->growth.kind == USI_GROWTH_POWER ? exit->growth.power : 0.0,
                  .skips = skips};
    if (on.right) {
        while (on.last < grid->columns && is_bed(grid, on.last, on.row) &&
               (on.last == line || !wall_between(grid, on.last, on.row))) {
            on.last++;
        }
    } else {
        while (on.first > 0 && is_bed(grid, on.first - 1, on.row) &&
               (on.first == line || !wall_between(grid, on.first, on.row))) {
            on.first--;
        }
    }
    return on;
}

/* The first of the four lines around x; false where there are no four. */
static bool find_lines(const stretch *on, double x_m, size_t *from)
{
    const double *lines_m = on->field->grid->x_m;
    size_t low = on->first + (on->skips && on->right ? 1 : 0);
    size_t high = on->last - (on->skips && !on->right ? 1 : 0); /* last line */
    if (on->last == on->first || high < low + POINTS - 1 || x_m < lines_m[on->first] ||
        x_m > lines_m[on->last]) {
        return false;
    }
    size_t k = low;
    while (k + POINTS - 1 < high && lines_m[k + POINTS / 2] <= x_m) {
        k++;
    }
    *from = k;
    return true;
}

/* Weights of the cubic through four points at x, or of its slope there. */
static void weigh(const double *at, double x, bool slope, double weights[POINTS])
{
    for (int k = 0; k < POINTS; k++) {
        double product = 1.0;
        double sum = 0.0;
        for (int m = 0; m < POINTS; m++) {
            if (m == k) {
                continue;
            }
            double reach = at[k] - at[m];
            sum = (sum * (x - at[m]) + product) / reach;
            product *= (x - at[m]) / reach;
        }
        weights[k] = slope ? sum : product;
    }
}

/* Beside an unbounded exit nothing is smooth in r, the distance from it, but all is
 * in r^(power + 1): the variable that cubics are fitted in. */
static double smooth(const stretch *on, double x_m)
{
    return pow(fabs(x_m - on->exit_x_m), on->power + 1.0);
}

static void place_nodes(const stretch *on, size_t from, double at[POINTS])
{
    for (size_t k = 0; k < POINTS; k++) {
        at[k] = smooth(on, on->field->grid->x_m[from + k]);
    }
}

/* r^power, which the gradient follows. */
static double growth(const stretch *on, double x_m)
{
    return on->power < 0.0 ? pow(fabs(x_m - on->exit_x_m), on->power) : 1.0;
}

/* Gradient at x from the heads below the bed. */
static double from_heads(const stretch *on, size_t from, double x_m)
{
    double at[POINTS];
    double weights[POINTS];
    double gradient = 0.0;
    place_nodes(on, from, at);
    weigh(at, smooth(on, x_m), false, weights);
    for (size_t k = 0; k < POINTS; k++) {
        size_t line = from + k;
        bool last = line == on->last;
        double below = usi_exit_below(on->field, last ? line - 1 : line, on->row,
                                      last ? USI_UPPER_RIGHT : USI_UPPER_LEFT);
        gradient += weights[k] * below / growth(on, on->field->grid->x_m[line]);
    }
    return gradient * growth(on, x_m);
}

/* The same from the stream function along the bed. */
static double from_stream(const stretch *on, size_t from, double x_m)
{
    const usi_grid *grid = on->field->grid;
    const double *psi = on->field->stream + (on->row + 1) * (grid->columns + 1) + from;
    double at[POINTS];
    double weights[POINTS];
    double slope = 0.0;
    place_nodes(on, from, at);
    weigh(at, smooth(on, x_m), true, weights);
    for (size_t k = 0; k < POINTS; k++) {
        slope += weights[k] * psi[k];
    }
    slope *= (on->power + 1.0) * growth(on, x_m);
    int soil = usi_grid_soil(grid, (ptrdiff_t)on->first, (ptrdiff_t)on->row);
    return usi_exit_stream_flow(on->field) * fabs(slope) / grid->section->soils[soil].kv_m_s;
}

void usi_bed_profile_read(const usi_field *field, const usi_exit *exit, usi_exit_reading *reading)
{
    if (field->stream == NULL) {
        return;
    }
    stretch on = find_stretch(field, exit, !reading->bounded);
    reading->watch_1_m = reading->gradient_1_m;
    size_t from = 0;
    if (exit->watch_x_m != exit->at.x_m && find_lines(&on, exit->watch_x_m, &from)) {
        reading->watch_1_m = from_heads(&on, from, exit->watch_x_m);
    }
    for (size_t k = 0; k < exit->profile_count; k++) {
        if (k == 0) {
            reading->profile_1_m[k] = reading->gradient_1_m;
            reading->profile_second_1_m[k] = reading->second_1_m;
        } else if (find_lines(&on, exit->profile_x_m[k], &from)) {
            reading->profile_1_m[k] = from_heads(&on, from, exit->profile_x_m[k]);
            reading->profile_second_1_m[k] = from_stream(&on, from, exit->profile_x_m[k]);
        } else {
            break;
        }
        reading->profile_count = k + 1;
    }
}
