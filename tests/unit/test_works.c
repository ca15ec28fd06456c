/* Openings, banks, sheets, rust and friction, and what becomes of them in the register. */
#include "support/support.h"

#include "model/works.h"
#include "quantity/wall_works.h"

#define HEAD "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
#define CAP "underside: [[0, -1], [10, -1]], top: [[0, 0], [10, 0]]"
#define FLOOD "water: [{name: flood, upstream: 3, downstream: 1}]\n"
#define SAND "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
#define FINE "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20, d85: 0.8 mm}]\n"
#define TOE "walls: [{name: toe, x: 10, top: -0.5, tip: -4}]\n"
#define WEEPS(more)                                                                                \
    "drains: [{name: weeps, at: [5, -1], diameter: 50 mm, spacing: 2, outlet: 1" more "}]\n"

static support_solved solve(const char *text)
{
    return support_solve_text(text, 0.2);
}

static const us_check_result *find(const support_solved *made, const char *name)
{
    const us_water_result *water = us_solution_water(made->solution, 0);
    for (size_t i = 0; i < water->check_count; i++) {
        if (strcmp(water->checks[i].name, name) == 0) {
            return &water->checks[i];
        }
    }
    return NULL;
}

static void check_verdict(const char *text, const char *name, us_verdict verdict, double value,
                          const char *basis)
{
    support_solved made = solve(text);
    const us_check_result *check = find(&made, name);
    assert_non_null(check);
    assert_int_equal(check->verdict, verdict);
    assert_int_equal(check->value.present, !isnan(value));
    if (check->value.present) {
        assert_near(check->value.value, value, 1e-9, 0.0);
    }
    if (strstr(check->basis, basis) == NULL) {
        fail_msg("basis: %s", check->basis);
    }
    assert_null(strchr(check->where, ','));
    support_release(&made);
}

#define HOLE(more)                                                                                 \
    "walls: [{name: low, x: 5, top: -1, tip: -4, sheet: {thickness: 10 mm, hole_below_top: 0.2, "  \
    "hole_diameter: 50 mm" more "}}, {name: toe, x: 10, top: -0.5, tip: -4}]\n"

static void an_open_hole_without_d85_is_never_a_pass(void **state)
{
    (void)state;
    const char *lacks = HEAD "structure: {" CAP "}\n" HOLE("") SAND FLOOD;
    check_verdict(lacks, "retention", US_NOT_CHECKED, NAN, "d85 of soil sand is not known");
    check_verdict(HEAD "structure: {" CAP "}\n" HOLE("") SAND FLOOD
                  "require: {piping: 0.01, retention: 1000}\n",
                  "retention", US_NOT_CHECKED, NAN,
                  "small exit gradient does not make up for that");
    check_verdict(HEAD "structure: {" CAP "}\n" HOLE("") FINE FLOOD "require: {retention: 1.2}\n",
                  "retention", US_FAIL, 62.5, "opening 50 mm over d85 0.8 mm of sand");
    check_verdict(HEAD "structure: {" CAP "}\n" HOLE("") FINE FLOOD, "retention", US_NOT_REQUIRED,
                  62.5, "nothing is said to retain");
}

static void a_hole_that_is_closed_is_none(void **state)
{
    (void)state;
    static const char *const closed[] = {
        HEAD "structure: {" CAP "}\n" HOLE(", hole_treatment: grouted") SAND FLOOD,
        HEAD "structure: {" CAP "}\n" HOLE(", hole_treatment: plated") SAND FLOOD,
        /* The structure covers it. */
        HEAD "structure: {" CAP "}\n"
             "walls: [{name: toe, x: 10, top: -0.5, tip: -4, sheet: {thickness: 10 mm, "
             "hole_below_top: 0.2, hole_diameter: 50 mm}}]\n" SAND FLOOD,
    };
    for (size_t i = 0; i < sizeof closed / sizeof closed[0]; i++) {
        support_solved made = solve(closed[i]);
        assert_null(find(&made, "retention"));
        assert_int_equal(us_solution_water(made.solution, 0)->works->opening_count, 0);
        support_release(&made);
    }
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND FLOOD "require: {retention: 1.2}\n",
                  "retention", US_PASS, NAN, "no opening");
}

static void what_retains_the_soil_counts_by_its_own_size(void **state)
{
    (void)state;
    check_verdict(HEAD "structure: {" CAP "}\n" TOE FINE WEEPS("") FLOOD
                  "require: {retention: 1.2}\n",
                  "retention", US_FAIL, 62.5, "opening 50 mm over d85");
    check_verdict(HEAD "structure: {" CAP
                       "}\n" TOE FINE WEEPS(", retained: {by: fabric, opening: 0.2 mm}") FLOOD
                  "require: {retention: 1.2}\n",
                  "retention", US_PASS, 0.25, "opening 0.2 mm of fabric");
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND WEEPS(", retained: {by: a filter}") FLOOD
                  "require: {retention: 1.2}\n",
                  "retention", US_PASS, NAN, "as the section file says");
    check_verdict(HEAD "structure: {" CAP ", permeable: [[5, 6]]}\n" TOE FINE FLOOD
                       "require: {retention: 1.2}\n",
                  "retention", US_NOT_CHECKED, NAN, "size of the opening is not known");
    check_verdict(HEAD "structure: {" CAP
                       ", permeable: [[5, 6]], permeable_opening: 1 mm}\n" TOE FINE FLOOD
                       "require: {retention: 1.2}\n",
                  "retention", US_FAIL, 1.25, "opening 1 mm");
}

static void slots_and_gaps_are_openings(void **state)
{
    (void)state;
    support_solved made =
        solve(HEAD "structure: {" CAP "}\n"
                   "walls: [{x: 10, top: -0.5, tip: -4}, {x: 10, top: -4.2, tip: -6}, {x: "
                   "5, top: -1.5, tip: -3}]\n" FINE FLOOD);
    const us_works_result *works = us_solution_water(made.solution, 0)->works;
    assert_int_equal(works->opening_count, 2);
    assert_int_equal(works->openings[0].kind, US_OPENING_SLOT);
    assert_near(works->openings[0].size_m.value, 0.2, 1e-12, 0.0);
    assert_int_equal(works->openings[1].kind, US_OPENING_GAP);
    assert_near(works->openings[1].size_m.value, 0.5, 1e-12, 0.0);
    assert_near(works->walls[2].gap_m.value, 0.5, 1e-12, 0.0);
    assert_near(find(&made, "retention")->value.value, 625.0, 1e-12, 0.0);
    assert_near(find(&made, "wall_embedment")->value.value, 0.0, 0.0, 0.0);
    support_release(&made);
}

/* The finest soil beside an opening counts; one without d85 leaves it open. */
static void every_soil_beside_an_opening_is_looked_at(void **state)
{
    (void)state;
#define SLOTTED(second)                                                                            \
    HEAD "walls: [{x: 0, top: 0, tip: -3}, {x: 0, top: -5, tip: -8}]\n"                            \
         "soils: [{name: a, kh: 1e-5, kv: 1e-5, d85: 2 mm}, {name: b, top: -4, kh: 1e-5, kv: "     \
         "1e-5" second "}]\n" FLOOD
    check_verdict(SLOTTED(", d85: 0.5 mm"), "retention", US_NOT_REQUIRED, 4000.0, "of b");
    check_verdict(SLOTTED(", d85: 4 mm"), "retention", US_NOT_REQUIRED, 1000.0, "of a");
    check_verdict(SLOTTED(""), "retention", US_NOT_CHECKED, NAN, "soil b");
#undef SLOTTED
}

/* 1 + 10 + 3 + 4 m; up to the weeps 1 + 5 m, over 3 - 1 m of head both. */
static void the_way_may_end_where_water_comes_out_first(void **state)
{
    (void)state;
    support_solved held =
        solve(HEAD "structure: {" CAP "}\n" TOE SAND WEEPS(", retained: {by: a filter}") FLOOD);
    support_solved open = solve(HEAD "structure: {" CAP "}\n" TOE SAND WEEPS("") FLOOD);
    const us_works_result *works = us_solution_water(held.solution, 0)->works;
    assert_near(works->bligh.length_m.value, 18.0, 1e-12, 0.0);
    assert_near(works->lane.length_m.value, 8.0 + 10.0 / 3.0, 1e-12, 0.0);
    assert_near(works->bligh.ratio.value, 9.0, 1e-12, 0.0);
    assert_null(works->bligh.end);
    works = us_solution_water(open.solution, 0)->works;
    assert_near(works->bligh.length_m.value, 6.0, 1e-12, 0.0);
    assert_near(works->lane.length_m.value, 1.0 + 5.0 / 3.0, 1e-12, 0.0);
    assert_string_equal(works->bligh.end, "weeps");
    works = us_solution_water(open.solution, 0)->drains_shut->works;
    assert_near(works->bligh.length_m.value, 18.0, 1e-12, 0.0);
    support_release(&held);
    support_release(&open);
}

static void a_permeable_stretch_ends_the_way(void **state)
{
    (void)state;
    /* Water runs off at the top of the structure, 0, below the downstream water. */
    support_solved made = solve(HEAD "structure: {" CAP ", permeable: [[4, 5]]}\n" TOE SAND FLOOD);
    const us_works_result *works = us_solution_water(made.solution, 0)->works;
    assert_near(works->bligh.length_m.value, 5.0, 1e-12, 0.0);
    assert_near(works->bligh.head_m, 2.0, 1e-12, 0.0);
    support_release(&made);
}

#define CREEP(classes, limit)                                                                      \
    HEAD "structure: {" CAP "}\n" TOE                                                              \
         "soils: [{name: a, kh: 1e-5, kv: 1e-5, creep_class: medium_gravel}, {name: b, top: -3, "  \
         "kh: 1e-5, kv: 1e-5" classes "}, {name: deep, top: -8, kh: 1e-5, kv: 1e-5}]\n" FLOOD      \
         "require: {creep: " limit "}\n"

static void creep_is_held_against_the_limit_or_the_list(void **state)
{
    (void)state;
    double lane = (8.0 + 10.0 / 3.0) / 2.0;
    check_verdict(CREEP("", "{rule: lane, ratio: 5}"), "creep", US_PASS, lane,
                  "Bligh's length is 18 m");
    check_verdict(CREEP("", "{rule: lane, ratio: 6}"), "creep", US_FAIL, lane, "empirical");
    check_verdict(CREEP("", "{rule: bligh, ratio: 9}"), "creep", US_PASS, 9.0, "Lane's length");
    /* The worst class of what touches; the deep soil does not. */
    check_verdict(CREEP(", creep_class: fine_sand", "{rule: lane}"), "creep", US_FAIL, lane,
                  "list for fine_sand");
    check_verdict(CREEP(", creep_class: hard_clay", "{rule: lane}"), "creep", US_PASS, lane,
                  "list for medium_gravel");
    check_verdict(CREEP("", "{rule: lane}"), "creep", US_NOT_CHECKED, lane,
                  "b touches the works and has no");
    check_verdict(CREEP(", creep_class: fine_sand", "{rule: bligh}"), "creep", US_NOT_CHECKED, 9.0,
                  "no ratio for its class medium_gravel");
}

static void without_head_there_is_no_creep(void **state)
{
    (void)state;
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND "water: [{upstream: 2, downstream: 2}]\n"
                       "require: {creep: {rule: lane, ratio: 5}}\n",
                  "creep", US_PASS, NAN, "over 0 m of head");
}

#define BANKS(banks, limit) HEAD "structure: {" CAP "}\n" TOE SAND FLOOD "banks: " banks "\n" limit

static void banks_go_by_the_shorter_key(void **state)
{
    (void)state;
    check_verdict(BANKS("{left: {key_in: 6}, right: {key_in: 2}}", ""), "banks", US_NOT_REQUIRED,
                  0.5, "2 m over 4 m");
    check_verdict(BANKS("{left: {key_in: 6}, right: {key_in: 4}}", "require: {banks: 1}\n"),
                  "banks", US_PASS, 1.0, "flow round");
    check_verdict(BANKS("{left: {key_in: 6}, right: {key_in: 0}}", "require: {banks: 1}\n"),
                  "banks", US_FAIL, 0.0, "flow round");
    check_verdict(BANKS("{left: {key_in: 6}}", "require: {banks: 1}\n"), "banks", US_NOT_CHECKED,
                  NAN, "not given");
    check_verdict(BANKS("{left: {key_in: 3}}", "require: {banks: 1}\n"), "banks", US_FAIL, 0.75,
                  "3 m over 4 m");
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND FLOOD "require: {banks: 1}\n", "banks",
                  US_NOT_CHECKED, NAN, "no `banks`");
}

static void embedment_needs_the_thickness_of_the_cap(void **state)
{
    (void)state;
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND FLOOD, "wall_embedment", US_NOT_REQUIRED,
                  0.5, "0.5 m of wall in 1 m");
    check_verdict(HEAD "structure: {underside: [[0, -1], [10, -1]]}\n" TOE SAND FLOOD
                       "require: {wall_embedment: 0.3}\n",
                  "wall_embedment", US_NOT_CHECKED, NAN, "unknown thickness");
    check_verdict(HEAD "structure: {" CAP "}\n" TOE SAND FLOOD "require: {wall_embedment: 0.6}\n",
                  "wall_embedment", US_FAIL, 0.5, "0.5 m");
}

/* EN 1993-5:2007, tables 4-1 and 4-2, from memory. */
static void rust_is_as_in_the_tables(void **state)
{
    (void)state;
    assert_string_equal(usi_environments[0], "natural_soil");
    assert_string_equal(usi_environments[7], "sea_water_high");
    assert_near(usi_environment_loss(0, 50.0), 0.60e-3, 1e-12, 0.0);
    assert_near(usi_environment_loss(0, 5.0), 0.0, 0.0, 1e-18);
    assert_near(usi_environment_loss(0, 37.5), 0.45e-3, 1e-12, 0.0);
    assert_near(usi_environment_loss(1, 2.5), 0.075e-3, 1e-12, 0.0);
    assert_near(usi_environment_loss(4, 100.0), 5.75e-3, 1e-12, 0.0);
    assert_near(usi_environment_loss(7, 75.0), 5.60e-3, 1e-12, 0.0);
    for (size_t i = 0; usi_environments[i] != NULL; i++) {
        for (int year = 1; year <= 100; year++) {
            assert_true(usi_environment_loss(i, year) >= usi_environment_loss(i, year - 1));
        }
    }
}

static void rust_leaves_a_share_of_the_sheet(void **state)
{
    (void)state;
#define RUSTY(corrosion)                                                                           \
    HEAD "structure: {" CAP "}\nwalls: [{name: toe, x: 10, top: -0.5, tip: -4, sheet: "            \
         "{thickness: 10 mm}" corrosion "}]\n" SAND FLOOD "require: {corrosion: 0.8}\n"
    check_verdict(RUSTY(", corrosion: {environment: natural_soil, life: 50}"), "corrosion", US_PASS,
                  0.88, "8.8 mm of 10 mm");
    check_verdict(RUSTY(", corrosion: {loss_per_side: 1.2 mm}"), "corrosion", US_FAIL, 0.76,
                  "as given");
    check_verdict(RUSTY(", corrosion: {loss_per_side: 7 mm}"), "corrosion", US_FAIL, 0.0,
                  "0 mm of");
    check_verdict(RUSTY(""), "corrosion", US_NOT_CHECKED, NAN, "no `corrosion`");
#undef RUSTY
}

/* Friction by the alpha of the petroleum institute against its integral by many small steps. */
static void alpha_friction_is_its_integral(void **state)
{
    (void)state;
    const usi_shaft shaft = {.by_strength = true, .strength_pa = 20e3};
    const double growth_n_m3 = 9e3;
    enum { STEPS = 200000 };
    double sum_n_m = 0.0;
    const double from_pa = 5e3;
    const double to_pa = 120e3; /* through psi of 4 to a sixth */
    double step_pa = (to_pa - from_pa) / STEPS;
    for (int i = 0; i < STEPS; i++) {
        double psi = shaft.strength_pa / (from_pa + (i + 0.5) * step_pa);
        double alpha = fmin(0.5 * (psi <= 1.0 ? pow(psi, -0.5) : pow(psi, -0.25)), 1.0);
        sum_n_m += alpha * shaft.strength_pa * step_pa / growth_n_m3;
    }
    assert_near(usi_shaft_friction(&shaft, from_pa, to_pa, growth_n_m3), sum_n_m, 1e-8, 0.0);
}

#define LOADED(sheet, soil)                                                                        \
    HEAD "structure: {" CAP "}\n"                                                                  \
         "walls: [{name: toe, x: 10, top: -0.5, tip: -4, load: 30 kN/m, sheet: {thickness: 10 "    \
         "mm" sheet "}}]\n" soil FLOOD "require: {wall_load: 1.0}\n"
#define BETA "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20, shaft: {beta: 0.5}}]\n"

/* By hand: 10.19 kN/m^3 under water; the face below the structure is 3 m high from the
 * underside, the outer one goes from 0.5 to 4 m below the bed. */
static void friction_carries_load_and_weight(void **state)
{
    (void)state;
    double flat_kn = 0.5 * 10.19 * (9.0 + (16.0 - 0.25)) / 2.0;
    double weight_kn = 120.0 * 9.80665e-3 * 3.5;
    check_verdict(LOADED(", mass: 120 kg/m^2", BETA), "wall_load", US_PASS,
                  flat_kn / (30.0 + weight_kn), "friction 63.05 kN/m");
    check_verdict(LOADED(", mass: 120 kg/m^2, width: 0.6, perimeter: 1.8", BETA), "wall_load",
                  US_PASS, 1.5 * flat_kn / (30.0 + weight_kn), "without seepage");
    check_verdict(LOADED("", BETA), "wall_load", US_NOT_CHECKED, NAN, "no `mass`");
    check_verdict(LOADED(", mass: 120 kg/m^2", SAND), "wall_load", US_NOT_CHECKED, NAN,
                  "no `shaft`");
    check_verdict(LOADED(", mass: 120 kg/m^2",
                         "soils: [{name: sand, kh: 1e-5, kv: 1e-5, shaft: {beta: 0.5}}]\n"),
                  "wall_load", US_NOT_CHECKED, NAN, "no unit weight");
}

static bool has_note(const support_solved *made, const char *part)
{
    for (size_t i = 0; i < us_solution_note_count(made->solution); i++) {
        if (strstr(us_solution_note(made->solution, i), part) != NULL) {
            return true;
        }
    }
    return false;
}

static void notes_say_what_a_section_cannot_show(void **state)
{
    (void)state;
    support_solved plain = solve(HEAD "structure: {" CAP "}\n" TOE SAND FLOOD "width: 20\n"
                                      "next_drop: {upstream: 20, downstream: 21}\n");
    assert_true(has_note(&plain, "round the ends of the works"));
    assert_false(has_note(&plain, "narrower"));
    assert_false(has_note(&plain, "next drop"));
    support_solved near =
        solve(HEAD "structure: {" CAP "}\n" TOE
                   "soils: [{name: sand, kh: 4e-5, kv: 1e-5, unit_weight: 20}]\n" FLOOD
                   "width: 19\nbanks: {left: {key_in: 4}, right: {key_in: 4}}\n"
                   "next_drop: {upstream: 41, downstream: 39}\n");
    assert_false(has_note(&near, "round the ends of the works"));
    assert_true(has_note(&near, "narrower than twice"));
    assert_false(has_note(&near, "next drop upstream"));
    assert_true(has_note(&near, "next drop downstream is 39 m away, nearer than 40 m"));
    support_release(&plain);
    support_release(&near);
}

/* Every value of the works is the same in a mirror and in feet. */
static void mirrored_and_in_feet_the_checks_are_the_same(void **state)
{
    (void)state;
    static const char *const forms[] = {
        "bed: {upstream: 1, downstream: 0}\nbase: -10\nstructure: {" CAP "}\n"
        "walls: [{x: 0, top: 0.2, tip: -3, load: 10 kN/m, sheet: {thickness: 10 mm, mass: 100}}, "
        "{x: "
        "10, top: -0.7, tip: -4}]\n" BETA WEEPS(", retained: {by: mesh, opening: 2 mm}") FLOOD
        "banks: {left: {key_in: 3}, right: {key_in: 4}}\n",
        "flow_toward: left\nbed: {upstream: 1, downstream: 0}\nbase: -10\nstructure: {" CAP "}\n"
        "walls: [{x: 10, top: 0.2, tip: -3, load: 10 kN/m, sheet: {thickness: 10 mm, mass: 100}}, "
        "{x: "
        "0, top: -0.7, tip: -4}]\n" BETA WEEPS(", retained: {by: mesh, opening: 2 mm}") FLOOD
        "banks: {left: {key_in: 3}, right: {key_in: 4}}\n",
    };
    support_solved first = solve(forms[0]);
    support_solved second = solve(forms[1]);
    const us_water_result *a = us_solution_water(first.solution, 0);
    const us_water_result *b = us_solution_water(second.solution, 0);
    assert_int_equal(a->check_count, b->check_count);
    size_t exact = 0;
    for (size_t i = 0; i < a->check_count; i++) {
        assert_int_equal(a->checks[i].verdict, b->checks[i].verdict);
        if (a->checks[i].value.error == 0.0) {
            assert_near(b->checks[i].value.value, a->checks[i].value.value, 1e-12, 0.0);
            exact++;
        }
    }
    assert_true(exact >= 4);
    support_release(&first);
    support_release(&second);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_open_hole_without_d85_is_never_a_pass),
        cmocka_unit_test(a_hole_that_is_closed_is_none),
        cmocka_unit_test(what_retains_the_soil_counts_by_its_own_size),
        cmocka_unit_test(slots_and_gaps_are_openings),
        cmocka_unit_test(every_soil_beside_an_opening_is_looked_at),
        cmocka_unit_test(the_way_may_end_where_water_comes_out_first),
        cmocka_unit_test(a_permeable_stretch_ends_the_way),
        cmocka_unit_test(creep_is_held_against_the_limit_or_the_list),
        cmocka_unit_test(without_head_there_is_no_creep),
        cmocka_unit_test(banks_go_by_the_shorter_key),
        cmocka_unit_test(embedment_needs_the_thickness_of_the_cap),
        cmocka_unit_test(rust_is_as_in_the_tables),
        cmocka_unit_test(rust_leaves_a_share_of_the_sheet),
        cmocka_unit_test(alpha_friction_is_its_integral),
        cmocka_unit_test(friction_carries_load_and_weight),
        cmocka_unit_test(notes_say_what_a_section_cannot_show),
        cmocka_unit_test(mirrored_and_in_feet_the_checks_are_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
