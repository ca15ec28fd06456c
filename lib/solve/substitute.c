#include "solve/substitute.h"

#include <stdbool.h>

#include "solve/lanes.h"

/* Columns taken together, so that the other numbers are read once for all of them. */
enum { TOGETHER = 8 };

/* What is made once for each number of columns there may be, so that nothing counts them. */
#define UNROLL _Pragma("GCC unroll 8")

/* A few columns of a block: a triangle, then rows below that they share. */
typedef struct strip {
    const double *triangle[TOGETHER]; /* each column from its diagonal on, */
    const double *column[TOGETHER];   /* and from the rows below on */
    size_t height;                    /* rows below */
} strip;

/* A block's values: of its own columns, then of the rows below them. */
typedef struct block {
    const usi_blocks *factor;
    size_t index;
    size_t columns;
    size_t size;
    double *room;
} block;

USI_TWICE strip strip_of(const block *of, size_t from, size_t columns)
{
    strip at = {.height = of->size - from - columns};
    const double *next = usi_blocks_column(of->factor, of->index, from);
    UNROLL for (size_t k = 0; k < columns; k++)
    {
        at.triangle[k] = next;
        at.column[k] = next + (columns - k);
        next = at.column[k] + at.height;
    }
    return at;
}

USI_TWICE void forward_strip(const block *of, size_t from, size_t columns)
{
    strip at = strip_of(of, from, columns);
    double *top = of->room + from;
    double *below = top + columns;
    UNROLL for (size_t k = 0; k < columns; k++)
    {
        top[k] *= at.triangle[k][0];
        UNROLL for (size_t i = k + 1; i < columns; i++)
        {
            top[i] -= at.triangle[k][i - k] * top[k];
        }
    }
    size_t i = 0;
    for (; i + USI_LANES <= at.height; i += USI_LANES) {
        usi_four sum = *(const usi_four *)(at.column[0] + i) * top[0];
        UNROLL for (size_t k = 1; k < columns; k++)
        {
            sum += *(const usi_four *)(at.column[k] + i) * top[k];
        }
        *(usi_four *)(below + i) -= sum;
    }
    for (; i < at.height; i++) {
        double sum = at.column[0][i] * top[0];
        UNROLL for (size_t k = 1; k < columns; k++)
        {
            sum += at.column[k][i] * top[k];
        }
        below[i] -= sum;
    }
}

USI_TWICE void back_strip(const block *of, size_t from, size_t columns)
{
    strip at = strip_of(of, from, columns);
    double *top = of->room + from;
    const double *below = top + columns;
    usi_four sums[TOGETHER] = {{0.0}};
    size_t i = 0;
    for (; i + USI_LANES <= at.height; i += USI_LANES) {
        usi_four values = *(const usi_four *)(below + i);
        UNROLL for (size_t k = 0; k < columns; k++)
        {
            sums[k] += *(const usi_four *)(at.column[k] + i) * values;
        }
    }
    double last[TOGETHER] = {0.0};
    for (; i < at.height; i++) {
        UNROLL for (size_t k = 0; k < columns; k++)
        {
            last[k] += at.column[k][i] * below[i];
        }
    }
    UNROLL for (size_t k = columns; k-- > 0;)
    {
        double sum = (sums[k][0] + sums[k][1]) + (sums[k][2] + sums[k][3]) + last[k];
        UNROLL for (size_t j = k + 1; j < columns; j++)
        {
            sum += at.triangle[k][j - k] * top[j];
        }
        top[k] = (top[k] - sum) * at.triangle[k][0];
    }
}

USI_TWICE void strip_by(const block *of, size_t from, size_t columns, bool back)
{
    if (back) {
        back_strip(of, from, columns);
    } else {
        forward_strip(of, from, columns);
    }
}

USI_TWICE void any_strip(const block *of, size_t from, size_t columns, bool back)
{
    switch (columns) {
    case 1:
        strip_by(of, from, 1, back);
        break;
    case 2:
        strip_by(of, from, 2, back);
        break;
    case 3:
        strip_by(of, from, 3, back);
        break;
    case 4:
        strip_by(of, from, 4, back);
        break;
    case 5:
        strip_by(of, from, 5, back);
        break;
    case 6:
        strip_by(of, from, 6, back);
        break;
    case 7:
        strip_by(of, from, 7, back);
        break;
    default:
        strip_by(of, from, TOGETHER, back);
        break;
    }
}

static inline block block_at(const usi_blocks *factor, size_t index, double *room)
{
    return (block){factor, index, usi_blocks_columns(factor, index), usi_blocks_rows(factor, index),
                   room};
}

/* `reached` says which blocks count, the others have zeros; NULL: all. */
USI_TWICE void forward(const usi_blocks *factor, const bool *reached, double *values, double *room)
{
    for (size_t index = 0; index < factor->count; index++) {
        if (reached != NULL && !reached[index]) {
            continue;
        }
        block at = block_at(factor, index, room);
        double *own = values + factor->first[index];
        const int32_t *rows = usi_blocks_below(factor, index);
        for (size_t k = 0; k < at.columns; k++) {
            room[k] = own[k];
        }
        for (size_t k = at.columns; k < at.size; k++) {
            room[k] = 0.0;
        }
        for (size_t from = 0; from < at.columns; from += TOGETHER) {
            size_t left = at.columns - from;
            any_strip(&at, from, left < TOGETHER ? left : TOGETHER, false);
        }
        for (size_t k = 0; k < at.columns; k++) {
            own[k] = room[k];
        }
        for (size_t k = at.columns; k < at.size; k++) {
            values[rows[k - at.columns]] += room[k];
        }
    }
}

USI_TWICE void back(const usi_blocks *factor, double *values, double *room)
{
    for (size_t index = factor->count; index-- > 0;) {
        block at = block_at(factor, index, room);
        double *own = values + factor->first[index];
        const int32_t *rows = usi_blocks_below(factor, index);
        for (size_t k = 0; k < at.columns; k++) {
            room[k] = own[k];
        }
        for (size_t k = at.columns; k < at.size; k++) {
            room[k] = values[rows[k - at.columns]];
        }
        for (size_t past = at.columns; past > 0;) {
            size_t from = (past - 1) / TOGETHER * TOGETHER;
            any_strip(&at, from, past - from, true);
            past = from;
        }
        for (size_t k = 0; k < at.columns; k++) {
            own[k] = room[k];
        }
    }
}

USI_WIDE static void forward_wide(const usi_blocks *factor, const bool *reached, double *values,
                                  double *room)
{
    forward(factor, reached, values, room);
}

USI_WIDE static void back_wide(const usi_blocks *factor, double *values, double *room)
{
    back(factor, values, room);
}

void usi_substitute_reach(const usi_blocks *factor, const bool *reached, double *values,
                          double *room)
{
    if (usi_lanes_wide()) {
        forward_wide(factor, reached, values, room);
        return;
    }
    forward(factor, reached, values, room);
}

void usi_substitute_forward(const usi_blocks *factor, double *values, double *room)
{
    usi_substitute_reach(factor, NULL, values, room);
}

void usi_substitute_back(const usi_blocks *factor, double *values, double *room)
{
    if (usi_lanes_wide()) {
        back_wide(factor, values, room);
        return;
    }
    back(factor, values, room);
}
