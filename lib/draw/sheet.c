#include "draw/sheet.h"

const usi_ink usi_ink_none = {0, 0, 0, 0};
const usi_ink usi_ink_dark = {0.12, 0.12, 0.14, 1};
const usi_ink usi_ink_quiet = {0.45, 0.45, 0.47, 1};
const usi_ink usi_ink_water = {0.80, 0.88, 0.94, 1};
const usi_ink usi_ink_shore = {0.22, 0.36, 0.50, 1};
const usi_ink usi_ink_rock = {0.52, 0.51, 0.50, 1};
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
