#include "solve/tail.h"

typedef struct tail {
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

static void take_simplicial(const tail *to, const cholmod_factor *from)
{
    const int *begin = from->p;
    const int *length = from->nz;
    const int *rows = from->i;
    const double *values = from->x;
    for (size_t column = 0; column < from->n; column++) {
        for (int k = begin[column]; to->rank[column] >= 0 && k < begin[column] + length[column];
             k++) {
            take_entry(to, rows[k], column, values[k]);
        }
    }
}

static void take_blocks(const tail *to, const usi_blocks *from)
{
    for (size_t block = 0; block < from->count; block++) {
        const int32_t *rows = from->row + from->row_begin[block];
        for (size_t k = 0; k < usi_blocks_columns(from, block); k++) {
            size_t column = (size_t)from->first[block] + k;
            const double *of = usi_blocks_column(from, block, k);
            if (to->rank[column] < 0) {
                continue;
            }
            take_entry(to, rows[k], column, 1.0 / of[0]);
            for (size_t i = k + 1; i < usi_blocks_rows(from, block); i++) {
                take_entry(to, rows[i], column, of[i - k]);
            }
        }
    }
}

void usi_tail_take(const usi_factor *factor, const int *rank, double *lower, size_t count)
{
    tail to = {rank, lower, count};
    if (factor->cholmod == NULL) {
        take_blocks(&to, &factor->blocks);
    } else {
        take_simplicial(&to, factor->cholmod);
    }
}
