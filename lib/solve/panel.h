/* Panels: what a front of the factorisation is worked on with. Columns lie one after
 * the other, `stride` numbers apart. */
#ifndef USI_SOLVE_PANEL_H
#define USI_SOLVE_PANEL_H

#include <stdbool.h>
#include <stddef.h>

/* A block has its stride from usi_panel_stride() and room for USI_PANEL_PAST columns past
 * its last: they are read and written, and are of no meaning. So is what stands above the
 * diagonal, and past the last row of each column. */
enum { USI_PANEL_PAST = 8 };

/* Rows and whole vectors past them, wherever a block begins, and such that columns do not all fall
 * onto the same lines of the processor's cache. */
size_t usi_panel_stride(size_t rows);

/* Factorises the first `columns` columns of a symmetric matrix of which `rows` rows are
 * there: its lower part becomes the Cholesky factor's. False where a pivot is not above
 * zero. */
bool usi_panel_factorise(double *block, size_t stride, size_t rows, size_t columns);

/* Takes from the lower part of `square`, `size` rows of it, the products of each two of
 * the first `size` rows of `block`, which has `depth` columns. */
void usi_panel_subtract(double *square, size_t square_stride, const double *block, size_t stride,
                        size_t size, size_t depth);

#endif
