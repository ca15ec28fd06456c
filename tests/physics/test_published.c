/* Published tables and closed forms, at default accuracy: each printed number to
 * within the stated error plus its rounding, each closed form to within the stated
 * error. Sources stand beside each check; elliptic integrals come from the GNU
 * Scientific Library.
 *
 * Worked examples that are a section to solve stand in lib/verify/published_*.c. Not
 * tested here or there, for what they need is not computed or not printed:
 * - the weir of Bond & Harris 2008 and other examples of heave: test_heave.c; the basement of
 *   theirs, and floor thickness: test_uplift.c;
 * - creep lengths and ratios (Bligh; Lane 1935): the creep check;
 * - Craig, Example 2.2 and a concrete dam with Nf 4, Nd 12.6: their drawings were not
 *   seen; Venkatramaiah, Example 6.6: its figure does not fix the embedment;
 * - Punmia & Pande Lal, Example 12.4, corrected values (78.8, 55.2, 41.4, 34 %): the
 *   thickness and the levels of its floor were not given; and those of the lecture
 *   whose third wall is not given. */
#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_ellint.h>

#include "support/support.h"

static const double PI = 3.14159265358979323846;
enum { TEXT_ROOM = 2048 };

static support_solved solve(const char *text)
{
    return support_solve_text(text, 0.01);
}

static double elliptic(double modulus)
{
    return gsl_sf_ellint_Kcomp(modulus, GSL_PREC_DOUBLE);
}

/* Asserts what is printed, `rounding` being half of its last digit; `scale` turns it
 * into the unit of ours. */
static void assert_printed(us_value ours, double printed, double rounding, double scale)
{
    assert_true(ours.present);
    assert_near(ours.value, printed * scale, 0.0, ours.error + rounding * scale);
}

static void assert_exact(us_value ours, double exact)
{
    assert_printed(ours, exact, 0.0, 1.0);
}

static double lambda(double alpha)
{
    return 0.5 * (1.0 + sqrt(1.0 + alpha * alpha));
}

/* A floor of length b = alpha d with a wall of depth d = 2 at x, under a head of 3. */
static support_solved solve_floor(double floor_m, double wall_x_m)
{
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: none\n"
                   "structure: {underside: [[0, 0], [%.17g, 0]]}\n"
                   "walls: [{name: wall, x: %.17g, top: 0, tip: -2}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
                   floor_m, wall_x_m);
    return solve(text);
}

/* Khosla, Bose & Taylor, Design of Weirs on Permeable Foundations, Central Board
 * of Irrigation Publ. 12, 1936: floor of length b with a pile of depth d at its
 * downstream end, infinite depth; alpha = b/d, percentages at E and D, G_E d/H.
 * With the pile at the upstream end C1 and D1 are 100 less these. The formulas:
 * phi_E = acos((lambda - 2) / lambda) / pi, phi_D = acos((lambda - 1) / lambda) / pi,
 * G_E = H / (pi d sqrt(lambda)), lambda = (1 + sqrt(1 + alpha^2)) / 2. */
static void test_khosla_end_pile(void **state)
{
    (void)state;
    static const double rows[][4] = {
        {1, 72.81, 44.51, 0.2897},  {2, 57.59, 37.52, 0.2502},  {4, 42.96, 29.13, 0.1989},
        {5, 38.82, 26.54, 0.1823},  {8, 31.13, 21.56, 0.1495},  {10, 27.98, 19.45, 0.1354},
        {15, 22.98, 16.07, 0.1124}, {20, 19.96, 14.00, 0.0982},
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        double floor_m = 2.0 * rows[r][0];
        double l = lambda(rows[r][0]);
        support_solved one = solve_floor(floor_m, floor_m);
        const us_wall_result *pile = &one.water->walls[0];
        assert_printed(pile->upstream_face_top_m, rows[r][1], 0.005, 0.03);
        assert_printed(pile->tip_m, rows[r][2], 0.005, 0.03);
        assert_printed(one.water->exit.gradient, rows[r][3], 0.00005, 1.5);
        assert_exact(pile->upstream_face_top_m, 3.0 * acos((l - 2.0) / l) / PI);
        assert_exact(pile->tip_m, 3.0 * acos((l - 1.0) / l) / PI);
        assert_exact(one.water->exit.gradient, 1.5 / (PI * sqrt(l)));
        support_release(&one);
        support_solved first = solve_floor(floor_m, 0.0);
        pile = &first.water->walls[0];
        assert_printed(pile->downstream_face_top_m, 100.0 - rows[r][1], 0.005, 0.03);
        assert_printed(pile->tip_m, 100.0 - rows[r][2], 0.005, 0.03);
        support_release(&first);
    }
}

/* The same table, alpha = 0: a bare pile between equal beds has 50 % at its tip and
 * G_E d/H = 0.3183 = 1 / pi. An examination question with b = 60 m and d = 8 m prints
 * phi_D = 22.2 %. */
static void test_khosla_bare_pile_and_question(void **state)
{
    (void)state;
    support_solved bare = solve("bed: {upstream: 0, downstream: 0}\nbase: none\n"
                                "walls: [{name: pile, x: 0, top: 3, tip: -2}]\n"
                                "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                                "water: [{name: w, upstream: 3, downstream: 0}]\n");
    assert_exact(bare.water->walls[0].tip_m, 1.5);
    assert_printed(bare.water->exit.gradient, 0.3183, 0.00005, 1.5);
    assert_exact(bare.water->exit.gradient, 1.5 / PI);
    support_release(&bare);
    support_solved question = solve_floor(15.0, 15.0);
    assert_printed(question.water->walls[0].tip_m, 22.2, 0.05, 0.03);
    support_release(&question);
}

/* The same source: a pile of depth d inside the floor, b1 behind and b2 before it.
 * r_i = sqrt(1 + (b_i / d)^2), l1 = (r1 - r2) / 2, l = (r1 + r2) / 2; E, D and C are
 * acos((l1 - 1) / l), acos(l1 / l) and acos((l1 + 1) / l), over pi. The rows are the
 * middle piles of worked examples: Punmia & Pande Lal 12.2 and 12.4, a lecture. */
static void test_khosla_inner_pile(void **state)
{
    (void)state;
    static const double rows[][6] = {
        {16.5, 37.5, 8.0, 71.91, 61.48, 52.25},
        {21.0, 15.0, 8.1, 58.75, 45.59, 31.55},
        {16.4, 40.6, 6.0, 70.81, 63.20, 56.34},
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        const double *row = rows[r];
        double unit = 2.0 / row[2]; /* solve_floor() has a pile of 2 m */
        double r1 = sqrt(1.0 + row[0] * row[0] / (row[2] * row[2]));
        double r2 = sqrt(1.0 + row[1] * row[1] / (row[2] * row[2]));
        support_solved one = solve_floor((row[0] + row[1]) * unit, row[0] * unit);
        const us_wall_result *pile = &one.water->walls[0];
        const us_value ours[] = {pile->upstream_face_top_m, pile->tip_m,
                                 pile->downstream_face_top_m};
        for (int i = 0; i < 3; i++) {
            double share = acos((0.5 * (r1 - r2) + i - 1) / (0.5 * (r1 + r2))) / PI;
            assert_near(100.0 * share, row[3 + i], 0.0, 0.005);
            assert_exact(ours[i], 3.0 * share);
        }
        support_release(&one);
    }
}

/* Mean head over half the embedment at tip level, from the wall on: Terzaghi's prism.
 * x = width u^2 takes away the root at the tip. */
enum { PRISM_POINTS = 8 };

static us_value prism_mean(const us_water_result *result)
{
    gsl_integration_glfixed_table *rule = gsl_integration_glfixed_table_alloc(PRISM_POINTS);
    assert_non_null(rule);
    us_value mean = {.present = true};
    for (size_t i = 0; i < PRISM_POINTS; i++) {
        double u = 0.0;
        double weight = 0.0;
        (void)gsl_integration_glfixed_point(0.0, 1.0, i, &u, &weight, rule);
        const us_value *head = &result->piezometers[i].head_m;
        mean.value += 2.0 * u * weight * (head->value - result->downstream_m);
        mean.error += 2.0 * u * weight * head->error;
    }
    gsl_integration_glfixed_table_free(rule);
    return mean;
}

static support_solved solve_pile(double share)
{
    gsl_integration_glfixed_table *rule = gsl_integration_glfixed_table_alloc(PRISM_POINTS);
    assert_non_null(rule);
    char points[TEXT_ROOM] = "";
    for (size_t i = 0, used = 0; i < PRISM_POINTS; i++) {
        double u = 0.0;
        double weight = 0.0;
        (void)gsl_integration_glfixed_point(0.0, 1.0, i, &u, &weight, rule);
        used += (size_t)snprintf(points + used, sizeof points - used, "  - {at: [%.17g, %.17g]}\n",
                                 5.0 * share * u * u, 10.0 - 10.0 * share);
    }
    gsl_integration_glfixed_table_free(rule);
    char text[2 * TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                   "walls: [{name: pile, x: 0, top: 11, tip: %.17g}]\n"
                   "soils: [{name: sand, kh: 2e-5, kv: 2e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 13, downstream: 11}]\npiezometers:\n%s",
                   10.0 - 10.0 * share, points);
    return solve(text);
}

/* Single sheet pile, embedment s in a layer T: q/kH = K'(m) / 2 K(m) and i_E s/H =
 * (pi/4)(s/T) / (m K), m = sin(pi s / 2T): Polubarinova-Kochina 1962, Harr, Groundwater
 * and Seepage, 1962; the chart of EM 1110-2-1901 shows the same curve. The head at the
 * tip is H/2 by symmetry. C0 is the mean excess head of Terzaghi's prism over H; a
 * table of it in Das, Advanced Soil Mechanics (from memory), stands 2 to 9 % higher. */
static void test_single_pile(void **state)
{
    (void)state;
    static const double rows[][3] = {
        {1.0298, 0.3177, 0.354}, {0.8072, 0.3156, 0.352}, {0.6747, 0.3121, 0.350},
        {0.5780, 0.3069, 0.346}, {0.5000, 0.2995, 0.341}, {0.4325, 0.2893, 0.334},
        {0.3706, 0.2750, 0.323}, {0.3097, 0.2541, 0.304}, {0.2428, 0.2198, 0.269},
    };
    for (int tenth = 1; tenth <= 9; tenth++) {
        const double *row = rows[tenth - 1];
        double share = tenth / 10.0;
        double m = sin(0.5 * PI * share);
        double flow = 0.5 * elliptic(cos(0.5 * PI * share)) / elliptic(m);
        double gradient = 0.25 * PI * share / (m * elliptic(m));
        support_solved one = solve_pile(share);
        const us_flow_result *rate = &one.water->flow;
        us_value exit = one.water->exit.gradient;
        assert_printed(rate->rate_m2_s, row[0], 0.00005, 4e-5);
        assert_printed(exit, row[1], 0.00005, 0.2 / share);
        assert_printed(prism_mean(one.water), row[2], 0.0005, 2.0);
        assert_exact(rate->rate_m2_s, flow * 4e-5);
        assert_true(rate->lower_m2_s <= flow * 4e-5 && flow * 4e-5 <= rate->upper_m2_s);
        assert_exact(exit, gradient * 0.2 / share);
        assert_exact(one.water->walls[0].tip_m, 12.0);
        support_release(&one);
    }
}

/* Flat floor of width B on a layer T: q/kH = K'(m) / 2 K(m), m = tanh(pi B/4T)
 * (Harr 1962). Dachler's 1/(B/T + 0.88) is within a percent of it from B/T = 1 on.
 * Uplift by symmetry: half the head over the floor. */
static void test_flat_floor(void **state)
{
    (void)state;
    static const double rows[][3] = {
        {0.25, 0.9605, 0.885}, {0.5, 0.7428, 0.7246}, {1.0, 0.5332, 0.5319},
        {2.0, 0.3470, 0.3472}, {3.0, 0.2576, 0.2577}, {5.0, 0.1700, 0.1701},
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        double ratio = rows[r][0];
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: -8\n"
                       "structure: {underside: [[0, 0], [%.17g, 0]]}\n"
                       "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n"
                       "water: [{name: w, upstream: 2, downstream: 0}]\n",
                       8.0 * ratio);
        support_solved one = solve(text);
        double m = tanh(0.25 * PI * ratio);
        double flow = 0.5 * elliptic(sqrt(1.0 - m * m)) / elliptic(m);
        const us_flow_result *rate = &one.water->flow;
        assert_printed(rate->rate_m2_s, rows[r][1], 0.00005, 2e-4);
        assert_exact(rate->rate_m2_s, flow * 2e-4);
        assert_true(rate->lower_m2_s <= flow * 2e-4 && flow * 2e-4 <= rate->upper_m2_s);
        assert_near(1.0 / (ratio + 0.88), rows[r][2], 0.0, 0.00005);
        if (ratio >= 1.0) {
            assert_near(rate->rate_m2_s.value / 2e-4, rows[r][2], 0.01, 0.0);
        }
        assert_exact(one.water->uplift.force_n_m, 9810.0 * 8.0 * ratio);
        /* The excess head is odd about the middle: H (1/2 + f), so the force acts left of it. */
        assert_true(one.water->uplift.x_m.value < 4.0 * ratio);
        assert_false(one.water->exit.bounded);
        assert_false(one.water->exit.gradient.present);
        support_release(&one);
    }
}

/* Wall tip on an interface in mid-depth: q = H sqrt(k1 k2) / 2 exactly, by the
 * self-duality of the section (derived in the reference data, case H4). */
static void test_tip_on_interface(void **state)
{
    (void)state;
    support_solved one = solve("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                               "walls: [{name: pile, x: 0, top: 0, tip: -5}]\n"
                               "soils: [{name: upper, kh: 1e-5, kv: 1e-5},\n"
                               "        {name: lower, top: -5, kh: 9e-5, kv: 9e-5}]\n"
                               "water: [{name: w, upstream: 2, downstream: 0}]\n");
    assert_near(one.water->flow.rate_m2_s.value, 3e-5, 0.002, 0.0);
    support_release(&one);
}

/* Confined layer between two fixed heads: q = k T H / L, exact in one dimension
 * (Darcy's law), and a head that falls evenly. */
static void test_confined_layer(void **state)
{
    (void)state;
    support_solved one =
        solve("bed: {upstream: 4, downstream: 4}\nbase: 0\n"
              "structure: {underside: [[0, 4], [20, 4]]}\n"
              "sides: {left: {x: 0, kind: fixed_head}, right: {x: 20, kind: fixed_head}}\n"
              "soils: [{name: sand, kh: 3e-5, kv: 1e-5}]\n"
              "water: [{name: w, upstream: 9, downstream: 5}]\n"
              "piezometers: [{name: p, at: [5, 1]}]\n");
    assert_near(one.water->flow.rate_m2_s.value, 3e-5 * 4.0 * 4.0 / 20.0, 1e-9, 0.0);
    assert_near(one.water->flow.lower_m2_s, one.water->flow.upper_m2_s, 1e-9, 0.0);
    assert_near(one.water->piezometers[0].head_m.value, 8.0, 1e-9, 0.0);
    assert_false(one.water->exit.present);
    support_release(&one);
}

/* Critical gradient and factor: (gamma_sat - gamma_w) / gamma_w, which is (G - 1) /
 * (1 + e), over the exit gradient (Terzaghi; in every text). Printed: 0.919 of G = 2.70
 * and e = 0.85 (GATE 2012), 1.07 of G = 2.68 and e = 0.57 (slides, author not known). */
static void test_piping_factor(void **state)
{
    (void)state;
    static const double rows[][4] = {{2.70, 0.85, 0.919, 0.0005}, {2.68, 0.57, 1.07, 0.005}};
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        double grains = rows[r][0];
        double voids = rows[r][1];
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                       "walls: [{name: pile, x: 0, top: 0, tip: -5}]\n"
                       "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: %.17g}]\n"
                       "water: [{name: w, upstream: 3, downstream: 0}]\n"
                       "require: {piping: 5}\n",
                       9.81 * (grains + voids) / (1.0 + voids));
        support_solved one = solve(text);
        double critical = (grains - 1.0) / (1.0 + voids);
        assert_printed(one.water->exit.critical, rows[r][2], rows[r][3], 1.0);
        assert_near(one.water->exit.critical.value, critical, 1e-9, 0.0);
        assert_exact(one.water->exit.piping_factor, critical / 0.17972103521);
        assert_string_equal(one.water->checks[0].name, "piping");
        assert_int_equal(one.water->checks[0].verdict, US_PASS);
        assert_false(us_solution_fails(one.solution));
        support_release(&one);
    }
}

/* Bond & Harris, Decoding Eurocode 7, 2008, weir: from i = 0.29 they print a pore
 * pressure of 40.6 kPa at the foot of a wall of 3.2 m and a seepage force of 9.2 kN.
 * Their gradient is the exit gradient; the head at the tip is higher than what it would
 * be along a straight line. */
static void test_pore_pressure_of_a_code(void **state)
{
    (void)state;
    support_solved one = solve("bed: {upstream: 0, downstream: 0}\nbase: none\n"
                               "structure: {underside: [[0, 0], [15, 0]]}\n"
                               "walls: [{name: end, x: 15, top: 0, tip: -3.2}]\n"
                               "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 19.5}]\n"
                               "water: [{name: w, upstream: 5, downstream: 0}]\n");
    us_value i = one.water->exit.gradient;
    assert_printed(i, 0.29, 0.005, 1.0);
    assert_near(9.81 * 3.2 * (1.0 + i.value), 40.6, 0.0, 0.05 + 9.81 * 3.2 * i.error);
    assert_near(9.81 * 3.2 * i.value, 9.2, 0.0, 0.05 + 9.81 * 3.2 * i.error);
    assert_true(one.water->walls[0].tip_m.value > 1.4 * 3.2 * i.value);
    support_release(&one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_khosla_end_pile),
        cmocka_unit_test(test_khosla_bare_pile_and_question),
        cmocka_unit_test(test_khosla_inner_pile),
        cmocka_unit_test(test_single_pile),
        cmocka_unit_test(test_flat_floor),
        cmocka_unit_test(test_tip_on_interface),
        cmocka_unit_test(test_confined_layer),
        cmocka_unit_test(test_piping_factor),
        cmocka_unit_test(test_pore_pressure_of_a_code),
    };
    return cmocka_run_group_tests_name("published", tests, NULL, NULL);
}
