/* Marks that tell soils of one tint apart. */
#include <math.h>

#include "draw/sheet.h"

enum { STROKES = 2, PATTERNS = 5 };

/* Strokes of one mark, on the page, from its middle. */
typedef struct mark {
    double width;
    size_t count;
    double ends[STROKES][4];
} mark;

static const mark marks[PATTERNS] = {
    {1.7, 1, {{-0.85, 0, 0.85, 0}}},                      /* dots */
    {0.9, 1, {{-3, 0, 3, 0}}},                            /* level strokes */
    {0.9, 2, {{-2, -2, 2, 2}, {-2, 2, 2, -2}}},           /* crosses */
    {0.9, 1, {{0, -3, 0, 3}}},                            /* upright strokes */
    {0.9, 2, {{-2.5, 1.5, 0, -1.5}, {0, -1.5, 2.5, 1.5}}} /* peaks */
};

static const double step_x = 13;
static const double step_y = 8;

/* The marks of a soil; NULL where its tint alone will do. */
static const mark *mark_of(const usi_sheet *sheet, size_t soil)
{
    size_t turn = usi_sheet_tint(sheet, soil) / USI_TINTS;
    return turn == 0 ? NULL : &marks[(turn - 1) % PATTERNS];
}

static usi_look mark_look(const mark *with)
{
    return usi_look_line((usi_ink){0.60, 0.57, 0.51, 1}, with->width);
}

/* A place of the page in metres. */
static usi_point place_of(const usi_scene_view *view, double x, double y)
{
    return (usi_point){view->low.x_m + (x - view->plot.left) * usi_view_unit_x(view),
                       view->low.z_m + (view->plot.bottom - y) * usi_view_unit_z(view)};
}

/* Draws the mark of the soil at a place of the page, if all of it lies in there. */
static void draw_mark(usi_sheet *sheet, double x, double y)
{
    const usi_scene_view *view = &sheet->scene.view;
    int soil = usi_sheet_soil(sheet, place_of(view, x, y));
    const mark *with = soil >= 0 ? mark_of(sheet, (size_t)soil) : NULL;
    usi_point ends[STROKES][2];
    for (size_t k = 0; with != NULL && k < with->count; k++) {
        for (int e = 0; e < 2; e++) {
            ends[k][e] = place_of(view, x + with->ends[k][2 * e], y + with->ends[k][2 * e + 1]);
            if (usi_sheet_soil(sheet, ends[k][e]) != soil) {
                return;
            }
        }
    }
    for (size_t k = 0; with != NULL && k < with->count; k++) {
        usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, ends[k], 2, mark_look(with));
    }
}

void usi_sheet_hatch(usi_sheet *sheet)
{
    usi_box plot = sheet->scene.view.plot;
    if (sheet->section->soil_count <= USI_TINTS) {
        return;
    }
    int rows = (int)((plot.bottom - plot.top) / step_y);
    int columns = (int)((plot.right - plot.left) / step_x);
    for (int row = 0; row < rows; row++) {
        double left = plot.left + (row % 2 == 0 ? 3 : 3 + 0.5 * step_x);
        for (int column = 0; column < columns; column++) {
            draw_mark(sheet, left + step_x * column, plot.top + 3 + step_y * row);
        }
    }
}

void usi_sheet_swatch(usi_sheet *sheet, size_t soil, usi_box box)
{
    usi_point corners[4] = {
        {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
    usi_look look = usi_look_area(usi_ink_soil(usi_sheet_tint(sheet, soil)));
    look.line = usi_ink_quiet;
    look.width = 0.8;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, corners, 4, look);
    const mark *with = mark_of(sheet, soil);
    double y = 0.5 * (box.top + box.bottom);
    for (int i = 1; with != NULL && i < 3; i++) {
        double x = box.left + (box.right - box.left) * i / 3;
        for (size_t k = 0; k < with->count; k++) {
            usi_sheet_line(
                sheet, USI_SPACE_PAGE, (usi_point){x + with->ends[k][0], y + with->ends[k][1]},
                (usi_point){x + with->ends[k][2], y + with->ends[k][3]}, mark_look(with));
        }
    }
}
