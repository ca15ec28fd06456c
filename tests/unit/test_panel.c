/* Panels: what a few columns of a symmetric matrix leave to the others, against sums written
 * out, at sizes round those of vectors, tiles and blocks. */
#include "support/support.h"

#include <math.h>
#include <stdlib.h>

#include "solve/panel.h"

/* Positive definite: the diagonal outweighs its row. */
static double entry(size_t row, size_t column, size_t size)
{
    double other = -(double)((row * 31 + column * 17) % 100) / (100.0 * (double)size);
    return row == column ? 2.5 : other;
}

/* Columns of the panel, then room, then the square that is left: `at` counts all of them. */
static double *column_at(double *block, size_t stride, size_t at, size_t columns)
{
    return block + (at + (at >= columns ? USI_PANEL_PAST : 0)) * stride;
}

static double *expected(size_t size, size_t columns)
{
    double *plain = malloc(size * size * sizeof *plain);
    for (size_t at = 0; at < size * size; at++) {
        plain[at] = entry(at % size, at / size, size);
    }
    for (size_t k = 0; k < columns; k++) {
        double root = sqrt(plain[k * size + k]);
        for (size_t i = k; i < size; i++) {
            plain[k * size + i] /= root;
        }
        for (size_t j = k + 1; j < size; j++) {
            for (size_t i = j; i < size; i++) {
                plain[j * size + i] -= plain[k * size + i] * plain[k * size + j];
            }
        }
    }
    return plain;
}

static void check(size_t size, size_t columns)
{
    size_t stride = usi_panel_stride(size);
    double *block = calloc(stride * (size + 2 * USI_PANEL_PAST), sizeof *block);
    for (size_t at = 0; at < size; at++) {
        for (size_t row = at; row < size; row++) {
            column_at(block, stride, at, columns)[row] = entry(row, at, size);
        }
    }
    assert_true(usi_panel_factorise(block, stride, size, columns));
    if (columns < size) {
        usi_panel_subtract(column_at(block, stride, columns, columns) + columns, stride,
                           block + columns, stride, size - columns, columns);
    }
    double *plain = expected(size, columns);
    for (size_t at = 0; at < size; at++) {
        for (size_t row = at; row < size; row++) {
            assert_near(column_at(block, stride, at, columns)[row], plain[at * size + row], 0.0,
                        1e-13);
        }
    }
    free(plain);
    free(block);
}

static void panels_agree_with_sums_written_out(void **state)
{
    (void)state;
    for (size_t size = 1; size <= 40; size++) {
        for (size_t columns = 1; columns <= size; columns++) {
            check(size, columns);
        }
    }
    check(90, 71);
    check(300, 130);
    check(513, 3);
    check(530, 70);
}

static void a_pivot_that_is_not_above_zero_ends_it(void **state)
{
    (void)state;
    static const double pivots[] = {0.0, -1.0, NAN};
    for (size_t at = 0; at < 20; at++) {
        for (size_t k = 0; k < 3; k++) {
            size_t stride = usi_panel_stride(20);
            double *block = calloc(stride * (20 + USI_PANEL_PAST), sizeof *block);
            for (size_t column = 0; column < 20; column++) {
                block[column * (stride + 1)] = column == at ? pivots[k] : 1.0;
            }
            assert_false(usi_panel_factorise(block, stride, 20, 20));
            free(block);
        }
    }
}

static void a_stride_has_room_for_whole_vectors(void **state)
{
    (void)state;
    for (size_t rows = 1; rows < 3000; rows++) {
        size_t stride = usi_panel_stride(rows);
        assert_in_range(stride, rows + 8, rows + 24);
        assert_int_equal(stride % 8, 0);
        assert_int_not_equal(stride % 512, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(panels_agree_with_sums_written_out),
        cmocka_unit_test(a_pivot_that_is_not_above_zero_ends_it),
        cmocka_unit_test(a_stride_has_room_for_whole_vectors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
