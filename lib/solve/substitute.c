#include "solve/substitute.h"

/* Columns taken together, so that the other numbers are read once for all of them. */
enum { TOGETHER = 4 };

/* A block of the factor: a triangle on top, then rows that it shares with those above. */
typedef struct block {
    const double *numbers;
    size_t size; /* rows */
    size_t columns;
    const int *rows; /* below the triangle */
    double *top;     /* values of its columns */
} block;

static block block_at(const cholmod_factor *factor, size_t index, double *values)
{
    const int *first = factor->super;
    const int *row_begin = factor->pi;
    block at = {.numbers = (const double *)factor->x + ((const int *)factor->px)[index],
                .size = (size_t)(row_begin[index + 1] - row_begin[index]),
                .columns = (size_t)(first[index + 1] - first[index]),
                .top = values + first[index]};
    at.rows = (const int *)factor->s + row_begin[index] + at.columns;
    return at;
}

static void solve_top(const block *at)
{
    for (size_t j = 0; j < at->columns; j++) {
        const double *column = at->numbers + j * at->size;
        double value = at->top[j] / column[j];
        at->top[j] = value;
        for (size_t i = j + 1; i < at->columns; i++) {
            at->top[i] -= column[i] * value;
        }
    }
}

/* What the columns bring to the rows below. */
static void sum_rows(const block *at, double *restrict sums)
{
    size_t rest = at->size - at->columns;
    for (size_t i = 0; i < rest; i++) {
        sums[i] = 0.0;
    }
    size_t j = 0;
    for (; j + TOGETHER <= at->columns; j += TOGETHER) {
        const double *column = at->numbers + j * at->size + at->columns;
        const double *value = at->top + j;
        for (size_t i = 0; i < rest; i++) {
            sums[i] += (column[i] * value[0] + column[i + at->size] * value[1]) +
                       (column[i + 2 * at->size] * value[2] + column[i + 3 * at->size] * value[3]);
        }
    }
    for (; j < at->columns; j++) {
        const double *column = at->numbers + j * at->size + at->columns;
        for (size_t i = 0; i < rest; i++) {
            sums[i] += column[i] * at->top[j];
        }
    }
}

void usi_substitute_forward(const cholmod_factor *factor, double *values, double *room)
{
    for (size_t index = 0; index < factor->nsuper; index++) {
        block at = block_at(factor, index, values);
        solve_top(&at);
        sum_rows(&at, room);
        for (size_t i = 0; i < at.size - at.columns; i++) {
            values[at.rows[i]] -= room[i];
        }
    }
}

/* Takes from TOGETHER columns what the rows below bring to them. */
static void take_rows(const block *at, size_t j, const double *below)
{
    const double *column = at->numbers + j * at->size + at->columns;
    size_t rest = at->size - at->columns;
    double even[TOGETHER] = {0.0, 0.0, 0.0, 0.0};
    double odd[TOGETHER] = {0.0, 0.0, 0.0, 0.0};
    size_t i = 0;
    for (; i + 2 <= rest; i += 2) {
        for (size_t k = 0; k < TOGETHER; k++) {
            even[k] += column[i + k * at->size] * below[i];
            odd[k] += column[i + 1 + k * at->size] * below[i + 1];
        }
    }
    for (size_t k = 0; k < TOGETHER; k++) {
        double last = i < rest ? column[i + k * at->size] * below[i] : 0.0;
        at->top[j + k] -= even[k] + odd[k] + last;
    }
}

static void take_row(const block *at, size_t j, const double *below)
{
    const double *column = at->numbers + j * at->size + at->columns;
    double sum = 0.0;
    for (size_t i = 0; i < at->size - at->columns; i++) {
        sum += column[i] * below[i];
    }
    at->top[j] -= sum;
}

static void solve_top_back(const block *at)
{
    for (size_t j = at->columns; j-- > 0;) {
        const double *column = at->numbers + j * at->size;
        double value = at->top[j];
        for (size_t i = j + 1; i < at->columns; i++) {
            value -= column[i] * at->top[i];
        }
        at->top[j] = value / column[j];
    }
}

void usi_substitute_back(const cholmod_factor *factor, double *values, double *room)
{
    for (size_t index = factor->nsuper; index-- > 0;) {
        block at = block_at(factor, index, values);
        for (size_t i = 0; i < at.size - at.columns; i++) {
            room[i] = values[at.rows[i]];
        }
        size_t j = 0;
        for (; j + TOGETHER <= at.columns; j += TOGETHER) {
            take_rows(&at, j, room);
        }
        for (; j < at.columns; j++) {
            take_row(&at, j, room);
        }
        solve_top_back(&at);
    }
}
