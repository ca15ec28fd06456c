#include "solve/fronts.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "solve/panel.h"
#include "solve/room.h"

/* Sums of products after which the caller is heard. */
static const double PULSE_WORK = 3e8;
static const double BEGUN = 0.25;
static const double ENDED = 0.9;

/* A block is a few columns of one pattern. Its front is the square of the rows in which
 * they have entries: what the matrix has in the columns, and what the blocks below it in the
 * tree of elimination leave to it. Of that the columns become the factor's, and the rest,
 * packed, waits on a pile for the block above. */
typedef struct fronts {
    us_context *context;
    const cholmod_sparse *matrix;
    usi_blocks *blocks;
    int32_t *below; /* of each block: the last of those that left a rest to it, -1 for none, */
    int32_t *next;  /* and of each of them the one before */
    int32_t *local; /* of each row: where it stands in the front at hand */
    int32_t *spread;
    int32_t *pile; /* blocks whose rest waits, or waited, */
    size_t piled;
    size_t *begin; /* and where on the pile it does; SIZE_MAX when taken */
    size_t height; /* of the pile, in numbers */
    size_t highest;
    double *rests;
    double *front;
    double work; /* done */
    double pulsed;
    double all_work;
} fronts;

/* A block's front. */
typedef struct place {
    size_t block;
    size_t size;
    size_t columns;
    size_t stride;
} place;

static size_t packed(size_t size)
{
    return size * (size + 1) / 2;
}

static void pile_up(fronts *of, size_t block)
{
    of->begin[block] = of->height;
    of->pile[of->piled++] = (int32_t)block;
    of->height += packed(usi_blocks_rest(of->blocks, block));
    of->highest = of->height > of->highest ? of->height : of->highest;
    of->next[block] = of->below[of->blocks->above[block]];
    of->below[of->blocks->above[block]] = (int32_t)block;
}

/* Takes the rests that were left to a block off the pile, or marks them where others lie on
 * top. */
static void take_off(fronts *of, size_t block)
{
    for (int32_t from = of->below[block]; from >= 0; from = of->next[from]) {
        of->begin[from] = SIZE_MAX;
    }
    of->below[block] = -1;
    while (of->piled > 0 && of->begin[of->pile[of->piled - 1]] == SIZE_MAX) {
        of->piled--;
        of->height -= packed(usi_blocks_rest(of->blocks, (size_t)of->pile[of->piled]));
    }
}

static double work_of(const fronts *of, size_t block)
{
    double rows = (double)usi_blocks_rows(of->blocks, block);
    double rest = (double)usi_blocks_rest(of->blocks, block);
    return (rows - rest) * (rows * rows + rows * rest + rest * rest) / 3.0 + rows * rows;
}

/* Goes through all blocks without their numbers: how high the pile gets. */
static void try_out(fronts *of)
{
    for (size_t block = 0; block < of->blocks->count; block++) {
        of->below[block] = -1;
    }
    for (size_t block = 0; block < of->blocks->count; block++) {
        of->all_work += work_of(of, block);
        take_off(of, block);
        if (of->blocks->above[block] >= 0) {
            pile_up(of, block);
        }
    }
}

static us_status make_room(fronts *of)
{
    us_context *context = of->context;
    size_t count = of->blocks->count;
    size_t most = of->blocks->most_rows;
    of->below = usi_memory_array(context, count, sizeof *of->below);
    of->next = usi_memory_array(context, count, sizeof *of->next);
    of->pile = usi_memory_array(context, count, sizeof *of->pile);
    of->begin = usi_memory_array(context, count, sizeof *of->begin);
    of->local = usi_memory_array(context, of->blocks->rows, sizeof *of->local);
    of->spread = usi_memory_array(context, most, sizeof *of->spread);
    if (of->below == NULL || of->next == NULL || of->pile == NULL || of->begin == NULL ||
        of->local == NULL || of->spread == NULL) {
        return US_ERROR_MEMORY;
    }
    try_out(of);
    size_t stride = usi_panel_stride(most);
    of->rests = usi_memory_room(context, of->highest, sizeof *of->rests);
    of->front = usi_memory_array(context, stride * (most + 2 * USI_PANEL_PAST), sizeof *of->front);
    return of->rests != NULL && of->front != NULL ? US_OK : US_ERROR_MEMORY;
}

static void free_room(fronts *of)
{
    free(of->below);
    free(of->next);
    free(of->pile);
    free(of->begin);
    free(of->local);
    free(of->spread);
    free(of->rests);
    free(of->front);
}

/* The room past the last of the block's columns lies between them and the others. */
static double *column_at(const fronts *of, const place *at, size_t column)
{
    return of->front + (column + (column >= at->columns ? USI_PANEL_PAST : 0)) * at->stride;
}

static void clear_front(fronts *of, const place *at)
{
    for (size_t column = 0; column < at->size; column++) {
        memset(column_at(of, at, column) + column, 0, (at->size - column) * sizeof *of->front);
    }
}

static void add_matrix(fronts *of, const place *at)
{
    const int *begin = of->matrix->p;
    const int *count = of->matrix->nz;
    const int *rows = of->matrix->i;
    const double *values = of->matrix->x;
    for (size_t column = 0; column < at->columns; column++) {
        size_t from = (size_t)of->blocks->first[at->block] + column;
        double *to = of->front + column * at->stride;
        for (int k = begin[from]; k < begin[from] + count[from]; k++) {
            to[of->local[rows[k]]] += values[k];
        }
    }
}

/* Adds what a block left. Rows that follow each other in both fronts are the rule. */
static void add_rest(fronts *of, const place *at, size_t from)
{
    size_t size = usi_blocks_rest(of->blocks, from);
    const int32_t *rows = usi_blocks_below(of->blocks, from);
    const double *value = of->rests + of->begin[from];
    for (size_t k = 0; k < size; k++) {
        of->spread[k] = of->local[rows[k]];
    }
    size_t together = size - 1; /* from there on rows follow each other */
    while (together > 0 && of->spread[together - 1] + 1 == of->spread[together]) {
        together--;
    }
    for (size_t column = 0; column < size; column++) {
        double *to = column_at(of, at, (size_t)of->spread[column]);
        size_t row = column;
        for (; row < together; row++) {
            to[of->spread[row]] += *value++;
        }
        double *rest = to + of->spread[row];
        for (size_t k = 0; k < size - row; k++) {
            rest[k] += value[k];
        }
        value += size - row;
    }
}

static void keep_columns(const fronts *of, const place *at)
{
    double *to = of->blocks->numbers + of->blocks->begin[at->block];
    for (size_t column = 0; column < at->columns; column++) {
        const double *from = of->front + column * (at->stride + 1);
        memcpy(to, from, (at->size - column) * sizeof *to);
        *to = 1.0 / *from;
        to += at->size - column;
    }
}

static void keep_rest(fronts *of, const place *at)
{
    double *to = of->rests + of->begin[at->block];
    for (size_t column = at->columns; column < at->size; column++) {
        memcpy(to, column_at(of, at, column) + column, (at->size - column) * sizeof *to);
        to += at->size - column;
    }
}

static us_status do_front(fronts *of, size_t block)
{
    size_t size = usi_blocks_rows(of->blocks, block);
    place at = {block, size, usi_blocks_columns(of->blocks, block), usi_panel_stride(size)};
    const int32_t *rows = of->blocks->row + of->blocks->row_begin[block];
    for (size_t k = 0; k < size; k++) {
        of->local[rows[k]] = (int32_t)k;
    }
    clear_front(of, &at);
    add_matrix(of, &at);
    for (int32_t from = of->below[block]; from >= 0; from = of->next[from]) {
        add_rest(of, &at, (size_t)from);
    }
    take_off(of, block);
    if (!usi_panel_factorise(of->front, at.stride, size, at.columns)) {
        return US_NOT_CONVERGED;
    }
    keep_columns(of, &at);
    if (of->blocks->above[block] >= 0) {
        usi_panel_subtract(column_at(of, &at, at.columns) + at.columns, at.stride,
                           of->front + at.columns, at.stride, size - at.columns, at.columns);
        pile_up(of, block);
        keep_rest(of, &at);
    }
    return US_OK;
}

static us_status pulse(fronts *of, size_t block)
{
    of->work += work_of(of, block);
    if (of->work - of->pulsed < PULSE_WORK) {
        return US_OK;
    }
    of->pulsed = of->work;
    return usi_context_pulse_equations(of->context, of->blocks->rows,
                                       usi_room_expect(of->context, of->blocks->rows),
                                       BEGUN + (ENDED - BEGUN) * of->work / of->all_work);
}

us_status usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                               usi_blocks *blocks)
{
    fronts of = {.context = context, .matrix = matrix, .blocks = blocks};
    blocks->numbers =
        usi_memory_room(context, blocks->begin[blocks->count], sizeof *blocks->numbers);
    us_status status = blocks->numbers != NULL ? make_room(&of) : US_ERROR_MEMORY;
    for (size_t block = 0; status == US_OK && block < blocks->count; block++) {
        status = do_front(&of, block);
        if (status == US_OK) {
            status = pulse(&of, block);
        }
    }
    free_room(&of);
    return status;
}
