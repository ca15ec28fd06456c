/* The way along the works by the rules of Bligh and Lane: published lengths, and the rules one
 * by one by hand. */
#include "support/support.h"

#include "quantity/creep.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
#define FLOOD "water: [{name: flood, upstream: 4, downstream: 0}]\n"
#define LEVEL "bed: {upstream: 0, downstream: 0}\nbase: -40\n"

static double measure(const char *text, usi_creep_rule rule, bool *cut)
{
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    usi_creep_path path;
    usi_creep_length length;
    assert_int_equal(usi_creep_make(context, section, &path), US_OK);
    assert_true(path.count > 1);
    usi_point end = path.points[path.count - 1].at;
    assert_int_equal(usi_creep_measure(context, section, &path, rule, end, &length), US_OK);
    if (cut != NULL) {
        *cut = length.cut_across;
    }
    usi_creep_clear(&path);
    us_section_free(section);
    us_context_free(context);
    return length.length_m;
}

#define assert_lengths(text, bligh, lane)                                                          \
    assert_near(measure((text), USI_CREEP_BLIGH, NULL), (bligh), 1e-12, 0.0);                      \
    assert_near(measure((text), USI_CREEP_LANE, NULL), (lane), 1e-12, 0.0)

/* Punmia and Lal, Irrigation and Water Power Engineering, examples as numbered, read in a
 * transcription: Bligh's lengths. */
static void bligh_lengths_are_as_published(void **state)
{
    (void)state;
    /* Example 12.1: floor of 22 m, piles of 6 and 8 m, head 4 m: 50 m, gradient 0.08. */
    double length_m =
        measure(LEVEL "structure: {underside: [[0, 0], [22, 0]]}\n"
                      "walls: [{x: 0, top: 0, tip: -6}, {x: 22, top: 0, tip: -8}]\n" SOIL FLOOD,
                USI_CREEP_BLIGH, NULL);
    assert_near(length_m, 50.0, 1e-12, 0.0);
    assert_near(4.0 / length_m, 0.08, 1e-12, 0.0);
    /* Example 12.3: floor of 60 m, piles of 2 and 7 m: 78 m. */
    length_m =
        measure(LEVEL "structure: {underside: [[0, 0], [60, 0]]}\n"
                      "walls: [{x: 0, top: 0, tip: -2}, {x: 60, top: 0, tip: -7}]\n" SOIL FLOOD,
                USI_CREEP_BLIGH, NULL);
    assert_near(length_m, 78.0, 1e-12, 0.0);
    /* Example 18.1: 14.3 m level, cut-offs of 1.0 and 1.6 m: 19.5 m. */
    length_m =
        measure(LEVEL "structure: {underside: [[0, 0], [14.3, 0]]}\n"
                      "walls: [{x: 0, top: 0, tip: -1}, {x: 14.3, top: 0, tip: -1.6}]\n" SOIL FLOOD,
                USI_CREEP_BLIGH, NULL);
    assert_near(length_m, 19.5, 1e-12, 0.0);
}

/* From a public question bank: cut-offs of 5 and 8 m, floor of 54 m: Lane's length 44 m. */
static void lane_length_is_as_published(void **state)
{
    (void)state;
    double length_m =
        measure(LEVEL "structure: {underside: [[0, 0], [54, 0]]}\n"
                      "walls: [{x: 0, top: 0, tip: -5}, {x: 54, top: 0, tip: -8}]\n" SOIL FLOOD,
                USI_CREEP_LANE, NULL);
    assert_near(length_m, 44.0, 1e-12, 0.0);
}

/* By hand: 4.6 + 3.9 + 3 + 1.7 + 12 + 1.9 + 2.7 m, of which 15 m are level. */
static void end_faces_and_steps_count(void **state)
{
    (void)state;
    assert_lengths("bed: {upstream: 101.6, downstream: 100}\nbase: 91\n"
                   "structure: {underside: [[0, 100.9], [3, 100.9], [3, 99.2], [15, 99.2]]}\n"
                   "walls: [{x: 0, top: 101.2, tip: 97}, {x: 15, top: 99.5, tip: 97.3}]\n" SOIL
                   "water: [{upstream: 103.4, downstream: 102}]\n",
                   29.8, 19.8);
    /* A wall at the step: its faces begin at the levels beside it. 3 m down and up besides. */
    assert_lengths("bed: {upstream: 101.6, downstream: 100}\nbase: 91\n"
                   "structure: {underside: [[0, 100.9], [3, 100.9], [3, 99.2], [15, 99.2]]}\n"
                   "walls: [{x: 3, top: 100, tip: 96.2}]\n" SOIL
                   "water: [{upstream: 103.4, downstream: 102}]\n",
                   0.7 + 3.0 + 4.7 + 3.0 + 12.0 + 0.8, 0.7 + 1.0 + 4.7 + 3.0 + 4.0 + 0.8);
}

static void beyond_45_degrees_a_contact_is_steep(void **state)
{
    (void)state;
    assert_lengths("bed: {upstream: 0, downstream: -4}\nbase: -40\n"
                   "structure: {underside: [[0, 0], [3, -4]]}\n" SOIL FLOOD,
                   5.0, 5.0);
    assert_lengths("bed: {upstream: 0, downstream: -3}\nbase: -40\n"
                   "structure: {underside: [[0, 0], [4, -3]]}\n" SOIL FLOOD,
                   5.0, 5.0 / 3.0);
    assert_lengths("bed: {upstream: 0, downstream: -3}\nbase: -40\n"
                   "structure: {underside: [[0, 0], [3, -3]]}\n" SOIL FLOOD,
                   sqrt(18.0), sqrt(18.0) / 3.0);
}

static void a_bare_wall_counts_down_and_up(void **state)
{
    (void)state;
    assert_lengths("bed: {upstream: 2, downstream: 0}\nbase: -40\n"
                   "walls: [{x: 0, top: 2.5, tip: -5}]\n" SOIL FLOOD,
                   12.0, 12.0);
}

#define TWIN(middle)                                                                               \
    LEVEL "structure: {underside: [[0, 0], [2, 0]]}\n"                                             \
          "walls: [{x: 0, top: 0, tip: -8}, {x: 2, top: 0, tip: -8}" middle "]\n" SOIL FLOOD

static void water_cuts_across_between_tips_that_stand_close(void **state)
{
    (void)state;
    bool cut = false;
    /* 18 m round, 2 m straight. */
    assert_near(measure(TWIN(""), USI_CREEP_BLIGH, &cut), 8.0 + 4.0 + 8.0, 1e-12, 0.0);
    assert_true(cut);
    assert_lengths(TWIN(""), 20.0, 20.0);
    /* A short wall does not part them; a long one does: over its own tip then. */
    assert_lengths(TWIN(", {x: 1, top: 0, tip: -4}"), 20.0, 20.0);
    double over_m = 8.0 + 4.0 * sqrt(17.0) + 8.0;
    assert_lengths(TWIN(", {x: 1, top: 0, tip: -12}"), over_m, over_m);
    /* Far enough apart they do not count so. */
    (void)measure(LEVEL "structure: {underside: [[0, 0], [22, 0]]}\n"
                        "walls: [{x: 0, top: 0, tip: -6}, {x: 22, top: 0, tip: -8}]\n" SOIL FLOOD,
                  USI_CREEP_BLIGH, &cut);
    assert_false(cut);
}

#define UNDER(walls)                                                                               \
    LEVEL "structure: {underside: [[0, 0], [12, 0]]}\nwalls: [" walls "]\n" SOIL FLOOD

static void what_does_not_hang_on_the_structure_does_not_count(void **state)
{
    (void)state;
    assert_lengths(UNDER("{x: 0, top: 0, tip: -4}"), 20.0, 12.0);
    assert_lengths(UNDER("{x: 0, top: 0, tip: -4}, {x: 0, top: -5, tip: -10}"), 20.0, 12.0);
    assert_lengths(UNDER("{x: 0, top: 0, tip: -4}, {x: 0, top: -4, tip: -10}"), 32.0, 24.0);
    assert_lengths(UNDER("{x: 0, top: 0, tip: -4}, {x: 6, top: -1, tip: -10}"), 20.0, 12.0);
}

static void voids_have_no_length(void **state)
{
    (void)state;
    assert_lengths(LEVEL
                   "structure: {underside: [[0, 0], [12, 0]], contact_lost: [[3, 5], [6, 7]]}\n"
                   "walls: [{x: 0, top: 0, tip: -4}]\n" SOIL FLOOD,
                   17.0, 11.0);
}

static void mirrored_and_in_feet_it_is_the_same(void **state)
{
    (void)state;
    const char *right =
        "bed: {upstream: 1, downstream: 0}\nbase: -40\n"
        "structure: {underside: [[0, 0.5], [4, 0], [12, 0]], contact_lost: [[5, 6]]}\n"
        "walls: [{x: 0, top: 1, tip: -4}, {x: 1, top: 0.5, tip: -5}, {x: 12, top: 0, "
        "tip: -2}]\n" SOIL FLOOD;
    const char *left =
        "flow_toward: left\nbed: {upstream: 1, downstream: 0}\nbase: -40\n"
        "structure: {underside: [[-12, 0], [-4, 0], [0, 0.5]], contact_lost: [[-6, -5]]}\n"
        "walls: [{x: -12, top: 0, tip: -2}, {x: -1, top: 0.5, tip: -5}, {x: 0, top: "
        "1, tip: -4}]\n" SOIL FLOOD;
    const char *feet =
        "units: us\nbed: {upstream: 1, downstream: 0}\nbase: -40\n"
        "structure: {underside: [[0, 0.5], [4, 0], [12, 0]], contact_lost: [[5, 6]]}\n"
        "walls: [{x: 0, top: 1, tip: -4}, {x: 1, top: 0.5, tip: -5}, {x: 12, top: 0, "
        "tip: -2}]\n" SOIL FLOOD;
    for (int rule = 0; rule < 2; rule++) {
        double length_m = measure(right, (usi_creep_rule)rule, NULL);
        assert_near(measure(left, (usi_creep_rule)rule, NULL), length_m, 1e-12, 0.0);
        assert_near(measure(feet, (usi_creep_rule)rule, NULL), 0.3048 * length_m, 1e-12, 0.0);
    }
}

/* No thicker wall, deeper tip or longer floor makes either length shorter. */
static void a_deeper_wall_never_shortens_the_way(void **state)
{
    (void)state;
    double before_m[2] = {0.0, 0.0};
    for (int depth = 1; depth < 30; depth++) {
        char text[512];
        (void)snprintf(text, sizeof text,
                       LEVEL
                       "structure: {underside: [[0, 0], [6, 0]]}\n"
                       "walls: [{x: 0, top: 0, tip: -5}, {x: 3, top: 0, tip: -%d}, {x: 6, top: "
                       "0, tip: -9}]\n" SOIL FLOOD,
                       depth);
        for (int rule = 0; rule < 2; rule++) {
            double length_m = measure(text, (usi_creep_rule)rule, NULL);
            assert_true(length_m >= before_m[rule] - 1e-12);
            before_m[rule] = length_m;
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bligh_lengths_are_as_published),
        cmocka_unit_test(lane_length_is_as_published),
        cmocka_unit_test(end_faces_and_steps_count),
        cmocka_unit_test(beyond_45_degrees_a_contact_is_steep),
        cmocka_unit_test(a_bare_wall_counts_down_and_up),
        cmocka_unit_test(water_cuts_across_between_tips_that_stand_close),
        cmocka_unit_test(what_does_not_hang_on_the_structure_does_not_count),
        cmocka_unit_test(voids_have_no_length),
        cmocka_unit_test(mirrored_and_in_feet_it_is_the_same),
        cmocka_unit_test(a_deeper_wall_never_shortens_the_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
