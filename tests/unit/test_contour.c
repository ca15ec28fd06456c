/* Contours on hand-built grids, against lines that are known. */
#include "support/support.h"

#include "draw/contour.h"

enum { COLUMNS = 40, ROWS = 30 };

/* A grid over (-2, 2) x (-3, 0), all soil, with a wall at x = 0 from the top
 * down to level -1 where `walled`. */
typedef struct block {
    usi_grid grid;
    double x_m[COLUMNS + 1];
    double z_m[ROWS + 1];
    int16_t soil[ROWS * COLUMNS];
    uint8_t wall_left[ROWS * (COLUMNS + 1)];
} block;

static void make_block(block *made, bool walled)
{
    memset(made, 0, sizeof *made);
    for (size_t i = 0; i <= COLUMNS; i++) {
        made->x_m[i] = -2 + 4.0 * (double)i / COLUMNS;
    }
    made->x_m[COLUMNS / 2] = 0;
    for (size_t j = 0; j <= ROWS; j++) {
        made->z_m[j] = -3 + 3.0 * (double)j / ROWS;
    }
    for (size_t j = 0; walled && j < ROWS; j++) {
        if (made->z_m[j] > -1 - 1e-9) {
            made->wall_left[j * (COLUMNS + 1) + COLUMNS / 2] = 1;
        }
    }
    made->grid = (usi_grid){.columns = COLUMNS,
                            .rows = ROWS,
                            .x_m = made->x_m,
                            .z_m = made->z_m,
                            .soil = made->soil,
                            .wall_left = made->wall_left};
}

static usi_point corner_point(const block *on, size_t i, size_t j, usi_corner corner)
{
    bool right = corner == USI_LOWER_RIGHT || corner == USI_UPPER_RIGHT;
    bool upper = corner == USI_UPPER_LEFT || corner == USI_UPPER_RIGHT;
    return (usi_point){on->x_m[i + right], on->z_m[j + upper]};
}

static double plane(const void *data, size_t i, size_t j, usi_corner corner)
{
    usi_point p = corner_point(data, i, j, corner);
    return p.x_m + 0.25 * p.z_m;
}

static double bowl(const void *data, size_t i, size_t j, usi_corner corner)
{
    usi_point p = corner_point(data, i, j, corner);
    return hypot(p.x_m, p.z_m + 1.5);
}

static double saddle(const void *data, size_t i, size_t j, usi_corner corner)
{
    usi_point p = corner_point(data, i, j, corner);
    return (p.x_m - 0.05) * (p.z_m + 1.55);
}

/* Reduced head beside a wall of depth 1 in endless soil, exactly: equipotentials
 * are hyperbolas with their focus at the tip. */
static double wall_head(const void *data, size_t i, size_t j, usi_corner corner)
{
    usi_point p = corner_point(data, i, j, corner);
    double depth_m = -p.z_m;
    double cosine = 0.5 * (hypot(depth_m + 1, p.x_m) - hypot(depth_m - 1, p.x_m));
    double angle = acos(fmax(-1, fmin(1, cosine)));
    bool left = p.x_m < 0 || (p.x_m == 0 && i < COLUMNS / 2);
    return 0.5 + (left ? angle : -angle) / acos(-1);
}

static usi_curves trace(const block *on, usi_corner_value *value, double level)
{
    us_context *context = us_context_create();
    usi_contour_source source = {
        .grid = &on->grid, .value = value, .data = on, .low = {-10, -10}, .high = {10, 10}};
    usi_curves curves = {0};
    assert_int_equal(usi_contour_trace(context, &source, level, &curves), US_OK);
    us_context_free(context);
    return curves;
}

static void test_plane_gives_one_straight_line(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    usi_curves curves = trace(&on, plane, 0.123);
    assert_int_equal(curves.count, 1);
    for (size_t k = 0; k < curves.starts[1]; k++) {
        assert_near(curves.points[k].x_m + 0.25 * curves.points[k].z_m, 0.123, 0, 1e-12);
    }
    double from_m = curves.points[0].z_m;
    double to_m = curves.points[curves.starts[1] - 1].z_m;
    assert_near(fabs(from_m - to_m), 3, 0, 1e-12);
    usi_curves_clear(&curves);
}

/* Steeper to the right of x = 0.5, where another soil begins. */
static double bent(const void *data, size_t i, size_t j, usi_corner corner)
{
    usi_point p = corner_point(data, i, j, corner);
    return p.z_m + (p.x_m > 0.5 ? 3 * (p.x_m - 0.5) : 0.2 * (p.x_m - 0.5));
}

static void test_bends_where_soils_meet_stand_twice(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    for (size_t cell = 0; cell < ROWS * COLUMNS; cell++) {
        on.soil[cell] = on.x_m[cell % COLUMNS] < 0.5 - 1e-9 ? 0 : 1;
    }
    usi_curves curves = trace(&on, bent, -1.53);
    assert_int_equal(curves.count, 1);
    size_t twice = 0;
    for (size_t k = 1; k < curves.starts[1]; k++) {
        const usi_point *p = &curves.points[k];
        if (p[0].x_m == p[-1].x_m && p[0].z_m == p[-1].z_m) {
            assert_near(p->x_m, 0.5, 0, 1e-12);
            assert_near(p->z_m, -1.53, 0, 1e-12);
            twice++;
        }
    }
    assert_int_equal(twice, 1);
    usi_curves_clear(&curves);
}

static void test_level_outside_gives_nothing(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    usi_curves curves = trace(&on, plane, 50);
    assert_int_equal(curves.count, 0);
    usi_curves_clear(&curves);
}

static void test_window_limits_the_cells(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    us_context *context = us_context_create();
    usi_contour_source source = {
        .grid = &on.grid, .value = plane, .data = &on, .low = {-2, -0.95}, .high = {2, 0}};
    usi_curves curves = {0};
    assert_int_equal(usi_contour_trace(context, &source, 0.123, &curves), US_OK);
    assert_int_equal(curves.count, 1);
    for (size_t k = 0; k < curves.starts[1]; k++) {
        assert_true(curves.points[k].z_m > -1.1);
    }
    usi_curves_clear(&curves);
    us_context_free(context);
}

static void test_closed_line_meets_itself(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    usi_curves curves = trace(&on, bowl, 1.1);
    assert_int_equal(curves.count, 1);
    size_t last = curves.starts[1] - 1;
    assert_near(curves.points[0].x_m, curves.points[last].x_m, 0, 1e-12);
    assert_near(curves.points[0].z_m, curves.points[last].z_m, 0, 1e-12);
    double length_m = 0;
    for (size_t k = 1; k <= last; k++) {
        length_m += hypot(curves.points[k].x_m - curves.points[k - 1].x_m,
                          curves.points[k].z_m - curves.points[k - 1].z_m);
    }
    assert_near(length_m, 2 * acos(-1) * 1.1, 0.01, 0);
    usi_curves_clear(&curves);
}

static void test_saddle_keeps_branches_apart(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    for (int sign = -1; sign <= 1; sign += 2) {
        usi_curves curves = trace(&on, saddle, sign * 1e-4);
        assert_int_equal(curves.count, 2);
        for (size_t k = 0; k < 2; k++) {
            bool right = curves.points[curves.starts[k]].x_m > 0.05;
            for (size_t i = curves.starts[k]; i < curves.starts[k + 1]; i++) {
                assert_true(right ? curves.points[i].x_m > 0.05 - 1e-2
                                  : curves.points[i].x_m < 0.05 + 1e-2);
            }
        }
        usi_curves_clear(&curves);
    }
}

/* Distance of a point from the hyperbola, to first order. */
static double off_hyperbola(usi_point p, double angle)
{
    double a = cos(angle);
    double b = sin(angle);
    double off = p.z_m * p.z_m / (a * a) - p.x_m * p.x_m / (b * b) - 1;
    return off / (2 * hypot(p.z_m / (a * a), p.x_m / (b * b)));
}

static void test_lines_at_a_wall_are_exact_and_stay_on_their_side(void **state)
{
    (void)state;
    block on;
    make_block(&on, true);
    for (int k = 1; k < 10; k++) {
        if (k == 5) {
            continue; /* straight down from the tip */
        }
        double level = k / 10.0;
        double angle = fabs(acos(-1) * (0.5 - level));
        usi_curves curves = trace(&on, wall_head, level);
        assert_int_equal(curves.count, 1);
        double nearest_m = INFINITY;
        for (size_t i = 0; i < curves.starts[1]; i++) {
            usi_point p = curves.points[i];
            assert_true(level > 0.5 ? p.x_m <= 0 : p.x_m >= 0);
            assert_true(fabs(off_hyperbola(p, angle)) < 0.25 * 4.0 / COLUMNS);
            nearest_m = fmin(nearest_m, hypot(p.x_m, p.z_m + cos(angle)));
        }
        assert_true(nearest_m < 0.03);
        usi_curves_clear(&curves);
    }
}

static void test_nothing_is_joined_across_a_wall(void **state)
{
    (void)state;
    block on;
    make_block(&on, true);
    /* The same straight line on both sides; the wall parts it in two. */
    usi_curves open = trace(&on, plane, -0.1);
    size_t whole = open.count;
    usi_curves_clear(&open);
    assert_int_equal(whole, 2);
    block without;
    make_block(&without, false);
    open = trace(&without, plane, -0.1);
    assert_int_equal(open.count, 1);
    usi_curves_clear(&open);
}

static void test_void_cells_are_left_out(void **state)
{
    (void)state;
    block on;
    make_block(&on, false);
    for (size_t j = ROWS / 2; j < ROWS; j++) {
        for (size_t i = 0; i < COLUMNS; i++) {
            on.soil[j * COLUMNS + i] = -1;
        }
    }
    usi_curves curves = trace(&on, plane, -0.5);
    assert_int_equal(curves.count, 1);
    for (size_t k = 0; k < curves.starts[1]; k++) {
        assert_true(curves.points[k].z_m <= -1.5 + 1e-12);
    }
    usi_curves_clear(&curves);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_plane_gives_one_straight_line),
        cmocka_unit_test(test_bends_where_soils_meet_stand_twice),
        cmocka_unit_test(test_level_outside_gives_nothing),
        cmocka_unit_test(test_window_limits_the_cells),
        cmocka_unit_test(test_closed_line_meets_itself),
        cmocka_unit_test(test_saddle_keeps_branches_apart),
        cmocka_unit_test(test_lines_at_a_wall_are_exact_and_stay_on_their_side),
        cmocka_unit_test(test_nothing_is_joined_across_a_wall),
        cmocka_unit_test(test_void_cells_are_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
