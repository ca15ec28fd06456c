/* Level scale, distance scale and heading. */
#include <math.h>
#include <string.h>

#include "draw/sheet.h"

double usi_scale_step(double range, double most)
{
    double unit = pow(10, floor(log10(range / most)));
    if (unit * most >= range * (1 - 1e-9)) {
        return unit;
    }
    if (2 * unit * most >= range) {
        return 2 * unit;
    }
    return 5 * unit * most >= range ? 5 * unit : 10 * unit;
}

int usi_scale_decimals(double step)
{
    double power = floor(log10(step) + 1e-9);
    return power < 0 ? (int)-power : 0;
}

static void level_scale(usi_sheet *sheet)
{
    const usi_scene_view *view = &sheet->scene.view;
    double unit_m = sheet->section->units.length->factor;
    double low = view->low.z_m / unit_m;
    double high = view->high.z_m / unit_m;
    double step = usi_scale_step(high - low, floor((view->plot.bottom - view->plot.top) / 34));
    int decimals = usi_scale_decimals(step);
    for (double k = ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) {
        usi_point at = usi_view_page(view, view->low.x_m, k * step * unit_m);
        usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){at.x_m - 6, at.z_m}, at,
                       usi_look_line(usi_ink_dark, 1));
        usi_scene_text(&sheet->scene, usi_phrase_fixed(k * step, decimals).text,
                       usi_type_plain(12, USI_ANCHOR_RIGHT), at.x_m - 10, at.z_m);
    }
}

static void distance_scale(usi_sheet *sheet)
{
    const usi_scene_view *view = &sheet->scene.view;
    double unit_m = sheet->section->units.length->factor;
    double low = view->low.x_m / unit_m;
    double high = view->high.x_m / unit_m;
    double step = usi_scale_step(high - low, floor((view->plot.right - view->plot.left) / 80));
    int decimals = usi_scale_decimals(step);
    for (double k = ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) {
        usi_point at = {usi_view_page(view, k * step * unit_m, 0).x_m, sheet->foot};
        usi_sheet_line(sheet, USI_SPACE_PAGE, at, (usi_point){at.x_m, at.z_m + 6},
                       usi_look_line(usi_ink_dark, 1));
        usi_scene_text(&sheet->scene, usi_phrase_fixed(k * step, decimals).text,
                       usi_type_plain(12, USI_ANCHOR_MIDDLE), at.x_m, at.z_m + 17);
    }
}

void usi_sheet_scales(usi_sheet *sheet)
{
    usi_box plot = sheet->scene.view.plot;
    const char *unit = sheet->section->units.length->name;
    usi_point frame[4] = {{plot.left, plot.top},
                          {plot.right, plot.top},
                          {plot.right, plot.bottom},
                          {plot.left, plot.bottom}};
    usi_look look = usi_look_line(usi_ink_dark, 1);
    look.closed = true;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, frame, 4, look);
    level_scale(sheet);
    distance_scale(sheet);
    usi_phrase words = usi_phrase_print("level, %s", unit);
    usi_scene_text(&sheet->scene, words.text, usi_type_plain(12, USI_ANCHOR_LEFT), 14,
                   plot.top - 18);
    words = usi_phrase_print("distance, %s", unit);
    usi_scene_text(&sheet->scene, words.text, usi_type_plain(12, USI_ANCHOR_MIDDLE),
                   0.5 * (plot.left + plot.right), sheet->foot + 36);
}

/* The arrow shows which way the water goes. */
static void flow_arrow(usi_sheet *sheet, double right, double y)
{
    bool left = sheet->section->flows_left;
    double tail = left ? right : right - 64;
    double tip = left ? right - 64 : right;
    double back = left ? 11 : -11;
    usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){tail, y}, (usi_point){tip + back, y},
                   usi_look_line(usi_ink_dark, 2));
    usi_point head[3] = {{tip, y}, {tip + back, y - 4.5}, {tip + back, y + 4.5}};
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, head, 3, usi_look_area(usi_ink_dark));
    usi_scene_text(&sheet->scene, "flow", usi_type_plain(12, USI_ANCHOR_RIGHT), right - 72, y);
}

double usi_sheet_heading(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    const usi_water *water = sheet->water;
    usi_type title = usi_type_plain(18, USI_ANCHOR_LEFT);
    title.bold = true;
    title.limit = USI_PAGE_WIDTH - 40;
    double y = usi_sheet_write(
        sheet, section->title[0] != '\0' ? section->title : "Seepage section", title, 14, 26);
    usi_phrase words =
        usi_phrase_print("Water case %s: upstream %s, downstream %s%s", water->name,
                         usi_phrase_measure(section, water->upstream_m, sheet->decimals).text,
                         usi_phrase_measure(section, water->downstream_m, sheet->decimals).text,
                         water->at_bed ? " (at the bed)" : "");
    usi_type line = usi_type_plain(13, USI_ANCHOR_LEFT);
    line.limit = USI_PAGE_WIDTH - 200;
    flow_arrow(sheet, USI_PAGE_WIDTH - 26, y - 1);
    return usi_sheet_write(sheet, words.text, line, 14, y - 1);
}
