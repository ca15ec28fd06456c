/* Published values and closed forms, at default accuracy. Sources stand beside
 * each check; elliptic integrals come from the GNU Scientific Library. */
#include <gsl/gsl_sf_ellint.h>

#include "support/support.h"

static const double PI = 3.14159265358979323846;
enum { TEXT_ROOM = 2048 };

typedef struct solved {
    us_context *context;
    us_section *section;
    us_solution *solution;
    const us_water_result *result;
} solved;

static solved solve(const char *text)
{
    solved one = {.context = us_context_create()};
    one.section = support_read(one.context, text);
    one.solution = support_solve(one.context, one.section, 0.01);
    one.result = us_solution_water(one.solution, 0);
    return one;
}

static void release(solved *one)
{
    us_solution_free(one->solution);
    us_section_free(one->section);
    us_context_free(one->context);
}

static double elliptic(double modulus)
{
    return gsl_sf_ellint_Kcomp(modulus, GSL_PREC_DOUBLE);
}

/* Khosla, Bose & Taylor, Design of Weirs on Permeable Foundations, Central Board
 * of Irrigation Publ. 12, 1936: floor of length b with a pile of depth d at its
 * downstream end, infinite depth; alpha = b/d, percentages at E and D, G_E d/H. */
static void test_khosla_end_pile(void **state)
{
    (void)state;
    static const double rows[][4] = {
        {1, 72.81, 44.51, 0.2897},  {2, 57.59, 37.52, 0.2502},  {4, 42.96, 29.13, 0.1989},
        {5, 38.82, 26.54, 0.1823},  {8, 31.13, 21.56, 0.1495},  {10, 27.98, 19.45, 0.1354},
        {15, 22.98, 16.07, 0.1124}, {20, 19.96, 14.00, 0.0982},
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: none\n"
                       "structure: {underside: [[0, 0], [%.1f, 0]]}\n"
                       "walls: [{name: end, x: %.1f, top: 0, tip: -2}]\n"
                       "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                       "water: [{name: w, upstream: 3, downstream: 0}]\n",
                       2.0 * rows[r][0], 2.0 * rows[r][0]);
        solved one = solve(text);
        const us_wall_result *pile = &one.result->walls[0];
        assert_near(pile->upstream_face_top_m.value / 3.0, rows[r][1] / 100.0, 0.0, 0.005);
        assert_near(pile->tip_m.value / 3.0, rows[r][2] / 100.0, 0.0, 0.005);
        /* Printed to four places. */
        assert_near(one.result->exit.gradient.value * 2.0 / 3.0, rows[r][3], 0.01, 0.00005);
        release(&one);
    }
}

/* Single sheet pile, embedment s in a layer T: q/k H = K'(m) / 2 K(m) and i_E =
 * (pi/4)(H/T) / (m K), m = sin(pi s / 2T): Polubarinova-Kochina 1962, Harr,
 * Groundwater and Seepage, 1962. The head at the tip is H/2 by symmetry. */
static void test_single_pile(void **state)
{
    (void)state;
    for (int tenth = 1; tenth <= 9; tenth++) {
        double share = tenth / 10.0;
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                       "walls: [{name: pile, x: 0, top: 11, tip: %.17g}]\n"
                       "soils: [{name: sand, kh: 2e-5, kv: 2e-5, unit_weight: 20}]\n"
                       "water: [{name: w, upstream: 13, downstream: 11}]\n",
                       10.0 - 10.0 * share);
        solved one = solve(text);
        double m = sin(0.5 * PI * share);
        double flow = 0.5 * elliptic(cos(0.5 * PI * share)) / elliptic(m);
        double gradient = 0.25 * PI * 2.0 / 10.0 / (m * elliptic(m));
        const us_flow_result *rate = &one.result->flow;
        assert_near(rate->rate_m2_s.value, flow * 2e-5 * 2.0, 0.002, 0.0);
        assert_true(rate->lower_m2_s <= flow * 4e-5 && flow * 4e-5 <= rate->upper_m2_s);
        assert_near(one.result->exit.gradient.value, gradient, 0.01, 0.0);
        assert_near(one.result->walls[0].tip_m.value, 12.0, 0.0, 0.005 * 2.0);
        release(&one);
    }
}

/* Printed value: q/kh = 0.5000 at s/T = 0.5 (the chart of EM 1110-2-1901 and
 * Harr's closed form are the same curve). */
static void test_half_depth_is_one_half(void **state)
{
    (void)state;
    double half = sin(0.25 * PI);
    assert_near(0.5 * elliptic(cos(0.25 * PI)) / elliptic(half), 0.5, 1e-12, 0.0);
}

/* Flat floor of width B on a layer T: q/kH = K'(m) / 2 K(m), m = tanh(pi B/4T)
 * (Harr 1962). Dachler's 1/(B/T + 0.88) must lie within a percent of it from
 * B/T = 1 on. Uplift by symmetry: half the head over the floor. */
static void test_flat_floor(void **state)
{
    (void)state;
    static const double ratios[] = {0.25, 0.5, 1.0, 2.0, 3.0, 5.0};
    for (size_t r = 0; r < sizeof ratios / sizeof ratios[0]; r++) {
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: -8\n"
                       "structure: {underside: [[0, 0], [%.17g, 0]]}\n"
                       "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n"
                       "water: [{name: w, upstream: 2, downstream: 0}]\n",
                       8.0 * ratios[r]);
        solved one = solve(text);
        double m = tanh(0.25 * PI * ratios[r]);
        double flow = 0.5 * elliptic(sqrt(1.0 - m * m)) / elliptic(m);
        const us_flow_result *rate = &one.result->flow;
        assert_near(rate->rate_m2_s.value, flow * 2e-4, 0.002, 0.0);
        assert_true(rate->lower_m2_s <= flow * 2e-4 && flow * 2e-4 <= rate->upper_m2_s);
        if (ratios[r] >= 1.0) {
            assert_near(rate->rate_m2_s.value / 2e-4, 1.0 / (ratios[r] + 0.88), 0.01, 0.0);
        }
        assert_near(one.result->uplift.force_n_m.value, 9810.0 * 8.0 * ratios[r], 0.005, 0.0);
        /* The excess head is odd about the middle: H (1/2 + f), so the force acts left of it. */
        assert_true(one.result->uplift.x_m.value < 4.0 * ratios[r]);
        assert_false(one.result->exit.bounded);
        assert_false(one.result->exit.gradient.present);
        release(&one);
    }
}

/* Wall tip on an interface in mid-depth: q = H sqrt(k1 k2) / 2 exactly, by the
 * self-duality of the section (derived in the reference data, case H4). */
static void test_tip_on_interface(void **state)
{
    (void)state;
    solved one = solve("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                       "walls: [{name: pile, x: 0, top: 0, tip: -5}]\n"
                       "soils: [{name: upper, kh: 1e-5, kv: 1e-5},\n"
                       "        {name: lower, top: -5, kh: 9e-5, kv: 9e-5}]\n"
                       "water: [{name: w, upstream: 2, downstream: 0}]\n");
    assert_near(one.result->flow.rate_m2_s.value, 3e-5, 0.002, 0.0);
    release(&one);
}

/* Confined layer between two fixed heads: q = k T H / L, exact in one dimension
 * (Darcy's law), and a head that falls evenly. */
static void test_confined_layer(void **state)
{
    (void)state;
    solved one = solve("bed: {upstream: 4, downstream: 4}\nbase: 0\n"
                       "structure: {underside: [[0, 4], [20, 4]]}\n"
                       "sides: {left: {x: 0, kind: fixed_head}, right: {x: 20, kind: fixed_head}}\n"
                       "soils: [{name: sand, kh: 3e-5, kv: 1e-5}]\n"
                       "water: [{name: w, upstream: 9, downstream: 5}]\n"
                       "piezometers: [{name: p, at: [5, 1]}]\n");
    assert_near(one.result->flow.rate_m2_s.value, 3e-5 * 4.0 * 4.0 / 20.0, 1e-9, 0.0);
    assert_near(one.result->flow.lower_m2_s, one.result->flow.upper_m2_s, 1e-9, 0.0);
    assert_near(one.result->piezometers[0].head_m.value, 8.0, 1e-9, 0.0);
    assert_false(one.result->exit.present);
    release(&one);
}

/* Critical gradient and factor: (gamma_sat - gamma_w) / gamma_w over the exit
 * gradient (Terzaghi; in every text). Printed example: GATE 2012, G = 2.70 and
 * e = 0.85 give 0.919: a saturated weight of 9.81 (2.70 + 0.85) / 1.85. */
static void test_piping_factor(void **state)
{
    (void)state;
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                   "walls: [{name: pile, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: %.17g}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n"
                   "require: {piping: 5}\n",
                   9.81 * (2.70 + 0.85) / 1.85);
    solved one = solve(text);
    assert_near(one.result->exit.critical.value, 0.919, 0.0, 0.0005);
    double factor = 1.7 / 1.85 / 0.17972103521;
    assert_near(one.result->exit.piping_factor.value, factor, 0.01, 0.0);
    assert_int_equal(one.result->check_count, 1);
    assert_int_equal(one.result->checks[0].verdict, US_PASS);
    assert_false(us_solution_fails(one.solution));
    release(&one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_khosla_end_pile),        cmocka_unit_test(test_single_pile),
        cmocka_unit_test(test_half_depth_is_one_half), cmocka_unit_test(test_flat_floor),
        cmocka_unit_test(test_tip_on_interface),       cmocka_unit_test(test_confined_layer),
        cmocka_unit_test(test_piping_factor),
    };
    return cmocka_run_group_tests_name("published", tests, NULL, NULL);
}
