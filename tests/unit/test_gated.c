/* Gates: any of them open, from one factor, is what a problem with these given says. */
#include "support/support.h"

#include "solve/gated.h"

enum { ROWS = 6, COLUMNS = 7, GATES = COLUMNS, FREE = (ROWS - 1) * COLUMNS, GIVEN = 2 };

/* A lattice whose lowest row hangs on the last given value and whose highest are gates. */
static int32_t place(size_t row, size_t column)
{
    return row + 1 < ROWS ? (int32_t)(row * COLUMNS + column) : (int32_t)(FREE + column);
}

static void add_lattice(usi_problem *problem, bool hung)
{
    for (size_t row = 0; row < ROWS; row++) {
        for (size_t column = 0; column < COLUMNS; column++) {
            double conductance = 1.0 + 0.3 * (double)(row * column % 5);
            if (column + 1 < COLUMNS) {
                usi_problem_link(problem, place(row, column), place(row, column + 1), conductance);
            }
            if (row + 1 < ROWS) {
                usi_problem_link(problem, place(row, column), place(row + 1, column), conductance);
            }
            if (row == 0 && hung) {
                usi_problem_link(problem, place(0, column), FREE + GATES + (int32_t)(column % 2),
                                 0.5);
            }
        }
    }
}

typedef struct set_up {
    us_context *context;
    usi_problem problem;
    usi_gated *gated;
    double values[FREE + GATES + GIVEN];
} set_up;

static void begin(set_up *up, size_t dense_from, bool hung)
{
    *up = (set_up){.context = us_context_create()};
    assert_int_equal(usi_problem_begin(up->context, &up->problem, FREE, 4 * ROWS * COLUMNS), US_OK);
    up->problem.gate_count = GATES;
    up->problem.dense_from = dense_from;
    add_lattice(&up->problem, hung);
    assert_int_equal(usi_gated_make(up->context, &up->problem, &up->gated), US_OK);
    for (size_t g = 0; g < GATES; g++) {
        up->values[FREE + g] = 0.2 * (double)g;
    }
    up->values[FREE + GATES] = 1.0;
    up->values[FREE + GATES + 1] = 2.0;
}

static void end(set_up *up)
{
    usi_gated_free(up->gated);
    usi_problem_free(&up->problem);
    us_context_free(up->context);
}

/* What flows from all others to a place; 0 at free ones and closed gates. */
static double inflow(const set_up *up, const double *values, int32_t to)
{
    double sum = 0.0;
    for (size_t k = 0; k < up->problem.link_count; k++) {
        const usi_link *link = &up->problem.links[k];
        double flow = link->conductance * (values[link->b] - values[link->a]);
        sum += link->a == to ? flow : 0.0;
        sum -= link->b == to ? flow : 0.0;
    }
    return sum;
}

static void check_balance(const set_up *up, const bool *open, const double *values)
{
    for (int32_t k = 0; k < FREE + GATES; k++) {
        if (k >= FREE && open[k - FREE]) {
            assert_near(values[k], 0.2 * (double)(k - FREE), 0.0, 0.0);
        } else {
            assert_near(inflow(up, values, k), 0.0, 0.0, 1e-13);
        }
    }
}

static void check_sets(size_t dense_from)
{
    static const bool sets[][GATES] = {{false, false, false, false, false, false, false},
                                       {true, false, true, true, false, false, true},
                                       {true, true, true, true, true, true, true},
                                       {false, false, false, false, false, false, true}};
    set_up up;
    begin(&up, dense_from, true);
    for (size_t s = 0; s < sizeof sets / sizeof sets[0]; s++) {
        double values[FREE + GATES + GIVEN];
        double looked[FREE + GATES + GIVEN];
        double outflows[GATES];
        memcpy(values, up.values, sizeof values);
        memcpy(looked, up.values, sizeof looked);
        assert_int_equal(usi_gated_solve(up.context, up.gated, sets[s], values), US_OK);
        check_balance(&up, sets[s], values);
        assert_int_equal(usi_gated_look(up.context, up.gated, sets[s], looked, outflows), US_OK);
        for (size_t g = 0; g < GATES; g++) {
            assert_near(looked[FREE + g], values[FREE + g], 0.0, 1e-12);
            assert_near(outflows[g], sets[s][g] ? inflow(&up, values, (int32_t)(FREE + g)) : 0.0,
                        0.0, 1e-12);
        }
    }
    end(&up);
}

static void any_set_is_solved_by_one_simple_factor(void **state)
{
    (void)state;
    check_sets(SIZE_MAX);
}

static void any_set_is_solved_by_one_factor_of_dense_blocks(void **state)
{
    (void)state;
    check_sets(0);
}

/* Nothing but gates holds a head: one of them has to be open. */
static void gates_alone_hold_soil_as_long_as_one_is_open(void **state)
{
    (void)state;
    bool open[GATES] = {false, true};
    set_up up;
    begin(&up, SIZE_MAX, false);
    assert_int_equal(usi_gated_solve(up.context, up.gated, open, up.values), US_OK);
    for (size_t k = 0; k < FREE + GATES; k++) {
        assert_near(up.values[k], 0.2, 1e-11, 0.0);
    }
    open[1] = false;
    assert_int_equal(usi_gated_solve(up.context, up.gated, open, up.values), US_NOT_CONVERGED);
    end(&up);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_set_is_solved_by_one_simple_factor),
        cmocka_unit_test(any_set_is_solved_by_one_factor_of_dense_blocks),
        cmocka_unit_test(gates_alone_hold_soil_as_long_as_one_is_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
