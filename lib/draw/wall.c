/* Walls: solid where they are tight, with a light core where their joints leak, broken or
 * marked where they are open. */
#include <math.h>

#include "draw/sheet.h"

enum { CORNERS = 16 };

static const double thick = 3.4;
/* Page units: an opening less high than this gets a mark in its place. */
static const double least_seen = 5;
static const double half_mark = 3.2;
static const usi_ink paper = {1, 1, 1, 1};

static double page_z(const usi_sheet *sheet, const usi_wall *wall, double level_m)
{
    return usi_view_page(&sheet->scene.view, wall->x_m, level_m).z_m;
}

static void draw_stretch(usi_sheet *sheet, const usi_wall *wall, double high_m, double low_m)
{
    if (!(high_m > low_m)) {
        return;
    }
    usi_point top = {wall->x_m, high_m};
    usi_point tip = {wall->x_m, low_m};
    usi_sheet_line(sheet, USI_SPACE_SECTION, top, tip, usi_look_line(usi_ink_dark, thick));
    if (wall->interlock.given) {
        usi_look core = usi_look_line(paper, 1.3);
        core.dash = 3;
        core.gap = 3;
        usi_sheet_line(sheet, USI_SPACE_SECTION, top, tip, core);
    }
}

static usi_look mark_look(void)
{
    usi_look look = usi_look_area(paper);
    look.line = usi_ink_dark;
    look.width = 1.2;
    return look;
}

/* Marks lie on the page: those of openings outside the picture stay away. */
static bool seen(const usi_sheet *sheet, usi_point at)
{
    usi_box box = {at.x_m - half_mark, at.z_m - half_mark, at.x_m + half_mark, at.z_m + half_mark};
    return usi_box_holds(sheet->scene.view.plot, box);
}

static void mark_slot(usi_sheet *sheet, const usi_wall *wall, double level_m)
{
    usi_point at = usi_view_page(&sheet->scene.view, wall->x_m, level_m);
    usi_point box[4] = {{at.x_m - half_mark, at.z_m - 2},
                        {at.x_m + half_mark, at.z_m - 2},
                        {at.x_m + half_mark, at.z_m + 2},
                        {at.x_m - half_mark, at.z_m + 2}};
    if (seen(sheet, at)) {
        usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, box, 4, mark_look());
    }
}

static void mark_holes(usi_sheet *sheet, const usi_wall *wall, double level_m)
{
    const double turn = 8.0 * atan(1.0);
    usi_point at = usi_view_page(&sheet->scene.view, wall->x_m, level_m);
    usi_point ring[CORNERS];
    for (int k = 0; k < CORNERS; k++) {
        double angle = turn * k / CORNERS;
        ring[k] = (usi_point){at.x_m + half_mark * cos(angle), at.z_m + half_mark * sin(angle)};
    }
    if (seen(sheet, at)) {
        usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, ring, CORNERS, mark_look());
    }
}

static void mark_openings(usi_sheet *sheet, const usi_wall *wall)
{
    for (size_t k = 0; k < wall->opening_count; k++) {
        const usi_opening *opening = &wall->openings[k];
        double level_m = 0.5 * (opening->low_m + opening->high_m);
        double height = page_z(sheet, wall, opening->low_m) - page_z(sheet, wall, opening->high_m);
        if (opening->holes) {
            mark_holes(sheet, wall, level_m);
        } else if (height < least_seen) {
            mark_slot(sheet, wall, level_m);
        }
    }
    double gap_m = wall->cap_gap.given ? wall->cap_level_m - wall->top_m : 0.0;
    double gap = page_z(sheet, wall, wall->top_m) - page_z(sheet, wall, wall->top_m + gap_m);
    if (wall->cap_gap.given && gap < least_seen) {
        mark_slot(sheet, wall, wall->top_m + 0.5 * gap_m);
    }
}

void usi_sheet_wall(usi_sheet *sheet, const usi_wall *wall)
{
    double tip_m = wall->keyed ? fmin(wall->tip_m, wall->solved_tip_m) : wall->solved_tip_m;
    double from_m = wall->top_m;
    for (size_t k = 0; k < wall->opening_count; k++) {
        if (!wall->openings[k].holes) {
            draw_stretch(sheet, wall, from_m, wall->openings[k].high_m);
            from_m = wall->openings[k].low_m;
        }
    }
    draw_stretch(sheet, wall, from_m, tip_m);
    mark_openings(sheet, wall);
    usi_point high = usi_view_page(&sheet->scene.view, wall->x_m, wall->top_m);
    usi_point low = usi_view_page(&sheet->scene.view, wall->x_m, tip_m);
    usi_box plot = sheet->scene.view.plot;
    usi_box box = {high.x_m - 3, fmax(high.z_m - 1, plot.top), high.x_m + 3,
                   fmin(low.z_m + 1, plot.bottom)};
    if (box.top < box.bottom && box.left < plot.right && box.right > plot.left) {
        usi_scene_guard(&sheet->scene, box, true);
    }
}
