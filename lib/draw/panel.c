#include "draw/panel.h"

#include <math.h>

usi_point usi_panel_at(const usi_sheet *sheet, const usi_panel *panel, double x_m, double value)
{
    double share = (value - panel->top) / (panel->bottom - panel->top);
    return (usi_point){usi_view_page(&sheet->scene.view, x_m, 0).x_m,
                       panel->box.top + share * (panel->box.bottom - panel->box.top)};
}

/* Power of ten that the numbers of a scale are written in; 0 for none. */
static int power_for(double high)
{
    static const double least = 2e-3;
    static const double most = 1e5;
    return high > 0 && (high < least || high >= most) ? (int)floor(log10(high)) : 0;
}

/* A number of the scale, in units of `unit`. */
static void draw_tick(usi_sheet *sheet, const usi_panel *panel, double value, double unit,
                      int decimals)
{
    double x_m = sheet->scene.view.low.x_m;
    usi_point at = usi_panel_at(sheet, panel, x_m, value);
    usi_point right = {panel->box.right, at.z_m};
    bool inside = at.z_m > panel->box.top + 2 && at.z_m < panel->box.bottom - 2;
    if (inside) {
        usi_ink pale = {0.86, 0.86, 0.87, 1};
        usi_sheet_line(sheet, USI_SPACE_PAGE, at, right, usi_look_line(pale, 0.8));
    }
    usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){at.x_m - 6, at.z_m}, at,
                   usi_look_line(usi_ink_dark, 1));
    usi_scene_text(&sheet->scene, usi_phrase_fixed(value / unit, decimals).text,
                   usi_type_plain(12, USI_ANCHOR_RIGHT), at.x_m - 10, at.z_m);
}

void usi_panel_frame(usi_sheet *sheet, const usi_panel *panel, double low, double high)
{
    usi_box box = panel->box;
    double height =
        fabs(usi_panel_at(sheet, panel, 0, high).z_m - usi_panel_at(sheet, panel, 0, low).z_m);
    double step = usi_scale_step(high - low, fmax(1, floor(height / 30)));
    double unit = pow(10, power_for(high));
    int decimals = usi_scale_decimals(step / unit);
    for (double k = ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) {
        draw_tick(sheet, panel, k * step, unit, decimals);
    }
    usi_point frame[4] = {
        {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
    usi_look look = usi_look_line(usi_ink_dark, 1);
    look.closed = true;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, frame, 4, look);
}

usi_phrase usi_panel_title(const char *words, double high)
{
    int power = power_for(high);
    return usi_phrase_print("%s%s", words, power == 0 ? "" : usi_phrase_power(power).text);
}

void usi_panel_line(usi_sheet *sheet, const usi_point *points, size_t count, usi_look look)
{
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, points, count, look);
    usi_scene_shun_page(&sheet->scene, points, count, USI_SHUN_EDGE);
}

void usi_panel_arrow(usi_sheet *sheet, usi_point tail, usi_point tip, double width)
{
    double length = hypot(tip.x_m - tail.x_m, tip.z_m - tail.z_m);
    if (!(length > 0)) {
        return;
    }
    double dx = (tip.x_m - tail.x_m) / length;
    double dy = (tip.z_m - tail.z_m) / length;
    double head = fmin(3.4 * width + 2, 0.8 * length);
    double half = 0.42 * head;
    usi_point neck = {tip.x_m - head * dx, tip.z_m - head * dy};
    usi_point shaft[2] = {tail, neck};
    usi_point barb[3] = {tip,
                         {neck.x_m - half * dy, neck.z_m + half * dx},
                         {neck.x_m + half * dy, neck.z_m - half * dx}};
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, shaft, 2, usi_look_line(usi_ink_dark, width));
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, barb, 3, usi_look_area(usi_ink_dark));
    usi_box around = {fmin(tail.x_m, tip.x_m) - half - 2, fmin(tail.z_m, tip.z_m) - 1,
                      fmax(tail.x_m, tip.x_m) + half + 2, fmax(tail.z_m, tip.z_m) + 1};
    if (width > 1.5) {
        usi_scene_guard(&sheet->scene, around, true);
    }
}

usi_wish usi_panel_wish(const usi_panel *panel, usi_thing thing, size_t index, const char *words)
{
    usi_box box = panel->box;
    return (usi_wish){.thing = thing,
                      .index = index,
                      .words = words,
                      .type = usi_type_plain(13, USI_ANCHOR_MIDDLE),
                      .area = {box.left + 3, box.top + 2, box.right - 3, box.bottom - 2}};
}

bool usi_panel_label(usi_sheet *sheet, usi_wish *wish, const usi_spots *spots)
{
    wish->type.plate = (usi_ink){1, 1, 1, 0.72};
    return usi_scene_place(&sheet->scene, wish, spots) != NULL;
}
