/* The section built from what was typed: geometry rules, defaults, notes. */
#include "support/support.h"

#include "model/section.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
#define WATER "water: [{name: flood, upstream: 3, downstream: 1}]\n"
#define BARE(wall) "bed: {upstream: 2, downstream: 0}\nbase: -10\nwalls: [" wall "]\n" SOIL WATER
/* An apron of 10 m, its underside at -1. */
#define APRON "structure: {underside: [[0, -1], [10, -1]]}\n"
#define FLAT "bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL WATER

static void demo_is_understood(void **state)
{
    (void)state;
    us_section *section = support_section(
        "title: Demo\nwidth: 24\nbed: {upstream: 101.6, downstream: 100.0}\nbase: 91.0\n"
        "structure:\n  underside: [[0, 100.9], [3, 100.9], [3, 99.2], [15, 99.2]]\n"
        "  top: [[0, 101.6], [3, 101.6], [3, 100.0], [15, 100.0]]\n  unit_weight: 23.5\n"
        "walls:\n  - {name: crest, x: 0.0, top: 101.2, tip: 97.0}\n"
        "  - {name: toe, x: 15.0, top: 99.5, tip: 97.3}\n"
        "soils:\n  - {name: silty_sand, kh: 2.0e-5, kv: 1.0e-5, unit_weight: 19.5}\n"
        "  - {name: fine_sand, top: 96.0, kh: 6.0e-5, unit_weight: 20.0}\n"
        "piezometers: [{name: P1, at: [6.0, 98.0]}]\n"
        "water:\n  - {name: design_flood, upstream: 103.4, downstream: 102.0}\n"
        "  - {name: low_flow, upstream: 101.7, downstream: at_bed}\nrequire: {piping: 4.0}\n");
    assert_near(section->left_end_m, 0.0, 0.0, 0.0);
    assert_near(section->right_end_m, 15.0, 0.0, 0.0);
    assert_int_equal(section->underside.count, 4);
    assert_near(section->width_m, 24.0, 0.0, 0.0);
    assert_near(section->structure_unit_weight_n_m3, 23500.0, 0.0, 1e-9);
    assert_near(section->soils[1].kv_m_s, 6e-5, 0.0, 0.0);
    assert_true(support_has_note(section, "fine_sand has no kv"));
    assert_int_equal(section->note_count, 1);
    assert_false(section->waters[0].at_bed);
    assert_true(section->waters[1].at_bed);
    assert_near(section->waters[1].downstream_m, 100.0, 0.0, 0.0);
    assert_near(usi_section_size(section), 15.0, 1e-12, 0.0);
    us_section_free(section);
}

static void levels_are_found_on_both_sides_of_a_step(void **state)
{
    (void)state;
    usi_point points[] = {{0, 5}, {3, 5}, {3, 2}, {8, 2}, {8, 4}};
    const usi_line line = {5, points};
    assert_near(usi_line_level(&line, -9.0, true), 5.0, 0.0, 0.0);
    assert_near(usi_line_level(&line, 3.0, false), 5.0, 0.0, 0.0);
    assert_near(usi_line_level(&line, 3.0, true), 2.0, 0.0, 0.0);
    assert_near(usi_line_level(&line, 8.0, false), 2.0, 0.0, 0.0);
    assert_near(usi_line_level(&line, 99.0, false), 4.0, 0.0, 0.0);
    assert_near(usi_line_lowest(&line, 3.0, 8.0), 2.0, 0.0, 0.0);
    assert_near(usi_line_highest(&line, 3.0, 8.0), 2.0, 0.0, 0.0);
    assert_near(usi_line_lowest(&line, -HUGE_VAL, 3.0), 5.0, 0.0, 0.0);
    assert_near(usi_line_highest(&line, 3.0, HUGE_VAL), 4.0, 0.0, 0.0);
}

static void surface_is_bed_underside_bed(void **state)
{
    (void)state;
    us_section *section =
        support_section(APRON "bed: {upstream: 1, downstream: 0}\nbase: -10\n" SOIL WATER);
    assert_near(usi_section_surface(section, 0.0, false), 1.0, 0.0, 0.0);
    assert_near(usi_section_surface(section, 0.0, true), -1.0, 0.0, 0.0);
    assert_near(usi_section_surface(section, 10.0, false), -1.0, 0.0, 0.0);
    assert_near(usi_section_surface(section, 10.0, true), 0.0, 0.0, 0.0);
    us_section_free(section);
}

static void flow_to_the_left_mirrors_the_beds(void **state)
{
    (void)state;
    us_section *section = support_section("flow_toward: left\n" BARE("{x: 4, top: 2, tip: -5}"));
    assert_true(section->flows_left);
    assert_near(section->left_bed.points[0].z_m, 0.0, 0.0, 0.0);
    assert_near(section->right_bed.points[0].z_m, 2.0, 0.0, 0.0);
    assert_ptr_equal(usi_section_downstream_bed(section), &section->left_bed);
    us_section_free(section);
    section = support_section(
        "flow_toward: left\nbed: {upstream: 0, downstream: 0}\nbase: -10\n" APRON SOIL WATER);
    assert_near(usi_section_toe_x(section), 0.0, 0.0, 0.0);
    assert_near(usi_section_heel_x(section), 10.0, 0.0, 0.0);
    us_section_free(section);
}

static void beds_meet_at_the_first_wall_that_reaches_them(void **state)
{
    (void)state;
    us_section *section =
        support_section(BARE("{x: -7, top: 1, tip: -5}, {x: 4, top: 2, tip: -5}, {x: 9, top: 3, "
                             "tip: -5}"));
    assert_near(section->left_end_m, 4.0, 0.0, 0.0);
    assert_near(section->right_end_m, 4.0, 0.0, 0.0);
    assert_near(usi_section_surface(section, 9.0, true), 0.0, 0.0, 0.0);
    us_section_free(section);
    support_check_refused(BARE("{x: 4, top: 1, tip: -5}"), "bed", "nothing parts");
    support_check_refused("bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL WATER, "bed",
                          "nothing parts");
    section = support_section("bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL
                              "water: [{upstream: 1, downstream: 1}]\n");
    us_section_free(section);
}

static void what_lies_above_the_bed_is_closed_by_walls(void **state)
{
    (void)state;
    support_check_refused(
        "structure: {underside: [[0, 1], [10, 1]]}\nwalls: [{x: 0, top: 1, tip: -2}]\n" FLAT,
        "structure.underside[1]", "no wall closes the soil");
    support_check_refused("structure: {underside: [[0, 1], [10, 1]]}\n"
                          "walls: [{x: 0, top: 1, tip: -2}, {x: 10, top: 0.5, tip: -2}]\n" FLAT,
                          "structure.underside[1]", "no wall closes the soil");
    us_section_free(
        support_section("structure: {underside: [[0, 1], [10, 1]]}\n"
                        "walls: [{x: 0, top: 1, tip: -2}, {x: 10, top: 3, tip: -2}]\n" FLAT));
    /* Two walls that touch close the soil together. */
    us_section_free(support_section("structure: {underside: [[0, 1], [10, 1]]}\n"
                                    "walls: [{x: 0, top: 1, tip: -2}, {x: 10, top: -0.5, tip: -2}, "
                                    "{name: u, x: 10, top: 1, tip: -0.5}]\n" FLAT));
}

static void walls_stand_in_the_soil(void **state)
{
    (void)state;
    support_check_refused(BARE("{x: 0, top: -5, tip: 2}"), "walls[0].tip", "not below the top");
    support_check_refused(BARE("{x: 0, top: 2, tip: -5}, {x: 5, top: 3, tip: 0}"), "walls[1].tip",
                          "outside the soil");
    support_check_refused(BARE("{x: 0, top: 2, tip: -10.5}"), "walls[0].tip", "below the base");
    support_check_refused(APRON "walls: [{x: 5, top: -0.2, tip: -0.9}]\n" FLAT, "walls[0].tip",
                          "outside the soil");
    support_check_refused(BARE("{x: 0, top: 2, tip: -5}, {x: 0, top: -4, tip: -6}"), "walls[1]",
                          "overlaps `wall_1`");
    us_section_free(support_section(BARE("{x: 0, top: 2, tip: -5}, {x: 0, top: -5, tip: -6}")));
    us_section_free(support_section(BARE("{x: 0, top: 2, tip: -5}, {x: 0, top: -7, tip: -8}")));
}

static const usi_wall *reach(us_section **section, const char *tip)
{
    char text[512];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 2, downstream: 0}\nbase: -10\nwalls: [{x: 0, top: 2, tip: "
                   "%s}]\n" SOIL WATER,
                   tip);
    *section = support_section(text);
    return &(*section)->walls[0];
}

static void a_tip_on_the_base_leaves_an_open_contact(void **state)
{
    (void)state;
    us_section *section = NULL;
    const usi_wall *wall = reach(&section, "-9.95");
    assert_true(wall->open_contact);
    assert_near(wall->solved_tip_m, -9.9, 1e-12, 0.0);
    assert_near(wall->tip_m, -9.95, 1e-12, 0.0);
    assert_true(support_has_note(section, "open contact of 0.1 m"));
    us_section_free(section);
    wall = reach(&section, "-9.8");
    assert_false(wall->open_contact);
    assert_near(wall->solved_tip_m, -9.8, 1e-12, 0.0);
    us_section_free(section);
    wall = reach(&section, "-10, keyed: true");
    assert_false(wall->open_contact);
    assert_near(wall->solved_tip_m, -10.0, 1e-12, 0.0);
    us_section_free(section);
    wall = reach(&section, "-9.95, keyed: true");
    assert_near(wall->solved_tip_m, -10.0, 1e-12, 0.0);
    us_section_free(section);
    support_check_refused(BARE("{x: 0, top: 2, tip: -9, keyed: true}"), "walls[0].keyed",
                          "ends above");
    support_check_refused("bed: {upstream: 2, downstream: 0}\nbase: none\n"
                          "walls: [{x: 0, top: 2, tip: -9, keyed: true}]\n" SOIL WATER,
                          "walls[0].keyed", "there is none");
}

/* A laboratory box of 0.2 m: 0.1 m would be half of it. */
static void small_sections_have_a_small_contact(void **state)
{
    (void)state;
    us_section *section = support_section(
        "bed: {upstream: 0, downstream: 0}\nbase: -0.2\nwalls: [{x: 0, top: 0, tip: "
        "-0.15}, {x: 1, top: 0, tip: -0.195}]\n" SOIL "water: [{upstream: 0.1, downstream: 0}]\n");
    assert_false(section->walls[0].open_contact);
    assert_true(section->walls[1].open_contact);
    assert_near(section->walls[1].solved_tip_m, -0.19, 1e-12, 0.0);
    us_section_free(section);
}

/* The soil just above or below a level, beside the wall. */
static size_t soil_near(const us_section *section, double z_m, bool above)
{
    return usi_section_soil_at(section, (usi_point){0.0, z_m}, true, above);
}

static void layers_run_from_the_top_down(void **state)
{
    (void)state;
#define LAYERS(rest)                                                                               \
    "bed: {upstream: 2, downstream: 0}\nbase: -10\nwalls: [{x: 0, top: 2, tip: "                   \
    "-5}]\nsoils: [{name: a, kh: 1e-5, kv: 1e-5}, " rest "]\n" WATER
    us_section *section =
        support_section(LAYERS("{name: b, top: -3, kh: 1e-4, kv: 1e-4}, "
                               "{name: x, kh: 1e-4, kv: 1e-4}, "
                               "{name: c, top: [[0, -6], [5, -6]], kh: 1e-4, kv: 1e-4}, "
                               "{name: d, top: -11, kh: 1e-4, kv: 1e-4}"));
    assert_int_equal(soil_near(section, 1.0, false), 0);
    assert_int_equal(soil_near(section, -3.0, true), 0);
    assert_int_equal(soil_near(section, -3.0, false), 1);
    assert_int_equal(soil_near(section, -6.0, true), 1);
    assert_int_equal(soil_near(section, -6.0, false), 3);
    assert_false(section->soils[2].layer);
    assert_true(support_has_note(section, "Soil x has no top"));
    assert_true(support_has_note(section, "Layer d lies below the base"));
    us_section_free(section);
    section = support_section(LAYERS("{name: b, top: 4, kh: 1e-4, kv: 1e-4}"));
    assert_true(support_has_note(section, "Layer a lies above the soil surface"));
    us_section_free(section);
    support_check_refused(LAYERS("{top: -3, kh: 1e-4}, {top: -3, kh: 1e-4}"), "soils[2].top",
                          "not below the top of the layer before");
    support_check_refused(LAYERS("{name: a, top: -3, kh: 1e-4}"), "soils[1].name", "twice");
#undef LAYERS
}

static void lines_go_on_in_order(void **state)
{
    (void)state;
    support_check_refused("structure: {underside: [[0, -1], [10, -1], [10, -2], [4, -2]]}\n" FLAT,
                          "structure.underside[3]", "goes back");
    support_check_refused(
        "structure: {underside: [[0, -1], [4, -1], [4, -3], [4, -2], [9, -2]]}\n" FLAT,
        "structure.underside[3]", "turns back");
    support_check_refused("structure: {underside: [[0, -1], [0, -2]]}\n" FLAT,
                          "structure.underside", "no length");
    support_check_refused("structure: {underside: [[0, -1], [10, -1]], top: -2}\n" FLAT,
                          "structure.top", "below its underside");
}

static void points_that_coincide_become_one(void **state)
{
    (void)state;
    us_section *section =
        support_section("bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                        "structure: {underside: [[0, -1], [10.000000000001, -1]]}\n"
                        "walls: [{x: 10, top: -1.0000000000004, tip: -5}, {x: 0, top: "
                        "-1, tip: -5.0000000000003}]\n" SOIL WATER);
    assert_true(section->walls[0].x_m == section->right_end_m);
    assert_true(section->walls[0].top_m == section->underside.points[0].z_m);
    assert_true(section->walls[0].tip_m == section->walls[1].tip_m);
    us_section_free(section);
}

static void lines_keep_only_what_counts(void **state)
{
    (void)state;
    us_section *section = support_section(
        "bed:\n  upstream: [[-30, 0], [-20, 0], [-20, 0.5], [-20, 1], [-10, 1], [0, 1], [4, 1], "
        "[4, "
        "7]]\n  downstream: 0\nbase: [[-5, -10], [3, -10], [3, -10], [8, -10]]\n"
        "structure: {underside: [[0, 0.5], [0, -1], [4, -1], [7, -1], [10, -1]], top: 2}\n" SOIL
        "water: [{upstream: 3, downstream: 1}]\n");
    assert_int_equal(section->left_bed.count, 2);
    assert_near(section->left_bed.points[0].z_m, 0.0, 0.0, 0.0);
    assert_near(section->left_bed.points[1].x_m, -20.0, 0.0, 0.0);
    assert_near(section->left_bed.points[1].z_m, 1.0, 0.0, 0.0);
    assert_int_equal(section->base.count, 1);
    assert_int_equal(section->underside.count, 2);
    assert_int_equal(section->structure_top.count, 2);
    assert_near(section->structure_top.points[1].x_m, 10.0, 0.0, 0.0);
    assert_true(support_has_note(section, "upstream bed beyond x = 0 m"));
    us_section_free(section);
}

static void sides_stand_outside_the_works(void **state)
{
    (void)state;
    us_section *section =
        support_section("sides: {left: {x: -40, kind: closed}, right: {x: 10, kind: "
                        "fixed_head}}\n" APRON FLAT);
    assert_int_equal(section->left.kind, USI_SIDE_CLOSED);
    assert_int_equal(section->right.kind, USI_SIDE_FIXED_HEAD);
    us_section_free(section);
    support_check_refused("sides: {left: {x: 1, kind: closed}}\n" APRON FLAT, "sides.left.x",
                          "inside");
    support_check_refused("sides: {right: {x: 10, kind: closed}}\n" APRON FLAT, "sides.right.kind",
                          "no water could pass");
    support_check_refused(
        "sides: {right: {x: 0, kind: fixed_head}}\n" BARE("{x: 0, top: 2, tip: -5}"),
        "sides.right.x", "bare wall");
    support_check_refused(
        "sides: {left: {x: -40, kind: closed}}\nwalls: [{x: -40, top: 0, tip: -5}]\n" APRON FLAT,
        "walls[0].x", "outside the soil");
}

static void soil_is_left_above_the_base(void **state)
{
    (void)state;
    support_check_refused("bed: {upstream: 0, downstream: 0}\nbase: -1\n" APRON SOIL WATER, "base",
                          "does not lie below");
    support_check_refused(
        "bed: {upstream: 0, downstream: 0}\nbase: [[20, -10], [20, 0.5]]\n" APRON SOIL WATER,
        "base", "x = 20 m");
    /* Beyond a side nothing counts. */
    us_section_free(support_section("bed: {upstream: 0, downstream: 0}\n"
                                    "base: [[20, -10], [20, 0.5]]\n"
                                    "sides: {right: {x: 15, kind: closed}}\n" APRON SOIL WATER));
}

#define FLOOD(bed, water) "bed: " bed "\nbase: -10\nwater: [" water "]\n" APRON SOIL

static void water_runs_from_high_to_low(void **state)
{
    (void)state;
    support_check_refused(FLOOD("{upstream: 2, downstream: 0}", "{upstream: 1.5, downstream: 0}"),
                          "water[0].upstream", "below the upstream bed");
    support_check_refused(FLOOD("{upstream: 0, downstream: 0}", "{upstream: 1, downstream: 2}"),
                          "water[0].downstream", "above the upstream water");
    support_check_refused(
        FLOOD("{upstream: 0, downstream: 0}", "{upstream: at_bed, downstream: 0}"),
        "water[0].upstream", "not allowed upstream");
    support_check_refused(
        FLOOD("{upstream: 0, downstream: 3}", "{upstream: 1, downstream: at_bed}"),
        "water[0].downstream", "above the upstream water");
    us_section *section =
        support_section(FLOOD("{upstream: 0, downstream: 0}", "{upstream: 2, downstream: 2}"));
    assert_true(section->waters[0].upstream_m == section->waters[0].downstream_m);
    us_section_free(section);
}

static void piping_needs_the_weight_of_the_exit_soil(void **state)
{
    (void)state;
#define TWO(first, second)                                                                         \
    "require: {piping: 3}\nbed: {upstream: 0, downstream: 0}\nbase: -10\n"                         \
    "soils: [{name: a, kh: 1e-5, kv: 1e-5" first "}, {name: b, top: -5, "                          \
    "kh: 1e-5, kv: 1e-5" second "}]\n" APRON WATER
    us_section_free(support_section(TWO(", unit_weight: 20", "")));
    support_check_refused(TWO("", ", unit_weight: 20"), "require.piping", "soil a");
    support_check_refused(TWO(", unit_weight: 9.8", ""), "soils[0].unit_weight",
                          "not heavier than water");
#undef TWO
}

static usi_face side_of(const char *at)
{
    char text[512];
    (void)snprintf(
        text, sizeof text,
        BARE("{x: 0, top: 2.5, tip: -5}, {x: 0, top: -6, tip: -10, keyed: true}") "piezometers: "
                                                                                  "[{at: %s}]\n",
        at);
    us_section *section = support_section(text);
    usi_face side = section->piezometers[0].side;
    us_section_free(section);
    return side;
}

static void piezometers_on_a_wall_have_a_side(void **state)
{
    (void)state;
#define POINT(at) BARE("{x: 0, top: 2.5, tip: -5}") "piezometers: [{at: " at "}]\n"
    assert_int_equal(side_of("[3, -2]"), USI_FACE_NONE);
    assert_int_equal(side_of("[3, -2], side: left"), USI_FACE_NONE);
    assert_int_equal(side_of("[0, -2], side: left"), USI_FACE_LEFT);
    assert_int_equal(side_of("[0, -2], side: right"), USI_FACE_RIGHT);
    assert_int_equal(side_of("[0, 1]"), USI_FACE_LEFT); /* soil on the left only */
    assert_int_equal(side_of("[0, 0], side: right"), USI_FACE_RIGHT);
    assert_int_equal(side_of("[0, -5]"), USI_FACE_NONE);   /* tip */
    assert_int_equal(side_of("[0, -5.5]"), USI_FACE_NONE); /* slot */
    assert_int_equal(side_of("[0, -6]"), USI_FACE_NONE);
    assert_int_equal(side_of("[0, -10], side: left"), USI_FACE_LEFT); /* sealed tip */
    support_check_refused(POINT("[0, -2]"), "piezometers[0]", "lies on a wall");
    support_check_refused(POINT("[0, 1], side: right"), "piezometers[0].side",
                          "no soil on that side");
    support_check_refused(POINT("[3, 0.5]"), "piezometers[0].at", "not in the soil");
    support_check_refused(POINT("[3, -10.5]"), "piezometers[0].at", "not in the soil");
#undef POINT
}

static void explanation_tells_all(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(
        context, "title: Told back\nunits: us\nbed: {upstream: 6, downstream: 0}\nbase: -30\n"
                 "walls: [{name: cutoff, x: 12+50, top: 7, tip: -15}]\n"
                 "soils: [{name: sand, kh: 3, unit_weight: 125}]\n"
                 "water: [{name: flood, upstream: 9, downstream: at_bed}]\nrequire: {piping: 2.5}\n"
                 "piezometers: [{name: P1, at: [1250, -3], side: left}]\n");
    us_buffer *text = NULL;
    assert_int_equal(us_section_explain(context, section, &text), US_OK);
    static const char *const parts[] = {
        "Told back",
        "ft, ft/day and lb/ft^3",
        "cutoff: at x = 1250 ft from 7 ft down to -15 ft",
        "sand: from the soil surface down to the base; kh 3 ft/day, kv 3 ft/day",
        "flood: upstream 9 ft, downstream 0 ft (at the bed), head difference 9 ft",
        "piping: a factor of at least 2.5",
        "left face of the wall",
        "no kv"};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strstr(us_buffer_data(text), parts[i]) == NULL) {
            print_error("lacks '%s':\n%s", parts[i], (const char *)us_buffer_data(text));
            fail();
        }
    }
    us_buffer_free(text);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(demo_is_understood),
        cmocka_unit_test(levels_are_found_on_both_sides_of_a_step),
        cmocka_unit_test(surface_is_bed_underside_bed),
        cmocka_unit_test(flow_to_the_left_mirrors_the_beds),
        cmocka_unit_test(beds_meet_at_the_first_wall_that_reaches_them),
        cmocka_unit_test(what_lies_above_the_bed_is_closed_by_walls),
        cmocka_unit_test(walls_stand_in_the_soil),
        cmocka_unit_test(a_tip_on_the_base_leaves_an_open_contact),
        cmocka_unit_test(small_sections_have_a_small_contact),
        cmocka_unit_test(layers_run_from_the_top_down),
        cmocka_unit_test(lines_go_on_in_order),
        cmocka_unit_test(points_that_coincide_become_one),
        cmocka_unit_test(lines_keep_only_what_counts),
        cmocka_unit_test(sides_stand_outside_the_works),
        cmocka_unit_test(soil_is_left_above_the_base),
        cmocka_unit_test(water_runs_from_high_to_low),
        cmocka_unit_test(piping_needs_the_weight_of_the_exit_soil),
        cmocka_unit_test(piezometers_on_a_wall_have_a_side),
        cmocka_unit_test(explanation_tells_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
