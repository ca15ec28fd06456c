/* Pictures of sections with slopes and zones: which soil is painted where, and where the
 * lines between soils run. */
#include "support/labels.h"

#include "draw/diagram.h"

/* Whether a polygon holds a point. */
static bool holds(const usi_point *points, size_t count, usi_point at)
{
    bool inside = false;
    for (size_t i = 0, k = count - 1; i < count; k = i++) {
        usi_point a = points[i];
        usi_point b = points[k];
        if ((a.z_m > at.z_m) != (b.z_m > at.z_m) &&
            at.x_m < a.x_m + (b.x_m - a.x_m) * (at.z_m - a.z_m) / (b.z_m - a.z_m)) {
            inside = !inside;
        }
    }
    return inside;
}

/* The ink that ends up on top at a place, lines apart. */
static usi_ink painted(const usi_scene *scene, usi_point at)
{
    usi_ink ink = {1, 1, 1, 1};
    for (size_t i = 0; i < scene->shape_count; i++) {
        const usi_shape *shape = &scene->shapes[i];
        if (shape->space == USI_SPACE_SECTION && shape->look.fill.alpha > 0 &&
            holds(scene->points + shape->first, shape->count, at)) {
            ink = shape->look.fill;
        }
    }
    return ink;
}

static bool same_ink(usi_ink a, usi_ink b)
{
    return a.red == b.red && a.green == b.green && a.blue == b.blue;
}

/* The soil whose tint it is, -1 for none. */
static int soil_of(const picture *made, usi_ink ink)
{
    for (size_t i = 0; i < made->section->soil_count; i++) {
        if (same_ink(ink, usi_ink_soil(usi_sheet_tint(&made->sheet, i)))) {
            return (int)i;
        }
    }
    return -1;
}

/* A zone and a top that reach out of the soil: over the structure and past a side. */
static const char reaching[] =
    "bed: {upstream: 100, downstream: 100}\n"
    "base: 90\n"
    "structure: {underside: [[0, 98], [12, 98]], top: [[0, 98.5], [12, 98.5]]}\n"
    "soils:\n"
    "  - {name: sand, kh: 2e-05}\n"
    "  - {name: gravel, top: [[0, 93], [12, 99.5]], kh: 1e-04}\n"
    "  - {name: clay, kh: 2e-08}\n"
    "zones:\n"
    "  - {soil: clay, outline: [[3, 96], [5, 96], [5, 101], [3, 101]]}\n"
    "  - {soil: clay, outline: [[-40, 95], [-6, 95], [-6, 97], [-40, 97]]}\n"
    "sides: {left: {x: -8, kind: closed}}\n"
    "water:\n"
    "  - {name: flood, upstream: 100.5, downstream: 100.2}\n";

static void check_paint(const char *text)
{
    enum { PLACES = 60 };
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    const usi_scene_view *view = &made.sheet.scene.view;
    for (int row = 0; row < PLACES; row++) {
        for (int column = 0; column < PLACES; column++) {
            double across = (column + 0.37) / PLACES;
            double up = (row + 0.41) / PLACES;
            usi_point at = {view->low.x_m + across * (view->high.x_m - view->low.x_m),
                            view->low.z_m + up * (view->high.z_m - view->low.z_m)};
            int soil = usi_sheet_soil(&made.sheet, at);
            if (soil_of(&made, painted(&made.sheet.scene, at)) != soil) {
                fail_msg("%s: at %g, %g lies soil %d", made.section->title, at.x_m, at.z_m, soil);
            }
        }
    }
    picture_discard(&made);
}

static void test_soils_are_painted_where_they_lie(void **state)
{
    (void)state;
    for (size_t i = 0; i < GROUNDS; i++) {
        char *text = read_data_file("ground", grounds[i]);
        check_paint(text);
        free(text);
    }
    check_paint(reaching);
}

/* Length of the lines between soils, metres, in the picture of a section. */
static double interface_length(const char *name)
{
    char *text = read_data_file("ground", name);
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    const usi_scene *scene = &made.sheet.scene;
    double length_m = 0;
    for (size_t i = 0; i < scene->shape_count; i++) {
        const usi_shape *shape = &scene->shapes[i];
        if (shape->space == USI_SPACE_SECTION && shape->count == 2 && shape->look.width == 0.9 &&
            same_ink(shape->look.line, usi_ink_quiet)) {
            usi_point a = scene->points[shape->first];
            usi_point b = scene->points[shape->first + 1];
            length_m += hypot(b.x_m - a.x_m, b.z_m - a.z_m);
        }
    }
    picture_discard(&made);
    free(text);
    return length_m;
}

static void test_lines_run_between_soils_only(void **state)
{
    (void)state;
    /* All four sides of a lens. */
    double lens_m = hypot(8, 0.8) + hypot(10, 1) + hypot(9, 0.6) + hypot(9, 0.8);
    assert_true(fabs(interface_length("lens_clay") - lens_m) < 0.1);
    /* A trench that begins at the underside has no line there. */
    assert_true(fabs(interface_length("trench_apron") - (6.5 + 0.8 + 6.5)) < 0.05);
    /* A blanket has one under it, none where it meets the water or the structure. */
    assert_true(fabs(interface_length("blanket") - 16) < 0.05);
}

static void test_sloping_base_has_a_name(void **state)
{
    (void)state;
    char *text = read_data_file("ground", "stepped_base");
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    assert_true(picture_says(&made, "impervious base 89.00 to 93.00"));
    picture_discard(&made);
    free(text);
}

/* Many thin lenses have no names in the picture: the key says where they are. */
static void test_key_says_where_zones_lie(void **state)
{
    (void)state;
    char text[4000] = "bed: {upstream: 100, downstream: 100}\nbase: 80\n"
                      "structure: {underside: [[0, 99.5], [12, 99.5]]}\n"
                      "soils:\n  - {name: sand, kh: 2e-05}\n";
    size_t used = strlen(text);
    for (int i = 0; i < 6; i++) {
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "  - {name: lens_%d, kh: %d.5e-06}\n", i, i + 1);
    }
    used += (size_t)snprintf(text + used, sizeof text - used, "zones:\n");
    for (int i = 0; i < 6; i++) {
        used += (size_t)snprintf(
            text + used, sizeof text - used,
            "  - {soil: lens_%d, outline: [[%d, 85], [%d, 85], [%d, 86], [%d, 86]]}\n", i, 2 * i,
            2 * i + 1, 2 * i + 1, 2 * i);
    }
    (void)snprintf(text + used, sizeof text - used,
                   "water:\n  - {name: flood, upstream: 104, downstream: 101.5}\n");
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    assert_true(picture_says(&made, "zone from 4.00 to 5.00"));
    picture_discard(&made);
}

/* The course of a diagram, for a section that has what it shows. */
static usi_course course_of(picture *made, const char *name, us_picture what)
{
    char *text = read_data_file("ground", name);
    picture_compose(made, text, what, 0);
    free(text);
    usi_course course;
    us_status status = what == US_PICTURE_EXIT
                           ? usi_course_exit(&made->sheet, &made->sheet.window, &course)
                           : usi_course_uplift(&made->sheet, &made->sheet.window, &course);
    assert_int_equal(status, US_OK);
    return course;
}

/* What leaves through a sloping bed is what flows: gradients square to it, each times the
 * conductivity that way and the length of its piece. */
static void test_the_curve_along_slopes_carries_the_flow(void **state)
{
    (void)state;
    static const char *const names[] = {"chute",       "chute_flush", "scour",
                                        "strip_20_10", "strip_0_30",  "strip_45_20"};
    for (size_t n = 0; n < sizeof names / sizeof names[0]; n++) {
        picture made;
        usi_course course = course_of(&made, names[n], US_PICTURE_EXIT);
        double flow_m2_s = 0;
        for (size_t i = 1; i < course.count; i++) {
            const usi_edge_point *a = &course.points[i - 1];
            const usi_soil *soil = &made.section->soils[a->soil];
            double dx_m = a[1].x_m - a->x_m;
            double dz_m = a[1].level_m - a->level_m;
            double length_m = hypot(dx_m, dz_m);
            if (dx_m > 0) {
                flow_m2_s += 0.5 * (a[1].value + a->value) *
                             (soil->kh_m_s * dz_m * dz_m + soil->kv_m_s * dx_m * dx_m) / length_m;
            }
        }
        double expected = made.sheet.result->flow.rate_m2_s.value;
        if (!(fabs(flow_m2_s - expected) < 0.01 * expected)) {
            fail_msg("%s: %g, expected %g", names[n], flow_m2_s, expected);
        }
        usi_course_clear(&course);
        picture_discard(&made);
    }
}

/* Six soils: two more than there are tints. */
static const char many[] =
    "bed: {upstream: 101, downstream: 100}\n"
    "base: 84\n"
    "structure: {underside: [[0, 99.5], [12, 99]], top: [[0, 101], [12, 100]]}\n"
    "walls: [{name: toe, x: 12, top: 99.5, tip: 96}]\n"
    "soils:\n"
    "  - {name: fill, kh: 2e-05}\n"
    "  - {name: silt, top: 98, kh: 1e-05}\n"
    "  - {name: sand, top: [[0, 96], [12, 95]], kh: 4e-05}\n"
    "  - {name: gravel, top: 92, kh: 4e-04}\n"
    "  - {name: marl, top: 88, kh: 1e-06}\n"
    "  - {name: peat, kh: 1e-07}\n"
    "zones:\n"
    "  - {soil: peat, outline: [[2, 94.5], [10, 94.5], [10, 93], [2, 93]]}\n"
    "water:\n"
    "  - {name: flood, upstream: 103, downstream: 101}\n";

/* Soils of one tint are told apart by marks: those of a soil lie in it. */
static void test_marks_tell_soils_of_one_tint_apart(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, many, US_PICTURE_SECTION, 0);
    const usi_scene *scene = &made.sheet.scene;
    size_t found[6] = {0};
    for (size_t i = 0; i < scene->shape_count; i++) {
        const usi_shape *shape = &scene->shapes[i];
        bool mark = shape->space == USI_SPACE_SECTION && shape->count == 2 &&
                    same_ink(shape->look.line, (usi_ink){0.60, 0.57, 0.51, 1});
        if (mark) {
            int soil = usi_sheet_soil(&made.sheet, scene->points[shape->first]);
            assert_int_equal(soil, usi_sheet_soil(&made.sheet, scene->points[shape->first + 1]));
            assert_true(soil >= 0);
            found[soil]++;
        }
    }
    assert_true(found[4] > 100 && found[5] > 10);
    assert_int_equal(found[0] + found[1] + found[2] + found[3], 0);
    picture_discard(&made);
}

/* The key shows what each of its soils looks like. */
static void test_key_shows_soils(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, many, US_PICTURE_UPLIFT, 0);
    const usi_scene *scene = &made.sheet.scene;
    size_t soils = 0;
    for (size_t i = 0; i < made.sheet.entry_count; i++) {
        soils += made.sheet.entries[i].thing == USI_THING_SOIL ? 1 : 0;
    }
    size_t swatches = 0;
    for (size_t i = 0; i < scene->shape_count; i++) {
        const usi_shape *shape = &scene->shapes[i];
        swatches += shape->space == USI_SPACE_PAGE && shape->count == 4 &&
                            soil_of(&made, shape->look.fill) >= 0
                        ? 1
                        : 0;
    }
    assert_true(soils > 0);
    assert_int_equal(swatches, soils);
    picture_discard(&made);
}

/* A bed that turns by 17 degrees at its lowest point: the table reads it clear of that,
 * where the gradient is unbounded, and so does the curve. */
static const char hollow[] =
    "bed: {upstream: 101.5, downstream: [[0, 100], [10, 97]]}\n"
    "base: 88\n"
    "structure: {underside: [[-12, 99.5], [0, 99.5]]}\n"
    "walls: [{name: toe, x: 0, top: 99.7, tip: 99}]\n"
    "soils: [{name: sand, kh: 2e-05}, {name: gravel, top: [[-20, 95], [20, 92]], kh: 2e-03}]\n"
    "water: [{name: flood, upstream: 104, downstream: 100.5}]\n";

static void test_the_curve_passes_over_hollows_as_the_table_does(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, hollow, US_PICTURE_EXIT, 0);
    usi_course course;
    assert_int_equal(usi_course_exit(&made.sheet, &made.sheet.window, &course), US_OK);
    const us_exit_result *exit = &made.sheet.result->exit;
    assert_true(exit->bounded);
    double most = 0;
    bool left = false;
    for (size_t i = 0; i < course.count; i++) {
        most = fmax(most, course.points[i].value);
        left = left || fabs(course.points[i].x_m - 10) < 0.9;
    }
    assert_false(left);
    assert_near(most, exit->gradient.value, 0.003, exit->gradient.error);
    usi_course_clear(&course);
    picture_discard(&made);
}

static bool near_unbounded(const usi_course *course, double x_m)
{
    bool near = false;
    for (size_t e = 0; e < course->exit_count; e++) {
        near = near || fabs(x_m - course->exits[e].at.x_m) < course->exits[e].mean_depth_m;
    }
    return near;
}

/* No point of the curve is above the exit gradient that the table gives, and one comes up
 * to it. Strips end at a side where theory has no limit. */
static void test_the_curve_along_slopes_has_its_top_at_the_exit(void **state)
{
    (void)state;
    static const char *const names[] = {"chute", "ridge", "strip_0_30", "strip_45_20",
                                        "round_base"};
    for (size_t n = 0; n < sizeof names / sizeof names[0]; n++) {
        picture made;
        usi_course course = course_of(&made, names[n], US_PICTURE_EXIT);
        const us_exit_result *exit = &made.sheet.result->exit;
        double most = 0;
        for (size_t i = 0; i < course.count; i++) {
            if (!near_unbounded(&course, course.points[i].x_m)) {
                most = fmax(most, course.points[i].value);
            }
        }
        if (!(fabs(most - exit->gradient.value) < exit->gradient.error + 0.003 * most)) {
            fail_msg("%s: %g, the table has %g", names[n], most, exit->gradient.value);
        }
        usi_course_clear(&course);
        picture_discard(&made);
    }
}

static void test_the_pressures_along_slopes_add_up_to_the_uplift(void **state)
{
    (void)state;
    static const char *const names[] = {"glacis", "glacis_anisotropic", "key",
                                        "ring",   "strip_45_20",        "trench_apron"};
    for (size_t n = 0; n < sizeof names / sizeof names[0]; n++) {
        picture made;
        usi_course course = course_of(&made, names[n], US_PICTURE_UPLIFT);
        double force_n_m = 0;
        double moment_n = 0;
        for (size_t i = 1; i < course.count; i++) {
            const usi_edge_point *a = &course.points[i - 1];
            double strip_n_m =
                0.5 * (fmax(a->value, 0) + fmax(a[1].value, 0)) * (a[1].x_m - a->x_m);
            force_n_m += strip_n_m;
            moment_n += strip_n_m * 0.5 * (a->x_m + a[1].x_m);
        }
        const us_uplift_result *uplift = &made.sheet.result->uplift;
        assert_near(force_n_m, uplift->force_n_m.value, 0.001, uplift->force_n_m.error);
        assert_near(moment_n / force_n_m, uplift->x_m.value, 0.001, uplift->x_m.error);
        usi_course_clear(&course);
        picture_discard(&made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_soils_are_painted_where_they_lie),
        cmocka_unit_test(test_lines_run_between_soils_only),
        cmocka_unit_test(test_sloping_base_has_a_name),
        cmocka_unit_test(test_key_says_where_zones_lie),
        cmocka_unit_test(test_marks_tell_soils_of_one_tint_apart),
        cmocka_unit_test(test_key_shows_soils),
        cmocka_unit_test(test_the_curve_passes_over_hollows_as_the_table_does),
        cmocka_unit_test(test_the_curve_along_slopes_carries_the_flow),
        cmocka_unit_test(test_the_curve_along_slopes_has_its_top_at_the_exit),
        cmocka_unit_test(test_the_pressures_along_slopes_add_up_to_the_uplift),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
