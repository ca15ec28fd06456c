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

/* Paints the soil body from the top of a layer down; the layers below paint
 * over it. */
static void paint_layer(usi_sheet *sheet, size_t index, size_t tint)
{
    usi_outline body = {0};
    follow_surface(sheet, &body);
    size_t first = body.count;
    follow_base(sheet, &body);
    usi_outline_reverse(&body, first);
    if (tint > 0) {
        usi_outline_clip(&sheet->scene, &body, sheet->section->soils[index].top_m);
    }
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, body.points, body.count,
                    usi_look_area(usi_ink_soil(tint)));
    usi_outline_clear(&body);
}

/* The interface is the upper edge of a layer: it is stroked only where there is
 * soil on both sides, by following the surface and leaving out what is lower. */
static void draw_interface(usi_sheet *sheet, double top_m)
{
    usi_look look = usi_look_line(usi_ink_quiet, 0.9);
    double left_m = usi_sheet_soil_left(sheet);
    double right_m = usi_sheet_soil_right(sheet);
    enum { PIECES = 2000 };
    double from_m = left_m;
    bool inside = false;
    for (int i = 0; i <= PIECES; i++) {
        double x_m = left_m + (right_m - left_m) * (i + 0.5) / PIECES;
        bool soil = i < PIECES && top_m < usi_section_surface(sheet->section, x_m, true) &&
                    top_m > usi_sheet_floor(sheet, x_m);
        double edge_m = left_m + (right_m - left_m) * i / PIECES;
        if (soil && !inside) {
            from_m = edge_m;
        } else if (!soil && inside) {
            usi_point ends[2] = {{from_m, top_m}, {edge_m, top_m}};
            usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, ends, 2, look);
            usi_scene_shun(&sheet->scene, ends, 2, USI_SHUN_LINE);
        }
        inside = soil;
    }
}

/* Short slanting strokes in staggered rows below the base line. */
static void hatch_base(usi_sheet *sheet)
{
    const usi_view *view = &sheet->scene.view;
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
                    usi_look_area(usi_ink_rock));
    hatch_base(sheet);
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
    size_t tint = 0;
    for (size_t i = 0; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            paint_layer(sheet, i, tint++);
        }
    }
    tint = 0;
    for (size_t i = 0; i < section->soil_count; i++) {
        if (section->soils[i].layer && tint++ > 0) {
            draw_interface(sheet, section->soils[i].top_m);
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
