#include "draw/compose.h"

#include <math.h>

#include "draw/caption.h"
#include "draw/diagram.h"
#include "draw/netting.h"

/* The widest number at the left of the plot. */
static double widest_number(usi_sheet *sheet)
{
    const usi_window *window = &sheet->window;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    usi_phrase levels[2] = {usi_phrase_length(sheet->section, window->low.z_m, sheet->decimals),
                            usi_phrase_length(sheet->section, window->high.z_m, sheet->decimals)};
    double wide = 0;
    if (usi_sheet_is_diagram(sheet)) {
        wide = usi_scene_measure(&sheet->scene, "\u22120.005", type, 0, 0).right;
    }
    for (int i = 0; i < 2; i++) {
        wide = fmax(wide, usi_scene_measure(&sheet->scene, levels[i].text, type, 0, 0).right);
    }
    return wide;
}

void usi_sheet_lay_out(usi_sheet *sheet, double above, double below)
{
    const usi_window *window = &sheet->window;
    double height_m = window->high.z_m - window->low.z_m;
    sheet->decimals = usi_phrase_decimals(sheet->section, height_m);
    double top = usi_sheet_heading(sheet);
    usi_scene_view *view = &sheet->scene.view;
    view->low = window->low;
    view->high = window->high;
    view->plot.left = 24 + widest_number(sheet);
    view->plot.right = USI_PAGE_WIDTH - 26;
    view->plot.top = top + 22 + above;
    view->plot.bottom = view->plot.top + window->height * (view->plot.right - view->plot.left);
    sheet->foot = view->plot.bottom + below;
    view->page_height = sheet->foot; /* until the caption says more */
}

/* A side is told in words: its band is too narrow for any. */
static void list_sides(usi_sheet *sheet)
{
    const usi_window *window = &sheet->window;
    const usi_side *left = &sheet->section->left;
    const usi_side *right = &sheet->section->right;
    bool all = !usi_sheet_is_diagram(sheet);
    if (left->kind != USI_SIDE_ENDLESS && (all || left->x_m > window->low.x_m)) {
        usi_sheet_list(sheet, USI_THING_SIDE, 0);
    }
    if (right->kind != USI_SIDE_ENDLESS && (all || right->x_m < window->high.x_m)) {
        usi_sheet_list(sheet, USI_THING_SIDE, 1);
    }
}

/* Works that lost their ground are marked where they end. */
static void name_loss(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    if (sheet->water->undermined == NULL) {
        return;
    }
    double toe_m = usi_section_toe_x(section);
    double level_m = usi_section_surface(section, toe_m, !section->flows_left);
    usi_point at = usi_view_page(&sheet->scene.view, toe_m, level_m);
    usi_wish wish = {.thing = USI_THING_LOST,
                     .words = "undermined",
                     .type = usi_type_plain(14, USI_ANCHOR_MIDDLE),
                     .area = usi_sheet_area(sheet)};
    wish.type.bold = true;
    usi_spots spots = {0};
    usi_spots_ring(&spots, at, usi_wish_half(&sheet->scene, &wish), 0);
    (void)usi_sheet_label(sheet, &wish, &spots);
}

void usi_sheet_picture(usi_sheet *sheet)
{
    usi_sheet_water(sheet);
    usi_sheet_beds(sheet);
    usi_sheet_works(sheet);
    usi_sheet_scales(sheet);
    if (sheet->what == US_PICTURE_NET || sheet->what == US_PICTURE_EXIT) {
        usi_netting_mark_exit(sheet);
    }
}

void usi_sheet_names(usi_sheet *sheet)
{
    usi_sheet_name_water(sheet);
    if (sheet->what == US_PICTURE_NET) {
        usi_netting_name_exit(sheet);
    }
    name_loss(sheet);
    for (size_t i = 0; i < sheet->section->drain_count; i++) {
        usi_sheet_name_drain(sheet, i);
    }
    usi_sheet_name_ground(sheet);
    /* A few piezometers need the places beside them more than walls, which have
     * leaders; many would leave walls no place at all. */
    bool shown = !usi_sheet_is_diagram(sheet);
    bool few = sheet->section->piezometer_count <= USI_PIEZOMETERS_FEW;
    if (shown && few) {
        usi_sheet_name_piezometers(sheet);
    }
    usi_sheet_name_walls(sheet);
    if (shown && !few) {
        usi_sheet_name_piezometers(sheet);
    }
    usi_sheet_name_seams(sheet);
    list_sides(sheet);
}

us_status usi_sheet_compose(usi_sheet *sheet)
{
    if (sheet->what == US_PICTURE_UPLIFT) {
        return usi_diagram_uplift(sheet);
    }
    if (sheet->what == US_PICTURE_EXIT) {
        return usi_diagram_exit(sheet);
    }
    usi_netting netting = {0};
    us_status status = US_OK;
    sheet->window = usi_window_choose(sheet->section, sheet->water);
    usi_sheet_lay_out(sheet, 0, 0);
    usi_sheet_ground(sheet);
    if (sheet->what == US_PICTURE_NET) {
        status = usi_netting_draw(sheet, &netting);
    }
    if (status != US_OK) {
        return status;
    }
    usi_sheet_picture(sheet);
    usi_sheet_names(sheet);
    usi_sheet_caption(sheet, &netting);
    return sheet->scene.status;
}
