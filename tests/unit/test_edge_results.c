/* What a solution says where something acts at the edges of the soil: numbers that go by
 * the heads that act and not by the water levels alone, and none where there is none. */
#include "support/support.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
/* A flush floor of 10 m: the gradient beside it has no bound. */
#define FLOOR "bed: {upstream: 10, downstream: 10}\nstructure: {underside: [[0, 10], [10, 10]]}\n"
#define CLOSED "sides: {left: {x: -20, kind: closed}, right: {x: 30, kind: closed}}\n"
#define LEVEL "water: [{name: level, upstream: 12, downstream: 12}]\n"

static support_solved solve(const char *text)
{
    return support_solve_text(text, 0.01);
}

static void check_says(const support_solved *one, const char *words, bool expected)
{
    bool found = support_says(one->solution, words);
    if (found != expected) {
        print_error("'%s' is %s\n", words, found ? "said" : "not said");
        fail();
    }
}

/* Water that stands level on both sides is moved by what lies below the base: the cut-off
 * of the advice is worth as much as the same one typed in. */
static void check_cutoff(const char *base, const char *more)
{
    char text[1000];
    (void)snprintf(text, sizeof text, FLOOR "base: %s\n" SOIL CLOSED LEVEL "%s", base, more);
    support_solved one = solve(text);
    assert_near(one.water->head_difference_m, 0.0, 0.0, 0.0);
    assert_false(one.water->exit.bounded);
    assert_true(one.water->exit.with_cutoff.present);
    assert_near(one.water->exit.cutoff_m, 1.0, 1e-12, 0.0);
    size_t used = strlen(text);
    (void)snprintf(text + used, sizeof text - used, "walls: [{x: 10, top: 10, tip: 9}]\n");
    support_solved held = solve(text);
    assert_true(held.water->exit.gradient.value > 0.1);
    assert_near(one.water->exit.with_cutoff.value, held.water->exit.gradient.value, 1e-9, 0.0);
    check_says(&one, "With a tight cut-off at x = 10 m", true);
    check_says(&held, "unbounded in theory", false);
    support_release(&held);
    support_release(&one);
}

static void a_cutoff_goes_by_the_heads_that_act(void **state)
{
    (void)state;
    check_cutoff("{level: 0, head: 15}", "");
    check_cutoff("0", "drains: [{from: [8, 10], to: [9, 10], outlet: 13}]\n");
}

/* Still water: a seal is all that acts, and nothing moves. */
static void still_water_needs_no_advice(void **state)
{
    (void)state;
    support_solved one =
        solve(FLOOR "base: 0\n" SOIL "water: [{name: still, upstream: 12, downstream: "
                    "12, seal: [[20, 25]]}]\n");
    assert_false(one.water->exit.with_cutoff.present);
    check_says(&one, "With a tight cut-off", false);
    check_says(&one, "unbounded in theory", false);
    support_release(&one);
}

/* A side that draws water down through the bed: it leaves nowhere. */
static void water_that_enters_has_no_exit(void **state)
{
    (void)state;
    support_solved one =
        solve(FLOOR "base: 0\n" SOIL "sides: {left: {x: -20, kind: closed}, right: {x: 30, kind: "
                    "fixed_head, head: 6}}\n" LEVEL);
    assert_true(one.water->exit.enters);
    assert_false(one.water->exit.with_cutoff.present);
    check_says(&one, "water enters the bed downstream", true);
    check_says(&one, "unbounded in theory", false);
    check_says(&one, "With a tight cut-off", false);
    support_release(&one);
}

/* A pipe that ends on a strip of another head: what passes from one to the other has no
 * limit, all else has numbers. */
static void drains_that_meet_have_no_flow(void **state)
{
    (void)state;
#define MEET(outlet)                                                                               \
    FLOOR "base: 0\nwidth: 5\n" SOIL                                                               \
          "drains: [{name: strip, from: [4, 10], to: [6, 10], outlet: 11.5},\n"                    \
          "  {name: pipe, from: [5, 10], to: [5, 8], outlet: " outlet "}]\n"                       \
          "water: [{name: flood, upstream: 13, downstream: 11}]\n"
    support_solved one = solve(MEET("12"));
    for (size_t d = 0; d < 2; d++) {
        assert_true(one.water->drains[d].open);
        assert_false(one.water->drains[d].flow_m2_s.present);
        assert_false(one.water->drains[d].total_m3_s.present);
        assert_false(one.water->drains[d].feeds);
        assert_near(one.water->drains[d].lower_m2_s, 0.0, 0.0, 0.0);
        assert_near(one.water->drains[d].upper_m2_s, 0.0, 0.0, 0.0);
    }
    assert_true(one.water->flow.rate_m2_s.present);
    check_says(&one, "flood: drain `strip` touches water of another head", true);
    check_says(&one, "flood: drain `pipe` touches water of another head", true);
    support_release(&one);
    one = solve(MEET("11.5"));
    assert_true(one.water->drains[0].flow_m2_s.present);
    assert_true(one.water->drains[1].total_m3_s.present);
    check_says(&one, "another head", false);
    support_release(&one);
#undef MEET
    one = solve("bed: {upstream: 10, downstream: 10}\nbase: 0\n" SOIL
                "structure: {underside: [[0, 9], [10, 9]], permeable: [[6, 8]]}\n"
                "drains: [{name: pipe, from: [7, 9], to: [7, 7], outlet: 12}]\n"
                "water: [{name: flood, upstream: 13, downstream: 11}]\n");
    assert_false(one.water->stretches[0].flow_m2_s.present);
    check_says(&one, "flood: drain `pipe` touches water of another head", true);
    check_says(&one, "flood: a permeable stretch of the underside touches water", true);
    support_release(&one);
}

/* Water below the base meets a side of another head in its corner. */
static void a_base_that_meets_a_side_has_no_flow(void **state)
{
    (void)state;
#define BESIDE(left, right)                                                                        \
    FLOOR "base: {level: 0, head: 15}\nwidth: 5\n" SOIL "sides: {left: {x: -20, kind: " left       \
          "}, right: {x: 30, kind: " right "}}\n"                                                  \
          "water: [{name: flood, upstream: 12, downstream: 11}]\n"
    support_solved one = solve(BESIDE("fixed_head", "closed"));
    assert_false(one.water->flow.bounded);
    assert_false(one.water->flow.rate_m2_s.present);
    assert_false(one.water->flow.total_m3_s.present);
    assert_false(one.water->base_flow_m2_s.present);
    assert_true(one.water->uplift.force_n_m.present);
    check_says(&one, "water below the base meets a side of another head", true);
    support_release(&one);
    one = solve(BESIDE("closed", "fixed_head"));
    assert_true(one.water->flow.rate_m2_s.present);
    assert_false(one.water->base_flow_m2_s.present);
    check_says(&one, "water below the base meets a side of another head", true);
    support_release(&one);
    one = solve(BESIDE("fixed_head, head: 15", "closed"));
    assert_true(one.water->flow.rate_m2_s.present);
    assert_true(one.water->base_flow_m2_s.present);
    check_says(&one, "another head", false);
    support_release(&one);
#undef BESIDE
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cutoff_goes_by_the_heads_that_act),
        cmocka_unit_test(still_water_needs_no_advice),
        cmocka_unit_test(water_that_enters_has_no_exit),
        cmocka_unit_test(drains_that_meet_have_no_flow),
        cmocka_unit_test(a_base_that_meets_a_side_has_no_flow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
