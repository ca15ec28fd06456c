/* Catches the problem that the library is about to solve, and finds its unknowns on the grid. */
#include "matrices.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "grid/grid.h"
#include "solve/field.h"
#include "solve/head.h"
#include "undersill/undersill.h"

/* Where the next problem goes; NULL: it is solved as usual. */
static usi_problem *wanted;

/* Names that the linker's --wrap makes. */
us_status __wrap_usi_problem_solve_rest(us_context *context, const usi_problem *problem,
                                        double *values, double *rest);
us_status __real_usi_problem_solve_rest(us_context *context, const usi_problem *problem,
                                        double *values, double *rest);

static void *copy_of(const void *from, size_t bytes)
{
    void *copy = malloc(bytes + 1);
    if (copy != NULL && from != NULL) {
        memcpy(copy, from, bytes);
    }
    return copy;
}

us_status __wrap_usi_problem_solve_rest(us_context *context, const usi_problem *problem,
                                        double *values, double *rest)
{
    if (wanted == NULL) {
        return __real_usi_problem_solve_rest(context, problem, values, rest);
    }
    *wanted = *problem;
    wanted->links = copy_of(problem->links, problem->link_count * sizeof *wanted->links);
    wanted->link_room = problem->link_count;
    wanted->spots = copy_of(problem->spots, problem->free_count * sizeof *wanted->spots);
    wanted = NULL;
    return US_NOT_CONVERGED;
}

/* Marks what stands under water: it is no unknown of the problem. */
static void mark_fixed(const usi_grid *grid, size_t i, size_t j, uint8_t *fixed)
{
    static const usi_corner ends[4][2] = {{USI_LOWER_LEFT, USI_LOWER_RIGHT},
                                          {USI_LOWER_RIGHT, USI_UPPER_RIGHT},
                                          {USI_UPPER_LEFT, USI_UPPER_RIGHT},
                                          {USI_LOWER_LEFT, USI_UPPER_LEFT}};
    for (int d = 0; d < 4; d++) {
        if (usi_border_water(usi_grid_border(grid, i, j, (usi_direction)d)) != 0) {
            fixed[usi_grid_unknown(grid, i, j, ends[d][0])] = 1;
            fixed[usi_grid_unknown(grid, i, j, ends[d][1])] = 1;
        }
    }
}

/* The first lattice column of each grid line; a line with a wall has two. */
static size_t *spread_columns(const usi_grid *grid, size_t *columns)
{
    size_t lines = grid->columns + 1;
    size_t *first = calloc(lines, sizeof *first);
    *columns = 0;
    for (size_t i = 0; first != NULL && i < lines; i++) {
        bool wall = false;
        for (size_t j = 0; j < grid->rows && !wall; j++) {
            wall = grid->wall_left[j * lines + i] != 0;
        }
        first[i] = *columns;
        *columns += wall ? 2 : 1;
    }
    return first;
}

/* Notes that a cell beside a grid line has an unknown as a corner. */
static void place(const usi_grid *grid, const size_t *first, size_t cell, usi_corner corner,
                  lattice *all)
{
    size_t i = cell % grid->columns;
    size_t j = cell / grid->columns;
    size_t line = usi_grid_node_i(i, corner);
    size_t next = line < grid->columns ? first[line + 1] : all->columns;
    /* The right face of a line with two columns is seen by the cell on its right. */
    size_t column = line == i && next == first[line] + 2 ? first[line] + 1 : first[line];
    int32_t at = (int32_t)(usi_grid_node_j(j, corner) * all->columns + column);
    int32_t unknown = usi_grid_unknown(grid, i, j, corner);
    if (all->left[unknown] < 0 || all->left[unknown] > at) {
        all->left[unknown] = at;
    }
    if (all->right[unknown] < at) {
        all->right[unknown] = at;
    }
}

/* Keeps the places of those that are free, in the order of their numbers. */
static size_t drop_fixed(const usi_grid *grid, const uint8_t *fixed, lattice *on)
{
    size_t kept = 0;
    for (size_t u = 0; u < grid->unknowns; u++) {
        if (fixed[u] == 0) {
            on->left[kept] = on->left[u];
            on->right[kept++] = on->right[u];
        }
    }
    return kept;
}

/* False when memory is short, or unknowns are not where they should be. */
static bool find_places(const usi_grid *grid, size_t free_count, lattice *on)
{
    size_t *first = spread_columns(grid, &on->columns);
    uint8_t *fixed = calloc(grid->unknowns, 1);
    on->rows = grid->rows + 1;
    on->left = malloc(grid->unknowns * sizeof *on->left);
    on->right = malloc(grid->unknowns * sizeof *on->right);
    bool done = first != NULL && fixed != NULL && on->left != NULL && on->right != NULL;
    for (size_t u = 0; done && u < grid->unknowns; u++) {
        on->left[u] = -1;
        on->right[u] = -1;
    }
    for (size_t cell = 0; done && cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            mark_fixed(grid, cell % grid->columns, cell / grid->columns, fixed);
            for (int c = 0; c < 4; c++) {
                place(grid, first, cell, (usi_corner)c, on);
            }
        }
    }
    done = done && drop_fixed(grid, fixed, on) == free_count;
    free(first);
    free(fixed);
    return done;
}

static bool catch_problem(us_context *context, const usi_grid *grid, bench_matrix *made)
{
    double *reduced = calloc(grid->unknowns, sizeof *reduced);
    usi_field field = {.grid = grid, .reduced = reduced};
    wanted = &made->problem;
    bool done = reduced != NULL && usi_head_solve(context, &field) == US_NOT_CONVERGED &&
                wanted == NULL && made->problem.links != NULL && made->problem.spots != NULL;
    wanted = NULL;
    free(reduced);
    return done && find_places(grid, made->problem.free_count, &made->on);
}

/* A grid whose unknowns are within a few per cent of those wanted, or the nearest that could be
 * had; NULL for none. */
static usi_grid *build_grid(us_context *context, const us_section *section, double unknowns)
{
    enum { ROUNDS = 10 };
    double cells = 0.14 * sqrt(unknowns);
    double too_many = HUGE_VAL; /* cells that no grid has room for */
    usi_grid *best = NULL;
    double off = HUGE_VAL;
    for (int round = 0; round < ROUNDS && off >= 0.02; round++) {
        usi_grid_options options = {.cells = cells, .truncation = 1e-4, .most = USI_GRID_MOST};
        usi_grid *grid = NULL;
        if (usi_grid_build(context, section, &options, &grid) != US_OK) {
            too_many = cells;
            cells *= 0.9;
            continue;
        }
        double ratio = unknowns / (double)grid->unknowns;
        double next = cells * sqrt(ratio);
        cells = next < too_many ? next : 0.5 * (cells + too_many);
        bool nearer = fabs(ratio - 1.0) < off;
        off = nearer ? fabs(ratio - 1.0) : off;
        usi_grid_free(nearer ? best : grid);
        best = nearer ? grid : best;
    }
    return best;
}

bool bench_matrix_make(const char *path, double unknowns, bench_matrix *made)
{
    *made = (bench_matrix){0};
    us_context *context = us_context_create();
    us_section *section = NULL;
    usi_grid *grid = NULL;
    if (context != NULL && us_section_read_file(context, path, &section) == US_OK) {
        grid = build_grid(context, section, unknowns);
    }
    /* Sloping edges have unknowns off the lattice. */
    bool done = grid != NULL && grid->triangle_count == 0 && catch_problem(context, grid, made);
    if (!done) {
        (void)fprintf(stderr, "bench: no matrix of %.0f unknowns from %s\n", unknowns, path);
        bench_matrix_free(made);
    }
    usi_grid_free(grid);
    us_section_free(section);
    us_context_free(context);
    return done;
}

void bench_matrix_free(bench_matrix *matrix)
{
    usi_problem_free(&matrix->problem);
    free(matrix->on.left);
    free(matrix->on.right);
    *matrix = (bench_matrix){0};
}
