/* Pictures of sections with slopes and zones: which soil is painted where, and where the
 * lines between soils run. */
#include "support/labels.h"

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
    const usi_view *view = &made.sheet.scene.view;
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

/* The diagrams follow level lines only. */
static void test_diagrams_are_refused(void **state)
{
    (void)state;
    char *text = read_data_file("ground", "glacis");
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.05);
    static const us_picture pictures[] = {US_PICTURE_UPLIFT, US_PICTURE_EXIT};
    for (size_t i = 0; i < 2; i++) {
        us_draw_options options = US_DRAW_OPTIONS_INIT;
        options.what = pictures[i];
        us_buffer *made = NULL;
        us_context_clear(context);
        assert_int_equal(us_section_draw(context, section, solution, &options, &made),
                         US_ERROR_INPUT);
        assert_null(made);
        assert_non_null(strstr(us_context_diagnostic(context, 0)->message, "not yet"));
    }
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_soils_are_painted_where_they_lie),
        cmocka_unit_test(test_lines_run_between_soils_only),
        cmocka_unit_test(test_sloping_base_has_a_name),
        cmocka_unit_test(test_key_says_where_zones_lie),
        cmocka_unit_test(test_diagrams_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
