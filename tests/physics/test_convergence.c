/* The method itself: order of convergence, nesting, bounds that close, exponents
 * and the reach of endless soil against closed forms. */
#include "grid/exponent.h"
#include "grid/reach.h"
#include "solve/field.h"
#include "study/reading.h"
#include "support/support.h"

static const double PI = 3.14159265358979323846;

static usi_field *solve(us_context *context, const us_section *section, double cells, int halvings,
                        usi_grid **grid)
{
    usi_grid_options options = {.cells = cells, .halvings = halvings};
    usi_field *field = NULL;
    assert_int_equal(usi_grid_build(context, section, &options, grid), US_OK);
    assert_int_equal(usi_field_solve(context, *grid, &field), US_OK);
    return field;
}

/* Bounds of a bare wall, s/T = 0.25 (not the self-dual half), against Harr's
 * closed form, reference case A2: both fall by four a halving. */
static void test_bounds_close_at_second_order(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                                                "walls: [{name: a, x: 0, top: 0, tip: -2.5}]\n"
                                                "soils: [{name: sand, kh: 1, kv: 1}]\n"
                                                "water: [{name: w, upstream: 1, downstream: 0}]\n");
    const double exact = 0.734609015813;
    double above[3];
    double below[3];
    for (int h = 0; h < 3; h++) {
        usi_grid *grid;
        usi_field *field = solve(context, section, 8.0, h, &grid);
        above[h] = field->upper_m_s / exact - 1.0;
        below[h] = 1.0 - field->lower_m_s / exact;
        assert_true(above[h] > 0.0 && below[h] > 0.0);
        assert_true(field->imbalance < 1e-9);
        usi_field_free(field);
        usi_grid_free(grid);
    }
    for (int h = 0; h < 2; h++) {
        assert_true(log2(above[h] / above[h + 1]) > 1.8);
        assert_true(log2(below[h] / below[h + 1]) > 1.8);
    }
    us_section_free(section);
    us_context_free(context);
}

/* Layers 1e4 apart, either way, tip above the interface: the bracket closes on
 * refinement. */
static void test_bracket_closes_across_contrast(void **state)
{
    (void)state;
    static const double lower_k[] = {1e-9, 1e-1};
    for (size_t k = 0; k < 2; k++) {
        char text[1024];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                       "walls: [{name: a, x: 0, top: 0, tip: -4}]\n"
                       "soils: [{name: upper, kh: 1e-5, kv: 1e-5},\n"
                       "        {name: lower, top: -6, kh: %g, kv: %g}]\n"
                       "water: [{name: w, upstream: 1, downstream: 0}]\n",
                       lower_k[k], lower_k[k]);
        us_context *context = us_context_create();
        us_section *section = support_read(context, text);
        double before = HUGE_VAL;
        for (int h = 0; h < 3; h++) {
            usi_grid *grid;
            usi_field *field = solve(context, section, 8.0, h, &grid);
            double width = field->upper_m_s / field->lower_m_s - 1.0;
            print_message("    lower layer %g: %zu unknowns, bracket %.3e\n", lower_k[k],
                          grid->unknowns, width);
            assert_true(width > 0.0 && width < 0.4 * before);
            before = width;
            usi_field_free(field);
            usi_grid_free(grid);
        }
        assert_true(before < 0.002);
        us_section_free(section);
        us_context_free(context);
    }
}

/* A halved grid contains the lines of the grid it came from, bit for bit. */
static void test_halved_grids_nest(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(
        context, "bed: {upstream: 1.6, downstream: 0}\nbase: -9\n"
                 "structure: {underside: [[0, 0.9], [3, 0.9], [3, -0.8], [15, -0.8]]}\n"
                 "walls: [{name: a, x: 0, top: 1.2, tip: -3},\n"
                 "        {name: b, x: 15, top: -0.5, tip: -2.7}]\n"
                 "soils: [{name: s, kh: 2e-5, kv: 1e-5}]\n"
                 "water: [{name: w, upstream: 3, downstream: 2}]\n");
    usi_grid_options options = {.cells = 7.0};
    usi_grid *coarse;
    usi_grid *fine;
    assert_int_equal(usi_grid_build(context, section, &options, &coarse), US_OK);
    options.halvings = 1;
    assert_int_equal(usi_grid_build(context, section, &options, &fine), US_OK);
    assert_int_equal(fine->columns, 2 * coarse->columns);
    assert_int_equal(fine->rows, 2 * coarse->rows);
    for (size_t i = 0; i <= coarse->columns; i++) {
        assert_true(coarse->x_m[i] == fine->x_m[2 * i]);
        assert_true(i == 0 || coarse->x_m[i] > coarse->x_m[i - 1]);
    }
    for (size_t j = 0; j <= coarse->rows; j++) {
        assert_true(coarse->z_m[j] == fine->z_m[2 * j]);
    }
    usi_grid_free(fine);
    usi_grid_free(coarse);
    us_section_free(section);
    us_context_free(context);
}

/* Exponent at the tip of a bare wall over `lower` soil. */
static double tip_exponent(double lower_kh, double lower_kv)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                   "walls: [{name: a, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: upper, kh: 1e-5, kv: 1e-5},\n"
                   "        {name: lower, top: -5, kh: %g, kv: %g}]\n"
                   "water: [{name: w, upstream: 1, downstream: 0}]\n",
                   lower_kh, lower_kv);
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    usi_grid_options options = {.cells = 7.0};
    usi_grid *grid;
    assert_int_equal(usi_grid_build(context, section, &options, &grid), US_OK);
    double lambda = usi_exponent_at(grid, usi_grid_x_line(grid, 0.0), usi_grid_z_line(grid, -5.0),
                                    USI_LOWER_LEFT);
    usi_grid_free(grid);
    us_section_free(section);
    us_context_free(context);
    return lambda;
}

/* (2/pi) atan sqrt(k_below / k_above) in isotropic soil, with sqrt(kh kv) for k
 * in anisotropic soil; 1/2 without contrast (Williams 1952 for the plain crack). */
static void test_tip_exponents(void **state)
{
    (void)state;
    assert_near(tip_exponent(1e-5, 1e-5), 0.5, 1e-9, 0.0);
    assert_near(tip_exponent(1e-7, 1e-7), 2.0 / PI * atan(0.1), 1e-9, 0.0);
    assert_near(tip_exponent(1e-3, 1e-3), 2.0 / PI * atan(10.0), 1e-9, 0.0);
    assert_near(tip_exponent(4e-6, 1e-6), 2.0 / PI * atan(sqrt(0.2)), 1e-9, 0.0);
}

/* Decay into endless soil: pi/(2T) sqrt(kv/kh) in one layer. Of two isotropic
 * layers d1 over d2 the smallest root of tan(mu d1) tan(mu d2) = k1/k2, from
 * sin(mu d1) above and cos(mu (z + T)) below matched in head and flow. */
static void test_decay(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                                                "walls: [{name: a, x: 0, top: 0, tip: -5}]\n"
                                                "soils: [{name: s, kh: 9e-5, kv: 1e-5}]\n"
                                                "water: [{name: w, upstream: 1, downstream: 0}]\n");
    assert_near(usi_reach_decay(section, 0.0, -10.0, true), PI / 20.0 / 3.0, 1e-10, 0.0);
    us_section_free(section);
    section = support_read(context, "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                                    "walls: [{name: a, x: 0, top: 0, tip: -5}]\n"
                                    "soils: [{name: s, kh: 1e-7, kv: 1e-7},\n"
                                    "        {name: t, top: -3, kh: 1e-5, kv: 1e-5}]\n"
                                    "water: [{name: w, upstream: 1, downstream: 0}]\n");
    double mu = usi_reach_decay(section, 0.0, -10.0, true);
    assert_near(tan(3.0 * mu) * tan(7.0 * mu), 0.01, 1e-8, 0.0);
    assert_true(7.0 * mu < 0.5 * PI);
    us_section_free(section);
    us_context_free(context);
}

/* What cutting endless soil costs stays within what the grid says of it: the
 * same section with cuts a hundred times finer. Flow where there is a base, the
 * mean gradient at the exit where there is none. */
static void test_cuts_cost_what_they_state(void **state)
{
    (void)state;
    static const char *const bases[] = {"-10", "none"};
    for (size_t k = 0; k < 2; k++) {
        char text[512];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: %s\n"
                       "walls: [{name: a, x: 0, top: 0, tip: -2.5}]\n"
                       "soils: [{name: sand, kh: 4, kv: 1}, {name: silt, top: -4, kh: 1, kv: 1}]\n"
                       "piezometers: [{name: p, at: [1, -3]}]\n"
                       "water: [{name: w, upstream: 1, downstream: 0}]\n",
                       bases[k]);
        us_context *context = us_context_create();
        us_section *section = support_read(context, text);
        usi_exit *exits = NULL;
        size_t count = 0;
        assert_int_equal(usi_exits_list(context, section, &exits, &count), US_OK);
        usi_reading usual;
        usi_reading far;
        usi_grid_options options = {.cells = 16.0, .halvings = 2};
        assert_int_equal(usi_reading_take(context, section, &options,
                                          &(usi_places){.exit_count = count, .exits = exits},
                                          &usual),
                         US_OK);
        options.truncation = 1e-7;
        assert_int_equal(usi_reading_take(context, section, &options,
                                          &(usi_places){.exit_count = count, .exits = exits}, &far),
                         US_OK);
        assert_true(far.truncation <= 1.1e-7);
        assert_true(far.truncation < 0.2 * usual.truncation);
        double change = fabs(usual.piezometers[0].value - far.piezometers[0].value);
        print_message("    a head changes by %.1e, stated %.1e\n", change, usual.truncation);
        /* The lines near the structure move a little with the cuts. */
        assert_true(change <= usual.truncation + 5e-6);
        usi_reading_free(&usual);
        usi_reading_free(&far);
        free(exits);
        us_section_free(section);
        us_context_free(context);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bounds_close_at_second_order),
        cmocka_unit_test(test_bracket_closes_across_contrast),
        cmocka_unit_test(test_halved_grids_nest),
        cmocka_unit_test(test_tip_exponents),
        cmocka_unit_test(test_decay),
        cmocka_unit_test(test_cuts_cost_what_they_state),
    };
    return cmocka_run_group_tests_name("convergence", tests, NULL, NULL);
}
