/* Levels of the water, names of soils and base. */
#include <math.h>

#include "draw/sheet.h"

enum { SOIL_TRIES = 30, SOIL_HEIGHTS = 9 };

static usi_type label_type(void)
{
    return usi_type_plain(13, USI_ANCHOR_MIDDLE);
}

static usi_phrase say_pool(const usi_sheet *sheet, double level_m, bool at_bed)
{
    if (at_bed && usi_line_slopes(usi_section_downstream_bed(sheet->section))) {
        return usi_phrase_print("no water");
    }
    return usi_phrase_print("%s %s%s", at_bed ? "no water, bed" : "water",
                            usi_phrase_measure(sheet->section, level_m, sheet->decimals).text,
                            level_m > sheet->window.high.z_m ? ", above the picture" : "");
}

/* The outermost stretch in the picture that a pool covers, all of it where it covers none. */
static usi_stretch find_pool(const usi_sheet *sheet, double level_m, bool right, usi_stretch part)
{
    usi_stretch wet[USI_WET_MOST];
    const usi_line *bed = right ? &sheet->section->right_bed : &sheet->section->left_bed;
    size_t count = usi_sheet_wet(bed, level_m, part, wet);
    return count == 0 ? part : wet[right ? count - 1 : 0];
}

/* Writes a water level on its line: above it, or below where there is no room. */
static void name_pool(usi_sheet *sheet, double level_m, bool right, bool at_bed)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double outer_m = right ? fmin(view->high.x_m, usi_sheet_soil_right(sheet))
                           : fmax(view->low.x_m, usi_sheet_soil_left(sheet));
    double end_m = right ? section->right_end_m : section->left_end_m;
    if (right ? end_m >= outer_m : end_m <= outer_m) {
        return; /* not in the picture */
    }
    end_m = fmax(view->low.x_m, fmin(view->high.x_m, end_m));
    if (!at_bed) {
        usi_stretch pool = find_pool(sheet, level_m, right,
                                     (usi_stretch){fmin(end_m, outer_m), fmax(end_m, outer_m)});
        outer_m = right ? pool.to_m : pool.from_m;
        end_m = right ? pool.from_m : pool.to_m;
    }
    usi_phrase words = say_pool(sheet, level_m, at_bed);
    usi_wish wish = {.thing = USI_THING_WATER,
                     .index = right == section->flows_left ? 0 : 1,
                     .words = words.text,
                     .type = label_type(),
                     .area = usi_sheet_area(sheet)};
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_point outer = usi_view_page(view, outer_m, fmin(level_m, view->high.z_m));
    double inner_x = usi_view_page(view, end_m, level_m).x_m;
    usi_spots spots = {0};
    static const double rises[] = {-5, 6, -19, 20};
    for (size_t i = 0; i < sizeof rises / sizeof rises[0]; i++) {
        double rise = rises[i] + (rises[i] < 0 ? -half.z_m : half.z_m);
        usi_spots_along(&spots, half, (usi_point){outer.x_m, outer.z_m + rise}, inner_x,
                        8.0 * (double)i);
    }
    for (int i = 1; i < 6; i++) {
        usi_point from = {outer.x_m + (inner_x - outer.x_m) * i / 6, outer.z_m};
        usi_spots_ring(&spots, from, half, 20);
    }
    if (!usi_sheet_label(sheet, &wish, &spots)) {
        usi_sheet_list(sheet, USI_THING_WATER, wish.index);
    }
}

void usi_sheet_name_water(usi_sheet *sheet)
{
    const usi_water *water = sheet->water;
    bool left = sheet->section->flows_left;
    name_pool(sheet, water->upstream_m, left, false);
    name_pool(sheet, water->downstream_m, !left, water->at_bed);
}

/* The plot between the sides of the soil. */
static usi_box soil_area(const usi_sheet *sheet)
{
    const usi_scene_view *view = &sheet->scene.view;
    usi_box area = usi_sheet_area(sheet);
    area.left = fmax(area.left, usi_view_page(view, usi_sheet_soil_left(sheet), 0).x_m + 4);
    area.right = fmin(area.right, usi_view_page(view, usi_sheet_soil_right(sheet), 0).x_m - 4);
    return area;
}

bool usi_sheet_layer(const usi_sheet *sheet, size_t index, double *top_m, double *low_m)
{
    const us_section *section = sheet->section;
    double base_m = -HUGE_VAL;
    if (section->has_base) {
        base_m = usi_line_lowest(&section->base, sheet->window.low.x_m, sheet->window.high.x_m);
    }
    *top_m = HUGE_VAL;
    if (index > 0) {
        *top_m = usi_soil_top(&section->soils[index]);
    }
    *low_m = base_m;
    for (size_t k = index + 1; k < section->soil_count; k++) {
        if (section->soils[k].layer) {
            *low_m = fmax(base_m, usi_soil_top(&section->soils[k]));
            break;
        }
    }
    return *top_m > sheet->window.low.z_m && *top_m > *low_m;
}

/* Page heights between which layer `index` is soil all along a stretch. */
static usi_box layer_room(const usi_sheet *sheet, size_t index, double left, double right)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    usi_box room = {left, view->plot.top, right, view->plot.bottom};
    double layer_top_m = 0;
    double layer_low_m = 0;
    (void)usi_sheet_layer(sheet, index, &layer_top_m, &layer_low_m);
    enum { SAMPLES = 9 };
    for (int i = 0; i < SAMPLES; i++) {
        double page_x = left + (right - left) * i / (SAMPLES - 1);
        double x_m = view->low.x_m + (page_x - view->plot.left) * usi_view_unit_x(view);
        double top_m = fmin(usi_section_surface(section, x_m, i == 0), layer_top_m);
        double low_m = fmax(usi_sheet_floor(sheet, x_m), layer_low_m);
        room.top = fmax(room.top, usi_view_page(view, x_m, top_m).z_m);
        room.bottom = fmin(room.bottom, usi_view_page(view, x_m, low_m).z_m);
    }
    return room;
}

/* Heights for a text within a layer: its middle first, then by turns above and
 * below. None where the layer is too thin. */
static void add_within(usi_spots *spots, usi_box room, usi_point half, double cost)
{
    double x = 0.5 * (room.left + room.right);
    double spare = room.bottom - room.top - 2 * half.z_m;
    if (spare < 3) {
        return;
    }
    double inset = fmin(14, fmax(1.5, 0.25 * spare));
    for (int k = 0; k < SOIL_HEIGHTS; k++) {
        double away = (k + k % 2) / (SOIL_HEIGHTS - 1.0);
        double share = 0.5 + (k % 2 == 0 ? 0.5 : -0.5) * away;
        double y = room.top + inset + share * (spare - 2 * inset) + half.z_m;
        usi_spots_add(spots, x, y, cost + 0.5 * k);
    }
}

/* A leader under a wall would look like more of the wall. */
static bool wall_near(const usi_sheet *sheet, double page_x)
{
    for (size_t i = 0; i < sheet->section->wall_count; i++) {
        double x = usi_view_page(&sheet->scene.view, sheet->section->walls[i].x_m, 0).x_m;
        if (fabs(x - page_x) < 15) {
            return true;
        }
    }
    return false;
}

/* Spots beside a layer that is too thin to hold its name: a leader ends in it. */
static void add_beside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    usi_box area = soil_area(sheet);
    enum { ANCHORS = 5 };
    for (int i = 1; i <= ANCHORS; i++) {
        double x = area.left + (area.right - area.left) * i / (ANCHORS + 1);
        usi_box room = layer_room(sheet, index, x - 2, x + 2);
        if (room.bottom - room.top > 2 && !wall_near(sheet, x)) {
            usi_point from = {x, 0.5 * (room.top + room.bottom)};
            usi_spots_ring(spots, from, half, 6);
        }
    }
}

static const usi_label *find_label(const usi_scene *scene, usi_thing thing, size_t index)
{
    for (size_t i = 0; i < scene->label_count; i++) {
        if (scene->labels[i].thing == thing && scene->labels[i].index == index) {
            return &scene->labels[i];
        }
    }
    return NULL;
}

/* Layers too thin for their names; of uneven ground, soils without one. */
static size_t count_thin(const usi_sheet *sheet)
{
    size_t thin = 0;
    for (size_t i = 0; i < sheet->section->soil_count; i++) {
        if (usi_sheet_uneven(sheet)) {
            thin += find_label(&sheet->scene, USI_THING_SOIL, i) == NULL ? 1 : 0;
            continue;
        }
        double top_m = 0;
        double low_m = 0;
        if (sheet->section->soils[i].layer && usi_sheet_layer(sheet, i, &top_m, &low_m)) {
            thin += top_m - low_m < 20 * usi_view_unit_z(&sheet->scene.view) ? 1 : 0;
        }
    }
    return thin;
}

/* From both edges inwards: the net is widest there. */
static void add_inside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    usi_box area = soil_area(sheet);
    double room_x = half.x_m + 10;
    double step = 0.5 * (area.right - area.left - 2 * room_x) / SOIL_TRIES;
    for (int i = 0; i < SOIL_TRIES && step >= 0; i++) {
        double inward = step * (i - i % 2);
        bool at_left = (i % 2 == 0) != sheet->section->flows_left;
        double x = at_left ? area.left + room_x + inward : area.right - room_x - inward;
        add_within(spots, layer_room(sheet, index, x - room_x, x + room_x), half, 2.0 * i);
    }
}

static bool try_soil(usi_sheet *sheet, size_t index, size_t most, bool beside)
{
    usi_phrase words = usi_sheet_say_soil(sheet, index, most);
    const char *name = sheet->section->soils[index].name;
    usi_wish wish = {.thing = USI_THING_SOIL,
                     .index = index,
                     .words = words.text,
                     .cut = usi_phrase_is_cut(name, most),
                     .type = label_type(),
                     .area = usi_sheet_area(sheet),
                     .dot = true};
    wish.type.slanted = true;
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_spots spots = {0};
    if (usi_sheet_uneven(sheet)) {
        (beside ? usi_soil_spots_beside : usi_soil_spots_inside)(sheet, index, half, &spots);
    } else if (beside) {
        add_beside(sheet, index, half, &spots);
    } else {
        add_inside(sheet, index, half, &spots);
    }
    return usi_sheet_label(sheet, &wish, &spots);
}

/* Names the base under one of its level pieces. */
static bool name_base(usi_sheet *sheet, double from_m, double to_m, double level_m)
{
    const usi_scene_view *view = &sheet->scene.view;
    usi_phrase words = usi_sheet_say_base(sheet, level_m, level_m);
    usi_box area = soil_area(sheet);
    double left = fmax(area.left, usi_view_page(view, from_m, level_m).x_m);
    double right = fmin(area.right, usi_view_page(view, to_m, level_m).x_m);
    double top = usi_view_page(view, from_m, level_m).z_m;
    usi_wish wish = {.thing = USI_THING_BASE,
                     .words = words.text,
                     .type = label_type(),
                     .area = {left, top, right, area.bottom}};
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    double low = fmin(0.5 * (top + view->plot.bottom), top + 24);
    usi_spots spots = {0};
    if (left < right) {
        usi_spots_along(&spots, half, (usi_point){left + 4, low}, right, 0);
    }
    return usi_sheet_label(sheet, &wish, &spots);
}

/* Names a sloping base below it, where there is room. */
static bool name_sloping_base(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double from_m = fmax(view->low.x_m, usi_sheet_soil_left(sheet));
    double to_m = fmin(view->high.x_m, usi_sheet_soil_right(sheet));
    double low_m = usi_line_lowest(&section->base, from_m, to_m);
    double high_m = usi_line_highest(&section->base, from_m, to_m);
    usi_phrase words = usi_sheet_say_base(sheet, low_m, high_m);
    usi_wish wish = {.thing = USI_THING_BASE,
                     .words = words.text,
                     .type = label_type(),
                     .area = soil_area(sheet)};
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    enum { TRIES = 60 };
    double step = (wish.area.right - wish.area.left - 2 * half.x_m) / TRIES;
    usi_spots spots = {0};
    for (int i = 0; i <= TRIES && step >= 0; i++) {
        double x = wish.area.left + half.x_m + step * i;
        double left_m = view->low.x_m + (x - half.x_m - view->plot.left) * usi_view_unit_x(view);
        double right_m = left_m + 2 * half.x_m * usi_view_unit_x(view);
        double lowest_m = usi_line_lowest(&section->base, left_m, right_m);
        double y = usi_view_page(view, left_m, lowest_m).z_m + half.z_m + 5;
        usi_spots_add(&spots, x, y, 0.2 * i);
    }
    return usi_sheet_label(sheet, &wish, &spots);
}

static void name_bases(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    if (!section->has_base || sheet->window.base_below) {
        return;
    }
    bool slopes = usi_line_slopes(&section->base);
    bool named = slopes && name_sloping_base(sheet);
    double from_m = usi_sheet_soil_left(sheet);
    for (size_t i = 0; !slopes && i <= section->base.count; i++) {
        double to_m = usi_sheet_soil_right(sheet);
        if (i < section->base.count) {
            to_m = fmin(to_m, section->base.points[i].x_m);
        }
        if (section->base.count == 1) {
            to_m = usi_sheet_soil_right(sheet);
        }
        if (to_m > from_m) {
            double level_m = usi_section_base(section, 0.5 * (from_m + to_m), true);
            named = name_base(sheet, from_m, to_m, level_m) || named;
            from_m = to_m;
        }
    }
    if (!named) {
        usi_sheet_list(sheet, USI_THING_BASE, 0);
    }
}

/* Names shortened for the picture; the key has them in full. */
enum { NAME_LONG = 40, NAME_SHORT = 22 };

/* Whether a soil is part of the section, and may be seen in the picture. */
static bool is_used(const usi_sheet *sheet, size_t index, bool *seen)
{
    const us_section *section = sheet->section;
    double top_m = 0;
    double low_m = 0;
    *seen = usi_sheet_uneven(sheet) || usi_sheet_layer(sheet, index, &top_m, &low_m);
    bool used = section->soils[index].layer;
    for (size_t i = 0; i < section->zone_count; i++) {
        used = used || section->zones[i].soil == index;
    }
    return used;
}

void usi_sheet_name_ground(usi_sheet *sheet)
{
    name_bases(sheet);
    for (size_t i = 0; i < sheet->section->soil_count; i++) {
        bool seen = false;
        if (is_used(sheet, i, &seen) && seen && !try_soil(sheet, i, NAME_LONG, false)) {
            (void)try_soil(sheet, i, NAME_SHORT, false);
        }
    }
}

void usi_sheet_name_seams(usi_sheet *sheet)
{
    enum { LED_MOST = 4 };
    bool few = count_thin(sheet) <= LED_MOST;
    for (size_t i = 0; i < sheet->section->soil_count; i++) {
        bool seen = false;
        if (!is_used(sheet, i, &seen)) {
            continue;
        }
        const usi_label *label = find_label(&sheet->scene, USI_THING_SOIL, i);
        if (!seen && usi_sheet_is_diagram(sheet)) {
            continue;
        }
        if (label == NULL && few && seen && try_soil(sheet, i, NAME_SHORT, true)) {
            label = find_label(&sheet->scene, USI_THING_SOIL, i);
        }
        if (label == NULL || label->cut) {
            usi_sheet_list(sheet, USI_THING_SOIL, i);
        }
    }
}
