/* Uplift, thickness, flotation (forms of thickness: unit/test_thickness.c): published examples and
 * hand calculations beside their sources, and laws that hold whatever the section. */
#include "support/support.h"

enum { TEXT_ROOM = 4096 };
static const double WATER_N_M3 = 9810.0;

static support_solved solve(const char *text)
{
    return support_solve_text(text, 0.01);
}

static const us_uplift_result *uplift_of(const support_solved *one, size_t water)
{
    return &us_solution_water(one->solution, water)->uplift;
}

static const us_check_result *check_of(const us_water_result *water, const char *name)
{
    for (size_t k = 0; k < water->check_count; k++) {
        if (strcmp(water->checks[k].name, name) == 0) {
            return &water->checks[k];
        }
    }
    fail_msg("there is no check called %s", name);
    return NULL;
}

/* A box of 18 m in the ground, water at the surface on both sides; its weight is spread. */
static support_solved solve_basement(double depth_m, double weight_kn_m)
{
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: -20\n"
                   "structure:\n  underside: [[0, %g], [18, %g]]\n  top: 0\n"
                   "  unit_weight: %.12g\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: high, upstream: 0, downstream: 0}]\n"
                   "limit_states: {upl: {dst: 1.1, stb: 0.9}}\n",
                   -depth_m, -depth_m, weight_kn_m / (18.0 * depth_m));
    return solve(text);
}

/* Bond & Harris, Decoding Eurocode 7 (2008), example 7.4: one storey of basement. U 795 and W 958
 * kN/m, V_d,dst 874.1 against 862.2 without friction along the walls: 101 %. */
static void a_basement_floats_by_one_percent(void **state)
{
    (void)state;
    support_solved one = solve_basement(4.5, 958.0);
    const us_uplift_result *uplift = uplift_of(&one, 0);
    const us_check_result *upl = check_of(us_solution_water(one.solution, 0), "upl");
    assert_near(uplift->force_n_m.value, 795e3, 0.0, 0.5e3);
    assert_near(uplift->weight_n_m.value, 958e3, 1e-9, 0.0);
    assert_near(upl->value.value, 874.1 / 862.2, 0.0, 1e-4);
    assert_int_equal(upl->verdict, US_FAIL);
    assert_true(upl->at_most);
    assert_near(upl->required.value, 1.0, 0.0, 0.0);
    support_release(&one);
}

/* The same with two storeys: U 1324 kN/m, V_dst 1456.8 against V_stb 960.8: 152 %. */
static void a_deeper_basement_floats_by_half(void **state)
{
    (void)state;
    support_solved one = solve_basement(7.5, 960.8 / 0.9);
    const us_check_result *upl = check_of(us_solution_water(one.solution, 0), "upl");
    assert_near(uplift_of(&one, 0)->force_n_m.value, 1324e3, 0.0, 0.5e3);
    assert_near(uplift_of(&one, 0)->weight_n_m.value, 1068e3, 0.0, 0.5e3);
    assert_near(upl->value.value, 1456.8 / 960.8, 0.0, 1e-4);
    assert_int_equal(upl->verdict, US_FAIL);
    support_release(&one);
}

/* Recommended values stand in for factors that are not given, and are called so. */
static void factors_that_are_not_given_are_told(void **state)
{
    (void)state;
    support_solved one =
        solve("bed: {upstream: 0, downstream: 0}\nbase: -20\n"
              "structure: {underside: [[0, -2], [18, -2]], top: 0, unit_weight: 24}\n"
              "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
              "water: [{name: high, upstream: 0, downstream: 0}]\n"
              "limit_states: {upl: {}}\n");
    const us_check_result *upl = check_of(us_solution_water(one.solution, 0), "upl");
    assert_near(upl->value.value, 1.00 * 9.81 / (0.90 * 24.0), 1e-9, 0.0);
    assert_int_equal(upl->verdict, US_PASS);
    assert_non_null(strstr(upl->basis, "recommended values"));
    support_release(&one);
}

/* Still water at 102 on a floor from 99 to 100, in three panels of 4 m. By hand: U = 3 x 4 x 9.81
 * = 117.72 kN/m each, W = 4 x 23.5 = 94. Under the trough of a jump the water is gone where the
 * surface dips below the floor: between x = 4 and 6 it stands 1 m and -0.5 m above, which leaves
 * half of 1 x 4/3 m2, twice. */
static void a_panel_under_a_jump_trough(void **state)
{
    (void)state;
    support_solved one = solve(
        "bed: {upstream: 100, downstream: 100}\nbase: 90\n"
        "structure: {underside: [[0, 99], [12, 99]], top: 100, unit_weight: 23.5, joints: [4, 8]}\n"
        "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
        "water:\n"
        "  - {name: trough, upstream: 102, downstream: 102,\n"
        "     surface: [[0, 102], [4, 101], [6, 99.5], [8, 101], [9, 102]]}\n"
        "  - {name: smooth, upstream: 102, downstream: 102, surface: 102}\n"
        "  - {name: none, upstream: 102, downstream: 102}\n"
        "require: {uplift: 1.1}\n");
    static const double on_top_m2[] = {6.0, 4.0 / 3.0, 7.5};
    const us_uplift_result *uplift = uplift_of(&one, 0);
    assert_int_equal(uplift->panel_count, 3);
    for (size_t p = 0; p < 3; p++) {
        const us_uplift_panel *panel = &uplift->panels[p];
        assert_near(panel->force_n_m.value, 117.72e3, 1e-9, 0.0);
        assert_near(panel->weight_n_m.value, 94e3, 1e-12, 0.0);
        assert_near(panel->water_on_top_n_m.value, WATER_N_M3 * on_top_m2[p], 1e-12, 0.0);
    }
    const us_check_result *check = check_of(us_solution_water(one.solution, 0), "uplift");
    assert_near(check->value.value, (94.0 + 9.81 * 4.0 / 3.0) / 117.72, 1e-9, 0.0);
    assert_int_equal(check->verdict, US_FAIL);
    assert_non_null(strstr(check->where, "panel from x = 4 m to x = 8 m"));
    check = check_of(us_solution_water(one.solution, 1), "uplift");
    assert_near(check->value.value, (94.0 + 78.48) / 117.72, 1e-9, 0.0);
    assert_int_equal(check->verdict, US_PASS);
    check = check_of(us_solution_water(one.solution, 2), "uplift");
    assert_near(check->value.value, 94.0 / 117.72, 1e-9, 0.0);
    assert_near(uplift_of(&one, 2)->water_on_top_n_m.value, 0.0, 0.0, 0.0);
    support_release(&one);
}

/* Still water at 100, a sill whose underside lies at 101 behind a wall, an apron at 99. By hand:
 * the sill is under 1 m of suction, which counts as none, so U = 1 x 8 x 9.81 kN/m of the apron
 * alone; the sill's weight is no less for it. */
static void suction_under_a_sill_adds_no_stability(void **state)
{
    (void)state;
    support_solved one =
        solve("bed: {upstream: 99.5, downstream: 99.5}\nbase: 90\n"
              "structure: {underside: [[0, 101], [4, 101], [4, 99], [12, 99]],\n"
              "  top: [[0, 102], [4, 102], [4, 100], [12, 100]], unit_weight: 24,\n"
              "  joints: [4]}\n"
              "walls: [{name: heel, x: 0, top: 101, tip: 97}]\n"
              "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
              "water: [{name: low, upstream: 100, downstream: 100}]\n"
              "require: {uplift: 2.4}\n");
    const us_uplift_result *uplift = uplift_of(&one, 0);
    assert_true(uplift->suction);
    assert_near(uplift->force_n_m.value, 78.48e3, 1e-9, 0.0);
    assert_near(uplift->factor.value, 24.0 * 12.0 / 78.48, 1e-9, 0.0);
    assert_true(uplift->panels[0].suction);
    assert_false(uplift->panels[1].suction);
    assert_near(uplift->panels[0].force_n_m.value, 0.0, 0.0, 1e-6);
    assert_near(uplift->panels[0].net_n_m.value, -96e3, 1e-9, 0.0);
    assert_false(uplift->panels[0].factor.present);
    assert_near(uplift->panels[1].factor.value, 192.0 / 78.48, 1e-9, 0.0);
    const us_check_result *check = check_of(us_solution_water(one.solution, 0), "uplift");
    assert_near(check->value.value, 192.0 / 78.48, 1e-9, 0.0);
    assert_int_equal(check->verdict, US_PASS);
    support_release(&one);
}

/* Still water at 102, a wedge 3 m high at the left and 1 m at the right, 12 m long. By hand: U =
 * 3 x 12 x 9.81 in the middle; W = 24 x 2 x 12 with its centre at 12 x (3 + 2 x 1) / (3 x (3 + 1))
 * = 5 m from the high end. Flow to the right: the toe is the low end, 7 m off; to the left 5 m. */
static void moments_about_the_toe(void **state)
{
    static const char *const ways[] = {"right", "left"};
    static const double arms_m[] = {7.0, 5.0};
    (void)state;
    for (int k = 0; k < 2; k++) {
        char text[TEXT_ROOM];
        (void)snprintf(text, sizeof text,
                       "flow_toward: %s\nbed: {upstream: 100, downstream: 100}\nbase: 90\n"
                       "structure: {underside: [[0, 99], [12, 99]], top: [[0, 102], [12, 100]],\n"
                       "  unit_weight: 24}\n"
                       "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                       "water: [{name: still, upstream: 102, downstream: 102}]\n",
                       ways[k]);
        support_solved one = solve(text);
        const us_uplift_result *uplift = uplift_of(&one, 0);
        double lifting_n = 3.0 * 12.0 * WATER_N_M3 * 6.0;
        double holding_n = 24e3 * 24.0 * arms_m[k];
        assert_near(uplift->overturning_n.value, lifting_n, 1e-9, 0.0);
        assert_near(uplift->holding_n.value, holding_n, 1e-12, 0.0);
        assert_near(uplift->moment_factor.value, holding_n / lifting_n, 1e-9, 0.0);
        support_release(&one);
    }
}

/* A drop with two walls; what is left open goes in by name. */
typedef struct drop {
    double length; /* every x and level is multiplied by this */
    const char *units;
    bool mirrored;
    double unit_weight_kn_m3;
    double tailwater;
    const char *joints; /* " joints: [...]" or "" */
    const char *surface;
    const char *more;
} drop;

static const drop plain = {.length = 1.0,
                           .units = "{length: m}",
                           .unit_weight_kn_m3 = 23.5,
                           .tailwater = 102.0,
                           .joints = "",
                           .surface = "",
                           .more = ""};

static support_solved solve_drop(const drop *of)
{
    char text[TEXT_ROOM];
    double l = of->length;
    double s = of->mirrored ? -l : l;
    double step = of->mirrored ? -3.0 * l : 3.0 * l;
    double high = 100.9 * l;
    double low = 99.2 * l;
    double first = of->mirrored ? low : high;
    double second = of->mirrored ? high : low;
    double left = of->mirrored ? -15.0 * l : 0.0;
    double right = of->mirrored ? 0.0 : 15.0 * l;
    double top_first = of->mirrored ? 100.0 * l : 101.6 * l;
    double top_second = of->mirrored ? 101.6 * l : 100.0 * l;
    (void)snprintf(
        text, sizeof text,
        "units: %s\nflow_toward: %s\nbed: {upstream: %.15g, downstream: %.15g}\nbase: %.15g\n"
        "structure: {underside: [[%.15g, %.15g], [%.15g, %.15g], [%.15g, %.15g], [%.15g, %.15g]],\n"
        "  top: [[%.15g, %.15g], [%.15g, %.15g], [%.15g, %.15g], [%.15g, %.15g]],\n"
        "  unit_weight: %.15g kN/m^3%s}\n"
        "walls: [{name: crest, x: 0, top: %.15g, tip: %.15g},\n"
        "  {name: toe, x: %.15g, top: %.15g, tip: %.15g}]\n"
        "soils: [{name: sand, kh: 2e-5 m/s, kv: 1e-5 m/s, unit_weight: 19.5 kN/m^3,\n"
        "  specific_storage: 1e-4 1/m}]\n"
        "water:\n  - {name: flood, upstream: %.15g, downstream: %.15g%s}\n%s",
        of->units, of->mirrored ? "left" : "right", 101.6 * l, 100.0 * l, 91.0 * l, left, first,
        step, first, step, second, right, second, left, top_first, step, top_first, step,
        top_second, right, top_second, of->unit_weight_kn_m3, of->joints, 101.2 * l, 97.0 * l,
        15.0 * s, 99.5 * l, 97.3 * l, 103.4 * l, of->tailwater * l, of->surface, of->more);
    return solve(text);
}

/* Upstream level fixed, no surface: the head that is left above the tailwater never grows with
 * it, at any place of the underside. */
static void a_higher_tailwater_never_raises_net_head(void **state)
{
    static const double levels[] = {100.2, 100.9, 101.7, 102.5, 103.3};
    double before_m[40];
    (void)state;
    for (size_t k = 0; k < sizeof levels / sizeof levels[0]; k++) {
        drop of = plain;
        of.tailwater = levels[k];
        support_solved one = solve_drop(&of);
        const us_uplift_result *uplift = uplift_of(&one, 0);
        assert_true(uplift->thickness_count > 4 && uplift->thickness_count < 40);
        for (size_t i = 0; i < uplift->thickness_count; i++) {
            us_value head = uplift->thickness[i].head_m;
            double net_m = head.value - levels[k];
            assert_true(net_m >= -head.error);
            assert_true(k == 0 || net_m <= before_m[i] + head.error);
            before_m[i] = net_m;
        }
        support_release(&one);
    }
}

static void more_weight_never_lowers_a_factor(void **state)
{
    static const double weights[] = {12.0, 20.0, 23.5, 26.0};
    static const char *const surfaces[] = {"", ", surface: 99", ", surface: 100.5",
                                           ", surface: 102", ", surface: [[0, 102], [9, 103]]"};
    double before = 0.0;
    (void)state;
    for (size_t k = 0; k < 4 + 5; k++) {
        drop of = plain;
        of.joints = ", joints: [5, 9]";
        of.unit_weight_kn_m3 = weights[k < 4 ? k : 3];
        of.surface = surfaces[k < 4 ? 0 : k - 4];
        support_solved one = solve_drop(&of);
        const us_check_result *check = check_of(us_solution_water(one.solution, 0), "uplift");
        assert_true(check->value.present);
        assert_true(check->value.value >= before - 1e-12);
        before = check->value.value;
        support_release(&one);
    }
    assert_true(before > 0.5);
}

/* Joints wherever they are: panels add up to the whole, in U, W and Ww. */
static void panels_add_up_to_the_whole(void **state)
{
    uint32_t seed = 7;
    double whole_n_m = 0.0;
    (void)state;
    for (int round = 0; round < 6; round++) {
        char joints[200] = "";
        size_t used = 0;
        double x = 0.0;
        for (int k = 0; k <= round; k++) {
            seed = seed * 1664525u + 1013904223u;
            x += 0.05 + 2.0 * (double)(seed >> 8) / (double)(1u << 24);
            used += (size_t)snprintf(joints + used, sizeof joints - used, "%s%.6f",
                                     k == 0 ? ", joints: [" : ", ", x);
        }
        (void)snprintf(joints + used, sizeof joints - used, "]");
        drop of = plain;
        of.joints = joints;
        of.surface = ", surface: [[1, 101.9], [4, 99.8], [15, 102]]";
        support_solved one = solve_drop(&of);
        const us_uplift_result *uplift = uplift_of(&one, 0);
        double force_n_m = 0.0;
        double weight_n_m = 0.0;
        double water_n_m = 0.0;
        for (size_t p = 0; p < uplift->panel_count; p++) {
            force_n_m += uplift->panels[p].force_n_m.value;
            weight_n_m += uplift->panels[p].weight_n_m.value;
            water_n_m += uplift->panels[p].water_on_top_n_m.value;
        }
        assert_int_equal(uplift->panel_count, round + 2);
        assert_near(force_n_m, uplift->force_n_m.value, 1e-12, 0.0);
        assert_near(weight_n_m, uplift->weight_n_m.value, 1e-12, 0.0);
        assert_near(water_n_m, uplift->water_on_top_n_m.value, 1e-12, 0.0);
        /* Joints change nothing in the ground. */
        assert_true(round == 0 || uplift->force_n_m.value == whole_n_m);
        whole_n_m = uplift->force_n_m.value;
        support_release(&one);
    }
}

static void assert_same(us_value a, us_value b, double scale)
{
    assert_true(a.present == b.present);
    assert_near(a.value * scale, b.value, 1e-9, 1e-9);
}

/* A mirror image has the panels in the other order, and lengths in feet change no factor. */
static void mirrored_and_in_feet_the_same(void **state)
{
    (void)state;
    drop of = plain;
    of.joints = ", joints: [5, 9]";
    of.surface = ", surface: [[3, 100.6], [9, 101.4], [15, 102.0]]";
    support_solved one = solve_drop(&of);
    of.mirrored = true;
    of.joints = ", joints: [-9, -5]";
    of.surface = ", surface: [[-15, 102.0], [-9, 101.4], [-3, 100.6]]";
    support_solved mirror = solve_drop(&of);
    of = plain;
    of.length = 1.0 / 0.3048;
    of.units = "{length: ft}";
    of.joints = ", joints: [5 m, 9 m]";
    of.surface = ", surface: [[3 m, 100.6 m], [9 m, 101.4 m], [15 m, 102.0 m]]";
    support_solved feet = solve_drop(&of);
    const us_uplift_result *a = uplift_of(&one, 0);
    const us_uplift_result *b = uplift_of(&mirror, 0);
    const us_uplift_result *c = uplift_of(&feet, 0);
    assert_same(a->force_n_m, b->force_n_m, 1.0);
    assert_same(a->force_n_m, c->force_n_m, 1.0);
    assert_same(a->moment_factor, b->moment_factor, 1.0);
    assert_same(a->moment_factor, c->moment_factor, 1.0);
    assert_int_equal(a->thickness_count, b->thickness_count);
    for (size_t p = 0; p < 3; p++) {
        assert_same(a->panels[p].factor, b->panels[2 - p].factor, 1.0);
        assert_same(a->panels[p].factor, c->panels[p].factor, 1.0);
        assert_same(a->panels[p].water_on_top_n_m, b->panels[2 - p].water_on_top_n_m, 1.0);
    }
    for (size_t k = 0; k < a->thickness_count; k++) {
        size_t other = a->thickness_count - 1 - k;
        assert_same(a->thickness[k].submerged_m, b->thickness[other].submerged_m, 1.0);
        assert_same(a->thickness[k].dry_m, b->thickness[other].dry_m, 1.0);
        assert_same(a->thickness[k].submerged_m, c->thickness[k].submerged_m, 1.0);
    }
    support_release(&one);
    support_release(&mirror);
    support_release(&feet);
}

/* Where the thickness in the table is provided, the floor just holds: by hand from head, levels
 * and G at each place. */
static void thickness_balances_the_pressure(void **state)
{
    (void)state;
    drop of = plain;
    of.surface = ", surface: [[3, 100.6], [15, 100.8]]";
    support_solved one = solve_drop(&of);
    const us_uplift_result *uplift = uplift_of(&one, 0);
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        const us_thickness *floor = &uplift->thickness[k];
        double top_m = floor->level_m + floor->provided_m.value;
        double water_m = 100.6 + 0.2 * fmax(floor->x_m - 3.0, 0.0) / 12.0;
        water_m = fmax(water_m, top_m);
        /* The top stays: weight of floor and water against the pressure at the new underside. */
        double t_m = floor->submerged_m.value;
        assert_true(t_m > 0.0);
        assert_near(23.5 * t_m + 9.81 * (water_m - top_m),
                    9.81 * (floor->head_m.value - (top_m - t_m)), 1e-9, 0.0);
        assert_near(floor->allowed_m.value, t_m * 4.0 / 3.0, 1e-12, 0.0);
        /* The underside stays, nothing on top. */
        assert_near(23.5 * floor->dry_m.value, 9.81 * (floor->head_m.value - floor->level_m), 1e-9,
                    0.0);
    }
    support_release(&one);
}

/* A falling flood: lifted by the pore pressure of the flood, held by the water that is left. */
static void pore_pressure_of_another_case(void **state)
{
    (void)state;
    drop of = plain;
    of.joints = ", joints: [5]";
    of.surface = ", surface: 102";
    of.more = "  - {name: falling, upstream: 101.7, downstream: at_bed, pressures_from: flood,\n"
              "     surface: 100.3}\n"
              "  - {name: scoured, upstream: 103, downstream: 101, beds: {downstream: 96}}\n"
              "  - {name: lost, upstream: 101.7, downstream: at_bed, pressures_from: scoured}\n"
              "require: {uplift: 0.5}\n";
    support_solved one = solve_drop(&of);
    const us_uplift_result *flood = uplift_of(&one, 0);
    const us_uplift_result *falling = uplift_of(&one, 1);
    const us_uplift_result *lost = uplift_of(&one, 3);
    assert_string_equal(falling->pressures_from, "flood");
    assert_null(flood->pressures_from);
    assert_true(falling->force_n_m.value == flood->force_n_m.value);
    assert_true(falling->panels[1].force_n_m.value == flood->panels[1].force_n_m.value);
    assert_near(falling->water_on_top_n_m.value, 9810.0 * 12.0 * 0.3, 1e-9, 0.0);
    double holding_n_m = falling->weight_n_m.value + falling->water_on_top_n_m.value;
    assert_near(falling->factor.value, holding_n_m / flood->force_n_m.value, 1e-9, 0.0);
    /* L = 15 m and twice the 3.9 m of the upstream wall below the underside, kv 1e-5 m/s. */
    assert_near(falling->steady_s.value, 22.8 * 22.8 * 1e-4 / 1e-5, 1e-9, 0.0);
    assert_string_equal(falling->steady_soil, "sand");
    assert_non_null(us_solution_water(one.solution, 2)->undermined);
    assert_true(lost->present);
    assert_false(lost->force_n_m.present);
    assert_false(lost->factor.present);
    assert_false(lost->panels[0].net_n_m.present);
    const us_check_result *check = check_of(us_solution_water(one.solution, 3), "uplift");
    assert_int_equal(check->verdict, US_NOT_CHECKED);
    support_release(&one);
}

/* A structure of unknown weight is never passed. */
static void without_a_weight_nothing_is_checked(void **state)
{
    (void)state;
    support_solved one = solve("bed: {upstream: 1, downstream: 0}\nbase: -9\n"
                               "structure: {underside: [[0, -1], [9, -1]], joints: [3]}\n"
                               "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                               "water: [{name: high, upstream: 2, downstream: 0.5}]\n");
    const us_uplift_result *uplift = uplift_of(&one, 0);
    const us_check_result *check = check_of(us_solution_water(one.solution, 0), "uplift");
    assert_int_equal(check->verdict, US_NOT_CHECKED);
    assert_false(check->value.present);
    assert_true(uplift->panels[0].force_n_m.value > 0.0);
    assert_false(uplift->panels[0].factor.present);
    assert_false(uplift->thickness[0].dry_m.present);
    assert_true(uplift->thickness[0].head_m.present);
    support_release(&one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_basement_floats_by_one_percent),
        cmocka_unit_test(a_deeper_basement_floats_by_half),
        cmocka_unit_test(factors_that_are_not_given_are_told),
        cmocka_unit_test(a_panel_under_a_jump_trough),
        cmocka_unit_test(suction_under_a_sill_adds_no_stability),
        cmocka_unit_test(moments_about_the_toe),
        cmocka_unit_test(a_higher_tailwater_never_raises_net_head),
        cmocka_unit_test(more_weight_never_lowers_a_factor),
        cmocka_unit_test(panels_add_up_to_the_whole),
        cmocka_unit_test(mirrored_and_in_feet_the_same),
        cmocka_unit_test(thickness_balances_the_pressure),
        cmocka_unit_test(pore_pressure_of_another_case),
        cmocka_unit_test(without_a_weight_nothing_is_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
