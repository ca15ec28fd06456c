#include "solve/dense.h"

#include <math.h>

#include "solve/lanes.h"

USI_TWICE double dot(const double *one, const double *other, size_t count)
{
    usi_four sum = {0.0, 0.0, 0.0, 0.0};
    size_t k = 0;
    for (; k + USI_LANES <= count; k += USI_LANES) {
        sum += *(const usi_four *)(one + k) * *(const usi_four *)(other + k);
    }
    double rest = 0.0;
    for (; k < count; k++) {
        rest += one[k] * other[k];
    }
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + rest;
}

/* One row with four others, `stride` apart. */
USI_TWICE void dots(const double *one, const double *others, size_t stride, size_t count,
                    double sums[4])
{
    const double *row[4] = {others, others + stride, others + 2 * stride, others + 3 * stride};
    usi_four sum[4] = {
        {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}};
    size_t k = 0;
    for (; k + USI_LANES <= count; k += USI_LANES) {
        usi_four x = *(const usi_four *)(one + k);
        sum[0] += x * *(const usi_four *)(row[0] + k);
        sum[1] += x * *(const usi_four *)(row[1] + k);
        sum[2] += x * *(const usi_four *)(row[2] + k);
        sum[3] += x * *(const usi_four *)(row[3] + k);
    }
    for (int m = 0; m < 4; m++) {
        double rest = 0.0;
        for (size_t left = k; left < count; left++) {
            rest += one[left] * row[m][left];
        }
        sums[m] = ((sum[m][0] + sum[m][1]) + (sum[m][2] + sum[m][3])) + rest;
    }
}

USI_TWICE bool factor(double *matrix, size_t count, size_t stride, double least)
{
    for (size_t i = 0; i < count; i++) {
        double *row = matrix + i * stride;
        double before = row[i];
        size_t j = 0;
        for (; j + 4 <= i; j += 4) {
            double sums[4];
            dots(row, matrix + j * stride, stride, j, sums);
            for (size_t m = 0; m < 4; m++) {
                const double *other = matrix + (j + m) * stride;
                double sum = row[j + m] - sums[m];
                for (size_t k = j; k < j + m; k++) {
                    sum -= row[k] * other[k];
                }
                row[j + m] = sum / other[j + m];
            }
        }
        for (; j < i; j++) {
            const double *other = matrix + j * stride;
            row[j] = (row[j] - dot(row, other, j)) / other[j];
        }
        row[i] -= dot(row, row, i);
        if (!(row[i] > least * before)) {
            return false;
        }
        row[i] = sqrt(row[i]);
    }
    return true;
}

USI_TWICE void forward(const double *lower, size_t count, size_t stride, size_t first,
                       double *values)
{
    for (size_t i = first; i < count; i++) {
        const double *row = lower + i * stride;
        values[i] = (values[i] - dot(row + first, values + first, i - first)) / row[i];
    }
}

USI_TWICE void forward_rows(const double *lower, size_t count, size_t stride,
                            const usi_dense_rows *of)
{
    size_t r = 0;
    for (; r + 4 <= of->count; r += 4) {
        double *together = of->values + r * of->width;
        for (size_t i = 0; i < count; i++) {
            const double *row = lower + i * stride;
            double sums[4];
            dots(row, together, of->width, i, sums);
            for (size_t m = 0; m < 4; m++) {
                double *value = together + m * of->width + i;
                *value = (*value - sums[m]) / row[i];
            }
        }
    }
    for (; r < of->count; r++) {
        forward(lower, count, stride, 0, of->values + r * of->width);
    }
}

/* Every row with itself and those before it, in fours. */
USI_TWICE void products(const usi_dense_rows *of, size_t length, double *square)
{
    for (size_t i = 0; i < of->count; i++) {
        const double *row = of->values + i * of->width;
        size_t j = 0;
        for (; j + 4 <= i + 1; j += 4) {
            dots(row, of->values + j * of->width, of->width, length, square + i * of->count + j);
        }
        for (; j <= i; j++) {
            square[i * of->count + j] = dot(row, of->values + j * of->width, length);
        }
        for (j = 0; j < i; j++) {
            square[j * of->count + i] = square[i * of->count + j];
        }
    }
}

USI_TWICE void apply(const usi_dense_rows *of, size_t length, const double *one, double *sums)
{
    size_t r = 0;
    for (; r + 4 <= of->count; r += 4) {
        dots(one, of->values + r * of->width, of->width, length, sums + r);
    }
    for (; r < of->count; r++) {
        sums[r] = dot(one, of->values + r * of->width, length);
    }
}

USI_WIDE static bool factor_wide(double *matrix, size_t count, size_t stride, double least)
{
    return factor(matrix, count, stride, least);
}

USI_WIDE static void rows_wide(const double *lower, size_t count, size_t stride,
                               const usi_dense_rows *of)
{
    forward_rows(lower, count, stride, of);
}

USI_WIDE static void products_wide(const usi_dense_rows *of, size_t length, double *square)
{
    products(of, length, square);
}

USI_WIDE static void apply_wide(const usi_dense_rows *of, size_t length, const double *one,
                                double *sums)
{
    apply(of, length, one, sums);
}

double usi_dense_dot(const double *one, const double *other, size_t count)
{
    return dot(one, other, count);
}

bool usi_dense_factor(double *matrix, size_t count, size_t stride, double least)
{
    if (usi_lanes_wide()) {
        return factor_wide(matrix, count, stride, least);
    }
    return factor(matrix, count, stride, least);
}

void usi_dense_forward(const double *lower, size_t count, size_t stride, size_t first,
                       double *values)
{
    forward(lower, count, stride, first, values);
}

void usi_dense_backward(const double *lower, size_t count, size_t stride, double *values)
{
    for (size_t i = count; i-- > 0;) {
        const double *row = lower + i * stride;
        double value = values[i] / row[i];
        values[i] = value;
        for (size_t k = 0; k < i; k++) {
            values[k] -= row[k] * value;
        }
    }
}

void usi_dense_forward_rows(const double *lower, size_t count, size_t stride,
                            const usi_dense_rows *rows)
{
    if (usi_lanes_wide()) {
        rows_wide(lower, count, stride, rows);
        return;
    }
    forward_rows(lower, count, stride, rows);
}

void usi_dense_products(const usi_dense_rows *rows, size_t length, double *square)
{
    if (usi_lanes_wide()) {
        products_wide(rows, length, square);
        return;
    }
    products(rows, length, square);
}

void usi_dense_apply(const usi_dense_rows *rows, size_t length, const double *one, double *sums)
{
    if (usi_lanes_wide()) {
        apply_wide(rows, length, one, sums);
        return;
    }
    apply(rows, length, one, sums);
}
