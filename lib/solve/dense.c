#include "solve/dense.h"

#include <math.h>

/* Four lanes a sum, so that the digits are the same whatever vectors a processor has; no product
 * is fused with a sum. */
enum { LANES = 4 };
typedef double four __attribute__((vector_size(32), aligned(8), may_alias));

/* Made twice: for any processor, and for those that have such vectors. */
#define INLINE static inline __attribute__((always_inline))

INLINE double dot(const double *one, const double *other, size_t count)
{
    four sum = {0.0, 0.0, 0.0, 0.0};
    size_t k = 0;
    for (; k + LANES <= count; k += LANES) {
        sum += *(const four *)(one + k) * *(const four *)(other + k);
    }
    double rest = 0.0;
    for (; k < count; k++) {
        rest += one[k] * other[k];
    }
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + rest;
}

/* One row with four others, `stride` apart. */
INLINE void dots(const double *one, const double *others, size_t stride, size_t count,
                 double sums[4])
{
    const double *row[4] = {others, others + stride, others + 2 * stride, others + 3 * stride};
    four sum[4] = {
        {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}};
    size_t k = 0;
    for (; k + LANES <= count; k += LANES) {
        four x = *(const four *)(one + k);
        sum[0] += x * *(const four *)(row[0] + k);
        sum[1] += x * *(const four *)(row[1] + k);
        sum[2] += x * *(const four *)(row[2] + k);
        sum[3] += x * *(const four *)(row[3] + k);
    }
    for (int m = 0; m < 4; m++) {
        double rest = 0.0;
        for (size_t left = k; left < count; left++) {
            rest += one[left] * row[m][left];
        }
        sums[m] = ((sum[m][0] + sum[m][1]) + (sum[m][2] + sum[m][3])) + rest;
    }
}

INLINE bool factor(double *matrix, size_t count, size_t stride, double least)
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

INLINE void forward(const double *lower, size_t count, size_t stride, size_t first, double *values)
{
    for (size_t i = first; i < count; i++) {
        const double *row = lower + i * stride;
        values[i] = (values[i] - dot(row + first, values + first, i - first)) / row[i];
    }
}

INLINE void forward_rows(const double *lower, size_t count, size_t stride, const usi_dense_rows *of)
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
INLINE void products(const usi_dense_rows *of, size_t length, double *square)
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

INLINE void apply(const usi_dense_rows *of, size_t length, const double *one, double *sums)
{
    size_t r = 0;
    for (; r + 4 <= of->count; r += 4) {
        dots(one, of->values + r * of->width, of->width, length, sums + r);
    }
    for (; r < of->count; r++) {
        sums[r] = dot(one, of->values + r * of->width, length);
    }
}

#ifdef __x86_64__
#define AVX2 __attribute__((target("avx2")))

AVX2 static bool factor_avx2(double *matrix, size_t count, size_t stride, double least)
{
    return factor(matrix, count, stride, least);
}

AVX2 static void rows_avx2(const double *lower, size_t count, size_t stride,
                           const usi_dense_rows *of)
{
    forward_rows(lower, count, stride, of);
}

AVX2 static void products_avx2(const usi_dense_rows *of, size_t length, double *square)
{
    products(of, length, square);
}

AVX2 static void apply_avx2(const usi_dense_rows *of, size_t length, const double *one,
                            double *sums)
{
    apply(of, length, one, sums);
}

static bool has_avx2(void)
{
    return __builtin_cpu_supports("avx2") != 0;
}
#endif

double usi_dense_dot(const double *one, const double *other, size_t count)
{
    return dot(one, other, count);
}

bool usi_dense_factor(double *matrix, size_t count, size_t stride, double least)
{
#ifdef __x86_64__
    if (has_avx2()) {
        return factor_avx2(matrix, count, stride, least);
    }
#endif
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
#ifdef __x86_64__
    if (has_avx2()) {
        rows_avx2(lower, count, stride, rows);
        return;
    }
#endif
    forward_rows(lower, count, stride, rows);
}

void usi_dense_products(const usi_dense_rows *rows, size_t length, double *square)
{
#ifdef __x86_64__
    if (has_avx2()) {
        products_avx2(rows, length, square);
        return;
    }
#endif
    products(rows, length, square);
}

void usi_dense_apply(const usi_dense_rows *rows, size_t length, const double *one, double *sums)
{
#ifdef __x86_64__
    if (has_avx2()) {
        apply_avx2(rows, length, one, sums);
        return;
    }
#endif
    apply(rows, length, one, sums);
}
