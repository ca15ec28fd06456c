/* Conjugate gradients with a multigrid cycle. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "multigrid.h"

static const double SETTLED = 1e-10; /* of the residual, relative */
enum { ITERATIONS_MOST = 200 };

/* The matrix by rows, both halves, without its diagonal: what a row comes to as a whole instead,
 * so that it acts on differences of values and nothing weak drowns in it. */
typedef struct rows {
    size_t count;
    size_t *first;
    int32_t *column;
    double *value;
    double *excess;
} rows;

static void rows_end(rows *of)
{
    free(of->first);
    free(of->column);
    free(of->value);
    free(of->excess);
}

static bool joins(const usi_link *link)
{
    return link->a >= 0 && link->b >= 0;
}

/* Adds to the entry of a row for a column; sides of two cells share one. */
static void add_entry(rows *to, size_t *used, int32_t row, int32_t column, double value)
{
    size_t k = to->first[row];
    while (k < used[row] && to->column[k] != column) {
        k++;
    }
    if (k == used[row]) {
        to->column[k] = column;
        to->value[k] = 0.0;
        used[row]++;
    }
    to->value[k] += value;
}

static void fill_rows(const usi_problem *problem, rows *to, size_t *used)
{
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        const int32_t ends[2] = {link->a, link->b};
        for (int e = 0; e < 2; e++) {
            if (joins(link)) {
                add_entry(to, used, ends[e], ends[1 - e], -link->conductance);
            } else if (ends[e] >= 0) {
                to->excess[ends[e]] += link->conductance;
            }
        }
    }
}

/* Moves rows together; the room for them was for links counted twice. */
static void close_ranks(rows *of, const size_t *used)
{
    size_t next = 0;
    for (size_t r = 0; r < of->count; r++) {
        size_t length = used[r] - of->first[r];
        memmove(of->column + next, of->column + of->first[r], length * sizeof *of->column);
        memmove(of->value + next, of->value + of->first[r], length * sizeof *of->value);
        of->first[r] = next;
        next += length;
    }
    of->first[of->count] = next;
}

static bool rows_make(const usi_problem *problem, rows *made)
{
    *made = (rows){.count = problem->free_count};
    made->first = calloc(made->count + 1, sizeof *made->first);
    size_t *used = malloc((made->count + 1) * sizeof *used);
    if (made->first == NULL || used == NULL) {
        free(used);
        return false;
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        for (int e = 0; joins(link) && e < 2; e++) {
            made->first[(e == 0 ? link->a : link->b) + 1]++;
        }
    }
    for (size_t r = 0; r < made->count; r++) {
        made->first[r + 1] += made->first[r];
        used[r] = made->first[r];
    }
    made->column = malloc(made->first[made->count] * sizeof *made->column);
    made->value = malloc(made->first[made->count] * sizeof *made->value);
    made->excess = calloc(made->count, sizeof *made->excess);
    bool done = made->column != NULL && made->value != NULL && made->excess != NULL;
    if (done) {
        fill_rows(problem, made, used);
        close_ranks(made, used);
    }
    free(used);
    return done;
}

static void multiply(const rows *by, const double *x, double *y)
{
    for (size_t r = 0; r < by->count; r++) {
        double sum = by->excess[r] * x[r];
        for (size_t k = by->first[r]; k < by->first[r + 1]; k++) {
            sum += by->value[k] * (x[by->column[k]] - x[r]);
        }
        y[r] = sum;
    }
}

static double dot(size_t count, const double *x, const double *y)
{
    double sum = 0.0;
    for (size_t k = 0; k < count; k++) {
        sum += x[k] * y[k];
    }
    return sum;
}

static void precondition(const bench_matrix *matrix, const multigrid *by, const double *rest,
                         double *change)
{
    const lattice *on = &matrix->on;
    const mg_level *finest = &by->levels[0];
    memset(finest->load, 0, finest->columns * finest->rows * sizeof *finest->load);
    for (size_t u = 0; u < matrix->problem.free_count; u++) {
        finest->load[on->left[u]] += 0.5 * rest[u];
        finest->load[on->right[u]] += 0.5 * rest[u];
    }
    mg_cycle(by);
    for (size_t u = 0; u < matrix->problem.free_count; u++) {
        change[u] = 0.5 * (finest->value[on->left[u]] + finest->value[on->right[u]]);
    }
}

/* The work space of the iteration. */
typedef struct vectors {
    double *rest;
    double *change;
    double *direction;
    double *image;
} vectors;

static void load_of(const usi_problem *problem, double *load)
{
    memset(load, 0, problem->free_count * sizeof *load);
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        if (link->a >= 0 && link->b == USI_PLACE_ONE) {
            load[link->a] += link->conductance;
        } else if (link->b >= 0 && link->a == USI_PLACE_ONE) {
            load[link->b] += link->conductance;
        }
    }
}

static void iterate(const bench_matrix *matrix, const multigrid *by, const rows *matrix_rows,
                    const vectors *with, double *values, mg_outcome *outcome)
{
    size_t n = matrix_rows->count;
    double before = 0.0;
    load_of(&matrix->problem, with->rest);
    memset(values, 0, n * sizeof *values);
    double whole = sqrt(dot(n, with->rest, with->rest));
    outcome->residual = 1.0;
    for (outcome->iterations = 0;
         outcome->residual > SETTLED && outcome->iterations < ITERATIONS_MOST;
         outcome->iterations++) {
        precondition(matrix, by, with->rest, with->change);
        double now = dot(n, with->rest, with->change);
        double keep = outcome->iterations == 0 ? 0.0 : now / before;
        for (size_t k = 0; k < n; k++) {
            with->direction[k] = with->change[k] + keep * with->direction[k];
        }
        multiply(matrix_rows, with->direction, with->image);
        double step = now / dot(n, with->direction, with->image);
        for (size_t k = 0; k < n; k++) {
            values[k] += step * with->direction[k];
            with->rest[k] -= step * with->image[k];
        }
        before = now;
        outcome->residual = sqrt(dot(n, with->rest, with->rest)) / whole;
    }
}

bool mg_solve(const bench_matrix *matrix, double *values, mg_outcome *outcome)
{
    size_t n = matrix->problem.free_count;
    double start_s = bench_now_s();
    multigrid by = {0};
    rows by_row = {0};
    double *room = calloc(4 * n, sizeof *room);
    bool done = room != NULL && rows_make(&matrix->problem, &by_row) && mg_make(matrix, &by);
    outcome->set_up_s = bench_now_s() - start_s;
    if (done) {
        vectors with = {room, room + n, room + 2 * n, room + 3 * n};
        iterate(matrix, &by, &by_row, &with, values, outcome);
        done = outcome->residual <= SETTLED;
    }
    outcome->solve_s = bench_now_s() - start_s - outcome->set_up_s;
    mg_free(&by);
    rows_end(&by_row);
    free(room);
    return done;
}
