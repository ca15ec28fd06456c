/* Dense lower triangles, by rows: small enough to need no library. */
#ifndef USI_SOLVE_DENSE_H
#define USI_SOLVE_DENSE_H

#include <stdbool.h>
#include <stddef.h>

double usi_dense_dot(const double *one, const double *other, size_t count);

/* Overwrites the lower triangle of a symmetric matrix by its Cholesky factor; false where what
 * is left of a diagonal is no more than `least` times what it was. */
bool usi_dense_factor(double *matrix, size_t count, size_t stride, double least);

/* Solves with a lower triangle, or with its transpose, in place. Zeros before `first` stay. */
void usi_dense_forward(const double *lower, size_t count, size_t stride, size_t first,
                       double *values);
void usi_dense_backward(const double *lower, size_t count, size_t stride, double *values);

/* Rows of numbers, `width` apart. */
typedef struct usi_dense_rows {
    size_t count;
    size_t width;
    double *values;
} usi_dense_rows;

/* The same for right-hand sides that lie row by row. */
void usi_dense_forward_rows(const double *lower, size_t count, size_t stride,
                            const usi_dense_rows *rows);

/* Sums of products of every two rows over `length` numbers: a square, one row of it a row. */
void usi_dense_products(const usi_dense_rows *rows, size_t length, double *square);

/* Sums of products of one row with each of others. */
void usi_dense_apply(const usi_dense_rows *rows, size_t length, const double *one, double *sums);

#endif
