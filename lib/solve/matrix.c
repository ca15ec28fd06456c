#include "solve/matrix.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/factor.h"

typedef struct work {
    const usi_problem *problem;
    size_t rows;
    const int32_t *rank; /* of each row: when it is eliminated */
    bool upper;
    int *begin;
    int *count;
    int *row;
    double *value;
} work;

static bool has_row(const work *of, int32_t place)
{
    return place >= 0 && (size_t)place < of->rows;
}

/* Where the entry of a link between rows stands. */
static void entry_at(const work *of, const usi_link *link, int32_t *row, int32_t *column)
{
    int32_t a = of->rank[link->a];
    int32_t b = of->rank[link->b];
    bool swapped = (a < b) == of->upper;
    *row = swapped ? a : b;
    *column = swapped ? b : a;
}

static void count_entries(work *of)
{
    for (size_t k = 0; k < of->problem->link_count; k++) {
        const usi_link *link = &of->problem->links[k];
        if (has_row(of, link->a) && has_row(of, link->b)) {
            int32_t row;
            int32_t column;
            entry_at(of, link, &row, &column);
            of->begin[column]++;
        }
    }
    int next = 0;
    for (size_t column = 0; column < of->rows; column++) {
        int entries = of->begin[column] + 1;
        of->begin[column] = next;
        of->row[next] = (int)column;
        of->value[next] = 0.0;
        of->count[column] = 1;
        next += entries;
    }
    of->begin[of->rows] = next;
}

/* Adds to the entry if the column has it, or makes it: most have it last, if at all. */
static void add(work *of, int32_t row, int32_t column, double value)
{
    int first = of->begin[column];
    int end = first + of->count[column];
    int k = end - 1;
    while (k > first && of->row[k] != row) {
        k--;
    }
    if (k == first) {
        k = end;
        of->row[k] = row;
        of->value[k] = 0.0;
        of->count[column]++;
    }
    of->value[k] += value;
}

/* The diagonal stands first in each column. Gates hang on nothing but themselves once more
 * as much as on their neighbours: soil that gates alone hold heads in is no singular matrix
 * then. */
static void fill(work *of)
{
    for (size_t k = 0; k < of->problem->link_count; k++) {
        const usi_link *link = &of->problem->links[k];
        bool rows[2] = {has_row(of, link->a), has_row(of, link->b)};
        if (rows[0]) {
            of->value[of->begin[of->rank[link->a]]] += link->conductance;
        }
        if (rows[1]) {
            of->value[of->begin[of->rank[link->b]]] += link->conductance;
        }
        if (rows[0] && rows[1]) {
            int32_t row;
            int32_t column;
            entry_at(of, link, &row, &column);
            add(of, row, column, -link->conductance);
        }
    }
    for (size_t gate = of->problem->free_count; gate < of->rows; gate++) {
        of->value[of->begin[of->rank[gate]]] *= 2.0;
    }
}

us_status usi_matrix_assemble(us_context *context, const usi_problem *problem, const int32_t *order,
                              usi_half half, cholmod_common *common, cholmod_sparse **made)
{
    size_t rows = problem->free_count + problem->gate_count;
    int32_t *rank = usi_memory_array(context, rows, sizeof *rank);
    if (rank == NULL) {
        return US_ERROR_MEMORY;
    }
    cholmod_sparse *matrix = cholmod_allocate_sparse(rows, rows, rows + problem->link_count, 0, 0,
                                                     half, CHOLMOD_REAL, common);
    if (matrix == NULL) {
        free(rank);
        return usi_factor_report(context, common);
    }
    usi_memory_advise(matrix->x, matrix->nzmax * sizeof(double));
    usi_memory_advise(matrix->i, matrix->nzmax * sizeof(int));
    for (size_t k = 0; k < rows; k++) {
        rank[order[k]] = (int32_t)k;
    }
    work of = {problem,   rows,       rank,      half == USI_HALF_UPPER,
               matrix->p, matrix->nz, matrix->i, matrix->x};
    count_entries(&of);
    fill(&of);
    free(rank);
    *made = matrix;
    return US_OK;
}
