/* Diagrams of uplift and exit gradient: nothing lies over anything, and what they are
 * about is told. */
#include "support/labels.h"
#include "support/sections.h"

#include "draw/diagram.h"

static const char still[] = "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                            "structure: {underside: [[0, 9], [8, 9]]}\n"
                            "soils: [{name: sand, kh: 1e-5}]\n"
                            "water: [{name: level, upstream: 12, downstream: 12}]\n";

/* Lines of the panel that mean something: not its pale lines, nor leaders. */
static bool is_drawn_line(const usi_shape *shape)
{
    return shape->space == USI_SPACE_PAGE && shape->look.width >= 1 && shape->look.line.alpha > 0 &&
           shape->look.line.red < 0.8;
}

static void assert_labels_off_curves(const picture *made)
{
    const usi_scene *scene = &made->sheet.scene;
    for (size_t k = 0; k < scene->label_count; k++) {
        const usi_text *text = &scene->texts[scene->labels[k].text];
        for (size_t s = 0; in_panel(made, text->box) && s < scene->shape_count; s++) {
            const usi_shape *shape = &scene->shapes[s];
            for (size_t i = 1; is_drawn_line(shape) && i < shape->count; i++) {
                const usi_point *p = &scene->points[shape->first + i];
                if (usi_segment_meets(p[-1], p[0], text->box)) {
                    fail_msg("%s: '%s' lies on a line", made->section->title, text->words);
                }
            }
        }
    }
}

/* What is seen of walls is told; what lies outside is not. */
static void assert_walls_told(const picture *made)
{
    const usi_scene *scene = &made->sheet.scene;
    for (size_t i = 0; i < made->section->wall_count; i++) {
        const usi_wall *wall = &made->section->walls[i];
        bool seen = wall->x_m > scene->view.low.x_m && wall->x_m < scene->view.high.x_m &&
                    wall->top_m > scene->view.low.z_m && wall->solved_tip_m < scene->view.high.z_m;
        size_t told = 0;
        for (size_t k = 0; k < scene->label_count; k++) {
            const usi_label *label = &scene->labels[k];
            told += label->thing == USI_THING_WALL && label->index == i && !label->cut;
        }
        for (size_t k = 0; k < made->sheet.entry_count; k++) {
            const usi_entry *entry = &made->sheet.entries[k];
            told += entry->thing == USI_THING_WALL && entry->index == i;
        }
        assert_int_equal(told, seen);
    }
}

static void assert_subject_told(const picture *made)
{
    const us_water_result *result = made->sheet.result;
    if (made->sheet.what == US_PICTURE_EXIT) {
        bool flows = usi_exit_governing(&made->sheet) > 0;
        assert_int_equal(count_labels(made, flows ? USI_THING_EXIT : USI_THING_STILL), 1);
        assert_int_equal(count_labels(made, USI_THING_CRITICAL), result->exit.critical.present);
    } else {
        size_t forces = (size_t)(result->uplift.force_n_m.value > 0) +
                        (size_t)result->uplift.weight_n_m.present;
        assert_int_equal(count_labels(made, USI_THING_FORCE), forces);
        assert_int_equal(count_labels(made, USI_THING_SUCTION), result->uplift.suction);
    }
}

static void check_diagram(const char *text, us_picture what)
{
    static bars off;
    picture made;
    picture_compose(&made, text, what, 0);
    find_bars(&off, &made);
    assert_texts_apart(&made);
    assert_labels_off_bars(&made, &off);
    assert_leaders_sound(&made, &off);
    assert_labels_off_curves(&made);
    assert_boxes_hold_at_all_widths(&made);
    assert_walls_told(&made);
    assert_subject_told(&made);
    picture_discard(&made);
}

static bool has_structure(const char *text)
{
    return strstr(text, "\nstructure:") != NULL;
}

static void check_both(const char *text)
{
    check_diagram(text, US_PICTURE_EXIT);
    if (has_structure(text)) {
        check_diagram(text, US_PICTURE_UPLIFT);
    }
}

static void test_sections_of_the_contact_sheet(void **state)
{
    (void)state;
    for (size_t i = 0; i < FILES; i++) {
        char *text = read_section_file(files[i]);
        check_both(text);
        free(text);
    }
}

static void test_sections_with_slopes_and_zones(void **state)
{
    (void)state;
    for (size_t i = 0; i < GROUNDS; i++) {
        char *text = read_data_file("ground", grounds[i]);
        check_both(text);
        free(text);
    }
}

static void test_made_sections(void **state)
{
    (void)state;
    script *text = calloc(1, sizeof *text);
    assert_non_null(text);
    for (size_t i = 0; i < MAKES; i++) {
        write_section(text, &makes[i]);
        bool uplift = i % 2 == 0 && has_structure(text->text);
        check_diagram(text->text, uplift ? US_PICTURE_UPLIFT : US_PICTURE_EXIT);
    }
    free(text);
}

static void test_random_sections(void **state)
{
    enum { SECTIONS = 16 };
    (void)state;
    script *text = calloc(1, sizeof *text);
    assert_non_null(text);
    uint32_t seed = 20240701;
    for (int i = 0; i < SECTIONS; i++) {
        make one = make_random(&seed);
        write_section(text, &one);
        check_diagram(text->text, i % 2 == 0 && has_structure(text->text) ? US_PICTURE_UPLIFT
                                                                          : US_PICTURE_EXIT);
    }
    free(text);
}

static void test_level_water(void **state)
{
    (void)state;
    check_both(still);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sections_of_the_contact_sheet),
        cmocka_unit_test(test_sections_with_slopes_and_zones),
        cmocka_unit_test(test_made_sections),
        cmocka_unit_test(test_random_sections),
        cmocka_unit_test(test_level_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
