/* Where water may leave steeply, and whether the gradient is bounded there: by
 * angle and by what the sides are. Beds that slope cannot be typed yet, so those
 * sections are made by hand. */
#include "model/exits.h"

#include "support/support.h"

static const double DEGREE = 3.14159265358979323846 / 180.0;

static usi_growth growth(usi_wedge_side side, double degrees)
{
    usi_wedge wedge = {side, degrees * DEGREE, degrees * DEGREE};
    return usi_wedge_growth(&wedge);
}

static void assert_growth(usi_growth found, usi_growth_kind kind, double power)
{
    assert_int_equal(found.kind, kind);
    assert_near(found.power, power, 1e-9, 1e-12);
    assert_int_equal(usi_growth_is_bounded(found),
                     kind == USI_GROWTH_NONE || kind == USI_GROWTH_FINITE);
}

/* Between fixed head and no flow: r^(pi/2w - 1), as in every text on corner flow. */
static void a_closed_face_bounds_up_to_a_right_angle(void **state)
{
    (void)state;
    assert_growth(growth(USI_WEDGE_CLOSED, 90), USI_GROWTH_FINITE, 0.0);
    assert_growth(growth(USI_WEDGE_CLOSED, 180), USI_GROWTH_POWER, -0.5);
    assert_growth(growth(USI_WEDGE_CLOSED, 95), USI_GROWTH_POWER, 90.0 / 95.0 - 1.0);
    assert_growth(growth(USI_WEDGE_CLOSED, 60), USI_GROWTH_NONE, 0.5);
    assert_growth(growth(USI_WEDGE_CLOSED, 270), USI_GROWTH_POWER, 1.0 / 3.0 - 1.0);
}

static void a_vertex_of_the_bed_is_a_curve_below_20_degrees(void **state)
{
    (void)state;
    assert_growth(growth(USI_WEDGE_BED, 270), USI_GROWTH_POWER, -1.0 / 3.0);
    assert_growth(growth(USI_WEDGE_BED, 90), USI_GROWTH_NONE, 1.0);
    assert_growth(growth(USI_WEDGE_BED, 180), USI_GROWTH_FINITE, 0.0);
    assert_growth(growth(USI_WEDGE_BED, 199), USI_GROWTH_FINITE, 0.0);
    assert_growth(growth(USI_WEDGE_BED, 161), USI_GROWTH_FINITE, 0.0);
    assert_growth(growth(USI_WEDGE_BED, 201), USI_GROWTH_POWER, 180.0 / 201.0 - 1.0);
    assert_growth(growth(USI_WEDGE_BED, 159), USI_GROWTH_NONE, 180.0 / 159.0 - 1.0);
    /* It is the drawn turn that makes a curve, the mapped one that sets the power. */
    usi_wedge flat = {USI_WEDGE_BED, 220 * DEGREE, 190 * DEGREE};
    assert_growth(usi_wedge_growth(&flat), USI_GROWTH_FINITE, 0.0);
    usi_wedge steep = {USI_WEDGE_BED, 190 * DEGREE, 220 * DEGREE};
    assert_growth(usi_wedge_growth(&steep), USI_GROWTH_POWER, 180.0 / 190.0 - 1.0);
}

/* A given flow through a wall at a right angle to the bed: r log r. */
static void a_leaky_wall_grows_like_a_logarithm(void **state)
{
    (void)state;
    assert_growth(growth(USI_WEDGE_LEAKY, 90), USI_GROWTH_LOG, 0.0);
    assert_growth(growth(USI_WEDGE_LEAKY, 60), USI_GROWTH_FINITE, 0.0);
    assert_growth(growth(USI_WEDGE_LEAKY, 120), USI_GROWTH_POWER, -0.25);
}

static void angles_are_taken_through_the_soil(void **state)
{
    (void)state;
    const usi_ray level = {1.0, 0.0};
    const usi_ray down = {0.0, -1.0};
    const usi_ray back = {-1.0, 0.0};
    const usi_ray up = {0.0, 1.0};
    const usi_ray rising = {2.0, 2.0};
    assert_near(usi_wedge_between(level, down, true, 0.5).angle_rad, 90 * DEGREE, 1e-12, 0.0);
    assert_near(usi_wedge_between(level, back, true, 0.5).angle_rad, 180 * DEGREE, 1e-12, 0.0);
    assert_near(usi_wedge_between(level, up, true, 0.5).angle_rad, 270 * DEGREE, 1e-12, 0.0);
    usi_wedge wedge = usi_wedge_between(rising, down, true, 0.5);
    assert_near(wedge.drawn_rad, 135 * DEGREE, 1e-12, 0.0);
    /* kh = 4 kv halves x: 45 degrees become atan 2. */
    assert_near(wedge.angle_rad, 90 * DEGREE + atan(2.0), 1e-12, 0.0);
    const usi_ray left = {-2.0, 2.0};
    usi_wedge mirrored = usi_wedge_between(left, down, false, 0.5);
    assert_near(mirrored.angle_rad, wedge.angle_rad, 1e-12, 0.0);
}

/* A structure from x = 0 to 10 on a bed at level 0, isotropic soil 12 m thick. */
typedef struct site {
    us_section section;
    usi_point left_bed[1];
    usi_point right_bed[6];
    usi_point underside[2];
    usi_point base[1];
    usi_soil soil;
    usi_wall walls[2];
} site;

static int enter(void **state)
{
    site *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->right_bed[0] = (usi_point){10.0, 0.0};
    made->underside[1] = (usi_point){10.0, 0.0};
    made->base[0].z_m = -12.0;
    made->soil = (usi_soil){.layer = true, .kh_m_s = 1e-5, .kv_m_s = 1e-5};
    made->section = (us_section){.left_bed = {1, made->left_bed},
                                 .right_bed = {1, made->right_bed},
                                 .right_end_m = 10.0,
                                 .has_base = true,
                                 .base = {1, made->base},
                                 .has_structure = true,
                                 .underside = {2, made->underside},
                                 .walls = made->walls,
                                 .soil_count = 1,
                                 .soils = &made->soil};
    *state = made;
    return 0;
}

static int leave(void **state)
{
    free(*state);
    return 0;
}

static void set_bed(site *made, const usi_point *points, size_t count)
{
    memcpy(made->right_bed, points, count * sizeof *points);
    made->section.right_bed.count = count;
}

static size_t list(const site *made, usi_exit *found, size_t room)
{
    us_context *context = us_context_create();
    usi_exit *exits = NULL;
    size_t count = 0;
    assert_int_equal(usi_exits_list(context, &made->section, &exits, &count), US_OK);
    assert_true(count <= room);
    memcpy(found, exits, count * sizeof *exits);
    free(exits);
    us_context_free(context);
    return count;
}

static void a_flush_edge_is_unbounded_an_embedded_one_not(void **state)
{
    site *made = *state;
    usi_exit found[4];
    assert_int_equal(list(made, found, 4), 1);
    assert_growth(found[0].growth, USI_GROWTH_POWER, -0.5);
    assert_near(found[0].mean_depth_m, 1.0, 1e-12, 0.0);
    made->underside[0].z_m = -0.25;
    made->underside[1].z_m = -0.25;
    assert_int_equal(list(made, found, 4), 1);
    assert_growth(found[0].growth, USI_GROWTH_FINITE, 0.0);
    assert_near(found[0].embedment_m, 0.25, 1e-12, 0.0);
}

static void the_slope_of_the_bed_decides_beside_a_face(void **state)
{
    site *made = *state;
    usi_exit found[4];
    made->section.wall_count = 1;
    made->walls[0] = (usi_wall){.x_m = 10.0, .top_m = 0.0, .tip_m = -3.0, .solved_tip_m = -3.0};
    const usi_point rising[] = {{10.0, 0.0}, {20.0, 10.0 * 0.0874886635}}; /* 5 degrees */
    set_bed(made, rising, 2);
    assert_int_equal(list(made, found, 4), 1);
    assert_growth(found[0].growth, USI_GROWTH_POWER, 90.0 / 95.0 - 1.0);
    const usi_point falling[] = {{10.0, 0.0}, {20.0, -10.0 * 0.0874886635}};
    set_bed(made, falling, 2);
    assert_true(list(made, found, 4) >= 1);
    assert_growth(found[0].growth, USI_GROWTH_NONE, 90.0 / 85.0 - 1.0);
}

static void steps_and_kinks_in_the_bed_are_found_at_their_feet(void **state)
{
    site *made = *state;
    usi_exit found[8];
    /* Down by 2 at x = 15 in two upright pieces, up by 1 at 40 along 30 degrees. */
    const usi_point bed[] = {{10.0, 0.0},  {15.0, 0.0},  {15.0, -1.0},
                             {15.0, -2.0}, {40.0, -2.0}, {41.7320508, -1.0}};
    set_bed(made, bed, 6);
    assert_int_equal(list(made, found, 8), 3);
    assert_int_equal(found[1].kind, USI_EXIT_STEP);
    assert_near(found[1].at.x_m, 15.0, 1e-12, 0.0);
    assert_near(found[1].at.z_m, -2.0, 1e-12, 0.0);
    assert_int_equal(found[1].bed, USI_FACE_RIGHT);
    assert_near(found[1].mean_depth_m, 2.0, 1e-12, 0.0);
    assert_growth(found[1].growth, USI_GROWTH_POWER, -1.0 / 3.0);
    assert_near(found[2].at.x_m, 40.0, 1e-12, 0.0);
    assert_int_equal(found[2].bed, USI_FACE_LEFT);
    assert_near(found[2].growth.power, 180.0 / 210.0 - 1.0, 1e-6, 0.0);
    /* At 10 degrees it is a drawn curve. */
    made->right_bed[5] = (usi_point){45.6712818, -1.0};
    assert_int_equal(list(made, found, 8), 2);
    /* A wall that holds the step takes the place of its foot. */
    made->section.wall_count = 1;
    made->walls[0] = (usi_wall){.x_m = 15.0, .top_m = 0.0, .tip_m = -4.0, .solved_tip_m = -4.0};
    size_t count = list(made, found, 8);
    for (size_t e = 0; e < count; e++) {
        assert_int_not_equal(found[e].kind, USI_EXIT_STEP);
    }
    assert_int_equal(count, 3); /* the toe and both faces of the wall */
}

static void a_profile_follows_the_bed(void **state)
{
    site *made = *state;
    usi_exit found[8];
    assert_int_equal(list(made, found, 8), 1);
    static const double lengths[] = {0.0, 0.1, 0.25, 0.5, 1.0, 2.0, 4.0};
    assert_int_equal(found[0].profile_count, USI_PROFILE_MOST);
    for (size_t k = 0; k < USI_PROFILE_MOST; k++) {
        assert_near(found[0].profile_x_m[k], 10.0 + lengths[k], 1e-12, 0.0);
    }
    /* It goes on below a step and along a slope; a wall at 11 ends it after 0.5 m. */
    const usi_point bed[] = {{10.0, 0.0}, {12.0, 0.0}, {12.0, -1.0}};
    set_bed(made, bed, 3);
    assert_int_equal(list(made, found, 8), 2);
    assert_int_equal(found[0].profile_count, USI_PROFILE_MOST);
    const usi_point slope[] = {{10.0, 0.0}, {12.0, -0.5}};
    set_bed(made, slope, 2);
    assert_int_equal(list(made, found, 8), 1);
    assert_int_equal(found[0].profile_count, USI_PROFILE_MOST);
    /* A wall that a slope leaves behind in the soil does not end it. */
    made->section.wall_count = 1;
    made->walls[0] = (usi_wall){.x_m = 11.0, .top_m = -0.35, .tip_m = -4.0, .solved_tip_m = -4.0};
    assert_int_equal(list(made, found, 8), 1);
    assert_int_equal(found[0].profile_count, USI_PROFILE_MOST);
    made->walls[0].top_m = -0.25;
    assert_int_equal(list(made, found, 8), 3);
    assert_int_equal(found[0].profile_count, 4);
    set_bed(made, bed, 3);
    made->walls[0] = (usi_wall){.x_m = 11.0, .top_m = 0.0, .tip_m = -4.0, .solved_tip_m = -4.0};
    assert_int_equal(list(made, found, 8), 4);
    assert_int_equal(found[0].profile_count, 4);
    /* That wall's left face looks back to the toe, 1 m away: 0.1 of its 4 m. */
    assert_int_equal(found[1].bed, USI_FACE_LEFT);
    assert_int_equal(found[1].profile_count, 2);
    assert_near(found[1].profile_x_m[1], 10.6, 1e-12, 0.0);
    /* A side ends it as well. */
    made->section.wall_count = 0;
    set_bed(made, bed, 1);
    made->section.right = (usi_side){.kind = USI_SIDE_CLOSED, .x_m = 10.3};
    assert_int_equal(list(made, found, 8), 1);
    assert_int_equal(found[0].profile_count, 3);
}

static void the_fall_is_watched_over_a_tenth(void **state)
{
    site *made = *state;
    usi_exit found[2];
    made->underside[1].z_m = -0.25;
    assert_int_equal(list(made, found, 2), 1);
    assert_near(found[0].watch_x_m, 11.0, 1e-12, 0.0); /* of the floor */
    made->section.wall_count = 1;
    made->walls[0] = (usi_wall){.x_m = 10.0, .top_m = 0.0, .tip_m = -11.0, .solved_tip_m = -11.0};
    assert_int_equal(list(made, found, 2), 1);
    assert_near(found[0].watch_x_m, 11.1, 1e-12, 0.0); /* of the embedment */
    made->section.right = (usi_side){.kind = USI_SIDE_CLOSED, .x_m = 10.3};
    assert_int_equal(list(made, found, 2), 1);
    assert_near(found[0].watch_x_m, 10.0, 1e-12, 0.0); /* no longer on the bed */
}

#define SITE(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_closed_face_bounds_up_to_a_right_angle),
        cmocka_unit_test(a_vertex_of_the_bed_is_a_curve_below_20_degrees),
        cmocka_unit_test(a_leaky_wall_grows_like_a_logarithm),
        cmocka_unit_test(angles_are_taken_through_the_soil),
        SITE(a_flush_edge_is_unbounded_an_embedded_one_not),
        SITE(the_slope_of_the_bed_decides_beside_a_face),
        SITE(steps_and_kinks_in_the_bed_are_found_at_their_feet),
        SITE(a_profile_follows_the_bed),
        SITE(the_fall_is_watched_over_a_tenth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
