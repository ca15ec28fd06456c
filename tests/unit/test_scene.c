/* Scenes: what labels promise, on sections that crowd them. */
#include "support/support.h"

#include "draw/compose.h"
#include "draw/netting.h"

static const char bare_wall[] = "title: Bare wall\n"
                                "bed: {upstream: 100, downstream: 100}\n"
                                "base: 91\n"
                                "walls: [{name: wall, x: 0, top: 101, tip: 96}]\n"
                                "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                                "water: [{name: flood, upstream: 103, downstream: 101}]\n";

static const char stepped[] =
    "title: Stepped bed with an apron\n"
    "bed: {upstream: 101.6, downstream: 100.0}\n"
    "base: 91.0\n"
    "width: 24\n"
    "structure:\n"
    "  underside: [[0, 100.9], [3, 100.9], [3, 99.2], [15, 99.2]]\n"
    "  top: [[0, 101.6], [3, 101.6], [3, 100.0], [15, 100.0]]\n"
    "walls:\n"
    "  - {name: crest, x: 0.0, top: 101.2, tip: 97.0}\n"
    "  - {name: toe, x: 15.0, top: 99.5, tip: 97.3}\n"
    "soils:\n"
    "  - {name: silty_sand, kh: 2.0e-5, kv: 1.0e-5, unit_weight: 19.5}\n"
    "  - {name: fine_sand, top: 96.0, kh: 6.0e-5, unit_weight: 20.0}\n"
    "piezometers: [{name: P1, at: [6.0, 98.0]}, {name: P2, at: [6.2, 98.1]}]\n"
    "water:\n"
    "  - {name: design_flood, upstream: 103.4, downstream: 102.0}\n"
    "  - {name: low_flow, upstream: 101.7, downstream: at_bed}\n";

static const char leftward[] =
    "flow_toward: left\n"
    "units: us\n"
    "bed: {upstream: 325, downstream: 320}\n"
    "base: none\n"
    "structure: {underside: [[0, 317], [8, 317], [8, 322], [45, 322]]}\n"
    "walls:\n"
    "  - {name: a wall with a name that is far longer than its place allows, x: 0, top: 318, "
    "tip: 308}\n"
    "  - {name: upstream wall, x: 45, top: 323, tip: 305}\n"
    "soils: [{name: sand, kh: 12, kv: 3, unit_weight: 122}]\n"
    "water: [{name: bankfull, upstream: 331, downstream: 326}]\n";

static const char many_layers[] =
    "title: <b>&amp; a title with signs that a markup language would read</b>\n"
    "bed: {upstream: 100, downstream: 100}\n"
    "base: 91\n"
    "structure: {underside: [[0, 99.5], [24, 99.5]]}\n"
    "walls:\n"
    "  - {name: wall_a, x: 0, top: 99.5, tip: 97}\n"
    "  - {name: wall_b, x: 1, top: 99.5, tip: 96}\n"
    "  - {name: wall_c, x: 2, top: 99.5, tip: 97}\n"
    "  - {name: wall_d, x: 3, top: 99.5, tip: 96}\n"
    "  - {name: wall_e, x: 24, top: 99.5, tip: 97}\n"
    "soils:\n"
    "  - {name: top_sand, kh: 2e-5, kv: 1e-5, unit_weight: 20}\n"
    "  - {name: silt, top: 98.8, kh: 1e-6, kv: 1e-6}\n"
    "  - {name: seam_1, top: 98.6, kh: 1e-7, kv: 1e-7}\n"
    "  - {name: seam_2, top: 98.5, kh: 1e-6, kv: 1e-6}\n"
    "  - {name: seam_3, top: 98.4, kh: 1e-7, kv: 1e-7}\n"
    "  - {name: gravel, top: 98.3, kh: 1e-4, kv: 1e-4}\n"
    "water: [{name: flood, upstream: 103, downstream: 101}]\n";

static const char level_water[] = "bed: {upstream: 100, downstream: 100}\n"
                                  "base: 91\n"
                                  "walls: [{name: wall, x: 0, top: 101, tip: 96}]\n"
                                  "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                                  "water: [{name: still, upstream: 103, downstream: 103}]\n";

/* A composed sheet with everything it stands on. */
typedef struct picture {
    us_context *context;
    us_section *section;
    us_solution *solution;
    usi_sheet sheet;
} picture;

static void compose(picture *made, const char *text, bool net, size_t water)
{
    memset(made, 0, sizeof *made);
    made->context = us_context_create();
    made->section = support_read(made->context, text);
    made->solution = support_solve(made->context, made->section, 0.02);
    made->sheet = (usi_sheet){.context = made->context,
                              .section = made->section,
                              .water = &made->section->waters[water],
                              .result = us_solution_water(made->solution, water),
                              .net = net};
    assert_int_equal(usi_scene_start(made->context, &made->sheet.scene), US_OK);
    us_status status = usi_sheet_compose(&made->sheet);
    if (status != US_OK) {
        support_print_diagnostics(made->context);
    }
    assert_int_equal(status, US_OK);
}

static void discard(picture *made)
{
    usi_scene_clear(&made->sheet.scene);
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
}

static void assert_boxes_sound(const usi_scene *scene)
{
    usi_box page = {0, 0, USI_PAGE_WIDTH, scene->view.page_height};
    for (size_t i = 0; i < scene->text_count; i++) {
        const usi_text *text = &scene->texts[i];
        if (!usi_box_holds(page, text->box)) {
            fail_msg("clipped: %s", text->words);
        }
        for (size_t k = 0; k < i; k++) {
            if (usi_box_meets(text->box, scene->texts[k].box)) {
                fail_msg("'%s' overlaps '%s'", text->words, scene->texts[k].words);
            }
        }
    }
    assert_true(scene->text_count > 12);
}

static bool says(const usi_scene *scene, const char *part)
{
    for (size_t i = 0; i < scene->text_count; i++) {
        if (strstr(scene->texts[i].words, part) != NULL) {
            return true;
        }
    }
    return false;
}

static void test_no_text_overlaps_or_is_clipped(void **state)
{
    (void)state;
    const char *const texts[] = {bare_wall, stepped, leftward, many_layers, level_water};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        for (int net = 0; net < 2; net++) {
            picture made;
            compose(&made, texts[i], net != 0, 0);
            assert_boxes_sound(&made.sheet.scene);
            discard(&made);
        }
    }
}

static void test_dry_bed_is_said(void **state)
{
    (void)state;
    picture made;
    compose(&made, stepped, true, 1);
    assert_boxes_sound(&made.sheet.scene);
    assert_true(says(&made.sheet.scene, "no water, bed"));
    discard(&made);
}

static void test_what_a_net_says(void **state)
{
    (void)state;
    picture made;
    compose(&made, stepped, true, 0);
    const usi_scene *scene = &made.sheet.scene;
    assert_true(says(scene, "water 103.40"));
    assert_true(says(scene, "water 102.00"));
    assert_true(says(scene, "crest, tip 97.00"));
    assert_true(says(scene, "silty_sand, kh 2.0"));
    assert_true(says(scene, "fine_sand, k 6.0"));
    assert_true(says(scene, "impervious base 91.00"));
    assert_true(says(scene, " drops, "));
    assert_true(says(scene, "exit gradient 0."));
    assert_true(says(scene, "licensed engineer"));
    assert_true(says(scene, "Drawn to true scale"));
    discard(&made);
}

static void test_unbounded_depth_counts_no_channels(void **state)
{
    (void)state;
    picture made;
    compose(&made, leftward, true, 0);
    assert_true(says(&made.sheet.scene, "no total flow"));
    assert_false(says(&made.sheet.scene, "Flow per unit width"));
    discard(&made);
}

static void test_still_water_has_no_lines(void **state)
{
    (void)state;
    picture made;
    compose(&made, level_water, true, 0);
    assert_true(says(&made.sheet.scene, "There is no flow"));
    assert_false(says(&made.sheet.scene, "exit gradient"));
    for (size_t i = 0; i < made.sheet.scene.shape_count; i++) {
        assert_false(made.sheet.scene.shapes[i].look.curved);
    }
    discard(&made);
}

static void test_texts_are_taken_literally(void **state)
{
    (void)state;
    picture made;
    compose(&made, many_layers, false, 0);
    assert_string_equal(made.sheet.scene.texts[0].words, made.section->title);
    assert_true(says(&made.sheet.scene, "<b>&amp;"));
    discard(&made);
}

/* Lines of one kind in the soil: equal heads are dashed, flow lines are not. */
static size_t count_lines(const usi_scene *scene, bool dashed)
{
    size_t count = 0;
    for (size_t i = 0; i < scene->shape_count; i++) {
        const usi_shape *shape = &scene->shapes[i];
        if (shape->space == USI_SPACE_SECTION && shape->look.curved) {
            count += (shape->look.dash > 0) == dashed ? 1 : 0;
        }
    }
    return count;
}

static void test_lines_match_the_counts(void **state)
{
    (void)state;
    picture made;
    compose(&made, bare_wall, true, 0);
    int drops = 0;
    int channels = 0;
    for (size_t i = 0; i < made.sheet.scene.text_count; i++) {
        const char *words = made.sheet.scene.texts[i].words;
        if (strstr(words, " channels; head") != NULL) {
            assert_int_equal(sscanf(words, "%d drops, %d channels", &drops, &channels), 2);
        }
    }
    assert_true(drops > 5 && channels > 2);
    assert_int_equal(count_lines(&made.sheet.scene, true), drops - 1);
    /* The outermost flow line may leave the window and return: two pieces. */
    size_t lines = count_lines(&made.sheet.scene, false);
    assert_true(lines == (size_t)channels - 1 || lines == (size_t)channels);
    discard(&made);
}

static void test_meshes_are_near_squares(void **state)
{
    (void)state;
    for (double shape = 0.03; shape < 3; shape *= 1.17) {
        double cost = 0;
        usi_mesh mesh = usi_mesh_choose(shape, &cost);
        assert_near(mesh.channels / (mesh.drops * shape), 1, 0.06, 0);
        assert_true(mesh.drops >= 2 && mesh.drops <= 48);
        assert_true(mesh.channels >= 1 && mesh.channels <= 12);
    }
}

static void test_labels_keep_apart(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    usi_scene scene;
    assert_int_equal(usi_scene_start(context, &scene), US_OK);
    usi_box area = {0, 0, 400, 100};
    scene.view.plot = area;
    scene.view.page_height = 100;
    usi_point places[400];
    for (size_t i = 0; i < 400; i++) {
        places[i] = (usi_point){20.0 * (double)(i % 20), 5.0 * (double)(i / 20)};
    }
    usi_scene_guard(&scene, (usi_box){100, 0, 200, 100});
    size_t placed = 0;
    usi_type type = usi_type_plain(12, USI_ANCHOR_MIDDLE);
    while (usi_scene_place(&scene, "a label", type, places, 400, area) != NULL) {
        placed++;
    }
    assert_true(placed > 8 && placed < 60);
    for (size_t i = 0; i < scene.text_count; i++) {
        assert_true(usi_box_holds(area, scene.texts[i].box));
        assert_false(usi_box_meets(scene.texts[i].box, scene.guards[0]));
        for (size_t k = 0; k < i; k++) {
            assert_false(usi_box_meets(scene.texts[i].box, scene.texts[k].box));
        }
    }
    usi_scene_clear(&scene);
    us_context_free(context);
}

static void test_labels_shun_lines(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    usi_scene scene;
    assert_int_equal(usi_scene_start(context, &scene), US_OK);
    scene.view =
        (usi_view){.low = {0, 0}, .high = {400, 100}, .plot = {0, 0, 400, 100}, .page_height = 100};
    usi_point line[2] = {{0, 80}, {400, 80}}; /* 20 below the page's top */
    usi_scene_shun(&scene, line, 2, USI_SHUN_NET);
    usi_point places[2] = {{200, 20}, {200, 70}};
    usi_type type = usi_type_plain(12, USI_ANCHOR_MIDDLE);
    const usi_text *text = usi_scene_place(&scene, "a label", type, places, 2, scene.view.plot);
    assert_non_null(text);
    assert_near(0.5 * (text->box.top + text->box.bottom), 70, 0, 1e-9);
    usi_scene_clear(&scene);
    us_context_free(context);
}

static void test_long_text_is_cut_to_its_limit(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    usi_scene scene;
    assert_int_equal(usi_scene_start(context, &scene), US_OK);
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    const char *words = "a text that would need far more room than it is given here";
    double whole = usi_scene_measure(&scene, words, type, 0, 0).right;
    type.limit = 100;
    double cut = usi_scene_measure(&scene, words, type, 0, 0).right;
    assert_true(whole > 300 && cut <= 100 && cut > 60);
    usi_scene_clear(&scene);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_text_overlaps_or_is_clipped),
        cmocka_unit_test(test_dry_bed_is_said),
        cmocka_unit_test(test_what_a_net_says),
        cmocka_unit_test(test_unbounded_depth_counts_no_channels),
        cmocka_unit_test(test_still_water_has_no_lines),
        cmocka_unit_test(test_texts_are_taken_literally),
        cmocka_unit_test(test_lines_match_the_counts),
        cmocka_unit_test(test_meshes_are_near_squares),
        cmocka_unit_test(test_labels_keep_apart),
        cmocka_unit_test(test_labels_shun_lines),
        cmocka_unit_test(test_long_text_is_cut_to_its_limit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
