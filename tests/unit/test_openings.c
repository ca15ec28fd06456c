/* Leaky interlocks, openings in walls and gaps under the cap: what they are worth, and what
 * becomes of them in a solution. */
#include "support/support.h"

#include "grid/grid.h"
#include "model/panes.h"
#include "model/weeps.h"
#include "solve/field.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20, d85: 0.5 mm}]\n"
#define WATER "water: [{name: flood, upstream: 4, downstream: 0}]\n"
#define FLAT "bed: {upstream: 0, downstream: 0}\nbase: -12\n"
#define WALL(more) "walls: [{name: cut, x: 0, top: 0, tip: -12, keyed: true" more "}]\n"
#define APRON "structure: {underside: [[0, 0], [8, 0]]}\n"

typedef struct solved {
    us_context *context;
    us_section *section;
    us_solution *solution;
    const us_water_result *water;
} solved;

static solved solve_to(const char *text, double accuracy)
{
    solved made = {.context = us_context_create()};
    made.section = support_read(made.context, text);
    made.solution = support_solve(made.context, made.section, accuracy);
    made.water = us_solution_water(made.solution, 0);
    return made;
}

static solved solve(const char *text)
{
    return solve_to(text, 0.01);
}

static void forget(solved *made)
{
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
}

static double agm(double a, double b)
{
    for (int k = 0; k < 60; k++) {
        double mean = 0.5 * (a + b);
        b = sqrt(a * b);
        a = mean;
    }
    return a;
}

static void holes_of_like_soil_are_worth_what_weeps_are(void **state)
{
    (void)state;
    usi_soil soil = {.kh_m_s = 1e-5, .kv_m_s = 1e-5};
    usi_opening holes = {.holes = true, .diameter_m = 0.05, .spacing_m = 0.6};
    assert_near(usi_holes_slot(&holes, &soil), usi_weeps_slot(0.05, 0.6), 1e-12, 0.0);
}

/* K of the ellipse that stretching makes of a hole, by its integral: the mean M of the text
 * is another way to the same. */
static void holes_of_stretched_soil_are_ellipses(void **state)
{
    (void)state;
    const double pi = 3.14159265358979324;
    static const double stretches[] = {0.3, 0.8, 2.0, 5.0};
    for (size_t k = 0; k < sizeof stretches / sizeof stretches[0]; k++) {
        double a = stretches[k];
        double major_m = 0.5 * fmax(a, 1.0) * 0.04;
        double minor_m = 0.5 * fmin(a, 1.0) * 0.04;
        double modulus = 1.0 - minor_m * minor_m / (major_m * major_m);
        double sum = 0.0;
        enum { STEPS = 2000 };
        for (int s = 0; s < STEPS; s++) {
            double sine = sin(0.5 * pi * (s + 0.5) / STEPS);
            sum += 0.5 * pi / STEPS / sqrt(1.0 - modulus * sine * sine);
        }
        double expected_m = 8.0 * 0.5 / a * exp(-0.57721566490153286 - 0.5 * sum / (2.0 * major_m));
        usi_soil soil = {.kh_m_s = a * a * 1e-6, .kv_m_s = 1e-6};
        usi_opening holes = {.holes = true, .diameter_m = 0.04, .spacing_m = 0.5};
        assert_near(usi_holes_slot(&holes, &soil), expected_m, 1e-9, 0.0);
    }
}

/* 0.6 / 1e-6 of the joint itself; 0.6 / pi log(1 / sin(pi 0.01 / 1.2)) = 0.695763 m of soil
 * on each side. */
static void joints_and_soil_lie_in_series(void **state)
{
    (void)state;
    usi_soil left = {.kh_m_s = 1e-5, .kv_m_s = 1e-7};
    usi_soil right = {.kh_m_s = 2e-5, .kv_m_s = 1e-7};
    usi_interlock joints = {true, 1e-6, 0.6, 0.01};
    double turn_m = 0.6 / 3.14159265358979324 * log(1.0 / sin(3.14159265358979324 * 0.01 / 1.2));
    assert_near(turn_m, 0.6958, 1e-4, 0.0);
    double loss_s = 0.6 / 1e-6 + turn_m * 1.5e5;
    assert_near(usi_interlock_conductance(&joints, &left, &right), 1.0 / loss_s, 1e-12, 0.0);
    joints.joint_width_m = 0.6;
    assert_near(usi_interlock_conductance(&joints, &left, &right), 1e-6 / 0.6, 1e-12, 0.0);
}

/* Roof and base of a confined layer are mirrors: one slot in a wall across it is a row of slits.
 * Case I9 of cases.json, 15 m of soil on each side and a slot of 2 m in 10 m, in closed form. */
static void convergence_to_joints_is_that_to_a_row_of_slits(void **state)
{
    (void)state;
    usi_soil soil = {.kh_m_s = 1.0, .kv_m_s = 1.0};
    usi_interlock slits = {true, 1e15, 10.0, 2.0};
    double turn_m = 1.0 / usi_interlock_conductance(&slits, &soil, &soil);
    /* The fixed sides, three half widths away, are felt in the tenth digit. */
    assert_near(10.0 / (30.0 + turn_m), 0.266836007482, 1e-8, 0.0);
}

static void walls_become_panes(void **state)
{
    (void)state;
    us_section *section = support_section(
        FLAT WALL(", interlock: {inverse_resistance: 1e-8, spacing: 0.6}, openings: [{slot_from: "
                  "-3, slot_to: -2}, {hole: 50 mm, level: -6, spacing: 1}]") SOIL WATER);
    static const usi_pane_kind kinds[] = {USI_PANE_LEAKY, USI_PANE_LEAKY, USI_PANE_STRIP,
                                          USI_PANE_LEAKY};
    const usi_wall *wall = &section->walls[0];
    assert_int_equal(wall->pane_count, 4);
    for (size_t p = 0; p < 4; p++) {
        assert_int_equal(wall->panes[p].kind, kinds[p]);
    }
    assert_near(wall->panes[0].low_m, -2.0, 1e-12, 0.0);
    assert_near(wall->panes[1].high_m, -3.0, 1e-12, 0.0);
    assert_near(wall->panes[2].high_m - wall->panes[2].low_m, 0.02, 1e-9, 0.0);
    double slot_m = usi_weeps_slot(0.05, 1.0);
    assert_near(wall->panes[2].series_s_m, 2.0 * log(0.02 / slot_m) / (3.14159265358979324 * 1e-5),
                1e-9, 0.0);
    us_section_free(section);
    section = support_section(FLAT WALL("") SOIL WATER);
    assert_int_equal(section->walls[0].pane_count, 0);
    us_section_free(section);
}

/* A wall down to the base with one slot between two levels: half strip and cross ratio of the
 * bed and the slot (derived here). */
static double exact_slot(double upper_m, double lower_m)
{
    double a = pow(sin(3.14159265358979324 * upper_m / 24.0), 2);
    double b = pow(sin(3.14159265358979324 * lower_m / 24.0), 2);
    return 0.5 * agm(1.0, sqrt((b - a) / b)) / agm(1.0, sqrt(a / b));
}

static void slots_of_any_width_pass_what_theory_says(void **state)
{
    (void)state;
    static const double widths_m[] = {1.0, 0.1, 0.01, 1e-5};
    assert_near(exact_slot(8.0, 9.0), 0.326024873234, 1e-11, 0.0);
    for (size_t k = 0; k < sizeof widths_m / sizeof widths_m[0]; k++) {
        char text[512];
        double half_m = 0.5 * widths_m[k];
        (void)snprintf(text, sizeof text,
                       FLAT WALL(", openings: [{slot_from: %.17g, slot_to: "
                                 "%.17g}]") SOIL WATER,
                       -5.0 - half_m, -5.0 + half_m);
        solved made = solve(text);
        double exact = 4e-5 * exact_slot(5.0 - half_m, 5.0 + half_m);
        us_value flow = made.water->flow.rate_m2_s;
        assert_near(flow.value, exact, 0.0, fmin(0.001 * exact, flow.error));
        assert_int_equal(made.water->flow.certified, widths_m[k] > 0.05);
        us_value through = made.water->walls[0].through_m2_s;
        assert_true(through.present);
        assert_near(through.value, flow.value, 0.0, through.error + flow.error);
        forget(&made);
    }
}

/* Flow through a row of holes in a wall down to the base, on one grid, and the longest and
 * the shortest link of that grid along the strip that stands for them. */
static double flow_on(us_context *context, const us_section *section, double cells,
                      double links_m[2])
{
    usi_grid_options options = {.cells = cells, .halvings = 1, .truncation = 1e-6};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    assert_int_equal(usi_grid_build(context, section, &options, &grid), US_OK);
    assert_int_equal(usi_field_solve(context, grid, &field), US_OK);
    double flow_m_s = field->flow_m_s;
    links_m[0] = 0.0;
    links_m[1] = HUGE_VAL;
    for (size_t j = 0; j < grid->rows; j++) {
        const usi_pane *strip = &section->walls[0].panes[1];
        bool along = grid->z_m[j] > strip->low_m - 1e-9 && grid->z_m[j + 1] < strip->high_m + 1e-9;
        double link_m = grid->z_m[j + 1] - grid->z_m[j];
        links_m[0] = along ? fmax(links_m[0], link_m) : links_m[0];
        links_m[1] = along ? fmin(links_m[1], link_m) : links_m[1];
    }
    usi_field_free(field);
    usi_grid_free(grid);
    return flow_m_s;
}

static void what_holes_pass_does_not_depend_on_the_links(void **state)
{
    (void)state;
    static const char *const soils[] = {"soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n",
                                        "soils: [{name: sand, kh: 4e-5, kv: 1e-5}]\n",
                                        "soils: [{name: sand, kh: 1e-5, kv: 1e-5}, {name: gravel, "
                                        "top: -27, kh: 1e-4, kv: 1e-4}]\n"};
    for (size_t k = 0; k < sizeof soils / sizeof soils[0]; k++) {
        char text[512];
        (void)snprintf(text, sizeof text,
                       "bed: {upstream: 0, downstream: 0}\nbase: -40\nwalls: [{x: 0, top: 0, tip: "
                       "-40, keyed: true, openings: [{hole: 1, level: -15, spacing: 13}]}]\n"
                       "%s" WATER,
                       soils[k]);
        us_context *context = us_context_create();
        us_section *section = support_read(context, text);
        double links_m[2];
        double finest_m_s = flow_on(context, section, 16.0, links_m);
        print_message("    %g m to %g m: %.9g\n", links_m[1], links_m[0], finest_m_s);
        assert_true(links_m[1] < 1e-3);
        for (int doubled = 0; doubled < 4; doubled++) {
            double cells = ldexp(1.0, doubled);
            double flow_m_s = flow_on(context, section, cells, links_m);
            print_message("    %g m to %g m: %.9g\n", links_m[1], links_m[0], flow_m_s);
            assert_true(doubled > 0 || links_m[0] > 0.1);
            assert_near(flow_m_s, finest_m_s, 0.01, 0.0);
        }
        us_section_free(section);
        us_context_free(context);
    }
}

/* Stretching x by sqrt(kv/kh) makes soil alike in both directions: a slot in the one section
 * is the same slot in the other. */
static void narrow_slots_keep_to_stretching(void **state)
{
    (void)state;
    solved drawn = solve_to(
        "bed: {upstream: 1, downstream: 0}\nbase: -9\nstructure: {underside: [[0, 0], [8, 0]]}\n"
        "walls: [{x: 2, top: 0.2, tip: -6, openings: [{slot_from: -3.002, slot_to: -3}]}]\n"
        "soils: [{name: sand, kh: 4e-5, kv: 1e-5}]\n" WATER,
        0.005);
    solved mapped = solve_to(
        "bed: {upstream: 1, downstream: 0}\nbase: -9\nstructure: {underside: [[0, 0], [4, 0]]}\n"
        "walls: [{x: 1, top: 0.2, tip: -6, openings: [{slot_from: -3.002, slot_to: -3}]}]\n"
        "soils: [{name: sand, kh: 2e-5, kv: 2e-5}]\n" WATER,
        0.005);
    assert_near(drawn.water->flow.rate_m2_s.value, mapped.water->flow.rate_m2_s.value, 5e-4, 0.0);
    forget(&drawn);
    forget(&mapped);
}

/* A side with a head of its own makes a situation, and another way through the solver. */
static void both_ways_through_the_solver_agree(void **state)
{
    (void)state;
    static const char *const walls[] = {
        "interlock: {inverse_resistance: 2e-7, spacing: 0.6}",
        "openings: [{slot_from: -3, slot_to: -2.5}, {hole: 60 mm, level: -1.5, spacing: 1}]",
        "cap_gap: 50 mm, cap_fill: open", "cap_gap: 50 mm, cap_fill: soil"};
    for (size_t k = 0; k < sizeof walls / sizeof walls[0]; k++) {
        char text[2][640];
        for (int way = 0; way < 2; way++) {
            (void)snprintf(text[way], sizeof text[way],
                           "bed: {upstream: 1, downstream: 0}\nbase: -9\n" APRON
                           "walls: [{x: 3, top: 0.3, tip: -5, %s}]\n"
                           "sides: {left: {x: -20, kind: fixed_head%s}, right: {x: 30, kind: "
                           "closed}}\n" SOIL WATER,
                           walls[k], way == 0 ? "" : ", head: 4");
        }
        solved plain = solve(text[0]);
        solved other = solve(text[1]);
        assert_near(plain.water->flow.rate_m2_s.value, other.water->flow.rate_m2_s.value, 0.0,
                    plain.water->flow.rate_m2_s.error + other.water->flow.rate_m2_s.error);
        assert_near(plain.water->walls[0].tip_m.value, other.water->walls[0].tip_m.value, 1e-7,
                    0.0);
        us_value one = plain.water->walls[0].through_m2_s;
        us_value two = other.water->walls[0].through_m2_s;
        assert_true(one.present && two.present);
        assert_near(one.value, two.value, 0.0, one.error + two.error);
        forget(&plain);
        forget(&other);
    }
}

static void mirrors_and_feet_change_nothing(void **state)
{
    (void)state;
    solved right =
        solve("bed: {upstream: 1, downstream: 0}\nbase: -9\n" APRON
              "walls: [{x: 2, top: 0.3, tip: -5, cap_gap: 0.06, cap_fill: open, interlock: "
              "{inverse_resistance: 1e-7, spacing: 0.6}, openings: [{slot_from: -2.03, slot_to: "
              "-2}]}]\n" SOIL WATER);
    solved left =
        solve("flow_toward: left\nbed: {upstream: 1, downstream: 0}\nbase: -9\n"
              "structure: {underside: [[-8, 0], [0, 0]]}\n"
              "walls: [{x: -2, top: 0.3, tip: -5, cap_gap: 0.06, cap_fill: open, interlock: "
              "{inverse_resistance: 1e-7, spacing: 0.6}, openings: [{slot_from: -2.03, slot_to: "
              "-2}]}]\n" SOIL WATER);
    solved feet = solve(
        "units: us\nbed: {upstream: 1 m, downstream: 0}\nbase: -9 m\n"
        "structure: {underside: [[0, 0], [8 m, 0]]}\n"
        "walls: [{x: 2 m, top: 0.3 m, tip: -5 m, cap_gap: 60 mm, cap_fill: open, interlock: "
        "{inverse_resistance: 1e-7 m/s, spacing: 600 mm}, openings: [{slot_from: -2.03 m, slot_to: "
        "-2 m}]}]\n"
        "soils: [{name: sand, kh: 1e-5 m/s, kv: 1e-5 m/s, unit_weight: 20 kN/m^3}]\n"
        "water: [{upstream: 4 m, downstream: 0}]\n");
    const solved *others[] = {&left, &feet};
    for (size_t k = 0; k < 2; k++) {
        assert_near(others[k]->water->flow.rate_m2_s.value, right.water->flow.rate_m2_s.value, 1e-7,
                    0.0);
        assert_near(others[k]->water->walls[0].through_m2_s.value,
                    right.water->walls[0].through_m2_s.value, 1e-6, 0.0);
        assert_near(others[k]->water->walls[0].downstream_face_top_m.value,
                    right.water->walls[0].downstream_face_top_m.value, 1e-7, 0.0);
    }
    forget(&right);
    forget(&left);
    forget(&feet);
}

/* What passes the section passes a wall down to the base. */
static void a_leak_is_all_that_flows(void **state)
{
    (void)state;
    solved made =
        solve(FLAT WALL(", interlock: {inverse_resistance: 1e-7, spacing: 0.6}") SOIL WATER);
    us_value through = made.water->walls[0].through_m2_s;
    assert_true(through.present && through.error > 0.0);
    assert_near(through.value, made.water->flow.rate_m2_s.value, 0.0,
                through.error + made.water->flow.rate_m2_s.error);
    assert_true(made.water->flow.certified);
    assert_true(made.water->exit.present && !made.water->exit.bounded);
    assert_false(made.water->exit.gradient.present);
    assert_true(made.water->exit.mean.present);
    assert_true(support_says(made.solution, "water passes through the wall down to the bed"));
    assert_true(support_says(made.solution, "no `joint_width` is given"));
    forget(&made);
}

static void a_tight_wall_has_no_flow_to_tell(void **state)
{
    (void)state;
    solved made = solve(FLAT WALL("") SOIL WATER);
    assert_false(made.water->walls[0].through_m2_s.present);
    forget(&made);
}

/* The gap as two levels of a wall, and as a gap; the open one lets more through. */
static void gaps_are_what_is_left_of_the_wall(void **state)
{
    (void)state;
    solved drawn = solve(FLAT APRON "walls: [{x: 3, top: -0.4, tip: -6}]\n" SOIL WATER);
    solved soil = solve(FLAT APRON "walls: [{x: 3, top: 0.2, tip: -6, cap_gap: 0.4, cap_fill: "
                                   "soil}]\n" SOIL WATER);
    solved open = solve(FLAT APRON "walls: [{x: 3, top: 0.2, tip: -6, cap_gap: 0.4}]\n" SOIL WATER);
    solved low = solve(FLAT APRON "walls: [{x: 3, top: -0.1, tip: -6, cap_gap: 0.3}]\n" SOIL WATER);
    assert_near(soil.water->flow.rate_m2_s.value, drawn.water->flow.rate_m2_s.value, 1e-12, 0.0);
    assert_near(low.water->flow.rate_m2_s.value, drawn.water->flow.rate_m2_s.value, 1e-12, 0.0);
    assert_true(open.water->flow.upper_m2_s > drawn.water->flow.lower_m2_s);
    assert_near(open.water->flow.rate_m2_s.value, drawn.water->flow.rate_m2_s.value, 1e-3, 0.0);
    assert_true(support_says(open.solution, "since no `cap_fill` is given"));
    assert_false(support_says(low.solution, "since no `cap_fill` is given"));
    /* One head along the open gap. */
    assert_near(open.water->walls[0].upstream_face_top_m.value,
                open.water->walls[0].downstream_face_top_m.value, 1e-12, 0.0);
    forget(&drawn);
    forget(&soil);
    forget(&open);
    forget(&low);
}

static void openings_may_lose_soil(void **state)
{
    (void)state;
    solved made = solve(
        FLAT WALL(", openings: [{slot_from: -3.1, slot_to: -3}, {hole: 50 mm, level: -5, spacing: "
                  "1}]") SOIL WATER "require: {retention: 2}\n");
    const us_works_result *works = made.water->works;
    assert_int_equal(works->opening_count, 2);
    assert_int_equal(works->openings[0].kind, US_OPENING_SLOT);
    assert_near(works->openings[0].size_m.value, 0.1, 1e-9, 0.0);
    assert_int_equal(works->openings[1].kind, US_OPENING_HOLE);
    assert_near(works->openings[1].ratio.value, 100.0, 1e-9, 0.0);
    forget(&made);
}

static void notes_say_where_holes_are_doubtful(void **state)
{
    (void)state;
    static const struct {
        const char *holes;
        const char *near_words;
        const char *wide_words;
    } list[] = {{"{hole: 50 mm, level: -5, spacing: 1}", NULL, NULL},
                {"{hole: 50 mm, level: -0.09, spacing: 0.3}", "two diameters", NULL},
                {"{hole: 50 mm, level: -5, spacing: 0.15}", NULL, "quarter of their spacing: the"},
                {"{hole: 50 mm, level: -11.8, spacing: 1}", "two diameters", NULL}};
    for (size_t k = 0; k < sizeof list / sizeof list[0]; k++) {
        char text[512];
        (void)snprintf(text, sizeof text, FLAT WALL(", openings: [%s]") SOIL WATER, list[k].holes);
        us_section *section = support_section(text);
        assert_int_equal(support_has_note(section, "two diameters"), list[k].near_words != NULL);
        assert_int_equal(support_has_note(section, "quarter of their spacing: the"),
                         list[k].wide_words != NULL);
        assert_true(support_has_note(section, "without bounds"));
        us_section_free(section);
    }
}

static void what_makes_no_sense_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *more;
        const char *key;
        const char *message;
    } list[] = {
        {", openings: [{slot_from: -3}]", "walls[0].openings[0].slot_from", "needs"},
        {", openings: [{slot_to: -3}]", "walls[0].openings[0].slot_from", "needs the key"},
        {", openings: [{slot_from: -3, slot_to: -3.1}]", "walls[0].openings[0].slot_to",
         "no height"},
        {", openings: [{hole: 50 mm, level: -3}]", "walls[0].openings[0].hole", "spacing"},
        {", openings: [{hole: 50 mm, level: -3, spacing: 40 mm}]", "walls[0].openings[0].spacing",
         "nothing between them"},
        {", openings: [{hole: 50 mm, level: -3, spacing: 1, slot_to: -2}]",
         "walls[0].openings[0].hole", "not both"},
        {", openings: [{slot_from: -3, slot_to: -2, spacing: 1}]", "walls[0].openings[0].spacing",
         "no level or spacing"},
        {", openings: [{slot_from: -1, slot_to: 0}]", "walls[0].openings[0]", "soil beside"},
        {", openings: [{slot_from: -12, slot_to: -11}]", "walls[0].openings[0]", "reaches the tip"},
        {", openings: [{slot_from: -3, slot_to: -2}, {hole: 50 mm, level: -2, spacing: 1}]",
         "walls[0].openings[1]", "meets"},
        {", cap_gap: 20 mm", "walls[0].cap_gap", "no structure"},
        {", cap_fill: soil", "walls[0].cap_fill", "no gap"},
        {", interlock: {spacing: 0.6}", "walls[0].interlock.inverse_resistance", "needs the key"},
        {", interlock: {inverse_resistance: 0, spacing: 0.6}",
         "walls[0].interlock.inverse_resistance", "zero"},
    };
    for (size_t k = 0; k < sizeof list / sizeof list[0]; k++) {
        char text[512];
        (void)snprintf(text, sizeof text, FLAT WALL("%s") SOIL WATER, list[k].more);
        support_check_refused(text, list[k].key, list[k].message);
    }
    support_check_refused(FLAT APRON
                          "walls: [{x: 3, top: 0.2, tip: -2, cap_gap: 1.9}]\n" SOIL WATER,
                          "walls[0].cap_gap", "nothing to speak of");
    support_check_refused(FLAT APRON
                          "walls: [{x: 9, top: 0, tip: -2, cap_gap: 20 mm}]\n" SOIL WATER,
                          "walls[0].cap_gap", "no structure over the wall");
}

static void check_tells_what_it_read(void **state)
{
    (void)state;
    static const char text[] = FLAT APRON
        "walls: [{x: 3, top: 0.2, tip: -6, cap_gap: 20 mm, cap_fill: soil, interlock: "
        "{inverse_resistance: 1e-8, spacing: 0.5, joint_width: 5 mm}, openings: [{slot_from: "
        "-3.001, slot_to: -3}, {hole: 0.1, level: -4, spacing: 0.5}, {slot_from: -2, slot_to: "
        "-1.5}]}]\n" SOIL WATER
        "as_built_defaults: {leaking: {inverse_resistance: 1e-7}, split: {width: 20 mm}}\n";
    support_check_told(text, "a gap of 0.02 m between it and the structure, filled with soil",
                       true);
    support_check_told(text, "joints every 0.5 m let water through: inverse resistance 1e-08 m/s",
                       true);
    support_check_told(text, "slot from -3.001 m to -3 m, finer than a grid", true);
    support_check_told(text, "slot from -2 m to -1.5 m, solved as drawn", true);
    support_check_told(
        text, "holes of 100 mm every 0.5 m at -4 m, worth from afar a slot of 0.872 mm", true);
    support_check_told(text, "leaking: an inverse resistance of 1e-07 m/s", true);
    support_check_told(text, "split: open 20 mm wide", true);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(holes_of_like_soil_are_worth_what_weeps_are),
        cmocka_unit_test(holes_of_stretched_soil_are_ellipses),
        cmocka_unit_test(joints_and_soil_lie_in_series),
        cmocka_unit_test(convergence_to_joints_is_that_to_a_row_of_slits),
        cmocka_unit_test(walls_become_panes),
        cmocka_unit_test(slots_of_any_width_pass_what_theory_says),
        cmocka_unit_test(what_holes_pass_does_not_depend_on_the_links),
        cmocka_unit_test(narrow_slots_keep_to_stretching),
        cmocka_unit_test(both_ways_through_the_solver_agree),
        cmocka_unit_test(mirrors_and_feet_change_nothing),
        cmocka_unit_test(a_leak_is_all_that_flows),
        cmocka_unit_test(a_tight_wall_has_no_flow_to_tell),
        cmocka_unit_test(gaps_are_what_is_left_of_the_wall),
        cmocka_unit_test(openings_may_lose_soil),
        cmocka_unit_test(notes_say_where_holes_are_doubtful),
        cmocka_unit_test(what_makes_no_sense_is_refused),
        cmocka_unit_test(check_tells_what_it_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
