/* Factors in blocks, against the factor that CHOLMOD makes of the same matrix. */
#include "support/support.h"

#include <math.h>
#include <stdlib.h>

#include "solve/fronts.h"
#include "solve/matrix.h"
#include "solve/substitute.h"

enum { ROWS = 90, LINKS = 400 };

typedef struct set_up {
    us_context *context;
    usi_problem problem;
    cholmod_common common;
    cholmod_sparse *matrix; /* lower part */
    usi_blocks blocks;
    bool starts[ROWS];
} set_up;

static uint32_t next_of(uint32_t *seed)
{
    *seed = *seed * 1664525U + 1013904223U;
    return *seed >> 8;
}

/* A net of links with no plan: sparse, one that falls apart, or one that is nearly full. */
static void begin(set_up *up, uint32_t seed, size_t links, size_t pieces)
{
    *up = (set_up){.context = us_context_create()};
    assert_int_equal(usi_problem_begin(up->context, &up->problem, ROWS, links + ROWS), US_OK);
    up->problem.dense_from = 0;
    for (size_t k = 0; k < links; k++) {
        size_t a = next_of(&seed) % ROWS;
        size_t b = next_of(&seed) % ROWS / pieces * pieces + a % pieces;
        usi_problem_link(&up->problem, (int32_t)a, (int32_t)(b < ROWS ? b : a),
                         0.2 + 1e-3 * (double)(next_of(&seed) % 1000));
    }
    for (int32_t row = 0; row < ROWS; row++) {
        usi_problem_link(&up->problem, row, USI_PLACE_ONE, 0.1);
        up->starts[row] = row == 0 || next_of(&seed) % 4 != 0;
    }
    (void)cholmod_start(&up->common);
    int32_t order[ROWS];
    for (int32_t row = 0; row < ROWS; row++) {
        order[row] = row;
    }
    assert_int_equal(usi_matrix_assemble(up->context, &up->problem, order, USI_HALF_LOWER,
                                         &up->common, &up->matrix),
                     US_OK);
    assert_int_equal(usi_blocks_find(up->context, up->matrix, up->starts, &up->blocks), US_OK);
    assert_int_equal(usi_fronts_factorise(up->context, up->matrix, &up->blocks), US_OK);
}

static void end(set_up *up)
{
    usi_blocks_free(&up->blocks);
    cholmod_free_sparse(&up->matrix, &up->common);
    (void)cholmod_finish(&up->common);
    usi_problem_free(&up->problem);
    us_context_free(up->context);
}

/* Entries of the factor; NAN where blocks have none. */
static void spread(const set_up *up, double all[ROWS][ROWS])
{
    const usi_blocks *of = &up->blocks;
    for (size_t k = 0; k < (size_t)ROWS * ROWS; k++) {
        all[k / ROWS][k % ROWS] = NAN;
    }
    for (size_t block = 0; block < of->count; block++) {
        const int32_t *rows = of->row + of->row_begin[block];
        for (size_t column = 0; column < usi_blocks_columns(of, block); column++) {
            const double *from = usi_blocks_column(of, block, column);
            for (size_t k = column; k < usi_blocks_rows(of, block); k++) {
                all[rows[k]][rows[column]] = k > column ? from[k - column] : 1.0 / from[0];
            }
        }
    }
}

static cholmod_factor *by_cholmod(set_up *up)
{
    up->common.nmethods = 1;
    up->common.method[0].ordering = CHOLMOD_NATURAL;
    up->common.postorder = 0;
    up->common.supernodal = CHOLMOD_SIMPLICIAL;
    up->common.final_ll = 1;
    cholmod_factor *factor = cholmod_analyze(up->matrix, &up->common);
    assert_non_null(factor);
    assert_int_equal(cholmod_factorize(up->matrix, factor, &up->common), 1);
    return factor;
}

/* Every entry of CHOLMOD's is there, and what is there beside them is nothing. */
static void check_entries(set_up *up)
{
    static double ours[ROWS][ROWS];
    static double theirs[ROWS][ROWS];
    spread(up, ours);
    cholmod_factor *factor = by_cholmod(up);
    memset(theirs, 0, sizeof theirs);
    for (size_t column = 0; column < ROWS; column++) {
        const int *begin = factor->p;
        const int *rows = factor->i;
        for (int k = begin[column]; k < begin[column] + ((const int *)factor->nz)[column]; k++) {
            theirs[rows[k]][column] = ((const double *)factor->x)[k];
            assert_false(isnan(ours[rows[k]][column]));
        }
    }
    for (size_t row = 0; row < ROWS; row++) {
        for (size_t column = 0; column <= row; column++) {
            if (!isnan(ours[row][column])) {
                assert_near(ours[row][column], theirs[row][column], 0.0, 1e-13);
            }
        }
    }
    cholmod_free_factor(&factor, &up->common);
}

/* What a block leaves finds its rows in the block above. */
static void check_tree(const usi_blocks *of)
{
    assert_int_equal(of->first[0], 0);
    assert_int_equal(of->first[of->count], ROWS);
    for (size_t block = 0; block < of->count; block++) {
        const int32_t *rows = of->row + of->row_begin[block];
        size_t size = usi_blocks_rows(of, block);
        assert_true(size <= of->most_rows);
        assert_int_equal(rows[0], of->first[block]);
        for (size_t k = 1; k < size; k++) {
            assert_true(rows[k] > rows[k - 1]);
        }
        if (usi_blocks_rest(of, block) == 0) {
            assert_int_equal(of->above[block], -1);
            continue;
        }
        size_t above = (size_t)of->above[block];
        const int32_t *there = of->row + of->row_begin[above];
        size_t at = 0;
        assert_in_range(*usi_blocks_below(of, block), of->first[above], of->first[above + 1] - 1);
        for (size_t k = usi_blocks_columns(of, block); k < size; k++) {
            while (at < usi_blocks_rows(of, above) && there[at] < rows[k]) {
                at++;
            }
            assert_true(at < usi_blocks_rows(of, above) && there[at] == rows[k]);
        }
    }
}

/* The matrix times what substitution makes of a load is the load. */
static void check_solution(set_up *up)
{
    double values[ROWS];
    double room[ROWS];
    double load[ROWS] = {0.0};
    for (size_t row = 0; row < ROWS; row++) {
        values[row] = 1.0 + (double)(row % 7);
    }
    usi_substitute_forward(&up->blocks, values, room);
    usi_substitute_back(&up->blocks, values, room);
    for (size_t k = 0; k < up->problem.link_count; k++) {
        const usi_link *link = &up->problem.links[k];
        double to = link->b >= 0 ? values[link->b] : 0.0;
        load[link->a] += link->conductance * (values[link->a] - to);
        if (link->b >= 0) {
            load[link->b] -= link->conductance * (values[link->a] - to);
        }
    }
    for (size_t row = 0; row < ROWS; row++) {
        assert_near(load[row], 1.0 + (double)(row % 7), 1e-10, 0.0);
    }
}

static void any_net_has_cholmods_factor(void **state)
{
    (void)state;
    static const size_t links[] = {0, 40, 90, 200, LINKS, 3000};
    for (uint32_t seed = 1; seed <= 60; seed++) {
        set_up up;
        begin(&up, seed, links[seed % 6], 1 + seed % 5);
        check_tree(&up.blocks);
        check_entries(&up);
        check_solution(&up);
        end(&up);
    }
}

/* A pivot that is not above zero is told, wherever it stands. */
static void what_is_not_definite_is_told(void **state)
{
    (void)state;
    for (size_t row = 0; row < ROWS; row += 11) {
        set_up up;
        begin(&up, (uint32_t)row, 200, 1);
        free(up.blocks.numbers);
        up.blocks.numbers = NULL;
        ((double *)up.matrix->x)[((const int *)up.matrix->p)[row]] = -1.0;
        assert_int_equal(usi_fronts_factorise(up.context, up.matrix, &up.blocks), US_NOT_CONVERGED);
        end(&up);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_net_has_cholmods_factor),
        cmocka_unit_test(what_is_not_definite_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
