/* Which soil is where, and names of soils that do not lie in level layers. */
#include <math.h>

#include "draw/sheet.h"

size_t usi_sheet_tint(const usi_sheet *sheet, size_t soil)
{
    const us_section *section = sheet->section;
    size_t tint = 0;
    for (size_t i = 0; i < section->soil_count; i++) {
        bool layer = section->soils[i].layer;
        bool before = layer == section->soils[soil].layer ? i < soil : layer;
        tint += before ? 1 : 0;
    }
    return tint;
}

int usi_sheet_soil(const usi_sheet *sheet, usi_point at)
{
    const us_section *section = sheet->section;
    if (!usi_section_spans(section, at.x_m, true) ||
        at.z_m >= usi_section_surface(section, at.x_m, true) ||
        (section->has_base && at.z_m <= usi_section_base(section, at.x_m, true))) {
        return -1;
    }
    return (int)usi_section_soil_at(section, at, true, true);
}

bool usi_line_slopes(const usi_line *line)
{
    for (size_t i = 1; i < line->count; i++) {
        if (line->points[i].x_m > line->points[i - 1].x_m &&
            line->points[i].z_m != line->points[i - 1].z_m) {
            return true;
        }
    }
    return false;
}

bool usi_sheet_uneven(const usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    bool uneven = section->zone_count > 0 || (section->has_base && usi_line_slopes(&section->base));
    uneven = uneven || usi_line_slopes(&section->left_bed) || usi_line_slopes(&section->right_bed);
    uneven = uneven || (section->has_structure && usi_line_slopes(&section->underside));
    for (size_t i = 1; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        uneven = uneven || (soil->layer && soil->top.count > 1);
    }
    return uneven;
}

/* Page x between which a soil may lie. */
static usi_box soil_reach(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    usi_box reach = usi_sheet_area(sheet);
    reach.left = fmax(reach.left, usi_view_page(view, usi_sheet_soil_left(sheet), 0).x_m + 4);
    reach.right = fmin(reach.right, usi_view_page(view, usi_sheet_soil_right(sheet), 0).x_m - 4);
    if (section->soils[index].layer) {
        return reach;
    }
    double low_m = HUGE_VAL;
    double high_m = -HUGE_VAL;
    for (size_t i = 0; i < section->zone_count; i++) {
        if (section->zones[i].soil == index) {
            low_m = fmin(low_m, section->zones[i].low.x_m);
            high_m = fmax(high_m, section->zones[i].high.x_m);
        }
    }
    reach.left = fmax(reach.left, usi_view_page(view, low_m, 0).x_m);
    reach.right = fmin(reach.right, usi_view_page(view, high_m, 0).x_m);
    return reach;
}

/* Whether a box of the page lies in one soil, seen at points of it. */
static bool holds(const usi_sheet *sheet, size_t index, usi_box box)
{
    enum { ACROSS = 8, DOWN = 2 };
    const usi_scene_view *view = &sheet->scene.view;
    for (int k = 0; k < (ACROSS + 1) * (DOWN + 1); k++) {
        int column = k / (DOWN + 1);
        double x = box.left + (box.right - box.left) * column / ACROSS;
        double y = box.top + (box.bottom - box.top) * (k % (DOWN + 1)) / DOWN;
        usi_point at = {view->low.x_m + (x - view->plot.left) * usi_view_unit_x(view),
                        view->low.z_m + (view->plot.bottom - y) * usi_view_unit_z(view)};
        if (usi_sheet_soil(sheet, at) != (int)index) {
            return false;
        }
    }
    return true;
}

/* The longest stretch of heights at which a box around `x` lies in the soil; from
 * `top` to `bottom` are the heights of its middle. */
static bool find_stretch(const usi_sheet *sheet, size_t index, usi_box around, usi_box *found)
{
    static const double step = 2;
    usi_box area = usi_sheet_area(sheet);
    int rows = (int)((area.bottom - area.top) / step);
    int longest = -1;
    int start = 0;
    bool inside = false;
    for (int row = 0; row <= rows + 1; row++) {
        double y = area.top + step * row;
        usi_box box = {around.left, y + around.top, around.right, y + around.bottom};
        bool here = row <= rows && holds(sheet, index, box);
        if (here && !inside) {
            start = row;
        } else if (!here && inside && row - 1 - start > longest) {
            longest = row - 1 - start;
            *found = (usi_box){around.left, area.top + step * start, around.right,
                               area.top + step * (row - 1)};
        }
        inside = here;
    }
    return longest >= 0;
}

/* The middle of the stretch first, then by turns above and below. */
static void add_stretch(usi_spots *spots, double x, usi_box stretch, double cost)
{
    enum { HEIGHTS = 13 };
    double height = stretch.bottom - stretch.top;
    int count = height < 4 ? 1 : HEIGHTS;
    for (int k = 0; k < count; k++) {
        double away = (k + k % 2) / (HEIGHTS - 1.0);
        double share = 0.5 + (k % 2 == 0 ? 0.5 : -0.5) * away;
        usi_spots_add(spots, x, stretch.top + share * height, cost + 0.5 * k);
    }
}

void usi_soil_spots_inside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    enum { TRIES = 40 };
    usi_box reach = soil_reach(sheet, index);
    double room_x = half.x_m + 4;
    double room_y = half.z_m + 2;
    double step = (reach.right - reach.left - 2 * room_x) / (TRIES - 1);
    bool layer = sheet->section->soils[index].layer;
    for (int i = 0; i < TRIES && step >= 0; i++) {
        /* A layer from both edges inwards, where the net is widest; a zone from its
         * middle out. */
        double share = (i + i % 2) / (double)TRIES;
        bool at_left = (i % 2 == 0) != sheet->section->flows_left;
        double off = 0.5 * (reach.right - reach.left - 2 * room_x) * (layer ? 1 - share : share);
        double x = 0.5 * (reach.left + reach.right) + (at_left ? -off : off);
        usi_box around = {x - room_x, -room_y, x + room_x, room_y};
        usi_box stretch = {0};
        if (find_stretch(sheet, index, around, &stretch)) {
            add_stretch(spots, x, stretch, (layer ? 1.5 : 0.7) * i);
        }
    }
}

/* A dot on a wall would point at the wall. */
static bool on_wall(const usi_sheet *sheet, double page_x)
{
    static const double least = 7; /* from a wall to the middle of a dot */
    for (size_t i = 0; i < sheet->section->wall_count; i++) {
        double x = usi_view_page(&sheet->scene.view, sheet->section->walls[i].x_m, 0).x_m;
        if (fabs(x - page_x) < least) {
            return true;
        }
    }
    return false;
}

void usi_soil_spots_beside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    enum { TRIES = 31, ANCHORS_MOST = 6 };
    usi_box reach = soil_reach(sheet, index);
    int anchors = 0;
    for (int i = 0; i < TRIES && anchors < ANCHORS_MOST; i++) {
        double off = 0.5 * (reach.right - reach.left) * (i + i % 2) / TRIES;
        double x = 0.5 * (reach.left + reach.right) + (i % 2 == 0 ? off : -off);
        usi_box around = {x - 2, -1, x + 2, 1};
        usi_box stretch = {0};
        if (!on_wall(sheet, x) && find_stretch(sheet, index, around, &stretch)) {
            usi_point from = {x, 0.5 * (stretch.top + stretch.bottom)};
            usi_spots_ring(spots, from, half, 6);
            anchors++;
        }
    }
}
