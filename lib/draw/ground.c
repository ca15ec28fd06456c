/* Soils, base, closed sides and beds. */
#include <math.h>

#include "draw/outline.h"
#include "draw/sheet.h"

/* A level that lies well below the picture. */
static double far_below(const usi_sheet *sheet)
{
    return sheet->window.low.z_m - 0.1 * (sheet->window.high.z_m - sheet->window.low.z_m);
}

/* The soil surface from left to right: bed, underside, bed. */
static void follow_surface(usi_sheet *sheet, usi_outline *outline)
{
    const us_section *section = sheet->section;
    usi_scene *scene = &sheet->scene;
    usi_outline_follow(scene, outline, &section->left_bed, usi_sheet_soil_left(sheet),
                       section->left_end_m);
    if (section->has_structure) {
        usi_outline_follow(scene, outline, &section->underside,
                           fmax(section->left_end_m, usi_sheet_soil_left(sheet)),
                           fmin(section->right_end_m, usi_sheet_soil_right(sheet)));
    }
    usi_outline_follow(scene, outline, &section->right_bed, section->right_end_m,
                       usi_sheet_soil_right(sheet));
}

static void follow_base(usi_sheet *sheet, usi_outline *outline)
{
    double left_m = usi_sheet_soil_left(sheet);
    double right_m = usi_sheet_soil_right(sheet);
    if (sheet->section->has_base) {
        usi_outline_follow(&sheet->scene, outline, &sheet->section->base, left_m, right_m);
    } else {
        usi_outline_add(&sheet->scene, outline, left_m, far_below(sheet));
        usi_outline_add(&sheet->scene, outline, right_m, far_below(sheet));
    }
}

/* Paints a layer from its top down, or the first one from above all; what lies in it
 * or below paints over it. */
static void paint_layer(usi_sheet *sheet, size_t index)
{
    double left_m = usi_sheet_soil_left(sheet);
    double right_m = usi_sheet_soil_right(sheet);
    usi_outline body = {0};
    if (index == 0) {
        follow_surface(sheet, &body);
    } else {
        usi_outline_follow(&sheet->scene, &body, &sheet->section->soils[index].top, left_m,
                           right_m);
    }
    usi_outline_add(&sheet->scene, &body, right_m, far_below(sheet));
    usi_outline_add(&sheet->scene, &body, left_m, far_below(sheet));
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, body.points, body.count,
                    usi_look_area(usi_ink_soil(usi_sheet_tint(sheet, index))));
    usi_outline_clear(&body);
}

static void paint_zone(usi_sheet *sheet, const usi_zone *zone)
{
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, zone->outline, zone->count,
                    usi_look_area(usi_ink_soil(usi_sheet_tint(sheet, zone->soil))));
}

/* Zones and tops of layers may reach out of the soil: what does is painted over. */
static void paint_outside(usi_sheet *sheet)
{
    static const usi_ink paper = {1, 1, 1, 1};
    const usi_window *window = &sheet->window;
    double width_m = window->high.x_m - window->low.x_m;
    double high_m = window->high.z_m + 0.1 * (window->high.z_m - window->low.z_m);
    double left_m = usi_sheet_soil_left(sheet);
    double right_m = usi_sheet_soil_right(sheet);
    usi_outline air = {0};
    follow_surface(sheet, &air);
    usi_outline_add(&sheet->scene, &air, right_m, high_m);
    usi_outline_add(&sheet->scene, &air, left_m, high_m);
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, air.points, air.count, usi_look_area(paper));
    usi_outline_clear(&air);
    for (int i = 0; i < 2; i++) {
        double from_m = i == 0 ? window->low.x_m - width_m : right_m;
        double to_m = i == 0 ? left_m : window->high.x_m + width_m;
        usi_point beside[4] = {
            {from_m, far_below(sheet)}, {to_m, far_below(sheet)}, {to_m, high_m}, {from_m, high_m}};
        usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, beside, 4, usi_look_area(paper));
    }
}

static usi_point between(usi_point a, usi_point b, double share)
{
    return (usi_point){a.x_m + share * (b.x_m - a.x_m), a.z_m + share * (b.z_m - a.z_m)};
}

/* Whether two soils meet at a point of a line with the direction (x, z), on the page. */
static bool parts_soils(const usi_sheet *sheet, usi_point at, usi_point along)
{
    static const double aside = 0.02; /* page units */
    double share = aside / hypot(along.x_m, along.z_m);
    double x_m = -along.z_m * share * usi_view_unit_x(&sheet->scene.view);
    double z_m = along.x_m * share * usi_view_unit_z(&sheet->scene.view);
    int one = usi_sheet_soil(sheet, (usi_point){at.x_m + x_m, at.z_m + z_m});
    int other = usi_sheet_soil(sheet, (usi_point){at.x_m - x_m, at.z_m - z_m});
    return one >= 0 && other >= 0 && one != other;
}

/* A straight interface is stroked where there is soil on both sides, and not the same. */
static void draw_interface(usi_sheet *sheet, usi_point a, usi_point b)
{
    const usi_scene_view *view = &sheet->scene.view;
    usi_look look = usi_look_line(usi_ink_quiet, 0.9);
    usi_point along = {(b.x_m - a.x_m) / usi_view_unit_x(view),
                       (b.z_m - a.z_m) / usi_view_unit_z(view)};
    double length = hypot(along.x_m, along.z_m);
    if (!(length > 0)) {
        return;
    }
    int pieces = (int)fmax(8, fmin(2000, 2 * length));
    int from = 0;
    bool inside = false;
    for (int i = 0; i <= pieces; i++) {
        bool soil = i < pieces && parts_soils(sheet, between(a, b, (i + 0.5) / pieces), along);
        if (soil && !inside) {
            from = i;
        } else if (!soil && inside) {
            usi_point ends[2] = {between(a, b, (double)from / pieces),
                                 between(a, b, (double)i / pieces)};
            usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, ends, 2, look);
            usi_scene_shun(&sheet->scene, ends, 2, USI_SHUN_SEAM);
        }
        inside = soil;
    }
}

/* The part of a straight line within the picture, for fine pieces there. */
static void draw_within(usi_sheet *sheet, usi_point a, usi_point b)
{
    double left_m = usi_sheet_soil_left(sheet);
    double right_m = usi_sheet_soil_right(sheet);
    if (a.x_m > b.x_m) {
        usi_point kept = a;
        a = b;
        b = kept;
    }
    if (b.x_m < left_m || a.x_m > right_m) {
        return;
    }
    usi_point low = a;
    usi_point high = b;
    if (a.x_m < left_m) {
        low = between(a, b, (left_m - a.x_m) / (b.x_m - a.x_m));
    }
    if (b.x_m > right_m) {
        high = between(a, b, (right_m - a.x_m) / (b.x_m - a.x_m));
    }
    draw_interface(sheet, low, high);
}

static void draw_top(usi_sheet *sheet, const usi_line *top)
{
    usi_outline line = {0};
    usi_outline_follow(&sheet->scene, &line, top, usi_sheet_soil_left(sheet),
                       usi_sheet_soil_right(sheet));
    for (size_t i = 1; i < line.count; i++) {
        draw_interface(sheet, line.points[i - 1], line.points[i]);
    }
    usi_outline_clear(&line);
}

/* Short slanting strokes in staggered rows below the base line. */
static void hatch_base(usi_sheet *sheet)
{
    const usi_scene_view *view = &sheet->scene.view;
    usi_look look = usi_look_line((usi_ink){0.56, 0.55, 0.54, 1}, 0.8);
    double across_m = usi_view_unit_x(view);
    double up_m = usi_view_unit_z(view);
    int rows = (int)((view->plot.bottom - view->plot.top) / 9);
    int columns = (int)((view->plot.right - view->plot.left) / 14) + 1;
    for (int row = 0; row < rows; row++) {
        double low_m = view->low.z_m + (9 * row + 2) * up_m;
        for (int column = 0; column < columns; column++) {
            double left_m = view->low.x_m + (14 * column + (row % 2 ? 7 : 0)) * across_m;
            double right_m = left_m + 5 * across_m;
            double high_m = low_m + 5 * up_m;
            double base_m = fmin(usi_sheet_floor(sheet, left_m), usi_sheet_floor(sheet, right_m));
            if (high_m < base_m - 2 * up_m && left_m > usi_sheet_soil_left(sheet) &&
                right_m < usi_sheet_soil_right(sheet)) {
                usi_sheet_line(sheet, USI_SPACE_SECTION, (usi_point){left_m, low_m},
                               (usi_point){right_m, high_m}, look);
            }
        }
    }
}

static void draw_base(usi_sheet *sheet)
{
    if (!sheet->section->has_base) {
        return;
    }
    usi_outline band = {0};
    follow_base(sheet, &band);
    size_t line = band.count;
    usi_outline_add(&sheet->scene, &band, usi_sheet_soil_right(sheet), far_below(sheet));
    usi_outline_add(&sheet->scene, &band, usi_sheet_soil_left(sheet), far_below(sheet));
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, band.points, band.count,
                    usi_look_area(usi_sheet_base_ink(sheet)));
    if (!sheet->section->artesian.acts) {
        hatch_base(sheet);
    }
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, band.points, line,
                    usi_look_line(usi_ink_dark, 2));
    usi_scene_shun(&sheet->scene, band.points, line, USI_SHUN_EDGE);
    usi_outline_clear(&band);
}

/* A side: a band of rock where it is closed, of water where its head is fixed. */
static void draw_side(usi_sheet *sheet, const usi_side *side, bool right)
{
    if (side->kind == USI_SIDE_ENDLESS) {
        return;
    }
    double thick_m = 12 * usi_view_unit_x(&sheet->scene.view) * (right ? 1 : -1);
    double top_m = usi_section_surface(sheet->section, side->x_m, !right);
    double low_m = usi_sheet_floor(sheet, side->x_m);
    bool closed = side->kind == USI_SIDE_CLOSED;
    if (closed) {
        low_m = far_below(sheet);
    }
    usi_point band[4] = {{side->x_m, top_m},
                         {side->x_m + thick_m, top_m},
                         {side->x_m + thick_m, low_m},
                         {side->x_m, low_m}};
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, band, 4,
                    usi_look_area(closed ? usi_ink_rock : usi_ink_water));
    usi_sheet_line(sheet, USI_SPACE_SECTION, band[0], (usi_point){side->x_m, low_m},
                   usi_look_line(closed ? usi_ink_dark : usi_ink_shore, 2));
    for (int i = 0; i < 2; i++) {
        usi_point edge[2] = {{band[i].x_m, top_m}, {band[i].x_m, low_m}};
        usi_scene_shun(&sheet->scene, edge, 2, USI_SHUN_EDGE);
    }
}

static void draw_bed(usi_sheet *sheet, const usi_line *bed, double from_m, double to_m)
{
    usi_outline line = {0};
    usi_outline_follow(&sheet->scene, &line, bed, from_m, to_m);
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, line.points, line.count,
                    usi_look_line(usi_ink_dark, 1.6));
    usi_scene_shun(&sheet->scene, line.points, line.count, USI_SHUN_EDGE);
    usi_outline_clear(&line);
}

void usi_sheet_ground(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    for (size_t i = 0; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            paint_layer(sheet, i);
        }
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        paint_zone(sheet, &section->zones[i]);
    }
    paint_outside(sheet);
    usi_sheet_hatch(sheet);
    for (size_t i = 1; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            draw_top(sheet, &section->soils[i].top);
        }
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        const usi_zone *zone = &section->zones[i];
        for (size_t k = 0; k < zone->count; k++) {
            draw_within(sheet, zone->outline[k], zone->outline[(k + 1) % zone->count]);
        }
    }
    draw_base(sheet);
    draw_side(sheet, &section->left, false);
    draw_side(sheet, &section->right, true);
}

void usi_sheet_beds(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    draw_bed(sheet, &section->left_bed, usi_sheet_soil_left(sheet), section->left_end_m);
    draw_bed(sheet, &section->right_bed, section->right_end_m, usi_sheet_soil_right(sheet));
}
