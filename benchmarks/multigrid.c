/* Sets up the levels: the links of the finest, interpolation, coarse links, pivots of lines. */
#include "multigrid.h"

#include <math.h>
#include <stdlib.h>

/* How much stiffer than its surroundings the link between two places of one unknown is. */
static const double STIFF = 1e3;
enum { COARSEST = 2000, NARROWEST = 6, ARRAYS = 9 };

/* Zeros before and behind every array: loops may reach one row and one place beyond. */
static size_t edge_of(size_t columns)
{
    return columns + 2;
}

static bool level_begin(mg_level *level, size_t columns, size_t rows)
{
    size_t count = columns * rows;
    size_t edge = edge_of(columns);
    *level = (mg_level){.columns = columns, .rows = rows};
    double **arrays[ARRAYS] = {&level->hold,  &level->east, &level->north,
                               &level->along, &level->up,   &level->load,
                               &level->value, &level->rest, &level->weights};
    bool done = true;
    for (int a = 0; a < ARRAYS; a++) {
        size_t room = arrays[a] == &level->weights ? 4 * count : count;
        double *block = calloc(room + 4 * edge * 2, sizeof(double));
        *arrays[a] = block != NULL ? block + 4 * edge : NULL;
        done = done && block != NULL;
    }
    return done;
}

static void level_end(mg_level *level)
{
    double *arrays[ARRAYS] = {level->hold, level->east,  level->north, level->along,  level->up,
                              level->load, level->value, level->rest,  level->weights};
    for (int a = 0; a < ARRAYS; a++) {
        free(arrays[a] != NULL ? arrays[a] - 4 * edge_of(level->columns) : NULL);
    }
}

void mg_free(multigrid *made)
{
    for (int l = 0; l < made->count; l++) {
        level_end(&made->levels[l]);
    }
    free(made->band);
    *made = (multigrid){0};
}

/* True where two places are neighbours along a line; then `*low` is the lower or left one. */
static bool beside(const mg_level *level, int32_t a, int32_t b, int32_t *low)
{
    int32_t columns = (int32_t)level->columns;
    *low = a < b ? a : b;
    int32_t apart = abs(a - b);
    return apart == columns || (apart == 1 && a / columns == b / columns);
}

/* A link between two unknowns acts where they have places beside each other: at one pair, or half
 * at each of two. */
static void add_link(mg_level *level, const lattice *on, const usi_link *link)
{
    const int32_t a[2] = {on->left[link->a], on->right[link->a]};
    const int32_t b[2] = {on->left[link->b], on->right[link->b]};
    double *at[4];
    int count = 0;
    for (int k = 0; k < (a[0] == a[1] ? 1 : 2); k++) {
        for (int m = 0; m < (b[0] == b[1] ? 1 : 2); m++) {
            int32_t low;
            if (beside(level, a[k], b[m], &low)) {
                at[count++] = abs(a[k] - b[m]) == 1 ? &level->east[low] : &level->north[low];
            }
        }
    }
    for (int k = 0; k < count; k++) {
        *at[k] += link->conductance / count;
    }
}

/* Where no unknown lies there are no links: such places are held. */
static void hold_lone(mg_level *level)
{
    size_t nx = level->columns;
    for (size_t k = 0; k < nx * level->rows; k++) {
        const double *east = &level->east[k];
        const double *north = &level->north[k];
        if (level->hold[k] + east[0] + east[-1] + north[0] + north[-(ptrdiff_t)nx] == 0.0) {
            level->hold[k] = 1.0;
        }
    }
}

static void fill_finest(const bench_matrix *matrix, mg_level *level)
{
    const lattice *on = &matrix->on;
    for (size_t k = 0; k < matrix->problem.link_count; k++) {
        const usi_link *link = &matrix->problem.links[k];
        int32_t free_end = link->a >= 0 ? link->a : link->b;
        if (link->a >= 0 && link->b >= 0) {
            add_link(level, on, link);
        } else if (free_end >= 0) {
            level->hold[on->left[free_end]] += 0.5 * link->conductance;
            level->hold[on->right[free_end]] += 0.5 * link->conductance;
        }
    }
    for (size_t u = 0; u < matrix->problem.free_count; u++) {
        int32_t left = on->left[u];
        int32_t right = on->right[u];
        if (left != right) {
            level->east[left] =
                STIFF * (level->hold[left] + level->hold[right] + level->east[left - 1] +
                         level->east[right] + level->north[left] + level->north[right]);
        }
    }
    hold_lone(level);
}

/* Shares of two neighbours, by the links with them. They come to 1 also beside what is held:
 * measured, that halves the iterations. */
static void share(double low, double high, double *of_low, double *of_high)
{
    double whole = low + high;
    *of_low = whole > 0.0 ? low / whole : 0.0;
    *of_high = whole > 0.0 ? high / whole : 0.0;
}

/* Coarse places are their own parents; those on coarse lines have two along them. */
static void weigh_on_lines(mg_level *level)
{
    size_t nx = level->columns;
    for (size_t j = 0; j < level->rows; j++) {
        for (size_t i = 0; i < nx; i++) {
            size_t k = j * nx + i;
            double *w = level->weights + 4 * k;
            if (i % 2 == 0 && j % 2 == 0) {
                w[0] = 1.0;
            } else if (j % 2 == 0) {
                share(level->east[k - 1], level->east[k], &w[0], &w[1]);
            } else if (i % 2 == 0) {
                share(level->north[k - nx], level->north[k], &w[0], &w[2]);
            }
        }
    }
}

/* Places between coarse lines have four parents: those of the places beside them. */
static void weigh_between(mg_level *level)
{
    size_t nx = level->columns;
    for (size_t j = 1; j < level->rows; j += 2) {
        for (size_t i = 1; i < nx; i += 2) {
            size_t k = j * nx + i;
            double *w = level->weights + 4 * k;
            double west = level->east[k - 1];
            double east = level->east[k];
            double south = level->north[k - nx];
            double north = level->north[k];
            double whole = west + east + south + north;
            double unit = whole > 0.0 ? 1.0 / whole : 0.0;
            const double *below = w - 4 * nx;
            const double *above = w + 4 * nx;
            w[0] = unit * (west * w[-4] + south * below[0]);
            w[1] = unit * (east * w[4] + south * below[1]);
            w[2] = unit * (west * w[-2] + north * above[0]);
            w[3] = unit * (east * w[6] + north * above[1]);
        }
    }
}

static double in_a_row(double one, double other)
{
    return one + other > 0.0 ? one * (other / (one + other)) : 0.0;
}

/* Coarse links along level lines. A line left out goes to those beside it by the shares that its
 * ends have of them. */
static void link_along(const mg_level *fine, mg_level *coarse)
{
    size_t nx = fine->columns;
    for (size_t j = 0; j < fine->rows; j++) {
        double *east = coarse->east + j / 2 * coarse->columns;
        for (size_t i = 0; i + 2 < nx; i += 2) {
            size_t k = j * nx + i;
            double link = in_a_row(fine->east[k], fine->east[k + 1]);
            const double *w = fine->weights + 4 * k;
            if (j % 2 == 0) {
                east[i / 2] += link;
            } else {
                east[i / 2] += 0.5 * (w[0] + w[8]) * link;
                east[i / 2 + coarse->columns] += 0.5 * (w[2] + w[10]) * link;
            }
        }
    }
}

static void link_up(const mg_level *fine, mg_level *coarse)
{
    size_t nx = fine->columns;
    for (size_t j = 0; j + 2 < fine->rows; j += 2) {
        double *north = coarse->north + j / 2 * coarse->columns;
        for (size_t i = 0; i < nx; i++) {
            size_t k = j * nx + i;
            double link = in_a_row(fine->north[k], fine->north[k + nx]);
            const double *w = fine->weights + 4 * k;
            const double *above = w + 8 * nx;
            if (i % 2 == 0) {
                north[i / 2] += link;
            } else {
                north[i / 2] += 0.5 * (w[0] + above[0]) * link;
                north[i / 2 + 1] += 0.5 * (w[1] + above[1]) * link;
            }
        }
    }
}

static void fill_coarse(const mg_level *fine, mg_level *coarse)
{
    link_along(fine, coarse);
    link_up(fine, coarse);
    for (size_t j = 0; j < fine->rows; j++) {
        for (size_t i = 0; i < fine->columns; i++) {
            size_t k = j * fine->columns + i;
            double *to = coarse->hold + j / 2 * coarse->columns + i / 2;
            for (size_t q = 0; q < 4; q++) {
                double weight = fine->weights[4 * k + q];
                to[q / 2 * coarse->columns + q % 2] += weight * fine->hold[k];
            }
        }
    }
    hold_lone(coarse);
}

/* Pivots of the lines by themselves, without differences: each place hangs on those across its
 * line, on what the part before it hangs on, and on the next place. */
static void find_pivots(mg_level *level)
{
    ptrdiff_t nx = (ptrdiff_t)level->columns;
    ptrdiff_t count = nx * (ptrdiff_t)level->rows;
    const double *east = level->east;
    const double *north = level->north;
    for (ptrdiff_t k = 0; k < count; k++) {
        /* 1 - east * along is the share of the part before that hangs on something else. */
        double before = k % nx > 0 ? level->load[k - 1] * level->along[k - 1] : 0.0;
        level->load[k] = level->hold[k] + north[k - nx] + north[k] + east[k - 1] * before;
        level->along[k] = 1.0 / (level->load[k] + east[k]);
    }
    for (ptrdiff_t k = 0; k < count; k++) {
        double before = level->rest[k - nx] * level->up[k - nx];
        level->rest[k] = level->hold[k] + east[k - 1] + east[k] + north[k - nx] * before;
        level->up[k] = 1.0 / (level->rest[k] + north[k]);
    }
}

bool mg_make(const bench_matrix *matrix, multigrid *made)
{
    *made = (multigrid){.count = 1};
    if (!level_begin(&made->levels[0], matrix->on.columns, matrix->on.rows)) {
        return false;
    }
    fill_finest(matrix, &made->levels[0]);
    for (;;) {
        mg_level *fine = &made->levels[made->count - 1];
        size_t least = fine->columns < fine->rows ? fine->columns : fine->rows;
        find_pivots(fine);
        if (fine->columns * fine->rows <= COARSEST || least < NARROWEST ||
            made->count == LEVELS_MOST) {
            return mg_band_make(made);
        }
        mg_level *coarse = &made->levels[made->count++];
        if (!level_begin(coarse, (fine->columns + 1) / 2, (fine->rows + 1) / 2)) {
            return false;
        }
        weigh_on_lines(fine);
        weigh_between(fine);
        fill_coarse(fine, coarse);
    }
}
