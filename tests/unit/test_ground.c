/* Slopes, layers and zones as they are judged and told back. */
#include "support/support.h"

#include <math.h>

#include "model/section.h"

#define WATER "water: [{name: flood, upstream: 30, downstream: 28}]\n"
#define SAND "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
#define FLAT "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
#define APRON "structure: {underside: [[0, -1], [10, -1]]}\n"

static void lines_slope_between_their_points(void **state)
{
    (void)state;
    us_section *section = support_section(
        "bed: {upstream: [[-20, 4], [-17, 3.4], [-13, 2.6], [-10, 2], [-10, 1], [5, "
        "4]], downstream: 0}\nbase: -10\n" APRON SAND WATER);
    const usi_line *bed = &section->left_bed;
    assert_near(usi_line_level(bed, -30, true), 4.0, 0.0, 0.0);
    assert_near(usi_line_level(bed, -15, true), 3.0, 1e-15, 0.0);
    assert_near(usi_line_level(bed, -10, false), 2.0, 0.0, 0.0);
    assert_near(usi_line_level(bed, -10, true), 1.0, 0.0, 0.0);
    assert_int_equal(bed->count, 4); /* two lie on the slope */
    /* Cut at the structure, where the slope has come to 3. */
    assert_near(bed->points[bed->count - 1].x_m, 0.0, 0.0, 0.0);
    assert_near(bed->points[bed->count - 1].z_m, 3.0, 1e-15, 0.0);
    assert_near(usi_line_lowest(bed, -18, -12), 2.4, 1e-15, 0.0);
    assert_near(usi_line_highest(bed, -18, -12), 3.6, 1e-15, 0.0);
    us_section_free(section);
}

static void a_side_cuts_a_slope(void **state)
{
    (void)state;
    us_section *section = support_section(
        "bed: {upstream: 0, downstream: [[10, 0], [30, -4]]}\nbase: [[0, -10], [40, -12]]\n" APRON
            SAND "sides: {right: {x: 20, kind: closed}}\n" WATER);
    assert_int_equal(section->right_bed.count, 2);
    assert_near(section->right_bed.points[1].x_m, 20.0, 0.0, 0.0);
    assert_near(section->right_bed.points[1].z_m, -2.0, 0.0, 0.0);
    assert_near(section->base.points[1].z_m, -11.0, 0.0, 0.0);
    us_section_free(section);
}

static void slopes_are_judged_where_they_run(void **state)
{
    (void)state;
    support_check_refused(
        "bed: {upstream: 0, downstream: 0}\nbase: [[0, -10], [10, 1]]\n" APRON SAND WATER, "base",
        "does not lie below the soil surface");
    support_check_refused("structure: {underside: [[0, -1], [6, -11], [10, -1]]}\n" FLAT SAND WATER,
                          "base", "does not lie below the soil surface");
    support_check_refused(
        "structure: {underside: [[0, -1], [10, -1]], top: [[0, 0], [10, -3]]}\n" FLAT SAND WATER,
        "structure.top", "below its underside");
    support_check_refused(FLAT APRON SAND "piezometers: [{name: P, at: [5, -0.99]}]\n" WATER,
                          "piezometers[0].at", "not in the soil");
    /* A point typed on a slope lies in the soil though it rounds to above it. */
    us_section_free(support_section(
        "bed: {upstream: 0, downstream: [[10, 0], [13, -1]]}\nbase: -10\n" APRON SAND
        "piezometers: [{name: P, at: [11, -0.3333333333]}]\n" WATER));
}

#define LAYERS(tops) FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, " tops "]\n" WATER

static void layers_may_pinch_out(void **state)
{
    (void)state;
    support_check_told(
        LAYERS("{name: clay, kh: 1e-7, kv: 1e-7, top: [[0, -4], [9, -2]]}, {name: rock, kh: "
               "1e-8, kv: 1e-8, top: [[0, -6], [9, 1]]}"),
        "Layer clay is absent where the top of layer rock lies above its own.", true);
    support_check_told(
        LAYERS("{name: clay, kh: 1e-7, kv: 1e-7, top: [[0, -4], [9, -5]]}, {name: rock, kh: "
               "1e-8, kv: 1e-8, top: [[0, -6], [9, -5]]}"),
        "absent", false);
    support_check_refused(
        LAYERS("{name: clay, kh: 1e-7, kv: 1e-7, top: [[0, -4], [9, -2]]}, {name: rock, "
               "kh: 1e-8, kv: 1e-8, top: [[0, -3], [9, -2]]}"),
        "soils[2].top", "nowhere below");
    support_check_refused(LAYERS("{name: clay, kh: 1e-7, kv: 1e-7, top: [[9, -4], [0, -2]]}"),
                          "soils[1].top[1]", "goes back");
    /* A zone from side to side, over the whole of a layer. */
    support_check_told(
        LAYERS("{name: clay, kh: 1e-7, kv: 1e-7, top: -4}, {name: rock, kh: 1e-8, kv: 1e-8, "
               "top: -6}") "zones: [{soil: rock, outline: [[-99, -3], [99, -3], [99, -7], "
                           "[-99, -7]]}]\nsides: {left: {x: -20, kind: closed}, right: {x: "
                           "30, kind: closed}}\n",
        "Layer clay does not show", true);
}

#define ZONES(list)                                                                                \
    FLAT APRON "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: gravel, kh: 1e-3, kv: 1e-3}]\n"   \
               "zones: [" list "]\n" WATER
#define LENS(corners) "{soil: gravel, outline: [" corners "]}"

static void zones_are_polygons_of_known_soils(void **state)
{
    (void)state;
    support_check_refused(ZONES("{soil: gravle, outline: [[1, -2], [3, -2], [3, -3]]}"),
                          "zones[0].soil", "no soil called gravle");
    support_check_refused(ZONES(LENS("[1, -2], [3, -3], [3, -2], [1, -3]")), "zones[0].outline",
                          "crosses itself");
    support_check_refused(ZONES(LENS("[1, -2], [3, -3], [1, -2]")), "zones[0].outline",
                          "three points");
    support_check_refused(ZONES(LENS("[1, -2], [3, -3], [5, -4]")), "zones[0].outline", "no area");
    /* Closing the ring by hand is fine, and so is a corner that touches an edge. */
    us_section *section =
        support_section(ZONES(LENS("[1, -2], [7, -2], [7, -4], [4, -2], [1, -4], [1, -2]")));
    assert_int_equal(section->zones[0].count, 5);
    assert_near(usi_zone_area(&section->zones[0]), 6.0, 1e-15, 0.0);
    us_section_free(section);
}

static void what_of_a_zone_is_no_soil_is_said(void **state)
{
    (void)state;
    support_check_told(ZONES(LENS("[1, -2], [3, -2], [3, -3]")), "outside the soil", false);
    support_check_told(ZONES(LENS("[1, -0.5], [3, -0.5], [3, -3]")),
                       "Part of zone 1, of gravel, lies outside the soil and does not count.",
                       true);
    support_check_told(ZONES(LENS("[1, 1], [3, 1], [3, -0.5]")),
                       "Zone 1, of gravel, lies outside the soil and does not count.", true);
    support_check_told(ZONES(LENS("[1, -11], [3, -11], [3, -12]")), "Soil gravel does not show",
                       true);
    support_check_told(
        ZONES(LENS("[12, 0], [16, 0], [16, 1], [12, 1]")),
        "Zones lie on the downstream bed: their top is the soil surface there, up to 1 m.", true);
    /* A hair over the bed is not on it. */
    support_check_told(ZONES(LENS("[12, 0.01], [16, 0.01], [16, 1], [12, 1]")),
                       "Zone 1, of gravel, lies outside the soil and does not count.", true);
}

static void a_bare_wall_rises_over_what_lies_on_the_beds(void **state)
{
    (void)state;
#define BARE(top)                                                                                  \
    FLAT "walls: [{name: w, x: 0, top: " top ", tip: -5}]\n"                                       \
         "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"                                             \
         "zones: [{soil: sand, outline: [[-3, 0], [3, 0], [3, 1], [-3, 1]]}]\n" WATER
    support_check_refused(BARE("0.5"), "zones", "above the wall that parts them");
    us_section *section = support_section(BARE("1"));
    assert_near(usi_section_surface(section, 0.0, true), 1.0, 0.0, 0.0);
    us_section_free(section);
}

static void areas_and_shapes_are_told(void **state)
{
    (void)state;
    support_check_told(
        "bed: {upstream: [[-10, 2], [0, 0]], downstream: 0}\nbase: -10\n" APRON SAND WATER,
        "upstream bed: 2 m up to x = -10 m, sloping to 0 m at x = 0 m", true);
    support_check_told(
        "bed: {upstream: 0, downstream: [[12, 0], [12, -1], [15, -2], [15, -3], [18, -3], "
        "[20, -4]]}\nbase: -10\n" APRON SAND WATER,
        "downstream bed: 0 m up to x = 12 m, then -1 m up to x = 12 m, sloping to -2 m at x "
        "= 15 m, then -3 m up to x = 18 m, sloping to -4 m at x = 20 m",
        true);
    support_check_told(
        ZONES(LENS("[1, -2], [3, -2], [3, -4], [1, -4]")),
        "zone 1: gravel, 4 corners, from x = 1 m to x = 3 m and from -4 m to -2 m; 4 m^2 of "
        "it in the soil",
        true);
    /* 10 x 9 under the apron, 2.5 x 10 on either side, less the lens. */
    support_check_told(ZONES(LENS("[1, -2], [3, -2], [3, -4], [1, -4]")), "area 136 m^2", true);
    support_check_told(ZONES(LENS("[1, -2], [3, -2], [3, -4], [1, -4]")),
                       "areas from x = -2.5 m to x = 12.5 m", true);
}

static void slips_are_pointed_at(void **state)
{
    (void)state;
#define WALLED(walls) FLAT APRON "walls: [" walls "]\n" SAND WATER
    support_check_told(WALLED("{name: a, x: 0, top: -1, tip: -5}"), "second look", false);
    support_check_told(
        WALLED("{name: a, x: 0, top: -1, tip: -5}, {name: b, x: 0, top: -5.008, tip: -6}"),
        "gap of 0.008 m under wall a, above wall b", true);
    support_check_told(
        WALLED("{name: a, x: 0, top: -1, tip: -5}, {name: b, x: 0, top: -5.02, tip: -6}"),
        "second look", false);
    support_check_told(WALLED("{name: a, x: 5, top: -1.002, tip: -5}"),
                       "gap of 0.002 m over the top of wall a", true);
    support_check_told(WALLED("{name: a, x: 5, top: -9, tip: -9.5}"), "wall a begins 8 m below",
                       true);
    support_check_told(LAYERS("{name: clay, kh: 1e-12, kv: 1e-12, top: -4}"),
                       "from 1e-12 m/s (clay) to 1e-05 m/s (sand), more than a factor of a million",
                       true);
    support_check_told(LAYERS("{name: clay, kh: 1e-10, kv: 1e-10, top: -4}"), "million", false);
    support_check_told("bed: {upstream: 0, downstream: 0}\nbase: -1500\n" APRON SAND WATER,
                       "base 1500 m below the bed", true);
    support_check_told(FLAT APRON SAND "water: [{name: flood, upstream: 300, downstream: 28}]\n",
                       "water case flood stands 300 m over the bed", true);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_slope_between_their_points),
        cmocka_unit_test(a_side_cuts_a_slope),
        cmocka_unit_test(slopes_are_judged_where_they_run),
        cmocka_unit_test(layers_may_pinch_out),
        cmocka_unit_test(zones_are_polygons_of_known_soils),
        cmocka_unit_test(what_of_a_zone_is_no_soil_is_said),
        cmocka_unit_test(a_bare_wall_rises_over_what_lies_on_the_beds),
        cmocka_unit_test(areas_and_shapes_are_told),
        cmocka_unit_test(slips_are_pointed_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
