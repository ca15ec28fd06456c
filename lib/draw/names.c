/* Names and levels beside what they belong to. */
#include <math.h>

#include "draw/sheet.h"

enum { TRIES = 24, SOIL_TRIES = 40, SOIL_HEIGHTS = 9 };

/* Tries a text at a height, from one end of a stretch of the page to the other. */
static bool put_along(usi_sheet *sheet, const char *words, usi_type type, usi_point from,
                      double to_x)
{
    usi_point places[TRIES];
    usi_box box = usi_scene_measure(&sheet->scene, words, type, 0, 0);
    double half = 0.5 * (box.right - box.left) + 6;
    double start = from.x_m < to_x ? from.x_m + half : from.x_m - half;
    double end = from.x_m < to_x ? to_x - half : to_x + half;
    if ((end - start) * (to_x - from.x_m) < 0) {
        return false;
    }
    for (int i = 0; i < TRIES; i++) {
        places[i] = (usi_point){start + (end - start) * i / (TRIES - 1), from.z_m};
    }
    return usi_sheet_label(sheet, words, type, places, TRIES, sheet->scene.view.plot) != NULL;
}

static usi_type label_type(void)
{
    usi_type type = usi_type_plain(12, USI_ANCHOR_MIDDLE);
    return type;
}

/* Writes a water level on its line: above it, or below where there is no room. */
static void name_pool(usi_sheet *sheet, double level_m, bool right, bool at_bed)
{
    const us_section *section = sheet->section;
    const usi_view *view = &sheet->scene.view;
    double outer_m = right ? fmin(view->high.x_m, usi_sheet_soil_right(sheet))
                           : fmax(view->low.x_m, usi_sheet_soil_left(sheet));
    usi_point outer = usi_view_page(view, outer_m, fmin(level_m, view->high.z_m));
    usi_point inner =
        usi_view_page(view, right ? section->right_end_m : section->left_end_m, level_m);
    usi_phrase words = usi_phrase_print("%s %s", at_bed ? "no water, bed" : "water",
                                        usi_phrase_measure(section, level_m, sheet->decimals).text);
    static const double heights[] = {-9, 10, -24, 24, -38};
    for (size_t i = 0; i < sizeof heights / sizeof heights[0]; i++) {
        outer.z_m = usi_view_page(view, 0, fmin(level_m, view->high.z_m)).z_m + heights[i];
        /* A pool narrower than its label lets it reach out over the structure. */
        double reach = inner.x_m + (right ? -160 : 160);
        if (put_along(sheet, words.text, label_type(), outer, inner.x_m) ||
            put_along(sheet, words.text, label_type(), outer, reach)) {
            return;
        }
    }
}

/* Keeps labels from crossing a water line. */
static void guard_level(usi_sheet *sheet, double level_m, bool right)
{
    const us_section *section = sheet->section;
    const usi_view *view = &sheet->scene.view;
    double y = usi_view_page(view, 0, level_m).z_m;
    double left_m = right ? section->right_end_m : view->low.x_m;
    double right_m = right ? view->high.x_m : section->left_end_m;
    usi_scene_guard(&sheet->scene, (usi_box){usi_view_page(view, left_m, 0).x_m, y - 1,
                                             usi_view_page(view, right_m, 0).x_m, y + 1});
}

void usi_sheet_name_water(usi_sheet *sheet)
{
    const usi_water *water = sheet->water;
    bool left = sheet->section->flows_left;
    guard_level(sheet, water->upstream_m, left);
    guard_level(sheet, water->downstream_m, !left);
    name_pool(sheet, water->upstream_m, left, false);
    name_pool(sheet, water->downstream_m, !left, water->at_bed);
}

/* Places beside a wall: near its tip first, then up its faces within the soil. */
static size_t places_beside(const usi_sheet *sheet, const usi_wall *wall, double half,
                            usi_point *places)
{
    const usi_view *view = &sheet->scene.view;
    usi_point tip = usi_view_page(view, wall->x_m, wall->solved_tip_m);
    double soil_m = fmin(usi_section_surface(sheet->section, wall->x_m, false),
                         usi_section_surface(sheet->section, wall->x_m, true));
    double top_y = usi_view_page(view, wall->x_m, fmin(wall->top_m, soil_m)).z_m + 12;
    double side = sheet->section->flows_left ? -1 : 1;
    static const double near[] = {4, -8, 12, -16, 20};
    size_t count = 0;
    for (size_t k = 0; k < sizeof near / sizeof near[0]; k++) {
        places[count++] = (usi_point){tip.x_m - side * half, tip.z_m + near[k]};
        places[count++] = (usi_point){tip.x_m + side * half, tip.z_m + near[k]};
    }
    for (int k = 1; k < 7; k++) {
        double y = tip.z_m + (top_y - tip.z_m) * k / 6;
        places[count++] = (usi_point){tip.x_m - side * half, y};
        places[count++] = (usi_point){tip.x_m + side * half, y};
    }
    places[count++] = (usi_point){tip.x_m, tip.z_m + 12};
    return count;
}

static bool name_wall(usi_sheet *sheet, const usi_wall *wall)
{
    usi_phrase tip = usi_phrase_measure(sheet->section, wall->tip_m, sheet->decimals);
    const usi_phrase tries[] = {
        usi_phrase_print("%s, tip %s", usi_phrase_name(wall->name, 24).text, tip.text),
        usi_phrase_name(wall->name, 24), usi_phrase_name(wall->name, 8)};
    usi_type type = label_type();
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++) {
        const char *text = tries[i].text;
        usi_box box = usi_scene_measure(&sheet->scene, text, type, 0, 0);
        usi_point places[TRIES];
        size_t count = places_beside(sheet, wall, 0.5 * (box.right - box.left) + 8, places);
        if (usi_sheet_label(sheet, text, type, places, count, sheet->scene.view.plot) != NULL) {
            return true;
        }
    }
    return false;
}

/* Where a piezometer lies on the page; false outside the picture. */
static bool find_piezometer(const usi_sheet *sheet, const usi_piezometer *one, usi_point *at)
{
    usi_box plot = sheet->scene.view.plot;
    *at = usi_view_page(&sheet->scene.view, one->at.x_m, one->at.z_m);
    return usi_box_holds(plot, (usi_box){at->x_m - 4, at->z_m - 4, at->x_m + 4, at->z_m + 4});
}

static void mark_piezometer(usi_sheet *sheet, const usi_piezometer *one)
{
    usi_point at;
    if (!find_piezometer(sheet, one, &at)) {
        return;
    }
    usi_point square[4] = {{at.x_m - 3, at.z_m - 3},
                           {at.x_m + 3, at.z_m - 3},
                           {at.x_m + 3, at.z_m + 3},
                           {at.x_m - 3, at.z_m + 3}};
    usi_look look = usi_look_area((usi_ink){1, 1, 1, 1});
    look.line = usi_ink_dark;
    look.width = 1.2;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, square, 4, look);
    usi_scene_guard(&sheet->scene, (usi_box){at.x_m - 4, at.z_m - 4, at.x_m + 4, at.z_m + 4});
}

static void name_piezometer(usi_sheet *sheet, const usi_piezometer *one)
{
    usi_point at;
    if (!find_piezometer(sheet, one, &at)) {
        return;
    }
    usi_phrase name = usi_phrase_name(one->name, 16);
    usi_type type = label_type();
    usi_box box = usi_scene_measure(&sheet->scene, name.text, type, 0, 0);
    double half = 0.5 * (box.right - box.left) + 9;
    usi_point places[4] = {{at.x_m + half, at.z_m},
                           {at.x_m - half, at.z_m},
                           {at.x_m, at.z_m + 13},
                           {at.x_m, at.z_m - 13}};
    (void)usi_sheet_label(sheet, name.text, type, places, 4, sheet->scene.view.plot);
}

void usi_sheet_name_works(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    for (size_t i = 0; i < section->piezometer_count; i++) {
        mark_piezometer(sheet, &section->piezometers[i]);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        sheet->unnamed_walls += name_wall(sheet, &section->walls[i]) ? 0 : 1;
    }
    for (size_t i = 0; i < section->piezometer_count; i++) {
        name_piezometer(sheet, &section->piezometers[i]);
    }
}

/* The plot between the sides of the soil. */
static usi_box soil_area(const usi_sheet *sheet)
{
    const usi_view *view = &sheet->scene.view;
    usi_box area = view->plot;
    area.left = fmax(area.left, usi_view_page(view, usi_sheet_soil_left(sheet), 0).x_m + 4);
    area.right = fmin(area.right, usi_view_page(view, usi_sheet_soil_right(sheet), 0).x_m - 4);
    return area;
}

/* Page heights between which layer `index` is soil all along a stretch. */
static usi_box layer_room(const usi_sheet *sheet, size_t index, double left, double right)
{
    const us_section *section = sheet->section;
    const usi_view *view = &sheet->scene.view;
    usi_box room = {left, view->plot.top, right, view->plot.bottom};
    enum { SAMPLES = 9 };
    for (int i = 0; i < SAMPLES; i++) {
        double page_x = left + (right - left) * i / (SAMPLES - 1);
        double x_m = view->low.x_m + (page_x - view->plot.left) * usi_view_unit_x(view);
        double top_m = usi_section_surface(section, x_m, i == 0);
        double low_m = usi_sheet_floor(sheet, x_m);
        if (index > 0) {
            top_m = fmin(top_m, section->soils[index].top_m);
        }
        for (size_t k = index + 1; k < section->soil_count; k++) {
            if (section->soils[k].layer) {
                low_m = fmax(low_m, section->soils[k].top_m);
                break;
            }
        }
        room.top = fmax(room.top, usi_view_page(view, x_m, top_m).z_m);
        room.bottom = fmin(room.bottom, usi_view_page(view, x_m, low_m).z_m);
    }
    return room;
}

/* Heights for a text within a layer: its middle first, then by turns above and
 * below. None where the layer is too thin. */
static size_t places_within(usi_box room, double x, double height, usi_point *places)
{
    double spare = room.bottom - room.top - height;
    if (spare < 3) {
        return 0;
    }
    double inset = fmin(14, fmax(1.5, 0.25 * spare));
    for (int k = 0; k < SOIL_HEIGHTS; k++) {
        double away = (k + k % 2) / (SOIL_HEIGHTS - 1.0);
        double share = 0.5 + (k % 2 == 0 ? 0.5 : -0.5) * away;
        double y = room.top + inset + share * (spare - 2 * inset) + 0.5 * height;
        places[k] = (usi_point){x, y};
    }
    return SOIL_HEIGHTS;
}

static bool name_soil(usi_sheet *sheet, size_t index)
{
    const usi_soil *soil = &sheet->section->soils[index];
    usi_box plot = soil_area(sheet);
    usi_phrase words = usi_phrase_print("%s, %s", usi_phrase_name(soil->name, 28).text,
                                        usi_phrase_conductivity(sheet->section, soil).text);
    usi_type type = label_type();
    type.slanted = true;
    usi_box box = usi_scene_measure(&sheet->scene, words.text, type, 0, 0);
    double half = 0.5 * (box.right - box.left) + 10;
    usi_point places[SOIL_TRIES * SOIL_HEIGHTS];
    size_t count = 0;
    double step = 0.5 * (plot.right - plot.left - 2 * half) / SOIL_TRIES;
    for (int i = 0; i < SOIL_TRIES; i++) {
        /* From both edges inwards: the net is widest there. */
        double inward = step * (i - i % 2);
        bool at_left = (i % 2 == 0) != sheet->section->flows_left;
        double x = at_left ? plot.left + half + inward : plot.right - half - inward;
        usi_box room = layer_room(sheet, index, x - half, x + half);
        count += places_within(room, x, box.bottom - box.top, places + count);
    }
    return usi_sheet_label(sheet, words.text, type, places, count, plot) != NULL;
}

static void name_base(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    const usi_view *view = &sheet->scene.view;
    if (!section->has_base || sheet->window.base_below) {
        return;
    }
    usi_phrase words = usi_phrase_print("impervious base");
    if (section->base.count == 1) {
        words = usi_phrase_print(
            "impervious base %s",
            usi_phrase_measure(section, section->base.points[0].z_m, sheet->decimals).text);
    }
    usi_type type = label_type();
    usi_box box = usi_scene_measure(&sheet->scene, words.text, type, 0, 0);
    double half = 0.5 * (box.right - box.left) + 12;
    usi_box plot = soil_area(sheet);
    for (int i = 0; i < TRIES; i++) {
        double x = plot.left + half + (plot.right - plot.left - 2 * half) * i / (TRIES - 1);
        double x_m = view->low.x_m + (x - view->plot.left) * usi_view_unit_x(view);
        double y = usi_view_page(view, x_m, usi_sheet_floor(sheet, x_m)).z_m;
        usi_point place = {x, 0.5 * (y + view->plot.bottom)};
        usi_box room = {view->plot.left, y, view->plot.right, view->plot.bottom};
        if (usi_sheet_label(sheet, words.text, type, &place, 1, room)) {
            return;
        }
    }
}

void usi_sheet_name_ground(usi_sheet *sheet)
{
    name_base(sheet);
    for (size_t i = 0; i < sheet->section->soil_count; i++) {
        if (sheet->section->soils[i].layer && !name_soil(sheet, i)) {
            if (sheet->unnamed_soils < USI_THIN_MOST) {
                sheet->thin[sheet->unnamed_soils] = i;
            }
            sheet->unnamed_soils++;
        }
    }
}
