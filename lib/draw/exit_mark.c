/* The mark of the largest exit gradient. */
#include <math.h>

#include "draw/netting.h"

void usi_sheet_ring(usi_sheet *sheet, usi_point at)
{
    enum { CORNERS = 24 };
    usi_point ring[CORNERS];
    for (int i = 0; i < CORNERS; i++) {
        double turn = 2 * acos(-1) * i / CORNERS;
        ring[i] = (usi_point){at.x_m + 4.5 * cos(turn), at.z_m + 4.5 * sin(turn)};
    }
    usi_look look = usi_look_area((usi_ink){1, 1, 1, 1});
    look.line = usi_ink_dark;
    look.width = 1.6;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, ring, CORNERS, look);
}

static usi_phrase say_gradient(const usi_sheet *sheet)
{
    const us_exit_result *exit = &sheet->result->exit;
    if (exit->bounded) {
        return usi_phrase_print("exit gradient %s",
                                usi_phrase_number(exit->gradient.value, 2).text);
    }
    if (!exit->mean.present) {
        return usi_phrase_print("exit gradient unbounded here");
    }
    return usi_phrase_print(
        "exit gradient unbounded here; mean %s over %s",
        usi_phrase_number(exit->mean.value, 2).text,
        usi_phrase_measure(sheet->section, exit->mean_depth_m, sheet->decimals).text);
}

bool usi_sheet_exit(const usi_sheet *sheet, usi_point *at)
{
    const us_exit_result *exit = &sheet->result->exit;
    usi_box plot = sheet->scene.view.plot;
    *at = usi_view_page(&sheet->scene.view, exit->x_m, exit->level_m);
    double gradient = exit->bounded ? exit->gradient.value : exit->mean.value;
    return exit->present && gradient > 0 && at->x_m > plot.left && at->x_m < plot.right;
}

void usi_netting_mark_exit(usi_sheet *sheet)
{
    usi_point at;
    if (usi_sheet_exit(sheet, &at)) {
        usi_sheet_ring(sheet, at);
        usi_scene_guard(&sheet->scene, (usi_box){at.x_m - 7, at.z_m - 7, at.x_m + 7, at.z_m + 7},
                        true);
    }
}

/* Whether an upright line from a place looks like more of a wall or of a pool's end. */
static bool is_beside_upright(const usi_sheet *sheet, usi_point at)
{
    static const double least = 8;
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double near = fabs(usi_view_page(view, usi_section_toe_x(section), 0).x_m - at.x_m);
    for (size_t i = 0; i < section->wall_count; i++) {
        near = fmin(near, fabs(usi_view_page(view, section->walls[i].x_m, 0).x_m - at.x_m));
    }
    return near < least;
}

void usi_netting_name_exit(usi_sheet *sheet)
{
    static const double rises[] = {-22,  -28,  -36,  -46, -58, -72, -90,
                                   -110, -135, -160, 24,  40,  60,  90};
    static const double shifts[] = {14, 34, 60, 95, 140, 0, -30, -80, -160};
    usi_point at;
    if (!usi_sheet_exit(sheet, &at)) {
        return;
    }
    usi_phrase words = say_gradient(sheet);
    usi_wish wish = {.thing = USI_THING_EXIT,
                     .words = words.text,
                     .type = usi_type_plain(13, USI_ANCHOR_MIDDLE),
                     .area = usi_sheet_area(sheet),
                     .gap = 5.2,
                     .aslant = is_beside_upright(sheet, at)};
    wish.type.bold = true;
    double half = usi_wish_half(&sheet->scene, &wish).x_m;
    double side = sheet->section->flows_left ? -1 : 1;
    usi_spots spots = {0};
    for (size_t i = 0; i < sizeof rises / sizeof rises[0]; i++) {
        for (size_t k = 0; k < sizeof shifts / sizeof shifts[0]; k++) {
            double y = at.z_m + rises[i];
            double x = at.x_m + side * (shifts[k] + half);
            x = fmax(fmin(x, wish.area.right - half - 4), wish.area.left + half + 4);
            usi_spots_lead(&spots, (usi_point){x, y}, at, 0.5 * (double)(i + k));
            x = at.x_m - side * (shifts[k] + half);
            usi_spots_lead(&spots, (usi_point){x, y}, at, 3 + 0.5 * (double)(i + k));
        }
    }
    /* Without room the caption still has it. */
    (void)usi_sheet_label(sheet, &wish, &spots);
}
