/* Dense lower triangles, by rows: small enough to need no library. */
#ifndef USI_SOLVE_DENSE_H
#define USI_SOLVE_DENSE_H

#include <stdbool.h>
#include <stddef.h>

double usi_dense_dot(const double *one, const double *other, size_t count);

/* Sums of products of one row with four others, `stride` apart. */
void usi_dense_dots(const double *one, const double *others, size_t stride, size_t count,
                    double sums[4]);

/* Overwrites the lower triangle of a symmetric matrix by its Cholesky factor; false where what
 * is left of a diagonal is no more than `least` times what it was. */
bool usi_dense_factor(double *matrix, size_t count, size_t stride, double least);

/* Solves with a lower triangle, or with its transpose, in place. Zeros before `first` stay. */
void usi_dense_forward(const double *lower, size_t count, size_t stride, size_t first,
                       double *values);
void usi_dense_backward(const double *lower, size_t count, size_t stride, double *values);

/* The same for `rows` right-hand sides that lie row by row, `width` apart. */
void usi_dense_forward_rows(const double *lower, size_t count, size_t stride, double *rows,
                            size_t row_count, size_t width);

#endif
