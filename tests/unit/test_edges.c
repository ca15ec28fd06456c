/* Edges of the soil as they are read: water on part of a bed, drains, leaks, voids,
 * seals, water below the base and behind the sides. */
#include "support/support.h"

#include "model/section.h"

#define SOIL "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
#define WATER "water: [{name: flood, upstream: 3, downstream: 1}]\n"
/* An apron of 10 m, its underside at -1 up to x = 4, then at -2; walls at its ends. */
#define STRUCTURE(more)                                                                            \
    "structure: {underside: [[0, -1], [4, -1], [4, -2], [10, -2]]" more "}\n"                      \
    "walls: [{name: heel, x: 0, top: 0, tip: -4}, {name: toe, x: 10, top: -1.5, tip: -4}]\n"
#define GROUND "bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL
#define APRON GROUND WATER STRUCTURE("")
#define DRAIN(text) APRON "drains: [{" text "}]\n"
#define CASE(text) GROUND STRUCTURE("") "water: [{upstream: 3, downstream: 1, " text "}]\n"
#define TAIL "outlet: tailwater"
#define STRIP(from, to) DRAIN("from: " from ", to: " to ", " TAIL)

#define FLOOD(bed, water)                                                                          \
    "bed: " bed "\nbase: -10\nwater: [" water "]\n"                                                \
    "structure: {underside: [[0, -1], [10, -1]]}\n" SOIL

static void water_below_the_bed_comes_out_at_it(void **state)
{
    (void)state;
    us_section *section = support_section(FLOOD("{upstream: 2, downstream: 1}",
                                                "{upstream: 3, downstream: 0.5}, {upstream: 3, "
                                                "downstream: 1}, {upstream: 3, downstream: 1.5}"));
    assert_true(section->waters[0].at_bed);
    assert_near(section->waters[0].downstream_m, 1.0, 0.0, 0.0);
    assert_true(support_has_note(section, "case_1"));
    assert_true(section->waters[1].at_bed);
    assert_false(support_has_note(section, "case_2"));
    assert_false(section->waters[2].at_bed);
    us_section_free(section);
#define STEPPED "{upstream: 1, downstream: [[20, 1], [20, 0]]}"
    section = support_section(FLOOD(STEPPED, "{upstream: 3, downstream: 1.5}, {upstream: 3, "
                                             "downstream: at_bed}, {upstream: 3, downstream: 0}, "
                                             "{upstream: 3, downstream: 1}, {upstream: 3, "
                                             "downstream: 0.5}"));
    /* The level at the toe stands for water that is not there; water stands on part of a bed. */
    assert_true(section->waters[1].at_bed);
    assert_near(section->waters[1].downstream_m, 1.0, 0.0, 0.0);
    assert_false(section->waters[2].at_bed);
    assert_near(section->waters[2].downstream_m, 0.0, 0.0, 0.0);
    assert_false(section->waters[3].at_bed);
    assert_false(section->waters[4].at_bed);
    assert_near(section->waters[4].downstream_m, 0.5, 0.0, 0.0);
    assert_int_equal(section->note_count, 0);
    us_section_free(section);
    section = support_section(FLOOD(STEPPED, "{upstream: 3, downstream: -1}"));
    assert_true(section->waters[0].at_bed);
    assert_true(support_has_note(section, "lies below the bed, 0 m"));
    us_section_free(section);
#undef STEPPED
    section = support_section(
        FLOOD("{upstream: [[-20, 2], [-20, 0]], downstream: 0}", "{upstream: 1, downstream: 0.5}"));
    us_section_free(section);
}

static void drains_are_read(void **state)
{
    (void)state;
    us_section *section = support_section(
        APRON "drains:\n"
              "  - {name: row, at: [6, -2], diameter: 75 mm, spacing: 2.4, outlet: 0.5}\n"
              "  - {from: [9, -2], to: [8, -2], outlet: tailwater, state: shut,\n"
              "     clogging: {thickness: 5 mm, conductivity: 1e-7}}\n"
              "  - {name: pipe, from: [5, -3], to: [5, -2], outlet: tailwater}\n"
              "  - {name: ditch, from: [20, -1], to: [22, -1.5], outlet: -1}\n");
    assert_int_equal(section->drain_count, 4);
    const usi_drain *row = &section->drains[0];
    assert_string_equal(row->name, "row");
    assert_true(row->weeps && !row->inside && !row->tailwater && !row->shut);
    assert_near(row->diameter_m, 0.075, 1e-12, 0.0);
    assert_near(row->spacing_m, 2.4, 0.0, 0.0);
    assert_near(row->outlet_m, 0.5, 0.0, 0.0);
    assert_near(row->clogging_s, 0.0, 0.0, 0.0);
    const usi_drain *strip = &section->drains[1];
    assert_string_equal(strip->name, "drain_2");
    assert_true(!strip->weeps && !strip->inside && strip->tailwater && strip->shut);
    assert_near(strip->from.x_m, 8.0, 0.0, 0.0);
    assert_near(strip->to.x_m, 9.0, 0.0, 0.0);
    assert_near(strip->clogging_s, 5e4, 1e-12, 0.0);
    assert_true(section->drains[2].inside && section->drains[2].from.z_m == -3.0);
    assert_true(section->drains[3].inside);
    us_section_free(section);
}

/* A point that is typed with six decimals lies on a slope all the same. */
static void drains_are_put_on_the_face(void **state)
{
    (void)state;
    us_section *section =
        support_section("bed: {upstream: 0, downstream: 0}\nbase: -10\n" SOIL WATER
                        "structure: {underside: [[0, -1], [9, -2]]}\n"
                        "drains: [{from: [1, -1.111111], to: [2, -1.222222], outlet: tailwater},\n"
                        "  {at: [9, -1], diameter: 0.1, spacing: 1, outlet: tailwater}]\n");
    assert_false(section->drains[0].inside);
    assert_near(section->drains[0].from.z_m, -1.0 - 1.0 / 9.0, 0.0, 1e-7);
    assert_false(section->drains[1].inside);
    us_section_free(section);
}

static void drains_of_wrong_form_are_refused(void **state)
{
    (void)state;
    support_check_refused(DRAIN(TAIL), "drains[0]", "nothing says where");
    support_check_refused(DRAIN("from: [6, -2], " TAIL), "drains[0]", "one end only");
    support_check_refused(DRAIN("at: [6, -2], from: [6, -2], to: [7, -2], " TAIL), "drains[0].from",
                          "not both");
    support_check_refused(DRAIN("at: [6, -2], " TAIL), "drains[0]", "needs the `diameter`");
    support_check_refused(DRAIN("from: [6, -2], to: [7, -2], spacing: 3, " TAIL),
                          "drains[0].spacing", "has no holes");
    support_check_refused(DRAIN("at: [6, -2], diameter: 0.6, spacing: 2.3, " TAIL),
                          "drains[0].diameter", "a quarter of the spacing");
    us_section_free(support_section(DRAIN("at: [6, -2], diameter: 0.6, spacing: 2.4, " TAIL)));
    support_check_refused(DRAIN("at: [6, -2], diameter: 0.1, spacing: 2"), "drains[0].outlet",
                          "needs the key `outlet`");
    support_check_refused(DRAIN("at: [6, -2], diameter: 0.1, spacing: 2, outlet: low"),
                          "drains[0].outlet", "neither a number nor `tailwater`");
    support_check_refused(STRIP("[6, -2]", "[6, -2]"), "drains[0].to", "no length");
    support_check_refused(DRAIN("from: [6, -2], to: [7, -2], clogging: {thickness: 1}, " TAIL),
                          "drains[0].clogging.conductivity", "needs the key");
    support_check_refused(DRAIN("from: [6, -2], to: [7, -2], state: half, " TAIL),
                          "drains[0].state", "`open` or `shut`");
    support_check_refused(APRON "drains: [{name: a, from: [6, -2], to: [7, -2], " TAIL
                                "}, {name: a, from: [8, -2], to: [9, -2], " TAIL "}]\n",
                          "drains[1].name", "stands here twice");
}

static void drains_out_of_place_are_refused(void **state)
{
    (void)state;
    support_check_refused(STRIP("[6, -1]", "[7, -2]"), "drains[0].from", "in the structure");
    support_check_refused(STRIP("[20, 0]", "[22, 0]"), "drains[0].from", "on the open bed");
    support_check_refused(STRIP("[20, -1]", "[22, 1]"), "drains[0].to", "above the bed");
    support_check_refused(STRIP("[22, -1]", "[20, 1]"), "drains[0].to", "above the bed");
    support_check_refused(STRIP("[6, -10]", "[7, -9]"), "drains[0].from", "on the base");
    support_check_refused(STRIP("[3, -1]", "[5, -2]"), "drains[0].from", "one straight piece");
    support_check_refused(STRIP("[-2, -3]", "[2, -3]"), "drains[0].from", "meets a wall");
    support_check_refused(STRIP("[10, -3]", "[12, -3]"), "drains[0].from", "meets a wall");
    us_section_free(support_section(STRIP("[-2, -5]", "[2, -5]")));
    support_check_refused(DRAIN("at: [6, -3], diameter: 0.1, spacing: 1, " TAIL), "drains[0].at",
                          "lie in the soil");
    support_check_refused(DRAIN("at: [4.04, -2], diameter: 0.1, spacing: 1, " TAIL), "drains[0].at",
                          "have no room");
    support_check_refused(DRAIN("at: [9.97, -2], diameter: 0.1, spacing: 1, " TAIL), "drains[0].at",
                          "have no room");
    support_check_refused(DRAIN("at: [0, -0.5], diameter: 0.1, spacing: 1, " TAIL), "drains[0].at",
                          "`heel` stands before");
    support_check_refused(APRON "sides: {right: {x: 30, kind: closed}}\n"
                                "drains: [{from: [25, -1], to: [31, -1], " TAIL "}]\n",
                          "drains[0].to", "outside the soil");
    support_check_refused(APRON "drains: [{from: [20, -1], to: [22, -3], " TAIL
                                "}, {from: [20, -3], to: [22, -1], " TAIL "}]\n",
                          "drains[1].from", "meets a drain");
    support_check_refused(GROUND WATER "walls: [{x: 0, top: 1, tip: -5}]\n"
                                       "drains: [{at: [2, -1], diameter: 0.1, spacing: 1, " TAIL
                                       "}]\n",
                          "drains[0].at", "lie in the soil");
}

/* A bed that dips between the two ends of a drain. */
static void drains_do_not_cross_the_surface(void **state)
{
    (void)state;
    support_check_refused(
        "bed: {upstream: 0, downstream: [[20, 0], [25, -2], [30, 0]]}\nbase: -10\n" SOIL WATER
        "walls: [{x: 0, top: 1, tip: -5}]\n"
        "drains: [{from: [20, -1], to: [30, -1], outlet: tailwater}]\n",
        "drains[0].from", "crosses the soil surface");
    support_check_refused(
        "bed: {upstream: 0, downstream: 0}\nbase: [[20, -5], [25, -2], [30, -5]]\n" SOIL WATER
        "walls: [{x: 0, top: 1, tip: -5}]\n"
        "drains: [{from: [20, -3], to: [30, -3], outlet: tailwater}]\n",
        "drains[0].from", "crosses the base");
}

static void leaks_and_voids_are_read(void **state)
{
    (void)state;
    us_section *section = support_section(
        GROUND WATER STRUCTURE(", permeable: [[7, 8], [5, 6]], contact_lost: [[8.5, 9]]"));
    assert_int_equal(section->permeable_count, 2);
    assert_near(section->permeable[0].from_m, 5.0, 0.0, 0.0);
    assert_near(section->permeable[1].to_m, 8.0, 0.0, 0.0);
    assert_int_equal(section->void_count, 1);
    us_section_free(section);
#define LEAK(list) GROUND WATER STRUCTURE(", permeable: " list)
#define HOLLOW(list) GROUND WATER STRUCTURE(", contact_lost: " list)
    support_check_refused(LEAK("[5, 6]"), "structure.permeable", "stretches [[x1, x2]");
    support_check_refused(LEAK("[[5, 6], 7]"), "structure.permeable[1]", "a stretch [x1, x2]");
    support_check_refused(LEAK("[]"), "structure.permeable", "stretches [[x1, x2], ...]");
    support_check_refused(LEAK("[[6, 5]]"), "structure.permeable[0]", "no length");
    support_check_refused(LEAK("[[6, 11]]"), "structure.permeable[0]", "beyond the underside");
    support_check_refused(LEAK("[[5, 7], [6, 8]]"), "structure.permeable[1]", "overlaps");
    us_section_free(support_section(LEAK("[[5, 7], [7, 8]]")));
    us_section_free(support_section(LEAK("[[0, 10]]")));
    support_check_refused(HOLLOW("[[5, 7], [7, 8]]"), "structure.contact_lost[1]", "touches");
    support_check_refused(LEAK("[[5, 7]], contact_lost: [[6, 8]]"), "structure.contact_lost[0]",
                          "overlaps the permeable stretch");
#undef HOLLOW
#undef LEAK
}

/* Heads that differ may not touch; a wall keeps them apart. */
static void what_touches_is_refused(void **state)
{
    (void)state;
    support_check_refused(
        GROUND WATER STRUCTURE(
            ", contact_lost: [[6, 8]]") "drains: [{at: [7, -2], diameter: 0.1, spacing: 1, " TAIL
                                        "}]\n",
        "drains[0].at", "overlaps the stretch without contact");
    support_check_refused(
        GROUND WATER STRUCTURE(
            ", permeable: [[6, 8]]") "drains: [{from: [8, -2], to: [9, -2], outlet: 0}]\n",
        "drains[0].from", "touches the permeable stretch");
#define FLUSH(more) GROUND WATER "structure: {underside: [[0, 0], [10, 0]]" more "}\n"
    support_check_refused(FLUSH(", permeable: [[0, 1]]"), "structure.permeable[0]",
                          "reaches the upstream bed");
    us_section_free(support_section(FLUSH(", permeable: [[9, 10]]")));
    support_check_refused(FLUSH(", contact_lost: [[9, 10]]"), "structure.contact_lost[0]",
                          "reaches the downstream bed");
    support_check_refused(FLUSH("") "drains: [{from: [9, 0], to: [10, 0], outlet: 2}]\n",
                          "drains[0].from", "reaches the downstream bed");
    us_section_free(support_section(FLUSH("") "drains: [{from: [9, 0], to: [10, 0], " TAIL "}]\n"));
    us_section_free(
        support_section(FLUSH("") "walls: [{x: 10, top: 0.5, tip: -3}]\n"
                                  "drains: [{from: [9, 0], to: [10, 0], outlet: 2}]\n"));
#undef FLUSH
    support_check_refused(GROUND WATER
                          "structure: {underside: [[0, -1], [10, -1]], contact_lost: [[4, 8]]}\n"
                          "walls: [{name: mid, x: 6, top: -1, tip: -4}]\n",
                          "structure.contact_lost[0]", "runs past the wall `mid`");
    us_section_free(support_section(
        GROUND WATER "structure: {underside: [[0, -1], [10, -1]], contact_lost: [[4, 6], [6, 8]]}\n"
                     "walls: [{name: mid, x: 6, top: -1, tip: -4}]\n"));
}

static void cases_shut_drains_and_seal_beds(void **state)
{
    (void)state;
    us_section *section = support_section(GROUND STRUCTURE(
        "") "water:\n"
            "  - {upstream: 3, downstream: 1, drains: off, seal: [[20, 30], [40, 50], [28, 32]]}\n"
            "  - {upstream: 3, downstream: 1, shut: [a], discharge: 120, return_period: 100}\n"
            "  - {upstream: 3, downstream: 1, discharge: 500 cfs}\n"
            "drains: [{name: a, from: [6, -2], to: [7, -2], " TAIL "},\n"
            "  {name: b, from: [8, -2], to: [9, -2], " TAIL "},\n"
            "  {name: c, from: [5, -2], to: [5.5, -2], state: shut, " TAIL "}]\n");
    const usi_water *off = &section->waters[0];
    assert_true(off->shut[0] && off->shut[1] && off->shut[2]);
    assert_int_equal(off->seal_count, 2);
    assert_near(off->seals[0].from_m, 20.0, 0.0, 0.0);
    assert_near(off->seals[0].to_m, 32.0, 0.0, 0.0);
    assert_near(off->seals[1].to_m, 50.0, 0.0, 0.0);
    assert_false(off->flood.has_discharge);
    const usi_water *one = &section->waters[1];
    assert_true(one->shut[0] && !one->shut[1] && one->shut[2]);
    assert_near(one->flood.discharge_m3_s, 120.0, 0.0, 0.0);
    assert_near(one->flood.return_period_years, 100.0, 0.0, 0.0);
    assert_null(section->waters[2].shut);
    assert_near(section->waters[2].flood.discharge_m3_s, 500.0 * 0.3048 * 0.3048 * 0.3048, 1e-12,
                0.0);
    us_section_free(section);
    support_check_refused(CASE("shut: [a]"), "water[0].shut[0]", "no drain called a");
    support_check_refused(CASE("shut: a"), "water[0].shut", "a list of names");
    support_check_refused(CASE("drains: on"), "water[0].drains", "only `off` may stand here");
    support_check_refused(CASE("seal: [[30, 20]]"), "water[0].seal[0]", "no length");
    support_check_refused(CASE("seal: [20, 30]"), "water[0].seal", "stretches [[x1, x2]");
    support_check_refused(CASE("discharge: 5 ft"), "water[0].discharge", "is not a discharge");
    support_check_refused(CASE("return_period: 0"), "water[0].return_period", "is zero");
}

static void water_stands_below_the_base_and_behind_sides(void **state)
{
    (void)state;
#define BASE(text) "bed: {upstream: 0, downstream: 0}\nbase: " text "\n" SOIL WATER STRUCTURE("")
    us_section *section = support_section(BASE("{level: -10, head: 4, thickness: 2 m, kv: 1e-9}"));
    assert_true(section->has_base && section->artesian.acts);
    assert_near(section->artesian.head_m, 4.0, 0.0, 0.0);
    assert_near(section->artesian.resistance_s, 2e9, 1e-12, 0.0);
    us_section_free(section);
    section = support_section(BASE("{level: [[0, -10], [5, -9]], head: 4}"));
    assert_int_equal(section->base.count, 2);
    assert_true(section->artesian.acts && section->artesian.resistance_s == 0.0);
    us_section_free(section);
    section = support_section(BASE("{level: -10}"));
    assert_false(section->artesian.acts);
    us_section_free(section);
    support_check_refused(BASE("{level: -10, head: 4, kv: 1e-9}"), "base.kv", "needs its");
    support_check_refused(BASE("{level: -10, head: 4, thickness: 2}"), "base.thickness",
                          "needs its");
    support_check_refused(BASE("{level: -10, thickness: 2, kv: 1e-9}"), "base.thickness",
                          "stands behind it");
#undef BASE
    section = support_section(APRON "sides: {left: {x: -40, kind: fixed_head, head: 2.5}}\n");
    assert_true(section->left.has_head);
    assert_near(section->left.head_m, 2.5, 0.0, 0.0);
    assert_false(section->right.has_head);
    us_section_free(section);
    support_check_refused(APRON "sides: {left: {x: -40, kind: closed, head: 2.5}}\n",
                          "sides.left.head", "no head of its own");
}

static void slips_are_pointed_at(void **state)
{
    (void)state;
#define SECOND "Worth a second look"
    support_check_told(STRIP("[6, -2]", "[7, -2]"), SECOND, false);
    support_check_told(DRAIN("from: [6, -2], to: [7, -2], outlet: 3.1"),
                       "case flood: it would feed", true);
    support_check_told(DRAIN("from: [6, -2], to: [7, -2], outlet: 3.1, state: shut"), SECOND,
                       false);
    support_check_told(GROUND
                       "structure: {underside: [[0, -1], [10, -1]]}\n"
                       "water: [{upstream: -2.5, downstream: -2.6}]\n"
                       "sides: {left: {x: 0, kind: fixed_head}, right: {x: 10, kind: fixed_head}}\n"
                       "drains: [{from: [6, -1], to: [7, -1], outlet: tailwater}]\n",
                       "stays dry", true);
    /* The works are 10 m wide, the soil has 1e-5 m/s: 1e6 s. */
    support_check_told(
        DRAIN("from: [6, -2], to: [7, -2], clogging: {thickness: 1, conductivity: 9.5e-7}, "
              "outlet: 0"),
        "good as shut", true);
    support_check_told(
        DRAIN("from: [6, -2], to: [7, -2], clogging: {thickness: 1, conductivity: 1.1e-6}, "
              "outlet: 0"),
        "good as shut", false);
    support_check_told(CASE("seal: [[2, 10]]"), "touches no bed", true);
    support_check_told(CASE("seal: [[2, 10.5]]"), "touches no bed", false);
    support_check_told(GROUND WATER
                       "structure: {underside: [[0, -1], [10, -1]], top: [[0, 4], [5, 4], [5, "
                       "1], [10, 1]], permeable: [[2, 3]]}\n",
                       "nothing comes out there", true);
    support_check_told(GROUND WATER
                       "structure: {underside: [[0, -1], [10, -1]], top: [[0, 4], [5, 4], [5, "
                       "1], [10, 1]], permeable: [[6, 7]]}\n",
                       SECOND, false);
#undef SECOND
}

/* At 10 m of soil of 20 kN/m3 and 1 m of water: 209.81 kPa, against 9.81 (h + 10). */
static void a_layer_may_be_lifted(void **state)
{
    (void)state;
#define LIFTED(head)                                                                               \
    "bed: {upstream: 0, downstream: 0}\nbase: {level: -10, head: " head                            \
    "}\n" SOIL WATER STRUCTURE("")
    support_check_told(LIFTED("9.4"), "lift the whole layer", false);
    support_check_told(LIFTED("9.6"), "weigh 1.09 times", true);
    support_check_told(LIFTED("12"), "weigh 0.972 times", true);
#undef LIFTED
}

static void seals_leave_something_open(void **state)
{
    (void)state;
#define BOX "sides: {left: {x: -20, kind: closed}, right: {x: 30, kind: closed}}\n"
    support_check_refused(CASE("seal: [[-20, 0], [10, 30]]") BOX, "water[0].seal",
                          "nothing sets the head");
    us_section_free(support_section(CASE("seal: [[-20, 0], [10, 29]]") BOX));
    us_section_free(support_section(CASE("seal: [[-20, 0]]") BOX));
    us_section_free(support_section(CASE("seal: [[-20, 0], [10, 30]]")));
#undef BOX
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water_below_the_bed_comes_out_at_it),
        cmocka_unit_test(drains_are_read),
        cmocka_unit_test(drains_are_put_on_the_face),
        cmocka_unit_test(drains_of_wrong_form_are_refused),
        cmocka_unit_test(drains_out_of_place_are_refused),
        cmocka_unit_test(drains_do_not_cross_the_surface),
        cmocka_unit_test(leaks_and_voids_are_read),
        cmocka_unit_test(what_touches_is_refused),
        cmocka_unit_test(cases_shut_drains_and_seal_beds),
        cmocka_unit_test(water_stands_below_the_base_and_behind_sides),
        cmocka_unit_test(slips_are_pointed_at),
        cmocka_unit_test(a_layer_may_be_lifted),
        cmocka_unit_test(seals_leave_something_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
