/* What labels of a picture promise: nothing over anything, nothing outside. */
#ifndef TESTS_LABELS_H
#define TESTS_LABELS_H

#include "support/picture.h"

#include "draw/netting.h"

static const char *const files[] = {
    "01-sill",     "02-deep",   "03-shallow",      "04-wide",       "05-flume",
    "06-comb",     "07-varved", "08-instrumented", "09-long-names", "10-slot",
    "11-leftward", "12-dry",    "13-bare-wall",    "14-endless",    "15-steps",
    "16-ditch",    "17-sealed", "18-flush",        "19-high-water", "20-crowded"};
enum { FILES = sizeof files / sizeof files[0] };

/* Sections with slopes and zones. */
static const char *const grounds[] = {
    "blanket",      "chute",       "chute_flush", "dip_10",
    "dip_100",      "dip_tight",   "glacis",      "glacis_anisotropic",
    "key",          "lens_clay",   "lens_gravel", "ridge",
    "ring",         "round_base",  "scour",       "stepped_base",
    "strip_0_30",   "strip_10_45", "strip_20_10", "strip_45_20",
    "trench_apron", "trench_sheet"};
enum { GROUNDS = sizeof grounds / sizeof grounds[0] };

static inline char *read_data_file(const char *folder, const char *name)
{
    char path[400];
    (void)snprintf(path, sizeof path, "%s/%s/%s.yaml", UNDERSILL_TEST_DATA, folder, name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 1 << 16);
    assert_non_null(text);
    assert_true(fread(text, 1, (1 << 16) - 1, file) > 100);
    assert_int_equal(fclose(file), 0);
    return text;
}

static inline char *read_section_file(const char *name)
{
    return read_data_file("pictures", name);
}

/* A line of the page that no label may cover, and no leader cross where solid. */
typedef struct bar {
    usi_point a;
    usi_point b;
    usi_thing thing; /* of a solid bar */
    size_t index;
    bool solid;
} bar;

typedef struct bars {
    size_t count;
    bar list[700];
} bars;

/* Cuts the part of a line off that lies beyond a limit along one axis; false where that
 * is all of it. */
static inline bool cut_off(usi_point ends[2], bool upright, double low, double high)
{
    for (int i = 0; i < 2; i++) {
        double here = upright ? ends[i].z_m : ends[i].x_m;
        double there = upright ? ends[1 - i].z_m : ends[1 - i].x_m;
        double limit = here < low ? low : high;
        if ((here < low && there < low) || (here > high && there > high)) {
            return false;
        }
        if (here < low || here > high) {
            double share = (limit - here) / (there - here);
            ends[i].x_m += share * (ends[1 - i].x_m - ends[i].x_m);
            ends[i].z_m += share * (ends[1 - i].z_m - ends[i].z_m);
        }
    }
    return true;
}

/* What leaves the plot is cut off. False outside it. */
static inline bool add_bar(bars *to, const usi_scene_view *view, const usi_point ends_m[2])
{
    usi_box plot = view->plot;
    usi_point ends[2];
    for (int i = 0; i < 2; i++) {
        ends[i] = usi_view_page(view, ends_m[i].x_m, ends_m[i].z_m);
    }
    if (!cut_off(ends, false, plot.left, plot.right) ||
        !cut_off(ends, true, plot.top, plot.bottom)) {
        return false;
    }
    assert_true(to->count < 700);
    to->list[to->count++] = (bar){.a = ends[0], .b = ends[1]};
    return true;
}

static inline void add_line(bars *to, const picture *made, const usi_line *line, double from_m,
                            double to_m)
{
    const usi_scene_view *view = &made->sheet.scene.view;
    from_m = fmax(from_m, view->low.x_m);
    to_m = fmin(to_m, view->high.x_m);
    if (!(from_m < to_m)) {
        return;
    }
    usi_point last = {from_m, usi_line_level(line, from_m, true)};
    for (size_t i = 0; i < line->count; i++) {
        usi_point p = line->points[i];
        if (p.x_m > from_m && p.x_m < to_m) {
            add_bar(to, view, (usi_point[2]){last, p});
            last = p;
        }
    }
    usi_point end = {to_m, usi_line_level(line, to_m, false)};
    add_bar(to, view, (usi_point[2]){last, end});
}

static inline void add_pool(bars *to, const picture *made, bool right, double level_m)
{
    const usi_scene_view *view = &made->sheet.scene.view;
    const us_section *section = made->section;
    double outer_m = right ? fmin(view->high.x_m, usi_sheet_soil_right(&made->sheet))
                           : fmax(view->low.x_m, usi_sheet_soil_left(&made->sheet));
    double inner_m = right ? section->right_end_m : section->left_end_m;
    if (level_m < view->high.z_m) {
        add_bar(to, view, (usi_point[2]){{outer_m, level_m}, {inner_m, level_m}});
    }
}

/* Everything that labels must keep off, from the section itself and not from
 * what the scene was told. */
static inline void find_bars(bars *to, const picture *made)
{
    const us_section *section = made->section;
    const usi_scene_view *view = &made->sheet.scene.view;
    double left_m = usi_sheet_soil_left(&made->sheet);
    double right_m = usi_sheet_soil_right(&made->sheet);
    to->count = 0;
    add_line(to, made, &section->left_bed, left_m, section->left_end_m);
    add_line(to, made, &section->right_bed, section->right_end_m, right_m);
    if (section->has_structure) {
        add_line(to, made, &section->underside, section->left_end_m, section->right_end_m);
    }
    if (section->structure_top.count > 0) {
        add_line(to, made, &section->structure_top, section->left_end_m, section->right_end_m);
    }
    if (section->has_base && !made->sheet.window.base_below) {
        add_line(to, made, &section->base, left_m, right_m);
    }
    add_pool(to, made, section->flows_left, made->sheet.water->upstream_m);
    if (!made->sheet.water->at_bed) {
        add_pool(to, made, !section->flows_left, made->sheet.water->downstream_m);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        usi_point ends[2] = {{wall->x_m, wall->top_m}, {wall->x_m, wall->solved_tip_m}};
        if (!add_bar(to, view, ends)) {
            continue;
        }
        to->list[to->count - 1].solid = true;
        to->list[to->count - 1].thing = USI_THING_WALL;
        to->list[to->count - 1].index = i;
    }
    bool shown = !usi_sheet_is_diagram(&made->sheet);
    for (size_t i = 0; shown && i < section->piezometer_count; i++) {
        usi_point at;
        if (usi_sheet_mark(&made->sheet, i, &at)) {
            assert_true(to->count < 700);
            to->list[to->count++] = (bar){.a = {at.x_m - 3, at.z_m},
                                          .b = {at.x_m + 3, at.z_m},
                                          .thing = USI_THING_PIEZOMETER,
                                          .index = i,
                                          .solid = true};
        }
    }
}

static inline void assert_texts_apart(const picture *made)
{
    const usi_scene *scene = &made->sheet.scene;
    usi_box page = {0, 0, USI_PAGE_WIDTH, scene->view.page_height};
    for (size_t i = 0; i < scene->text_count; i++) {
        const usi_text *text = &scene->texts[i];
        if (!usi_box_holds(page, text->box)) {
            fail_msg("%s: outside the sheet: %s", made->section->title, text->words);
        }
        if (text->type.size * 0.9 < 10.5) {
            fail_msg("too small at 900 pixels: %s", text->words);
        }
        for (size_t k = 0; k < i; k++) {
            if (usi_box_meets(text->box, scene->texts[k].box)) {
                fail_msg("%s: '%s' over '%s'", made->section->title, text->words,
                         scene->texts[k].words);
            }
        }
    }
}

/* Whether a box lies beside the plot, where diagrams have their panel. */
static inline bool in_panel(const picture *made, usi_box box)
{
    usi_box plot = made->sheet.scene.view.plot;
    return usi_sheet_is_diagram(&made->sheet) && box.left > plot.left && box.right < plot.right &&
           (box.bottom < plot.top || (box.top > plot.bottom && box.bottom < made->sheet.foot));
}

static inline void assert_labels_off_bars(const picture *made, const bars *off)
{
    const usi_scene *scene = &made->sheet.scene;
    for (size_t i = 0; i < scene->label_count; i++) {
        const usi_text *text = &scene->texts[scene->labels[i].text];
        if (!usi_box_holds(scene->view.plot, text->box) && !in_panel(made, text->box)) {
            fail_msg("%s: leaves the plot: %s", made->section->title, text->words);
        }
        for (size_t k = 0; k < off->count; k++) {
            if (usi_segment_meets(off->list[k].a, off->list[k].b, text->box)) {
                fail_msg("%s: covers a line (%zu): %s", made->section->title, k, text->words);
            }
        }
    }
}

static inline size_t count_labels(const picture *made, usi_thing thing)
{
    size_t count = 0;
    for (size_t k = 0; k < made->sheet.scene.label_count; k++) {
        count += made->sheet.scene.labels[k].thing == thing;
    }
    return count;
}

/* Distance of a point from a segment. */
static inline double distance(usi_point p, usi_point a, usi_point b)
{
    double dx = b.x_m - a.x_m;
    double dy = b.z_m - a.z_m;
    double square = dx * dx + dy * dy;
    double share = square > 0 ? ((p.x_m - a.x_m) * dx + (p.z_m - a.z_m) * dy) / square : 0;
    share = fmax(0, fmin(1, share));
    return hypot(p.x_m - a.x_m - share * dx, p.z_m - a.z_m - share * dy);
}

static inline double turn(usi_point a, usi_point b, usi_point c)
{
    return (b.x_m - a.x_m) * (c.z_m - a.z_m) - (b.z_m - a.z_m) * (c.x_m - a.x_m);
}

static inline bool cross(usi_point a, usi_point b, usi_point c, usi_point d)
{
    return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

static inline void assert_leader_clear(const picture *made, const bars *off, const usi_label *label)
{
    const usi_scene *scene = &made->sheet.scene;
    const char *words = scene->texts[label->text].words;
    usi_point a = label->leader[0];
    usi_point b = label->leader[1];
    for (size_t k = 0; k < off->count; k++) {
        const bar *one = &off->list[k];
        bool own = one->thing == label->thing && one->index == label->index;
        if (one->solid && !own && cross(a, b, one->a, one->b)) {
            fail_msg("%s: leader crosses a wall or mark: %s", made->section->title, words);
        }
        if (one->solid && own && distance(a, one->a, one->b) > 9) {
            fail_msg("%s: leader misses its thing: %s", made->section->title, words);
        }
    }
    for (size_t k = 0; k < scene->text_count; k++) {
        if (k != label->text && usi_segment_meets(a, b, scene->texts[k].box)) {
            fail_msg("%s: leader of '%s' crosses '%s'", made->section->title, words,
                     scene->texts[k].words);
        }
    }
    for (size_t k = 0; k < scene->label_count; k++) {
        const usi_label *other = &scene->labels[k];
        if (other != label && other->led && cross(a, b, other->leader[0], other->leader[1])) {
            fail_msg("%s: leaders cross: %s", made->section->title, words);
        }
    }
    usi_box box = scene->texts[label->text].box;
    usi_box near = {box.left - 0.1, box.top - 0.1, box.right + 0.1, box.bottom + 0.1};
    assert_true(usi_box_holds(near, (usi_box){b.x_m, b.z_m, b.x_m, b.z_m}));
}

static inline void assert_leaders_sound(const picture *made, const bars *off)
{
    const usi_scene *scene = &made->sheet.scene;
    for (size_t i = 0; i < scene->label_count; i++) {
        if (scene->labels[i].led) {
            assert_leader_clear(made, off, &scene->labels[i]);
        }
    }
    if (made->sheet.what == US_PICTURE_NET && made->sheet.result->exit.present) {
        const us_exit_result *exit = &made->sheet.result->exit;
        usi_point ring = usi_view_page(&scene->view, exit->x_m, exit->level_m);
        for (size_t i = 0; i < scene->label_count; i++) {
            usi_box box = scene->texts[scene->labels[i].text].box;
            assert_false(ring.x_m > box.left - 4 && ring.x_m < box.right + 4 &&
                         ring.z_m > box.top - 4 && ring.z_m < box.bottom + 4);
        }
    }
}

/* A leader of a soil starts in that soil. */
static inline void assert_soils_hit(const picture *made)
{
    const usi_scene *scene = &made->sheet.scene;
    const usi_scene_view *view = &scene->view;
    for (size_t i = 0; i < scene->label_count; i++) {
        const usi_label *label = &scene->labels[i];
        if (label->thing == USI_THING_SOIL) {
            usi_box box = scene->texts[label->text].box;
            double y = label->led ? label->leader[0].z_m : 0.5 * (box.top + box.bottom);
            double x = label->led ? label->leader[0].x_m : 0.5 * (box.left + box.right);
            usi_point at = {view->low.x_m + (x - view->plot.left) * usi_view_unit_x(view),
                            view->low.z_m + (view->plot.bottom - y) * usi_view_unit_z(view)};
            assert_int_equal(usi_sheet_soil(&made->sheet, at), label->index);
        }
    }
}

/* Whatever the width in pixels, letters fill the boxes that were laid out. */
static inline void assert_boxes_hold_at_all_widths(const picture *made)
{
    static const int widths[] = {900, 1600, 6000};
    const usi_scene *scene = &made->sheet.scene;
    for (size_t k = 0; k < 3; k++) {
        double scale = (double)widths[k] / USI_PAGE_WIDTH;
        for (size_t i = 0; i < scene->text_count; i++) {
            const usi_text *text = &scene->texts[i];
            usi_font_request request = {text->words, text->type.size * scale, text->type.bold,
                                        text->type.slanted, text->type.limit * scale};
            double wide = 0;
            double high = 0;
            usi_font_measure(scene->font, &request, &wide, &high);
            assert_true(wide <= (text->box.right - text->box.left) * scale * 1.01 + 1);
            assert_true(high <= (text->box.bottom - text->box.top) * scale * 1.01 + 1);
        }
    }
}

#endif
