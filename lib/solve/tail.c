#include "solve/tail.h"

typedef struct tail {
    const cholmod_factor *from;
    const int *rank;
    double *lower;
    size_t count;
} tail;

static void take_entry(const tail *to, int row, size_t column, double value)
{
    if (to->rank[row] >= 0 && row >= (int)column) {
        to->lower[(size_t)to->rank[row] * to->count + (size_t)to->rank[column]] = value;
    }
}

static void take_simplicial(const tail *to)
{
    const int *begin = to->from->p;
    const int *length = to->from->nz;
    const int *rows = to->from->i;
    const double *values = to->from->x;
    for (size_t column = 0; column < to->from->n; column++) {
        for (int k = begin[column]; to->rank[column] >= 0 && k < begin[column] + length[column];
             k++) {
            take_entry(to, rows[k], column, values[k]);
        }
    }
}

static void take_supernodal(const tail *to)
{
    const int *first = to->from->super;
    const int *rows = to->from->s;
    const int *row_begin = to->from->pi;
    const int *begin = to->from->px;
    const double *values = to->from->x;
    for (size_t block = 0; block < to->from->nsuper; block++) {
        size_t height = (size_t)(row_begin[block + 1] - row_begin[block]);
        for (int column = first[block]; column < first[block + 1]; column++) {
            const double *of = values + begin[block] + (size_t)(column - first[block]) * height;
            for (size_t k = 0; to->rank[column] >= 0 && k < height; k++) {
                take_entry(to, rows[(size_t)row_begin[block] + k], (size_t)column, of[k]);
            }
        }
    }
}

void usi_tail_take(const usi_factor *factor, const int *rank, double *lower, size_t count)
{
    tail to = {factor->cholmod, rank, lower, count};
    if (factor->cholmod->is_super) {
        take_supernodal(&to);
    } else {
        take_simplicial(&to);
    }
}
