/* A factor in blocks: where its entries are, and what they are. */
#ifndef USI_SOLVE_BLOCKS_H
#define USI_SOLVE_BLOCKS_H

#include <cholmod.h>
#include <stdbool.h>
#include <stdint.h>

#include "undersill/context.h"

/* A block is a few columns that follow each other, of one pattern: the columns' own rows, then
 * those below that they share. Every column has all of these from its own on. */
typedef struct usi_blocks {
    size_t rows; /* of the matrix */
    size_t count;
    int32_t *first;    /* column of each block, and one past the last */
    size_t *row_begin; /* of each block, in row; one more */
    int32_t *row;      /* rising in each block */
    size_t *begin;     /* of each block, in numbers; one more */
    int32_t *above;    /* of each block: the one that its first row below belongs to; -1: none */
    double *numbers;   /* by columns, once usi_fronts_factorise() has filled them; each begins
                          with one over the diagonal */
    size_t most_rows;  /* of a block */
} usi_blocks;

/* Finds the pattern of the Cholesky factor of a matrix: its lower part by columns, in the order
 * of elimination. Columns from one that `starts` a block (one a row; the first does) to the
 * next are taken to have the same pattern: where they have not, zeros fill it up. Blocks are
 * put together where that takes few zeros more. Has every entry that elimination can make.
 * US_OK or US_ERROR_MEMORY; free in either case with usi_blocks_free(). */
us_status usi_blocks_find(us_context *context, const cholmod_sparse *matrix, const bool *starts,
                          usi_blocks *blocks);
void usi_blocks_free(usi_blocks *blocks);

/* Sums of products it takes to find the numbers. */
double usi_blocks_operations(const usi_blocks *blocks);

static inline size_t usi_blocks_columns(const usi_blocks *of, size_t block)
{
    return (size_t)(of->first[block + 1] - of->first[block]);
}

static inline size_t usi_blocks_rows(const usi_blocks *of, size_t block)
{
    return of->row_begin[block + 1] - of->row_begin[block];
}

/* Where a column of a block begins in the numbers. */
static inline double *usi_blocks_column(const usi_blocks *of, size_t block, size_t column)
{
    size_t before = column * usi_blocks_rows(of, block) - column * (column - 1) / 2;
    return of->numbers + of->begin[block] + before;
}

/* Rows below the columns' own, and how many. */
static inline const int32_t *usi_blocks_below(const usi_blocks *of, size_t block)
{
    return of->row + of->row_begin[block] + usi_blocks_columns(of, block);
}

static inline size_t usi_blocks_rest(const usi_blocks *of, size_t block)
{
    return usi_blocks_rows(of, block) - usi_blocks_columns(of, block);
}

#endif
