/* Water cases with beds of their own: their ground, and what they undermine. */
#include "support/support.h"

#include "model/plan.h"
#include "model/situation.h"

#define SOIL                                                                                       \
    "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}, {name: gravel, kh: 1e-2, "         \
    "kv: 1e-2}]\n"
/* An apron of 10 m, its underside at -1; walls at its ends. */
#define APRON                                                                                      \
    "bed: {upstream: 0, downstream: 0}\nbase: -10\n"                                               \
    "structure: {underside: [[0, -1], [10, -1]]}\n"                                                \
    "walls: [{name: heel, x: 0, top: 0, tip: -4}, {name: toe, x: 10, top: -0.5, tip: -4}]\n" SOIL
#define CASE(text) "water: [{name: whole, upstream: 3, downstream: 1}, {name: scour, " text "}]\n"
#define LEVELS "upstream: 3, downstream: 1, "

static void check_undermined(const char *text, const char *sentence)
{
    us_section *section = support_section(text);
    const usi_water *water = &section->waters[1];
    assert_null(water->ground);
    if (water->undermined == NULL || strcmp(water->undermined, sentence) != 0) {
        print_error("'%s' is not '%s'\n", water->undermined != NULL ? water->undermined : "none",
                    sentence);
        fail();
    }
    us_section_free(section);
}

static void each_bed_replaces_the_whole_of_one(void **state)
{
    (void)state;
    us_section *section = support_section(
        APRON CASE(LEVELS "beds: {downstream: [[12, -2], [20, -1]]}, seal: [[30, 40]]"));
    assert_null(section->waters[0].ground);
    const us_section *ground = section->waters[1].ground;
    assert_non_null(ground);
    assert_null(section->waters[1].undermined);
    assert_int_equal(ground->water_count, 1);
    assert_string_equal(ground->waters[0].name, "scour");
    assert_int_equal(ground->waters[0].seal_count, 1);
    assert_null(ground->waters[0].ground);
    assert_int_equal(ground->wall_count, 2);
    assert_near(usi_section_surface(ground, 10.0, true), -2.0, 0.0, 0.0);
    assert_near(usi_section_surface(ground, 16.0, true), -1.5, 1e-12, 0.0);
    assert_near(usi_section_surface(ground, -5.0, true), 0.0, 0.0, 0.0);
    assert_near(usi_section_surface(section, 16.0, true), 0.0, 0.0, 0.0);
    us_section_free(section);
    section = support_section("flow_toward: left\n" APRON CASE(LEVELS "beds: {upstream: -0.5}"));
    ground = section->waters[1].ground;
    assert_near(usi_section_surface(ground, 12.0, true), -0.5, 0.0, 0.0);
    assert_near(usi_section_surface(ground, -5.0, true), 0.0, 0.0, 0.0);
    us_section_free(section);
}

/* Water levels are judged by the case's own beds. */
static void levels_go_with_the_own_bed(void **state)
{
    (void)state;
    us_section *section = support_section(
        APRON CASE("upstream: -0.2, downstream: at_bed, beds: {upstream: -0.5, downstream: -2}"));
    assert_true(section->waters[1].at_bed);
    assert_near(section->waters[1].downstream_m, -2.0, 0.0, 0.0);
    assert_near(section->waters[1].upstream_m, -0.2, 0.0, 0.0);
    assert_near(section->waters[1].ground->waters[0].downstream_m, -2.0, 0.0, 0.0);
    us_section_free(section);
    support_check_refused(APRON CASE("upstream: 1, downstream: 1, beds: {upstream: 2}"),
                          "water[1].upstream", "lies below the upstream bed");
    section = support_section(APRON CASE("upstream: 3, downstream: -1, beds: {downstream: -2}"));
    assert_false(section->waters[1].at_bed);
    assert_int_equal(section->note_count, 1); /* soil gravel is no layer */
    us_section_free(section);
}

static void what_loses_its_ground_is_undermined(void **state)
{
    (void)state;
    check_undermined(APRON CASE(LEVELS "beds: {downstream: -4.5}"),
                     "The bed, -4.5 m, reaches the tip of wall toe, -4 m.");
    check_undermined(APRON CASE(LEVELS "beds: {downstream: -4}"),
                     "The bed, -4 m, reaches the tip of wall toe, -4 m.");
    us_section_free(support_section(APRON CASE(LEVELS "beds: {downstream: -3.9}")));
    check_undermined(APRON CASE(LEVELS "beds: {downstream: [[20, -2], [20, -10]], upstream: -10}"),
                     "The bed, -10 m, reaches the base, -10 m, at x = 0 m.");
#define OPEN                                                                                       \
    "bed: {upstream: 0, downstream: 0}\nbase: -10\n"                                               \
    "structure: {underside: [[0, -1], [10, -1]]}\n" SOIL
    check_undermined(OPEN CASE(LEVELS "beds: {downstream: -1.5}"),
                     "The right end of the underside, -1 m, lies above the bed beside it, -1.5 m, "
                     "at x = 10 m, and no wall closes the soil between.");
    us_section_free(support_section(OPEN CASE(LEVELS "beds: {downstream: -1}")));
    us_section_free(support_section(OPEN CASE(LEVELS "beds: {downstream: 0.5}")));
#undef OPEN
    /* A wall that stands in the bed by itself. */
    check_undermined(
        "bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL
        "walls: [{name: a, x: 0, top: 1, tip: -5}, {name: b, x: 20, top: 0, tip: -2}]\n" CASE(
            LEVELS "beds: {downstream: [[5, 0], [15, -2.5]]}"),
        "The bed, -2.5 m, reaches the tip of wall b, -2 m.");
    check_undermined("bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL
                     "structure: {underside: [[0, -1], [10, -1]], contact_lost: [[9, 10]]}\n" CASE(
                         LEVELS "beds: {downstream: -1}"),
                     "The bed lays a stretch without contact open at x = 10 m.");
}

static void beds_of_wrong_form_are_refused(void **state)
{
    (void)state;
    support_check_refused(APRON CASE(LEVELS "beds: {}"), "water[1].beds.upstream",
                          "needs the key `upstream`");
    support_check_refused(APRON CASE(LEVELS "beds: -2"), "water[1].beds", "keys with values");
    support_check_refused(APRON CASE(LEVELS "beds: {downstream: [[20, 0], [15, -1]]}"),
                          "water[1].beds.downstream[1]", "goes back");
    support_check_refused(APRON CASE(LEVELS "beds: {downstream: [[15, 0], [20, -10]]}"),
                          "water[1].beds", "does not lie above the base");
    support_check_refused("bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL
                          "walls: [{x: 0, top: 0.5, tip: -5}]\n" CASE(LEVELS "beds: {upstream: 1}"),
                          "water[1].beds", "nothing parts");
}

/* The bed given is the surface: what lay on it or in it above that is gone. */
static void zones_above_the_own_bed_are_gone(void **state)
{
    (void)state;
    us_section *section = support_section(
        APRON "zones: [{soil: gravel, outline: [[10, -1], [20, -1], [20, 0.5], [10, 0.5]]}]\n" CASE(
            LEVELS "beds: {downstream: -0.5}") "piezometers: [{name: P1, at: [30, -0.2]}, {name: "
                                               "P2, at: [30, -3]}]\n");
    assert_near(usi_section_surface(section, 15.0, true), 0.5, 0.0, 0.0);
    const us_section *ground = section->waters[1].ground;
    assert_near(usi_section_surface(ground, 15.0, true), -0.5, 0.0, 0.0);
    assert_int_equal(ground->zone_count, 1);
    assert_int_equal(ground->piezometer_count, 2);
    assert_true(
        support_has_note(section, "Water case scour, with beds of its own: Piezometer P1 lies"));
    assert_false(support_has_note(section, "Piezometer P2"));
    assert_int_equal(ground->note_count, 0);
    us_section_free(section);
    /* The other bed keeps what lies on it. */
    section = support_section(
        APRON "zones: [{soil: gravel, outline: [[-20, -1], [0, -1], [0, 0.5], [-20, 0.5]]}]\n" CASE(
            LEVELS "beds: {downstream: -0.5}"));
    ground = section->waters[1].ground;
    assert_near(usi_section_surface(ground, -10.0, true), 0.5, 0.0, 0.0);
    us_section_free(section);
}

static void drains_laid_bare_are_shut(void **state)
{
    (void)state;
    us_section *section = support_section(APRON CASE(
        LEVELS "beds: {downstream: -2}, shut: [low]") "drains: [{name: high, from: [15, -1], to: "
                                                      "[17, -1], outlet: tailwater},\n"
                                                      "  {name: low, from: [15, -3], to: [17, -3], "
                                                      "outlet: tailwater},\n"
                                                      "  {name: under, from: [4, -1], to: [5, -1], "
                                                      "outlet: tailwater}]\n");
    const us_section *ground = section->waters[1].ground;
    assert_true(ground->drains[0].shut && ground->waters[0].shut[0]);
    assert_true(!ground->drains[1].shut && ground->waters[0].shut[1]);
    assert_true(!ground->drains[2].shut && !ground->waters[0].shut[2]);
    assert_false(section->drains[0].shut);
    assert_true(ground->drains[0].inside && !ground->drains[2].inside);
    assert_true(support_has_note(section, "Drain high lies bare and is shut"));
    us_section_free(section);
}

/* Edges of drains in the plan of a section and its situation. */
static size_t count_drain_edges(us_context *context, const us_section *section)
{
    usi_situation *situation = NULL;
    assert_int_equal(usi_situation_make(context, section, 0, USI_VARIANT_NONE, &situation), US_OK);
    us_section view = *section;
    view.situation = situation;
    usi_plan_window window = {-40.0, 60.0, -10.0};
    usi_plan plan;
    assert_int_equal(usi_plan_build(context, &view, &window, &plan), US_OK);
    size_t found = 0;
    for (size_t e = 0; e < plan.edge_count; e++) {
        found += plan.edges[e].kind == USI_EDGE_DRAIN ? 1 : 0;
    }
    usi_plan_free(&plan);
    usi_situation_free(situation);
    return found;
}

/* No grid follows it, it has no flow, and there is nothing to shut. */
static void a_drain_laid_bare_does_not_act(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_section(
        APRON CASE(LEVELS "beds: {downstream: -2}") "drains: [{name: high, from: [15, "
                                                    "-1], to: [17, -1], outlet: 4}]\n");
    assert_int_equal(count_drain_edges(context, section), 1);
    assert_int_equal(count_drain_edges(context, section->waters[1].ground), 0);
    us_solution *solution = support_solve(context, section, 0.05);
    const us_water_result *whole = us_solution_water(solution, 0);
    const us_water_result *scour = us_solution_water(solution, 1);
    assert_true(whole->drains[0].open && whole->drains_shut != NULL);
    assert_false(scour->drains[0].open);
    assert_false(scour->drains[0].flow_m2_s.present);
    assert_null(scour->drains_shut);
    assert_true(scour->flow.certified);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

/* Nor does a drain that is shut undermine what it reaches. */
static void a_shut_drain_does_not_undermine(void **state)
{
    (void)state;
#define REACHES(more)                                                                              \
    "bed: {upstream: 0, downstream: 0}\nbase: -10\n"                                               \
    "structure: {underside: [[0, -1], [10, -1]]}\n" SOIL                                           \
    "drains: [{name: toe, from: [9, -1], to: [10, -1], outlet: 2}]\n" CASE(                        \
        LEVELS "beds: {downstream: -1}" more)
    check_undermined(REACHES(""), "The bed lays a drain open at x = 10 m.");
    us_section *section = support_section(REACHES(", shut: [toe]"));
    assert_null(section->waters[1].undermined);
    assert_non_null(section->waters[1].ground);
    us_section_free(section);
#undef REACHES
}

/* What looks like a slip of the file is none where the drain is shut by scour. */
static void a_drain_laid_bare_does_not_feed(void **state)
{
    (void)state;
#define HIGH(bed)                                                                                  \
    APRON "water: [{name: scour, upstream: 3, downstream: 1, beds: {downstream: " bed "}}]\n"      \
          "drains: [{name: high, from: [15, -1], to: [17, -1], outlet: 4}]\n"
    support_check_told(HIGH("-0.5"), "case scour: it would feed", true);
    support_check_told(HIGH("-2"), "would feed", false);
#undef HIGH
}

/* The base has not moved, so neither has what a wall's tip means. */
static void walls_keep_what_they_are(void **state)
{
    (void)state;
    us_section *section =
        support_section("bed: {upstream: 0, downstream: 0}\nbase: -2\n" SOIL
                        "structure: {underside: [[0, -0.5], [10, -0.5]]}\n"
                        "walls: [{name: toe, x: 10, top: -0.5, tip: -1.93, keyed: true}]\n" CASE(
                            LEVELS "beds: {downstream: -0.9}"));
    const us_section *ground = section->waters[1].ground;
    assert_near(ground->walls[0].solved_tip_m, -2.0, 0.0, 0.0);
    assert_true(ground->walls[0].keyed);
    us_section_free(section);
}

static void a_variant_changes_the_own_bed(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_section(APRON CASE(LEVELS "beds: {downstream: -0.5}"));
    us_section *variant = NULL;
    us_change change = {"water[scour].beds.downstream", NULL, -4.5};
    assert_int_equal(us_section_vary(context, section, &change, 1, &variant), US_OK);
    assert_non_null(variant->waters[1].undermined);
    us_section_free(variant);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_bed_replaces_the_whole_of_one),
        cmocka_unit_test(levels_go_with_the_own_bed),
        cmocka_unit_test(what_loses_its_ground_is_undermined),
        cmocka_unit_test(beds_of_wrong_form_are_refused),
        cmocka_unit_test(zones_above_the_own_bed_are_gone),
        cmocka_unit_test(drains_laid_bare_are_shut),
        cmocka_unit_test(a_drain_laid_bare_does_not_act),
        cmocka_unit_test(a_shut_drain_does_not_undermine),
        cmocka_unit_test(a_drain_laid_bare_does_not_feed),
        cmocka_unit_test(walls_keep_what_they_are),
        cmocka_unit_test(a_variant_changes_the_own_bed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
