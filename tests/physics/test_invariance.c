/* What must not change, or change in proportion only: mirror images, head,
 * conductivity and length scaling, feet for metres. No outside source needed:
 * these are properties of Darcy's law and the Laplace equation. */
#include "support/support.h"

enum { TEXT_ROOM = 4096 };

/* A section with everything this geometry knows, in one pattern. */
typedef struct pattern {
    double length; /* every x and level is multiplied by this */
    double conductivity;
    double head; /* head difference factor: levels above the downstream water */
    bool mirrored;
    const char *length_unit;
    const char *conductivity_unit;
} pattern;

static double x_of(const pattern *p, double x)
{
    return (p->mirrored ? -x : x) * p->length;
}

/* A line of two points by growing x, whichever way the section looks. */
static void put_pair(char *text, size_t room, const pattern *p, const double a[2],
                     const double b[2])
{
    const double *first = p->mirrored ? b : a;
    const double *second = p->mirrored ? a : b;
    (void)snprintf(text, room, "[%.17g, %.17g], [%.17g, %.17g]", x_of(p, first[0]),
                   first[1] * p->length, x_of(p, second[0]), second[1] * p->length);
}

static void write_section(const pattern *p, char *text)
{
    char left[200];
    char right[200];
    put_pair(left, sizeof left, p, (double[]){0.0, 0.9}, (double[]){3.0, 0.9});
    put_pair(right, sizeof right, p, (double[]){3.0, -0.8}, (double[]){15.0, -0.8});
    double l = p->length;
    (void)snprintf(text, TEXT_ROOM,
                   "units: {length: %s, conductivity: %s}\nflow_toward: %s\n"
                   "bed: {upstream: %.17g, downstream: 0}\nbase: %.17g\n"
                   "structure: {underside: [%s, %s]}\n"
                   "walls:\n  - {name: crest, x: %.17g, top: %.17g, tip: %.17g}\n"
                   "  - {name: toe, x: %.17g, top: %.17g, tip: %.17g}\n"
                   "soils:\n  - {name: silty, kh: %.17g, kv: %.17g, unit_weight: 19.5 kN/m^3}\n"
                   "  - {name: fine, top: %.17g, kh: %.17g, kv: %.17g, unit_weight: 20 kN/m^3}\n"
                   "water: [{name: flood, upstream: %.17g, downstream: %.17g}]\n"
                   "piezometers: [{name: p, at: [%.17g, %.17g]}]\n",
                   p->length_unit, p->conductivity_unit, p->mirrored ? "left" : "right", 1.6 * l,
                   -9.0 * l, p->mirrored ? right : left, p->mirrored ? left : right, x_of(p, 0.0),
                   1.2 * l, -3.0 * l, x_of(p, 15.0), -0.5 * l, -2.7 * l, 2e-5 * p->conductivity,
                   1e-5 * p->conductivity, -4.0 * l, 6e-5 * p->conductivity, 6e-5 * p->conductivity,
                   (2.0 + 1.4 * p->head) * l, 2.0 * l, x_of(p, 6.0), -2.0 * l);
}

typedef struct outcome {
    double flow;
    double lower;
    double upper;
    double gradient;
    double mean;
    double force;
    double arm;
    double tip;
    double head;
    size_t unknowns;
} outcome;

static outcome solve(const pattern *p)
{
    char text[TEXT_ROOM];
    write_section(p, text);
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.01);
    const us_water_result *r = us_solution_water(solution, 0);
    outcome out = {.flow = r->flow.rate_m2_s.value,
                   .lower = r->flow.lower_m2_s,
                   .upper = r->flow.upper_m2_s,
                   .gradient = r->exit.gradient.value,
                   .mean = r->exit.mean.value,
                   .force = r->uplift.force_n_m.value,
                   .arm = r->uplift.x_m.value,
                   .tip = r->walls[1].tip_m.value - r->downstream_m,
                   .head = r->piezometers[0].head_m.value - r->downstream_m,
                   .unknowns = us_solution_grid(solution)->unknowns};
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return out;
}

static const pattern PLAIN = {1.0, 1.0, 1.0, false, "m", "m/s"};
static const double ROUNDING = 1e-8;

static void test_mirror(void **state)
{
    (void)state;
    pattern mirrored = PLAIN;
    mirrored.mirrored = true;
    outcome a = solve(&PLAIN);
    outcome b = solve(&mirrored);
    assert_near(b.flow, a.flow, ROUNDING, 0.0);
    assert_near(b.lower, a.lower, ROUNDING, 0.0);
    assert_near(b.gradient, a.gradient, ROUNDING, 0.0);
    assert_near(b.mean, a.mean, ROUNDING, 0.0);
    assert_near(b.force, a.force, ROUNDING, 0.0);
    assert_near(b.arm, -a.arm, ROUNDING, 0.0);
    assert_near(b.tip, a.tip, ROUNDING, 0.0);
    assert_near(b.head, a.head, ROUNDING, 0.0);
}

static void test_head_scales(void **state)
{
    (void)state;
    pattern higher = PLAIN;
    higher.head = 2.5;
    outcome a = solve(&PLAIN);
    outcome b = solve(&higher);
    assert_near(b.flow, 2.5 * a.flow, ROUNDING, 0.0);
    assert_near(b.upper, 2.5 * a.upper, ROUNDING, 0.0);
    assert_near(b.gradient, 2.5 * a.gradient, ROUNDING, 0.0);
    assert_near(b.tip, 2.5 * a.tip, ROUNDING, 0.0);
    assert_near(b.head, 2.5 * a.head, ROUNDING, 0.0);
}

static void test_conductivity_scales(void **state)
{
    (void)state;
    pattern faster = PLAIN;
    faster.conductivity = 1e-4;
    outcome a = solve(&PLAIN);
    outcome b = solve(&faster);
    assert_near(b.flow, 1e-4 * a.flow, ROUNDING, 0.0);
    assert_near(b.gradient, a.gradient, ROUNDING, 0.0);
    assert_near(b.force, a.force, ROUNDING, 0.0);
    assert_near(b.head, a.head, ROUNDING, 0.0);
}

/* The same drawing at another size: flow grows with H alone, q = k H f(shape). */
static void test_length_scales(void **state)
{
    (void)state;
    pattern larger = PLAIN;
    larger.length = 30.0;
    outcome a = solve(&PLAIN);
    outcome b = solve(&larger);
    assert_int_equal(b.unknowns, a.unknowns);
    assert_near(b.flow, 30.0 * a.flow, ROUNDING, 0.0);
    assert_near(b.gradient, a.gradient, ROUNDING, 0.0);
    assert_near(b.force, 900.0 * a.force, ROUNDING, 0.0);
    assert_near(b.arm, 30.0 * a.arm, ROUNDING, 0.0);
    assert_near(b.head, 30.0 * a.head, ROUNDING, 0.0);
}

/* The same section written in feet and feet a day. */
static void test_feet(void **state)
{
    (void)state;
    pattern feet = PLAIN;
    feet.length = 1.0 / 0.3048;
    feet.conductivity = 86400.0 / 0.3048;
    feet.length_unit = "ft";
    feet.conductivity_unit = "ft/day";
    outcome a = solve(&PLAIN);
    outcome b = solve(&feet);
    assert_near(b.flow, a.flow, ROUNDING, 0.0);
    assert_near(b.gradient, a.gradient, ROUNDING, 0.0);
    assert_near(b.force, a.force, ROUNDING, 0.0);
    assert_near(b.arm, a.arm, ROUNDING, 0.0);
    assert_near(b.head, a.head, ROUNDING, 0.0);
}

/* Symmetric section: heads at mirrored points add up to the head difference. The
 * grid favours the exit, so they do so within the errors stated for them. */
static void assert_sum(us_value a, us_value b, double expected)
{
    assert_true(a.present && b.present);
    assert_near(a.value + b.value, expected, 0.0, a.error + b.error);
}

static void test_symmetric_heads(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section =
        support_read(context, "bed: {upstream: 0, downstream: 0}\nbase: -12\n"
                              "structure: {underside: [[-7, 0], [7, 0]]}\n"
                              "walls: [{name: a, x: -7, top: 0, tip: -3},\n"
                              "        {name: b, x: 7, top: 0, tip: -3}]\n"
                              "soils: [{name: sand, kh: 4e-5, kv: 1e-5}]\n"
                              "water: [{name: w, upstream: 2, downstream: 0}]\n"
                              "piezometers: [{name: p, at: [-4, -5]}, {name: q, at: [4, -5]}]\n");
    us_solution *solution = support_solve(context, section, 0.01);
    const us_water_result *r = us_solution_water(solution, 0);
    assert_sum(r->piezometers[0].head_m, r->piezometers[1].head_m, 2.0);
    assert_sum(r->walls[0].tip_m, r->walls[1].tip_m, 2.0);
    us_value force = r->uplift.force_n_m;
    assert_near(force.value, 9810.0 * 14.0, 0.0, force.error);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_mirror),
        cmocka_unit_test(test_head_scales),
        cmocka_unit_test(test_conductivity_scales),
        cmocka_unit_test(test_length_scales),
        cmocka_unit_test(test_feet),
        cmocka_unit_test(test_symmetric_heads),
    };
    return cmocka_run_group_tests_name("invariance", tests, NULL, NULL);
}
