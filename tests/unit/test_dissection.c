/* The order of elimination taken from the grid: whole, with what is asked for last, of little
 * fill on every shape, and without effect on the solution. */
#include "support/support.h"

#include <stdlib.h>

#include "solve/dissection.h"
#include "solve/factor.h"

/* Soil in cells; a wall stands on line `wall` above row `tip`; 0 for none. */
typedef struct shape {
    size_t columns;
    size_t rows;
    bool (*is_soil)(size_t column, size_t row);
    size_t wall;
    size_t tip;
    double leak; /* between both faces of the wall */
    bool tied;   /* all places of the wall's left face are one */
    bool cut;    /* cells in a row have a link across */
} shape;

static bool everywhere(size_t column, size_t row)
{
    (void)column;
    (void)row;
    return true;
}

static bool round_a_hole(size_t column, size_t row)
{
    return column < 9 || column > 22 || row < 11 || row > 17;
}

static bool in_two_pieces(size_t column, size_t row)
{
    (void)row;
    return column != 12;
}

static bool in_steps(size_t column, size_t row)
{
    return row < 6 + 3 * (column / 5);
}

static const shape SHAPES[] = {
    {40, 40, everywhere, 0, 0, 0.0, false, false},
    {40, 24, everywhere, 17, 9, 0.0, false, false},
    {40, 24, everywhere, 17, 9, 0.4, false, false},
    {40, 24, everywhere, 17, 9, 0.0, true, false},
    {33, 28, round_a_hole, 0, 0, 0.0, false, false},
    {31, 14, in_two_pieces, 0, 0, 0.0, false, false},
    {30, 26, in_steps, 11, 3, 0.0, false, true},
    {1, 300, everywhere, 0, 0, 0.0, false, false},
    {300, 1, everywhere, 0, 0, 0.0, false, false},
    {1, 1, everywhere, 0, 0, 0.0, false, false},
};
enum { SHAPE_COUNT = sizeof SHAPES / sizeof SHAPES[0] };

typedef struct set_up {
    us_context *context;
    usi_problem problem;
    int32_t *places; /* two a node, left and right of the wall, counted from 1; 0 for none */
    size_t rows;
} set_up;

static int32_t place_at(set_up *up, const shape *of, size_t node, size_t row, bool right)
{
    size_t line = node % (of->columns + 1);
    bool face = of->wall > 0 && line == of->wall && row >= of->tip;
    bool shares = face && of->tied && !right;
    size_t first = of->tip * (of->columns + 1) + of->wall;
    int32_t *place = &up->places[2 * (shares ? first : node) + (face && right ? 1 : 0)];
    if (*place == 0) {
        *place = (int32_t)++up->problem.free_count;
    }
    return *place - 1;
}

static void link_corners(set_up *up, const shape *of, const int32_t corner[4], size_t cell)
{
    size_t column = cell % of->columns;
    size_t row = cell / of->columns;
    for (size_t c = 0; c < 4; c++) {
        usi_problem_touch(&up->problem, corner[c], column, row);
        usi_problem_link(&up->problem, corner[c], corner[(c + 1) % 4],
                         1.0 + 0.1 * (double)((3 * column + 7 * row + c) % 11));
    }
    if (of->cut && row % 4 == 0) {
        usi_problem_link(&up->problem, corner[0], corner[2], 0.3);
    }
    if (row == 0 || column == 20) {
        usi_problem_link(&up->problem, corner[0], column % 2 == 0 ? USI_PLACE_ONE : USI_PLACE_ZERO,
                         0.7);
    }
}

/* Places are numbered as they are met, then met again for links. */
static void fill(set_up *up, const shape *of, bool linking)
{
    static const size_t across[4] = {0, 1, 1, 0};
    static const size_t above[4] = {0, 0, 1, 1};
    for (size_t cell = 0; cell < of->columns * of->rows; cell++) {
        size_t column = cell % of->columns;
        size_t row = cell / of->columns;
        int32_t corner[4] = {0};
        if (!of->is_soil(column, row)) {
            continue;
        }
        for (size_t c = 0; c < 4; c++) {
            size_t node = (row + above[c]) * (of->columns + 1) + column + across[c];
            corner[c] = place_at(up, of, node, row + above[c], across[c] == 0);
        }
        if (linking) {
            link_corners(up, of, corner, cell);
        }
    }
}

static void begin(set_up *up, const shape *of)
{
    *up = (set_up){.context = us_context_create()};
    size_t nodes = 2 * (of->columns + 1) * (of->rows + 1);
    up->places = calloc(nodes, sizeof *up->places);
    fill(up, of, false);
    up->rows = up->problem.free_count;
    assert_int_equal(usi_problem_begin(up->context, &up->problem, up->rows, 8 * nodes), US_OK);
    up->problem.placed = true;
    fill(up, of, true);
    for (size_t row = of->tip; of->leak > 0.0 && row <= of->rows; row++) {
        size_t node = row * (of->columns + 1) + of->wall;
        usi_problem_link(&up->problem, up->places[2 * node] - 1, up->places[2 * node + 1] - 1,
                         of->leak);
    }
}

static void end(set_up *up)
{
    usi_problem_free(&up->problem);
    us_context_free(up->context);
    free(up->places);
}

/* When each row is eliminated; fails unless each is, once. */
static int32_t *ranks_of(const set_up *up, const int32_t *order)
{
    int32_t *rank = malloc((up->rows + 1) * sizeof *rank);
    for (size_t row = 0; row < up->rows; row++) {
        rank[row] = -1;
    }
    for (size_t k = 0; k < up->rows; k++) {
        assert_in_range(order[k], 0, up->rows - 1);
        assert_int_equal(rank[order[k]], -1);
        rank[order[k]] = (int32_t)k;
    }
    return rank;
}

static bool is_linked(const usi_problem *problem, size_t link, size_t rows)
{
    int32_t a = problem->links[link].a;
    int32_t b = problem->links[link].b;
    return a >= 0 && b >= 0 && (size_t)a < rows && (size_t)b < rows;
}

static int by_row(const void *one, const void *other)
{
    const int32_t *a = one;
    const int32_t *b = other;
    return (a[0] > b[0]) - (a[0] < b[0]);
}

/* Entries of the factor below its diagonal, row by row along the tree of elimination. */
static size_t fill_of(const set_up *up, const int32_t *order)
{
    int32_t *rank = ranks_of(up, order);
    size_t count = 0;
    int32_t(*pairs)[2] = malloc((up->problem.link_count + 1) * sizeof *pairs);
    for (size_t k = 0; k < up->problem.link_count; k++) {
        if (is_linked(&up->problem, k, up->rows)) {
            int32_t a = rank[up->problem.links[k].a];
            int32_t b = rank[up->problem.links[k].b];
            pairs[count][0] = a > b ? a : b;
            pairs[count++][1] = a > b ? b : a;
        }
    }
    qsort(pairs, count, sizeof *pairs, by_row);
    int32_t *parent = malloc((up->rows + 1) * sizeof *parent);
    int32_t *seen = malloc((up->rows + 1) * sizeof *seen);
    for (size_t row = 0; row < up->rows; row++) {
        parent[row] = -1;
        seen[row] = -1;
    }
    size_t entries = 0;
    for (size_t k = 0; k < count; k++) {
        int32_t row = pairs[k][0];
        seen[row] = row;
        for (int32_t at = pairs[k][1]; seen[at] != row; at = parent[at]) {
            parent[at] = parent[at] < 0 ? row : parent[at];
            seen[at] = row;
            entries++;
        }
    }
    free(pairs);
    free(parent);
    free(seen);
    free(rank);
    return entries;
}

static int32_t *order_of(set_up *up)
{
    int32_t *order = malloc((up->rows + 1) * sizeof *order);
    bool *starts = calloc(up->rows + 1, sizeof *starts);
    assert_int_equal(usi_dissection_order(up->context, &up->problem, order, starts), US_OK);
    assert_true(up->rows == 0 || starts[0]);
    assert_false(starts[up->rows]);
    free(starts);
    return order;
}

static void every_row_is_eliminated_once(void **state)
{
    (void)state;
    for (size_t s = 0; s < SHAPE_COUNT; s++) {
        set_up up;
        begin(&up, &SHAPES[s]);
        int32_t *order = order_of(&up);
        free(ranks_of(&up, order));
        free(order);
        end(&up);
    }
}

/* The order that minimum degree finds. */
static int32_t *order_by_degree(set_up *up)
{
    int32_t *order = malloc((up->rows + 1) * sizeof *order);
    usi_factor *factor = NULL;
    up->problem.placed = false;
    assert_int_equal(usi_factor_make(up->context, &up->problem, &factor), US_OK);
    memcpy(order, factor->order, up->rows * sizeof *order);
    usi_factor_free(factor);
    up->problem.placed = true;
    return order;
}

/* The same in blocks, zeros that fill them up included. */
static size_t fill_of_blocks(set_up *up)
{
    usi_factor *factor = NULL;
    up->problem.dense_from = 0;
    assert_int_equal(usi_factor_make(up->context, &up->problem, &factor), US_OK);
    size_t fill = factor->blocks.begin[factor->blocks.count] - up->rows;
    usi_factor_free(factor);
    return fill;
}

/* Lines that did not part what they are to part would leave several times as much fill. On
 * small shapes minimum degree is the better, and finds what is best of all in a strip. */
static void fill_is_little_on_every_shape(void **state)
{
    (void)state;
    for (size_t s = 0; s < SHAPE_COUNT; s++) {
        set_up up;
        begin(&up, &SHAPES[s]);
        up.problem.dense_from = SIZE_MAX; /* blocks leave some of the order open */
        int32_t *order = order_of(&up);
        int32_t *other = order_by_degree(&up);
        bool strip = SHAPES[s].columns == 1 || SHAPES[s].rows == 1;
        double most = strip ? 2.0 : s == 0 ? 1.0 : 1.35;
        assert_true((double)fill_of(&up, order) <= most * (double)fill_of(&up, other));
        assert_true(fill_of_blocks(&up) <= 2 * fill_of(&up, order) + 10);
        free(order);
        free(other);
        end(&up);
    }
}

static void what_comes_last_does_so_in_its_order(void **state)
{
    (void)state;
    for (size_t s = 0; s < SHAPE_COUNT; s++) {
        set_up up;
        begin(&up, &SHAPES[s]);
        int32_t last[4] = {(int32_t)up.rows - 1, 0, (int32_t)up.rows / 2, 1};
        up.problem.last = last;
        up.problem.last_count = 4;
        int32_t *order = order_of(&up);
        free(ranks_of(&up, order));
        for (size_t k = 0; k < 4; k++) {
            assert_int_equal(order[up.rows - 4 + k], last[k]);
        }
        free(order);
        end(&up);
    }
}

static double *solve(set_up *up, bool placed, size_t dense_from)
{
    double *values = malloc((up->rows + 1) * sizeof *values);
    up->problem.placed = placed;
    up->problem.dense_from = dense_from;
    assert_int_equal(usi_problem_solve(up->context, &up->problem, values), US_OK);
    return values;
}

static void the_order_leaves_the_solution_as_it_is(void **state)
{
    (void)state;
    for (size_t s = 0; s < SHAPE_COUNT; s++) {
        set_up up;
        begin(&up, &SHAPES[s]);
        double *expected = solve(&up, false, SIZE_MAX);
        double *sparse = solve(&up, true, SIZE_MAX);
        double *dense = solve(&up, true, 0);
        for (size_t row = 0; row < up.rows; row++) {
            assert_near(sparse[row], expected[row], 0.0, 1e-12);
            assert_near(dense[row], expected[row], 0.0, 1e-12);
        }
        free(expected);
        free(sparse);
        free(dense);
        end(&up);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_is_eliminated_once),
        cmocka_unit_test(fill_is_little_on_every_shape),
        cmocka_unit_test(what_comes_last_does_so_in_its_order),
        cmocka_unit_test(the_order_leaves_the_solution_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
