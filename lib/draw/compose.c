#include "draw/compose.h"

#include "draw/caption.h"
#include "draw/netting.h"

/* The plot: its left edge leaves room for the longest level label. */
static void lay_out(usi_sheet *sheet)
{
    sheet->window = usi_window_choose(sheet->section, sheet->water);
    usi_window *window = &sheet->window;
    double height_m = window->high.z_m - window->low.z_m;
    sheet->decimals = usi_phrase_decimals(sheet->section, height_m);
    usi_phrase low = usi_phrase_length(sheet->section, window->low.z_m, sheet->decimals);
    usi_phrase high = usi_phrase_length(sheet->section, window->high.z_m, sheet->decimals);
    double top = usi_sheet_heading(sheet);
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    double wide = usi_scene_measure(&sheet->scene, low.text, type, 0, 0).right;
    double other = usi_scene_measure(&sheet->scene, high.text, type, 0, 0).right;
    usi_view *view = &sheet->scene.view;
    view->low = window->low;
    view->high = window->high;
    view->plot.left = 24 + (wide > other ? wide : other);
    view->plot.right = USI_PAGE_WIDTH - 26;
    view->plot.top = top + 22;
    view->plot.bottom = view->plot.top + window->height * (view->plot.right - view->plot.left);
}

/* A side is told in words: its band is too narrow for any. */
static void list_sides(usi_sheet *sheet)
{
    if (sheet->section->left.kind != USI_SIDE_ENDLESS) {
        usi_sheet_list(sheet, USI_THING_SIDE, 0);
    }
    if (sheet->section->right.kind != USI_SIDE_ENDLESS) {
        usi_sheet_list(sheet, USI_THING_SIDE, 1);
    }
}

us_status usi_sheet_compose(usi_sheet *sheet)
{
    usi_netting netting = {0};
    us_status status = US_OK;
    lay_out(sheet);
    usi_sheet_ground(sheet);
    if (sheet->net) {
        status = usi_netting_draw(sheet, &netting);
    }
    if (status != US_OK) {
        return status;
    }
    usi_sheet_water(sheet);
    usi_sheet_beds(sheet);
    usi_sheet_works(sheet);
    usi_sheet_scales(sheet);
    if (sheet->net) {
        usi_netting_mark_exit(sheet);
    }
    usi_sheet_name_water(sheet);
    if (sheet->net) {
        usi_netting_name_exit(sheet);
    }
    usi_sheet_name_ground(sheet);
    /* A few piezometers need the places beside them more than walls, which have
     * leaders; many would leave walls no place at all. */
    bool few = sheet->section->piezometer_count <= USI_PIEZOMETERS_FEW;
    if (few) {
        usi_sheet_name_piezometers(sheet);
    }
    usi_sheet_name_walls(sheet);
    if (!few) {
        usi_sheet_name_piezometers(sheet);
    }
    usi_sheet_name_seams(sheet);
    list_sides(sheet);
    usi_sheet_caption(sheet, &netting);
    return sheet->scene.status;
}
