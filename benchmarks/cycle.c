/* One multigrid cycle: lines relaxed, the rest handed down, what comes back added. Arrays have
 * zeros around them, and no coupling leaves the lattice, so loops need not look where it ends. */
#include <stddef.h>
#include <string.h>

#include "multigrid.h"

/* Lines that are solved at a time: one alone waits for each of its divisions. */
enum { ABREAST = 4 };

/* `rest` of row j: its load, and what the rows above and below add. */
static void rest_of_row(const mg_level *level, size_t j)
{
    ptrdiff_t nx = (ptrdiff_t)level->columns;
    ptrdiff_t first = (ptrdiff_t)j * nx;
    const double *x = level->value;
    for (ptrdiff_t k = first; k < first + nx; k++) {
        level->rest[k] =
            level->load[k] + level->north[k - nx] * x[k - nx] + level->north[k] * x[k + nx];
    }
}

/* Solves up to ABREAST level lines, every second row from j on. */
static void solve_rows(const mg_level *level, size_t j, size_t lines)
{
    size_t nx = level->columns;
    double last[ABREAST] = {0.0};
    for (size_t i = 0; i < nx; i++) {
        for (size_t m = 0; m < lines; m++) {
            size_t k = (j + 2 * m) * nx + i;
            double before = i > 0 ? level->east[k - 1] * level->along[k - 1] : 0.0;
            last[m] = level->rest[k] + before * last[m];
            level->rest[k] = last[m];
        }
    }
    memset(last, 0, sizeof last);
    for (size_t i = nx; i-- > 0;) {
        for (size_t m = 0; m < lines; m++) {
            size_t k = (j + 2 * m) * nx + i;
            last[m] = level->along[k] * (level->rest[k] + level->east[k] * last[m]);
            level->value[k] = last[m];
        }
    }
}

static void relax_rows(const mg_level *level, size_t parity)
{
    for (size_t j = parity; j < level->rows; j += (size_t)2 * ABREAST) {
        size_t lines = 0;
        while (lines < ABREAST && j + 2 * lines < level->rows) {
            rest_of_row(level, j + 2 * lines++);
        }
        if (lines == ABREAST) {
            solve_rows(level, j, ABREAST); /* known to the compiler */
        } else {
            solve_rows(level, j, lines);
        }
    }
}

/* Upright lines, every second column: all are solved at once, row by row. */
static void relax_columns(const mg_level *level, size_t parity)
{
    ptrdiff_t nx = (ptrdiff_t)level->columns;
    double *x = level->value;
    for (ptrdiff_t j = 0; j < (ptrdiff_t)level->rows; j++) {
        for (ptrdiff_t k = j * nx + (ptrdiff_t)parity; k < (j + 1) * nx; k += 2) {
            level->rest[k] = level->load[k] + level->east[k - 1] * x[k - 1] +
                             level->east[k] * x[k + 1] +
                             level->north[k - nx] * level->up[k - nx] * level->rest[k - nx];
        }
    }
    for (ptrdiff_t j = (ptrdiff_t)level->rows; j-- > 0;) {
        for (ptrdiff_t k = j * nx + (ptrdiff_t)parity; k < (j + 1) * nx; k += 2) {
            x[k] = level->up[k] * (level->rest[k] + level->north[k] * x[k + nx]);
        }
    }
}

static void find_rest(const mg_level *level)
{
    ptrdiff_t nx = (ptrdiff_t)level->columns;
    const double *x = level->value;
    for (ptrdiff_t k = 0; k < nx * (ptrdiff_t)level->rows; k++) {
        level->rest[k] =
            level->load[k] - level->hold[k] * x[k] + level->east[k - 1] * (x[k - 1] - x[k]) +
            level->east[k] * (x[k + 1] - x[k]) + level->north[k - nx] * (x[k - nx] - x[k]) +
            level->north[k] * (x[k + nx] - x[k]);
    }
}

/* What is left goes to the parents, by the weights that values come back with. */
static void hand_down(const mg_level *fine, const mg_level *coarse)
{
    size_t nx = coarse->columns;
    memset(coarse->load, 0, nx * coarse->rows * sizeof *coarse->load);
    for (size_t j = 0; j < fine->rows; j++) {
        for (size_t i = 0; i < fine->columns; i++) {
            size_t k = j * fine->columns + i;
            const double *w = fine->weights + 4 * k;
            double *to = coarse->load + (j / 2) * nx + i / 2;
            to[0] += w[0] * fine->rest[k];
            if (i % 2 != 0) {
                to[1] += w[1] * fine->rest[k];
            }
            if (j % 2 != 0) {
                to[nx] += w[2] * fine->rest[k];
                to[nx + 1] += w[3] * fine->rest[k];
            }
        }
    }
}

static void take_back(const mg_level *fine, const mg_level *coarse)
{
    size_t nx = coarse->columns;
    for (size_t j = 0; j < fine->rows; j++) {
        for (size_t i = 0; i < fine->columns; i++) {
            size_t k = j * fine->columns + i;
            const double *w = fine->weights + 4 * k;
            const double *from = coarse->value + (j / 2) * nx + i / 2;
            double sum = w[0] * from[0];
            if (i % 2 != 0) {
                sum += w[1] * from[1];
            }
            if (j % 2 != 0) {
                sum += w[2] * from[nx] + w[3] * from[nx + 1];
            }
            fine->value[k] += sum;
        }
    }
}

static void descend(const multigrid *by, int l)
{
    const mg_level *level = &by->levels[l];
    if (l + 1 == by->count) {
        mg_band_solve(by);
        return;
    }
    memset(level->value, 0, level->columns * level->rows * sizeof *level->value);
    relax_rows(level, 0);
    relax_rows(level, 1);
    relax_columns(level, 0);
    relax_columns(level, 1);
    find_rest(level);
    hand_down(level, &by->levels[l + 1]);
    descend(by, l + 1);
    take_back(level, &by->levels[l + 1]);
    relax_columns(level, 1);
    relax_columns(level, 0);
    relax_rows(level, 1);
    relax_rows(level, 0);
}

void mg_cycle(const multigrid *by)
{
    descend(by, 0);
}
