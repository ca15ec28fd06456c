#include "solve/blocks.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Up to how many columns two blocks become one, and the share of its entries that may be zeros
 * then; measured. */
static const struct {
    size_t columns;
    double zeros;
} RELAXED[] = {{8, 0.2}, {16, 0.1}, {SIZE_MAX, 0.05}};

typedef struct work {
    us_context *context;
    const cholmod_sparse *matrix;
    usi_blocks *made;
    size_t room;    /* in made->row */
    double *zeros;  /* that fill up each block */
    int32_t *seen;  /* of each row: the last block that had it from the matrix */
    int32_t *left;  /* of each column: the last block whose first row below it is, */
    int32_t *next;  /* and of each block the one before; counted from 1, 0 for none */
    int32_t *below; /* rows of the block at hand below its own, */
    int32_t *other; /* and room for them to be merged with more */
    size_t count;   /* in below */
} work;

static int by_size(const void *one, const void *other)
{
    const int32_t *a = one;
    const int32_t *b = other;
    return (*a > *b) - (*a < *b);
}

static void sort(int32_t *list, size_t count)
{
    enum { FEW = 32 };
    if (count > FEW) {
        qsort(list, count, sizeof *list, by_size);
        return;
    }
    for (size_t k = 1; k < count; k++) {
        int32_t row = list[k];
        size_t at = k;
        for (; at > 0 && list[at - 1] > row; at--) {
            list[at] = list[at - 1];
        }
        list[at] = row;
    }
}

/* What the matrix has below columns from `first` to `end`. */
static void take_matrix(work *of, int32_t first, int32_t end)
{
    const int *begin = of->matrix->p;
    const int *count = of->matrix->nz;
    const int *rows = of->matrix->i;
    of->count = 0;
    for (int32_t column = first; column < end; column++) {
        for (int k = begin[column]; k < begin[column] + count[column]; k++) {
            if (rows[k] >= end && of->seen[rows[k]] != end) {
                of->seen[rows[k]] = end;
                of->below[of->count++] = rows[k];
            }
        }
    }
    sort(of->below, of->count);
}

/* What a block leaves, from row `end` on. */
static void merge(work *of, size_t block, int32_t end)
{
    const int32_t *one = usi_blocks_below(of->made, block);
    const int32_t *one_past = of->made->row + of->made->row_begin[block + 1];
    const int32_t *two = of->below;
    const int32_t *two_past = two + of->count;
    int32_t *merged = of->other;
    int32_t *to = merged;
    while (one < one_past && *one < end) {
        one++;
    }
    while (one < one_past && two < two_past) {
        int32_t row = *one < *two ? *one : *two;
        one += *one == row ? 1 : 0;
        two += *two == row ? 1 : 0;
        *to++ = row;
    }
    memcpy(to, one, (size_t)(one_past - one) * sizeof *to);
    to += one_past - one;
    memcpy(to, two, (size_t)(two_past - two) * sizeof *to);
    to += two_past - two;
    of->other = of->below;
    of->below = merged;
    of->count = (size_t)(to - merged);
}

static us_status make_room(work *of, size_t count)
{
    size_t needed = of->made->row_begin[of->made->count] + count;
    if (needed <= of->room) {
        return US_OK;
    }
    size_t room = needed + needed / 2;
    int32_t *row = usi_memory_resize(of->context, of->made->row, room, sizeof *row);
    if (row == NULL) {
        return US_ERROR_MEMORY;
    }
    of->made->row = row;
    of->room = room;
    return US_OK;
}

/* A block of its own for columns from `first` to `end`. */
static us_status add(work *of, int32_t first, int32_t end)
{
    take_matrix(of, first, end);
    for (int32_t column = first; column < end; column++) {
        for (int32_t from = of->left[column]; from > 0; from = of->next[from - 1]) {
            merge(of, (size_t)from - 1, end);
        }
    }
    size_t columns = (size_t)(end - first);
    usi_blocks *made = of->made;
    if (make_room(of, columns + of->count) != US_OK) {
        return US_ERROR_MEMORY;
    }
    int32_t *row = made->row + made->row_begin[made->count];
    for (size_t k = 0; k < columns; k++) {
        row[k] = first + (int32_t)k;
    }
    memcpy(row + columns, of->below, of->count * sizeof *row);
    made->first[made->count] = first;
    made->first[made->count + 1] = end;
    made->row_begin[made->count + 1] = made->row_begin[made->count] + columns + of->count;
    of->zeros[made->count++] = 0.0;
    return US_OK;
}

/* Makes one of the last two blocks, if the first of them leaves its rest to the other and
 * that takes few zeros. */
static bool join(work *of)
{
    usi_blocks *made = of->made;
    size_t block = made->count - 2;
    size_t columns = usi_blocks_columns(made, block);
    size_t rest = usi_blocks_rest(made, block);
    if (rest == 0 || *usi_blocks_below(made, block) >= made->first[block + 2]) {
        return false;
    }
    size_t rows = usi_blocks_rows(made, block + 1);
    size_t both = columns + usi_blocks_columns(made, block + 1);
    double zeros =
        of->zeros[block] + of->zeros[block + 1] + (double)columns * (double)(rows - rest);
    double entries = (double)both * ((double)(columns + rows) - 0.5 * ((double)both - 1.0));
    size_t k = 0;
    while (both > RELAXED[k].columns) {
        k++;
    }
    if (zeros > RELAXED[k].zeros * entries) {
        return false;
    }
    int32_t *below = made->row + made->row_begin[block] + columns;
    memmove(below, made->row + made->row_begin[block + 1], rows * sizeof *below);
    made->first[block + 1] = made->first[block + 2];
    made->row_begin[block + 1] = made->row_begin[block] + columns + rows;
    of->zeros[block] = zeros;
    made->count--;
    return true;
}

/* Leaves the last block's rest to what comes. */
static void leave(work *of)
{
    size_t block = of->made->count - 1;
    if (usi_blocks_rest(of->made, block) > 0) {
        int32_t to = *usi_blocks_below(of->made, block);
        of->next[block] = of->left[to];
        of->left[to] = (int32_t)block + 1;
    }
}

static us_status find_all(work *of, const bool *starts)
{
    us_status status = US_OK;
    size_t rows = of->made->rows;
    for (size_t first = 0; status == US_OK && first < rows;) {
        size_t end = first + 1;
        while (end < rows && !starts[end]) {
            end++;
        }
        status = add(of, (int32_t)first, (int32_t)end);
        if (status == US_OK) {
            while (of->made->count > 1 && join(of)) {
            }
            leave(of);
        }
        first = end;
    }
    return status;
}

/* `seen` serves as the block of each column here. */
static void find_above(work *of)
{
    usi_blocks *made = of->made;
    for (size_t block = 0; block < made->count; block++) {
        for (int32_t column = made->first[block]; column < made->first[block + 1]; column++) {
            of->seen[column] = (int32_t)block;
        }
    }
    for (size_t block = 0; block < made->count; block++) {
        size_t rows = usi_blocks_rows(made, block);
        bool leaves = usi_blocks_rest(made, block) > 0;
        made->above[block] = leaves ? of->seen[*usi_blocks_below(made, block)] : -1;
        size_t columns = usi_blocks_columns(made, block);
        made->begin[block + 1] = made->begin[block] + columns * rows - columns * (columns - 1) / 2;
        made->most_rows = rows > made->most_rows ? rows : made->most_rows;
    }
}

us_status usi_blocks_find(us_context *context, const cholmod_sparse *matrix, const bool *starts,
                          usi_blocks *blocks)
{
    size_t rows = matrix->nrow;
    size_t most = 1;
    for (size_t row = 1; row < rows; row++) {
        most += starts[row] ? 1 : 0;
    }
    *blocks = (usi_blocks){.rows = rows,
                           .first = usi_memory_array(context, most + 1, sizeof *blocks->first),
                           .row_begin = usi_memory_array(context, most + 1, sizeof(size_t)),
                           .begin = usi_memory_array(context, most + 1, sizeof(size_t)),
                           .above = usi_memory_array(context, most, sizeof *blocks->above)};
    work of = {.context = context,
               .matrix = matrix,
               .made = blocks,
               .zeros = usi_memory_array(context, most, sizeof *of.zeros),
               .seen = usi_memory_array(context, rows, sizeof *of.seen),
               .left = usi_memory_array(context, rows, sizeof *of.left),
               .next = usi_memory_array(context, most, sizeof *of.next),
               .below = usi_memory_room(context, rows, sizeof *of.below),
               .other = usi_memory_room(context, rows, sizeof *of.other)};
    us_status status = US_ERROR_MEMORY;
    if (blocks->first != NULL && blocks->row_begin != NULL && blocks->begin != NULL &&
        blocks->above != NULL && of.zeros != NULL && of.seen != NULL && of.left != NULL &&
        of.next != NULL && of.below != NULL && of.other != NULL) {
        status = find_all(&of, starts);
    }
    if (status == US_OK) {
        find_above(&of);
    }
    free(of.zeros);
    free(of.seen);
    free(of.left);
    free(of.next);
    free(of.below);
    free(of.other);
    return status;
}

void usi_blocks_free(usi_blocks *blocks)
{
    free(blocks->first);
    free(blocks->row_begin);
    free(blocks->row);
    free(blocks->begin);
    free(blocks->above);
    free(blocks->numbers);
    *blocks = (usi_blocks){0};
}

/* A column of so many entries takes the square of that. */
double usi_blocks_operations(const usi_blocks *blocks)
{
    double sum = 0.0;
    for (size_t block = 0; block < blocks->count; block++) {
        for (size_t k = 0; k < usi_blocks_columns(blocks, block); k++) {
            double entries = (double)(usi_blocks_rows(blocks, block) - k);
            sum += entries * entries;
        }
    }
    return sum;
}
