#include "draw/sheet.h"

const usi_ink usi_ink_none = {0, 0, 0, 0};
const usi_ink usi_ink_dark = {0.12, 0.12, 0.14, 1};
const usi_ink usi_ink_quiet = {0.45, 0.45, 0.47, 1};
const usi_ink usi_ink_water = {0.80, 0.88, 0.94, 1};
const usi_ink usi_ink_shore = {0.22, 0.36, 0.50, 1};
const usi_ink usi_ink_rock = {0.74, 0.73, 0.72, 1};
const usi_ink usi_ink_body = {0.68, 0.68, 0.68, 1};

usi_ink usi_ink_soil(size_t index)
{
    static const usi_ink inks[] = {{0.965, 0.950, 0.915, 1},
                                   {0.895, 0.870, 0.815, 1},
                                   {0.935, 0.925, 0.905, 1},
                                   {0.865, 0.850, 0.820, 1}};
    return inks[index % (sizeof inks / sizeof inks[0])];
}

usi_look usi_look_area(usi_ink fill)
{
    return (usi_look){.fill = fill, .closed = true};
}

usi_look usi_look_line(usi_ink line, double width)
{
    return (usi_look){.line = line, .width = width};
}

usi_type usi_type_plain(double size, usi_anchor anchor)
{
    return (usi_type){.size = size, .anchor = anchor};
}

void usi_sheet_line(usi_sheet *sheet, usi_space space, usi_point from, usi_point to, usi_look look)
{
    usi_point points[2] = {from, to};
    usi_scene_shape(&sheet->scene, space, points, 2, look);
}

/* Shapes run a little past the plot so that its clip hides their outer edges. */
static double overhang(const usi_sheet *sheet)
{
    return 0.05 * (sheet->window.high.x_m - sheet->window.low.x_m);
}

double usi_sheet_soil_left(const usi_sheet *sheet)
{
    double edge_m = sheet->window.low.x_m - overhang(sheet);
    const usi_side *side = &sheet->section->left;
    return side->kind != USI_SIDE_ENDLESS && side->x_m > edge_m ? side->x_m : edge_m;
}

double usi_sheet_soil_right(const usi_sheet *sheet)
{
    double edge_m = sheet->window.high.x_m + overhang(sheet);
    const usi_side *side = &sheet->section->right;
    return side->kind != USI_SIDE_ENDLESS && side->x_m < edge_m ? side->x_m : edge_m;
}

double usi_sheet_floor(const usi_sheet *sheet, double x_m)
{
    const us_section *section = sheet->section;
    double bottom_m = sheet->window.low.z_m;
    return section->has_base ? usi_section_base(section, x_m, true) : bottom_m;
}

/* What is painted at a place of the plot, lines apart. */
static usi_ink ground_ink(const usi_sheet *sheet, double page_x, double page_y)
{
    const us_section *section = sheet->section;
    const usi_view *view = &sheet->scene.view;
    double x_m = view->low.x_m + (page_x - view->plot.left) * usi_view_unit_x(view);
    double z_m = view->low.z_m + (view->plot.bottom - page_y) * usi_view_unit_z(view);
    if (section->has_base && z_m < usi_section_base(section, x_m, true)) {
        return usi_ink_rock;
    }
    if (z_m < usi_section_surface(section, x_m, true)) {
        size_t tint = 0;
        size_t layer = usi_section_layer(section, z_m, false);
        for (size_t i = 0; i < layer; i++) {
            tint += section->soils[i].layer ? 1 : 0;
        }
        return usi_ink_soil(tint);
    }
    bool right = x_m > section->right_end_m;
    bool wet = (right || x_m < section->left_end_m) &&
               z_m < (right == section->flows_left ? sheet->water->upstream_m
                                                   : sheet->water->downstream_m);
    return wet ? usi_ink_water : usi_ink_none;
}

const usi_text *usi_sheet_label(usi_sheet *sheet, const char *words, usi_type type,
                                const usi_point *places, size_t count, usi_box area)
{
    usi_text *text = usi_scene_place(&sheet->scene, words, type, places, count, area);
    if (text != NULL) {
        text->type.plate = ground_ink(sheet, 0.5 * (text->box.left + text->box.right),
                                      0.5 * (text->box.top + text->box.bottom));
    }
    return text;
}
