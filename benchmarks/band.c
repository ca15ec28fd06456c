/* The coarsest level: Cholesky in a band. */
#include <math.h>
#include <stdlib.h>

#include "multigrid.h"

/* Entry (k, k - d) of the band, d from 0 to the number of columns. */
static double *band_at(const multigrid *of, size_t k, size_t d)
{
    return of->band + k * (of->levels[of->count - 1].columns + 1) + d;
}

static void fill(const multigrid *of)
{
    const mg_level *level = &of->levels[of->count - 1];
    size_t nx = level->columns;
    for (size_t k = 0; k < nx * level->rows; k++) {
        double west = level->east[(ptrdiff_t)k - 1];
        double south = level->north[(ptrdiff_t)k - (ptrdiff_t)nx];
        *band_at(of, k, 0) = level->hold[k] + level->east[k] + level->north[k] + west + south;
        *band_at(of, k, 1) = -west;
        *band_at(of, k, nx) = -south;
    }
}

static void factorise_row(const multigrid *of, size_t k)
{
    size_t width = of->levels[of->count - 1].columns;
    size_t most = k < width ? k : width;
    for (size_t d = most; d > 0; d--) {
        double sum = *band_at(of, k, d);
        for (size_t m = d + 1; m <= most; m++) {
            sum -= *band_at(of, k, m) * *band_at(of, k - d, m - d);
        }
        *band_at(of, k, d) = sum / *band_at(of, k - d, 0);
    }
    double sum = *band_at(of, k, 0);
    for (size_t m = 1; m <= most; m++) {
        sum -= *band_at(of, k, m) * *band_at(of, k, m);
    }
    *band_at(of, k, 0) = sqrt(sum);
}

bool mg_band_make(multigrid *of)
{
    const mg_level *level = &of->levels[of->count - 1];
    size_t count = level->columns * level->rows;
    of->band = calloc(count * (level->columns + 1), sizeof *of->band);
    if (of->band == NULL) {
        return false;
    }
    fill(of);
    for (size_t k = 0; k < count; k++) {
        factorise_row(of, k);
    }
    return true;
}

void mg_band_solve(const multigrid *of)
{
    const mg_level *level = &of->levels[of->count - 1];
    size_t width = level->columns;
    double *x = level->value;
    for (size_t k = 0; k < width * level->rows; k++) {
        double sum = level->load[k];
        for (size_t d = 1; d <= width && d <= k; d++) {
            sum -= *band_at(of, k, d) * x[k - d];
        }
        x[k] = sum / *band_at(of, k, 0);
    }
    for (size_t k = width * level->rows; k-- > 0;) {
        x[k] /= *band_at(of, k, 0);
        for (size_t d = 1; d <= width && d <= k; d++) {
            x[k - d] -= *band_at(of, k, d) * x[k];
        }
    }
}
