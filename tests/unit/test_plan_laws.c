/* Laws that any plan obeys, on some sections and on many at random. */
#include "support/support.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "model/plan.h"
#include "model/survey.h"

#define WATER "water: [{name: flood, upstream: 30, downstream: 28}]\n"
#define APRON "structure: {underside: [[0, -1], [10, -1]]}\n"

static const usi_plan_window window = {-20.0, 30.0, -15.0};

static usi_plan plan_of(const us_section *section, const usi_plan_window *in)
{
    us_context *context = us_context_create();
    usi_plan plan = {0};
    assert_int_equal(usi_plan_build(context, section, in, &plan), US_OK);
    us_context_free(context);
    return plan;
}

/* --- laws that any plan obeys --- */

static int sign_of(usi_point a, usi_point b, usi_point c)
{
    double off = (b.x_m - a.x_m) * (c.z_m - a.z_m) - (b.z_m - a.z_m) * (c.x_m - a.x_m);
    double scale = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    return (off > 1e-9 * scale) - (off < -1e-9 * scale);
}

static void check_no_crossing(const usi_plan *plan)
{
    for (size_t i = 0; i < plan->edge_count; i++) {
        for (size_t k = i + 1; k < plan->edge_count; k++) {
            usi_point a = plan->vertices[plan->edges[i].a];
            usi_point b = plan->vertices[plan->edges[i].b];
            usi_point c = plan->vertices[plan->edges[k].a];
            usi_point d = plan->vertices[plan->edges[k].b];
            bool crosses =
                sign_of(a, b, c) * sign_of(a, b, d) < 0 && sign_of(c, d, a) * sign_of(c, d, b) < 0;
            assert_false(crosses);
        }
    }
}

/* No vertex lies within an edge that does not end there. */
static void check_no_touch(const usi_plan *plan, double tolerance_m)
{
    for (size_t i = 0; i < plan->edge_count; i++) {
        usi_point a = plan->vertices[plan->edges[i].a];
        usi_point b = plan->vertices[plan->edges[i].b];
        double dx = b.x_m - a.x_m;
        double dz = b.z_m - a.z_m;
        double length = hypot(dx, dz);
        for (size_t k = 0; k < plan->vertex_count; k++) {
            usi_point v = plan->vertices[k];
            double along = ((v.x_m - a.x_m) * dx + (v.z_m - a.z_m) * dz) / length;
            double off = ((v.x_m - a.x_m) * dz - (v.z_m - a.z_m) * dx) / length;
            bool end = (int)k == plan->edges[i].a || (int)k == plan->edges[i].b;
            assert_true(end || along <= tolerance_m || along >= length - tolerance_m ||
                        fabs(off) > 0.5 * tolerance_m);
        }
    }
}

static void check_coordinates(const usi_plan *plan, double tolerance_m)
{
    for (size_t i = 0; i < plan->vertex_count; i++) {
        for (size_t k = 0; k < i; k++) {
            double dx = fabs(plan->vertices[i].x_m - plan->vertices[k].x_m);
            double dz = fabs(plan->vertices[i].z_m - plan->vertices[k].z_m);
            assert_true(dx == 0.0 || dx > tolerance_m);
            assert_true(dz == 0.0 || dz > tolerance_m);
            assert_true(dx > 0.0 || dz > 0.0);
        }
    }
}

/* Going round a vertex, the soil on one hand of each edge is that on the other hand
 * of the next: faces have one soil each. */
static void check_round(const usi_plan *plan, size_t vertex)
{
    enum { MOST = 64 };
    struct {
        double angle;
        int before; /* soil clockwise of the edge */
        int after;
    } spokes[MOST];
    size_t count = 0;
    for (size_t i = 0; i < plan->edge_count; i++) {
        const usi_edge *edge = &plan->edges[i];
        if (edge->a != (int)vertex && edge->b != (int)vertex) {
            continue;
        }
        bool out = edge->a == (int)vertex;
        usi_point from = plan->vertices[vertex];
        usi_point to = plan->vertices[out ? edge->b : edge->a];
        double angle = atan2(to.z_m - from.z_m, to.x_m - from.x_m);
        size_t k = count++;
        assert_true(count <= MOST);
        while (k > 0 && spokes[k - 1].angle > angle) {
            spokes[k] = spokes[k - 1];
            k--;
        }
        spokes[k].angle = angle;
        spokes[k].before = out ? edge->right : edge->left;
        spokes[k].after = out ? edge->left : edge->right;
    }
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(spokes[i].after, spokes[(i + 1) % count].before);
    }
}

/* True when the soil at a point has the kh of soil `named`, or both are none. */
static bool is_soil(const us_section *section, usi_point at, int named)
{
    int soil = usi_plan_soil(section, at);
    return soil < 0 || named < 0 ? soil == named
                                 : section->soils[soil].kh_m_s == section->soils[named].kh_m_s;
}

/* Beside the middle of each edge lie the soils that it names. */
static void check_soils(const us_section *section, const usi_plan *plan)
{
    for (size_t i = 0; i < plan->edge_count; i++) {
        const usi_edge *edge = &plan->edges[i];
        usi_point a = plan->vertices[edge->a];
        usi_point b = plan->vertices[edge->b];
        assert_true(usi_point_order(a, b) < 0);
        assert_true(edge->left != edge->right);
        assert_int_equal(edge->kind == USI_EDGE_INTERFACE, edge->left >= 0 && edge->right >= 0);
        double step = 5e-8 / hypot(b.x_m - a.x_m, b.z_m - a.z_m);
        usi_point middle = {0.5 * (a.x_m + b.x_m), 0.5 * (a.z_m + b.z_m)};
        usi_point left = {middle.x_m - step * (b.z_m - a.z_m), middle.z_m + step * (b.x_m - a.x_m)};
        usi_point right = {middle.x_m + step * (b.z_m - a.z_m),
                           middle.z_m - step * (b.x_m - a.x_m)};
        bool window_ends = edge->kind == USI_EDGE_LEFT_SIDE || edge->kind == USI_EDGE_RIGHT_SIDE ||
                           (edge->kind == USI_EDGE_BASE && !section->has_base);
        if (!(window_ends && edge->left < 0) && !is_soil(section, left, edge->left)) {
            print_error("left of edge %zu at %.9g, %.9g\n", i, left.x_m, left.z_m);
            fail();
        }
        if (!(window_ends && edge->right < 0) && !is_soil(section, right, edge->right)) {
            print_error("right of edge %zu at %.9g, %.9g\n", i, right.x_m, right.z_m);
            fail();
        }
    }
}

static void check_laws(const us_section *section, const usi_plan *plan)
{
    double tolerance_m = usi_section_tolerance(section);
    check_coordinates(plan, tolerance_m);
    check_no_crossing(plan);
    check_no_touch(plan, tolerance_m);
    for (size_t i = 0; i < plan->vertex_count; i++) {
        check_round(plan, i);
    }
    check_soils(section, plan);
}

/* --- sections --- */

#define BED "bed: {upstream: 0, downstream: 0}\nbase: -10\n"

static const char *const fixed[] = {
    /* A bare wall that holds a step. */
    "bed: {upstream: 2, downstream: 0}\nbase: none\n"
    "walls: [{x: 0, top: 3, tip: -5}, {x: 0, top: -6, tip: -7}]\n"
    "soils: [{name: a, kh: 1e-5}, {name: b, kh: 1e-4, top: -6}]\n" WATER,
    /* A top that runs along the underside, then crops out. */
    BED APRON "soils: [{name: a, kh: 1e-5}, {name: b, kh: 1e-4,\n"
              "  top: [[-9, -3], [0, -1], [10, -1], [12, 1], [18, -4]]}]\n" WATER,
    /* Zones that share edges, corners and the bed; one within another. */
    BED APRON "walls: [{x: 4, top: -1, tip: -6}]\n"
              "soils: [{name: a, kh: 1e-5}, {name: b, kh: 1e-4}, {name: c, kh: 1e-3}]\n"
              "zones: [{soil: b, outline: [[2, -2], [6, -2], [6, -6], [2, -6]]},\n"
              "  {soil: c, outline: [[6, -2], [9, -1], [9, -6], [6, -6]]},\n"
              "  {soil: a, outline: [[3, -3], [5, -3], [4, -5]]},\n"
              "  {soil: c, outline: [[10, -1], [10, 2], [13, 2], [15, 0], [13, -1]]},\n"
              "  {soil: b, outline: [[10, 2], [12, 2], [12, 3], [10, 3]]}]\n" WATER,
    /* Slivers a little over the tolerance, and points a little under it. */
    BED APRON
    "soils: [{name: a, kh: 1e-5}, {name: b, kh: 1e-4, top: -5}]\n"
    "zones: [{soil: b, outline: [[-8, -4.999999], [8, -4.99999998], [8, -4.9], [0, -4]]},\n"
    "  {soil: a, outline: [[-8, -5.0000000001], [12, -5], [12, -6], [-8, -5.000001]]}]\n" WATER,
};

static void check_text(const char *text, const us_section *section)
{
    usi_plan plan = plan_of(section, &window);
    if (plan.edge_count == 0) {
        print_error("%s\n", text);
    }
    check_laws(section, &plan);
    usi_plan_free(&plan);
}

static void fixed_plans_obey_the_laws(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0]; i++) {
        us_context *context = us_context_create();
        us_section *section = NULL;
        us_status status = us_section_read(context, fixed[i], strlen(fixed[i]), "test", &section);
        support_print_diagnostics(context);
        assert_int_equal(status, US_OK);
        check_text(fixed[i], section);
        us_section_free(section);
        us_context_free(context);
    }
}

static uint64_t next_random(uint64_t *seed)
{
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    uint64_t x = *seed ^ (*seed >> 33);
    return (x * UINT64_C(0xff51afd7ed558ccd)) >> 11;
}

static double draw(uint64_t *seed, double low, double high)
{
    return low + (high - low) * (double)next_random(seed) / 9007199254740992.0;
}

/* Often on a coarse lattice, so that things coincide, touch and cross at vertices. */
static double draw_coarse(uint64_t *seed, double low, double high)
{
    double value = draw(seed, low, high);
    uint64_t kind = next_random(seed) % 4;
    return kind == 0 ? value : kind == 1 ? round(value) + 1e-11 : round(value);
}

static void write_line(FILE *out, uint64_t *seed, double level, double spread)
{
    int count = 1 + (int)(next_random(seed) % 5);
    double x = -18;
    (void)fputc('[', out);
    for (int i = 0; i < count; i++) {
        (void)fprintf(out, "%s[%.12g, %.12g]", i > 0 ? ", " : "", x,
                      level + draw_coarse(seed, -spread, spread));
        x += fabs(draw_coarse(seed, 0, 12));
    }
    (void)fputs("]", out);
}

static char *random_text(uint64_t seed)
{
    static const char *const soils[] = {"a", "b", "c", "d", "e"};
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    (void)fputs("bed:\n  upstream: ", out);
    write_line(out, &seed, 0, 2);
    (void)fputs("\n  downstream: ", out);
    write_line(out, &seed, 0, 2);
    (void)fputs("\nbase: ", out);
    write_line(out, &seed, -16, 3);
    (void)fputs(
        "\nstructure: {underside: [[0, -4], [4, -5], [4, -3], [10, -4]]}\n"
        "walls: [{x: 0, top: -4, tip: -9}, {x: 6, top: -3, tip: -8}]\n"
        "soils:\n  - {name: a, kh: 1e-5, kv: 1e-5}\n  - {name: b, kh: 1e-5, kv: 1e-5, top: ",
        out);
    write_line(out, &seed, -4, 3);
    (void)fputs("}\n  - {name: c, kh: 1e-6, kv: 1e-6, top: ", out);
    write_line(out, &seed, -9, 3);
    (void)fputs("}\n  - {name: d, kh: 1e-4, kv: 1e-4}\n  - {name: e, kh: 1e-3, kv: 1e-3}\nzones:\n",
                out);
    for (int k = 0; k < 5; k++) {
        double x = draw_coarse(&seed, -12, 16);
        double z = draw_coarse(&seed, -14, 2);
        (void)fprintf(out, "  - {soil: %s, outline: [", soils[next_random(&seed) % 5]);
        (void)fprintf(out, "[%.12g, %.12g], ", x, z);
        (void)fprintf(out, "[%.12g, %.12g], ", x + 1 + fabs(draw_coarse(&seed, 0, 6)), z - 1);
        (void)fprintf(out, "[%.12g, %.12g], ", x + 1, z + fabs(draw_coarse(&seed, 0, 5)));
        (void)fprintf(out, "[%.12g, %.12g]]}\n", x - 3, z + draw_coarse(&seed, 0, 5));
    }
    (void)fputs(WATER, out);
    assert_int_equal(fclose(out), 0);
    return text;
}

static void random_plans_obey_the_laws(void **state)
{
    (void)state;
    size_t built = 0;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        char *text = random_text(seed * 7919);
        us_context *context = us_context_create();
        us_section *section = NULL;
        if (us_section_read(context, text, strlen(text), "test", &section) == US_OK) {
            check_text(text, section);
            us_section_free(section);
            built++;
        }
        us_context_free(context);
        free(text);
    }
    assert_true(built > 150);
}

/* Strands among which meeting is a matter of luck: ends a little more or less than the
 * tolerance from lattice points, strands and each other. */
static usi_strands dust(us_context *context, uint64_t seed)
{
    usi_strands strands = {.context = context, .tolerance_m = 0.01};
    for (int i = 0; i < 30; i++) {
        double at[4];
        for (int k = 0; k < 4; k++) {
            at[k] = floor(draw(&seed, 0, 6)) + 0.004 * floor(draw(&seed, -6, 6));
        }
        usi_strands_add(&strands, (usi_point){at[0], at[1]}, (usi_point){at[2], at[3]}, 0, 0);
    }
    return strands;
}

static bool touches(const usi_strand *strand, usi_point at, double tolerance_m)
{
    double dx = strand->b.x_m - strand->a.x_m;
    double dz = strand->b.z_m - strand->a.z_m;
    double length = hypot(dx, dz);
    double along = ((at.x_m - strand->a.x_m) * dx + (at.z_m - strand->a.z_m) * dz) / length;
    double off = ((at.x_m - strand->a.x_m) * dz - (at.z_m - strand->a.z_m) * dx) / length;
    return along > 0.0 && along < length && fabs(off) <= tolerance_m;
}

static bool same_point(usi_point a, usi_point b)
{
    return usi_point_order(a, b) == 0;
}

static void check_pair(const usi_strand *s, const usi_strand *t, double tolerance_m)
{
    const usi_point ends[2] = {t->a, t->b};
    for (int i = 0; i < 2; i++) {
        bool shared = same_point(ends[i], s->a) || same_point(ends[i], s->b);
        assert_true(shared || !touches(s, ends[i], 0.499 * tolerance_m));
        double dx = fabs(ends[i].x_m - s->a.x_m);
        double dz = fabs(ends[i].z_m - s->a.z_m);
        assert_true(dx == 0.0 || dx > 0.999 * tolerance_m);
        assert_true(dz == 0.0 || dz > 0.999 * tolerance_m);
    }
    assert_false(sign_of(s->a, s->b, t->a) * sign_of(s->a, s->b, t->b) < 0 &&
                 sign_of(t->a, t->b, s->a) * sign_of(t->a, t->b, s->b) < 0);
}

static void parted_strands_meet_at_ends_only(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 80; seed++) {
        us_context *context = us_context_create();
        usi_strands strands = dust(context, seed * 104729);
        assert_int_equal(usi_strands_part(&strands), US_OK);
        assert_true(strands.count > 30);
        for (size_t i = 0; i < strands.count; i++) {
            for (size_t k = 0; k < strands.count; k++) {
                if (k != i) {
                    check_pair(&strands.items[i], &strands.items[k], strands.tolerance_m);
                }
            }
        }
        usi_strands_clear(&strands);
        us_context_free(context);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fixed_plans_obey_the_laws),
        cmocka_unit_test(random_plans_obey_the_laws),
        cmocka_unit_test(parted_strands_meet_at_ends_only),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
