/* Labels: nothing over anything, nothing outside, nothing lost, on sections that
 * leave little room. The sections of data/pictures/ are drawn as well as ones
 * made here. */
#include "support/labels.h"
#include "support/sections.h"

static void assert_told(const picture *made, usi_thing thing, size_t index, const char *name)
{
    const usi_sheet *sheet = &made->sheet;
    bool labelled = false;
    bool listed = false;
    for (size_t i = 0; i < sheet->scene.label_count; i++) {
        const usi_label *label = &sheet->scene.labels[i];
        labelled = labelled || (label->thing == thing && label->index == index && !label->cut);
    }
    for (size_t i = 0; i < sheet->entry_count; i++) {
        listed = listed || (sheet->entries[i].thing == thing && sheet->entries[i].index == index);
    }
    if (labelled == listed) {
        fail_msg("%s: %s: %s", made->section->title, name,
                 listed ? "named whole and in the key" : "lost");
    }
    /* The key may break a long name over lines; its beginning is on the first. */
    char start[60];
    (void)snprintf(start, sizeof start, "%s", name);
    start[strlen(start) > 40 ? 40 : strlen(start)] = '\0';
    if (!picture_says(made, start)) {
        fail_msg("%s: nowhere written: %s", made->section->title, name);
    }
}

static void assert_nothing_lost(const picture *made)
{
    const us_section *section = made->section;
    assert_int_equal(made->sheet.unlisted, 0);
    for (size_t i = 0; i < section->wall_count; i++) {
        assert_told(made, USI_THING_WALL, i, section->walls[i].name);
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        bool used = section->soils[i].layer;
        for (size_t k = 0; k < section->zone_count; k++) {
            used = used || section->zones[k].soil == i;
        }
        if (used) {
            assert_told(made, USI_THING_SOIL, i, section->soils[i].name);
        }
    }
    for (size_t i = 0; i < section->piezometer_count; i++) {
        assert_told(made, USI_THING_PIEZOMETER, i, section->piezometers[i].name);
    }
    if (section->left.kind != USI_SIDE_ENDLESS) {
        assert_told(made, USI_THING_SIDE, 0, "left side");
    }
    if (section->right.kind != USI_SIDE_ENDLESS) {
        assert_told(made, USI_THING_SIDE, 1, "right side");
    }
    /* A side at the end of the works leaves no bed for a pool there. */
    if (usi_sheet_soil_left(&made->sheet) < section->left_end_m) {
        assert_told(made, USI_THING_WATER, section->flows_left ? 1 : 0, "water");
    }
    if (usi_sheet_soil_right(&made->sheet) > section->right_end_m) {
        assert_told(made, USI_THING_WATER, section->flows_left ? 0 : 1, "water");
    }
}

static void check_picture(const char *text, bool net)
{
    static bars off;
    picture made;
    picture_compose(&made, text, net ? US_PICTURE_NET : US_PICTURE_SECTION, 0);
    find_bars(&off, &made);
    assert_texts_apart(&made);
    assert_labels_off_bars(&made, &off);
    assert_leaders_sound(&made, &off);
    assert_soils_hit(&made);
    assert_nothing_lost(&made);
    assert_boxes_hold_at_all_widths(&made);
    picture_discard(&made);
}

static void test_made_sections(void **state)
{
    (void)state;
    script *text = calloc(1, sizeof *text);
    assert_non_null(text);
    for (size_t i = 0; i < MAKES; i++) {
        write_section(text, &makes[i]);
        check_picture(text->text, true);
        check_picture(text->text, false);
    }
    free(text);
}

/* Sizes drawn from a fixed sequence: what no one thought of. */
static void test_random_sections(void **state)
{
    enum { SECTIONS = 16 };
    (void)state;
    script *text = calloc(1, sizeof *text);
    assert_non_null(text);
    uint32_t seed = 20240501;
    for (int i = 0; i < SECTIONS; i++) {
        make one = make_random(&seed);
        write_section(text, &one);
        check_picture(text->text, i % 2 == 0);
    }
    free(text);
}

static void test_sections_of_the_contact_sheet(void **state)
{
    (void)state;
    for (size_t i = 0; i < FILES; i++) {
        char *text = read_section_file(files[i]);
        check_picture(text, true);
        check_picture(text, false);
        free(text);
    }
}

static void test_slopes_and_zones(void **state)
{
    (void)state;
    for (size_t i = 0; i < GROUNDS; i++) {
        char *text = read_data_file("ground", grounds[i]);
        check_picture(text, i % 2 == 0);
        free(text);
    }
}

static void test_plain_section_needs_no_key(void **state)
{
    (void)state;
    char *text = read_section_file("01-sill");
    picture made;
    picture_compose(&made, text, US_PICTURE_NET, 0);
    assert_int_equal(made.sheet.entry_count, 0);
    picture_discard(&made);
    free(text);
}

static void test_same_section_same_places(void **state)
{
    (void)state;
    char *text = read_section_file("20-crowded");
    picture one;
    picture two;
    picture_compose(&one, text, US_PICTURE_NET, 0);
    picture_compose(&two, text, US_PICTURE_NET, 0);
    assert_int_equal(one.sheet.scene.text_count, two.sheet.scene.text_count);
    for (size_t i = 0; i < one.sheet.scene.text_count; i++) {
        assert_memory_equal(&one.sheet.scene.texts[i].box, &two.sheet.scene.texts[i].box,
                            sizeof(usi_box));
    }
    picture_discard(&one);
    picture_discard(&two);
    free(text);
}

static void test_what_the_key_says(void **state)
{
    (void)state;
    char *text = read_section_file("02-deep");
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    assert_true(picture_says(&made, "Piezometers"));
    assert_true(picture_says(&made, "deep_standpipe at 1.00"));
    assert_true(picture_says(&made, "outside the picture"));
    picture_discard(&made);
    free(text);
    text = read_section_file("07-varved");
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    assert_true(picture_says(&made, "varve_01, kh 4.0"));
    assert_true(picture_says(&made, "from the bed to 39.70"));
    assert_true(picture_says(&made, "from 31.30 to 30.50"));
    picture_discard(&made);
    free(text);
}

/* More than a key holds is counted, and the sheet stays drawable at any width. */
static void test_key_has_an_end(void **state)
{
    (void)state;
    size_t room = 1 << 20;
    char *text = calloc(1, room);
    size_t used = (size_t)snprintf(
        text, room,
        "bed: {upstream: 100, downstream: 100}\nbase: 91\n"
        "walls: [{name: wall, x: 0, top: 101, tip: 96}]\nsoils: [{name: sand, kh: 1e-5}]\n"
        "water: [{name: flood, upstream: 103, downstream: 101}]\npiezometers:\n");
    for (int i = 0; i < 3000; i++) {
        used += (size_t)snprintf(text + used, room - used, "  - {name: \"P %d\", at: [%g, %g]}\n",
                                 i, 0.01 + i * 0.003, 92.0 + i % 7);
    }
    picture made;
    picture_compose(&made, text, US_PICTURE_SECTION, 0);
    assert_texts_apart(&made);
    assert_true(made.sheet.unlisted > 2000);
    assert_true(picture_says(&made, "more that have no room here"));
    assert_true(6000 * 6 * made.sheet.scene.view.page_height < 150e6);
    picture_discard(&made);
    free(text);
}

static void test_segments_and_boxes(void **state)
{
    (void)state;
    usi_box box = {10, 10, 20, 20};
    assert_true(usi_segment_meets((usi_point){0, 15}, (usi_point){30, 15}, box));
    assert_true(usi_segment_meets((usi_point){12, 12}, (usi_point){13, 13}, box));
    assert_true(usi_segment_meets((usi_point){5, 12}, (usi_point){12, 5}, (usi_box){0, 0, 9, 9}));
    assert_false(usi_segment_meets((usi_point){0, 15}, (usi_point){9, 15}, box));
    assert_false(usi_segment_meets((usi_point){5, 12}, (usi_point){12, 5}, box));
    assert_false(usi_segment_meets((usi_point){25, 0}, (usi_point){25, 30}, box));
    assert_false(usi_segment_meets((usi_point){0, 20}, (usi_point){30, 20}, box));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_made_sections),
        cmocka_unit_test(test_random_sections),
        cmocka_unit_test(test_sections_of_the_contact_sheet),
        cmocka_unit_test(test_slopes_and_zones),
        cmocka_unit_test(test_plain_section_needs_no_key),
        cmocka_unit_test(test_same_section_same_places),
        cmocka_unit_test(test_what_the_key_says),
        cmocka_unit_test(test_key_has_an_end),
        cmocka_unit_test(test_segments_and_boxes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
