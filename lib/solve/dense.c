#include "solve/dense.h"

#include <math.h>

double usi_dense_dot(const double *one, const double *other, size_t count)
{
    double sum[4] = {0.0, 0.0, 0.0, 0.0};
    size_t k = 0;
    for (; k + 4 <= count; k += 4) {
        for (size_t m = 0; m < 4; m++) {
            sum[m] += one[k + m] * other[k + m];
        }
    }
    for (; k < count; k++) {
        sum[0] += one[k] * other[k];
    }
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/* Two lanes a sum keep the processor's vectors full. */
void usi_dense_dots(const double *one, const double *others, size_t stride, size_t count,
                    double sums[4])
{
    const double *a = others;
    const double *b = others + stride;
    const double *c = others + 2 * stride;
    const double *d = others + 3 * stride;
    double even[4] = {0.0, 0.0, 0.0, 0.0};
    double odd[4] = {0.0, 0.0, 0.0, 0.0};
    size_t k = 0;
    for (; k + 2 <= count; k += 2) {
        double x = one[k];
        double y = one[k + 1];
        even[0] += x * a[k];
        odd[0] += y * a[k + 1];
        even[1] += x * b[k];
        odd[1] += y * b[k + 1];
        even[2] += x * c[k];
        odd[2] += y * c[k + 1];
        even[3] += x * d[k];
        odd[3] += y * d[k + 1];
    }
    for (; k < count; k++) {
        even[0] += one[k] * a[k];
        even[1] += one[k] * b[k];
        even[2] += one[k] * c[k];
        even[3] += one[k] * d[k];
    }
    for (int m = 0; m < 4; m++) {
        sums[m] = even[m] + odd[m];
    }
}

bool usi_dense_factor(double *matrix, size_t count, size_t stride, double least)
{
    for (size_t i = 0; i < count; i++) {
        double *row = matrix + i * stride;
        double before = row[i];
        size_t j = 0;
        for (; j + 4 <= i; j += 4) {
            double sums[4];
            usi_dense_dots(row, matrix + j * stride, stride, j, sums);
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
            row[j] = (row[j] - usi_dense_dot(row, other, j)) / other[j];
        }
        row[i] -= usi_dense_dot(row, row, i);
        if (!(row[i] > least * before)) {
            return false;
        }
        row[i] = sqrt(row[i]);
    }
    return true;
}

void usi_dense_forward(const double *lower, size_t count, size_t stride, size_t first,
                       double *values)
{
    for (size_t i = first; i < count; i++) {
        const double *row = lower + i * stride;
        values[i] = (values[i] - usi_dense_dot(row + first, values + first, i - first)) / row[i];
    }
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

void usi_dense_forward_rows(const double *lower, size_t count, size_t stride, double *rows,
                            size_t row_count, size_t width)
{
    size_t r = 0;
    for (; r + 4 <= row_count; r += 4) {
        double *four = rows + r * width;
        for (size_t i = 0; i < count; i++) {
            const double *row = lower + i * stride;
            double sums[4];
            usi_dense_dots(row, four, width, i, sums);
            for (size_t m = 0; m < 4; m++) {
                four[m * width + i] = (four[m * width + i] - sums[m]) / row[i];
            }
        }
    }
    for (; r < row_count; r++) {
        usi_dense_forward(lower, count, stride, 0, rows + r * width);
    }
}
