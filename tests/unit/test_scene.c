/* Scenes: what labels promise, on sections that crowd them. */
#include "support/picture.h"

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

static void test_no_text_overlaps_or_is_clipped(void **state)
{
    (void)state;
    const char *const texts[] = {bare_wall, stepped, leftward, many_layers, level_water};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        for (int net = 0; net < 2; net++) {
            picture made;
            picture_compose(&made, texts[i], net != 0 ? US_PICTURE_NET : US_PICTURE_SECTION, 0);
            assert_boxes_sound(&made.sheet.scene);
            picture_discard(&made);
        }
    }
}

static void test_dry_bed_is_said(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, stepped, US_PICTURE_NET, 1);
    assert_boxes_sound(&made.sheet.scene);
    assert_true(picture_says(&made, "no water, bed"));
    picture_discard(&made);
}

static void test_what_a_net_says(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, stepped, US_PICTURE_NET, 0);
    assert_true(picture_says(&made, "water 103.40"));
    assert_true(picture_says(&made, "water 102.00"));
    assert_true(picture_says(&made, "crest, tip 97.00"));
    assert_true(picture_says(&made, "silty_sand, kh 2.0"));
    assert_true(picture_says(&made, "fine_sand, k 6.0"));
    assert_true(picture_says(&made, "impervious base 91.00"));
    assert_true(picture_says(&made, " drops, "));
    assert_true(picture_says(&made, "exit gradient 0."));
    assert_true(picture_says(&made, "licensed engineer"));
    assert_true(picture_says(&made, "Drawn to true scale"));
    picture_discard(&made);
}

static void test_unbounded_depth_counts_no_channels(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, leftward, US_PICTURE_NET, 0);
    assert_true(picture_says(&made, "no total flow"));
    assert_false(picture_says(&made, "Flow per unit width"));
    picture_discard(&made);
}

static void test_still_water_has_no_lines(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, level_water, US_PICTURE_NET, 0);
    assert_true(picture_says(&made, "There is no flow"));
    assert_false(picture_says(&made, "exit gradient"));
    for (size_t i = 0; i < made.sheet.scene.shape_count; i++) {
        assert_false(made.sheet.scene.shapes[i].look.curved);
    }
    picture_discard(&made);
}

static void test_texts_are_taken_literally(void **state)
{
    (void)state;
    picture made;
    picture_compose(&made, many_layers, US_PICTURE_SECTION, 0);
    assert_string_equal(made.sheet.scene.texts[0].words, made.section->title);
    assert_true(picture_says(&made, "<b>&amp;"));
    picture_discard(&made);
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
    picture_compose(&made, bare_wall, US_PICTURE_NET, 0);
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
    picture_discard(&made);
}

static void test_meshes_are_near_squares(void **state)
{
    (void)state;
    for (double shape = 0.03; shape < 3; shape *= 1.17) {
        double cost = 0;
        usi_mesh mesh = usi_mesh_choose(shape, &cost);
        assert_near(mesh.channels / (mesh.drops * shape), 1, 0.06, 0);
        assert_true(mesh.drops >= 2 && mesh.drops <= 72);
        assert_true(mesh.channels >= 2 && mesh.channels <= 12);
    }
}

/* A scene whose section is its page, for labels alone. */
static us_context *start_page(usi_scene *scene)
{
    us_context *context = us_context_create();
    assert_int_equal(usi_scene_start(context, scene), US_OK);
    scene->view = (usi_scene_view){
        .low = {0, 0}, .high = {400, 100}, .plot = {0, 0, 400, 100}, .page_height = 100};
    return context;
}

static usi_wish plain_wish(const usi_scene *scene)
{
    return (usi_wish){.thing = USI_THING_WALL,
                      .words = "a label",
                      .type = usi_type_plain(12, USI_ANCHOR_MIDDLE),
                      .area = scene->view.plot};
}

static void test_labels_keep_apart(void **state)
{
    (void)state;
    usi_scene scene;
    us_context *context = start_page(&scene);
    usi_spots spots = {0};
    for (size_t i = 0; i < 400; i++) {
        usi_spots_add(&spots, 20.0 * (double)(i % 20), 5.0 * (double)(i / 20), 0.5 * (double)i);
    }
    usi_scene_guard(&scene, (usi_box){100, 0, 200, 100}, false);
    size_t placed = 0;
    usi_wish wish = plain_wish(&scene);
    while (placed < 60 && usi_scene_place(&scene, &wish, &spots) != NULL) {
        placed++;
    }
    assert_true(placed > 8 && placed < 60);
    for (size_t i = 0; i < scene.text_count; i++) {
        assert_true(usi_box_holds(wish.area, scene.texts[i].box));
        assert_false(usi_box_meets(scene.texts[i].box, scene.guards[0].box));
        for (size_t k = 0; k < i; k++) {
            assert_false(usi_box_meets(scene.texts[i].box, scene.texts[k].box));
        }
    }
    usi_scene_clear(&scene);
    us_context_free(context);
}

/* Where the label goes that has the choice between a place on the line and one,
 * a little dearer, off it. */
static double place_by_line(usi_shun how, double dearer)
{
    usi_scene scene;
    us_context *context = start_page(&scene);
    usi_point line[2] = {{0, 80}, {400, 80}}; /* 20 below the page's top */
    usi_scene_shun(&scene, line, 2, how);
    usi_spots spots = {0};
    usi_spots_add(&spots, 200, 20, 0);
    usi_spots_add(&spots, 200, 70, dearer);
    usi_wish wish = plain_wish(&scene);
    const usi_label *label = usi_scene_place(&scene, &wish, &spots);
    assert_non_null(label);
    usi_box box = scene.texts[label->text].box;
    usi_scene_clear(&scene);
    us_context_free(context);
    return 0.5 * (box.top + box.bottom);
}

static void test_labels_shun_lines(void **state)
{
    (void)state;
    assert_near(place_by_line(USI_SHUN_LINE, 1), 70, 0, 1e-9);
    assert_near(place_by_line(USI_SHUN_LINE, 1000), 20, 0, 1e-9);
    assert_near(place_by_line(USI_SHUN_EDGE, 1000), 70, 0, 1e-9);
}

/* A wall stands between a thing and the only free place. */
static void test_leaders_do_not_cross_what_is_solid(void **state)
{
    (void)state;
    for (int solid = 0; solid < 2; solid++) {
        usi_scene scene;
        us_context *context = start_page(&scene);
        usi_scene_guard(&scene, (usi_box){200, 0, 206, 100}, solid != 0);
        usi_spots spots = {0};
        usi_spots_lead(&spots, (usi_point){300, 50}, (usi_point){100, 50}, 0);
        usi_wish wish = plain_wish(&scene);
        const usi_label *label = usi_scene_place(&scene, &wish, &spots);
        assert_int_equal(label == NULL, solid);
        if (label != NULL) {
            assert_true(label->led);
            assert_near(label->leader[0].x_m, 100, 0, 1e-9);
            assert_int_equal(scene.shape_count, 1);
        }
        usi_scene_clear(&scene);
        us_context_free(context);
    }
}

static void test_dear_places_are_not_taken(void **state)
{
    (void)state;
    usi_scene scene;
    us_context *context = start_page(&scene);
    usi_spots spots = {0};
    usi_spots_add(&spots, 200, 50, 30);
    usi_wish wish = plain_wish(&scene);
    wish.most = 30;
    assert_null(usi_scene_place(&scene, &wish, &spots));
    wish.most = 31;
    assert_non_null(usi_scene_place(&scene, &wish, &spots));
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
        cmocka_unit_test(test_leaders_do_not_cross_what_is_solid),
        cmocka_unit_test(test_dear_places_are_not_taken),
        cmocka_unit_test(test_long_text_is_cut_to_its_limit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
