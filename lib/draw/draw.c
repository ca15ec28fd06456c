/* Drawing a section: from the model to a finished PNG. */
#include "undersill/draw.h"

#include <stdlib.h>

#include "base/context.h"
#include "draw/caption.h"
#include "draw/netting.h"
#include "draw/paint.h"
#include "draw/sheet.h"

enum { WIDTH_LEAST = 900, WIDTH_MOST = 4000 };

static us_status refuse(us_context *context, const char *message)
{
    usi_context_report(context, US_ERROR, NULL, NULL, "%s", message);
    return US_ERROR_ARGUMENT;
}

static us_status check_request(us_context *context, const us_section *section,
                               const us_solution *solution, const us_draw_options *options)
{
    if (options->size != sizeof *options) {
        return refuse(context, "draw options of another release");
    }
    if (options->what != US_PICTURE_NET && options->what != US_PICTURE_SECTION) {
        return refuse(context, "no such picture");
    }
    if (options->water >= section->water_count) {
        return refuse(context, "no such water case");
    }
    if (options->width_px < WIDTH_LEAST || options->width_px > WIDTH_MOST) {
        return refuse(context, "a picture is 900 to 4000 pixels wide");
    }
    if (solution == NULL && options->what == US_PICTURE_NET) {
        return refuse(context, "a flow net needs a solution");
    }
    if (solution != NULL && us_solution_water(solution, options->water) == NULL) {
        return refuse(context, "the solution is not of this section");
    }
    return US_OK;
}

/* The plot: its left edge leaves room for the longest level label. */
static void lay_out(usi_sheet *sheet)
{
    sheet->window = usi_window_choose(sheet->section, sheet->water);
    usi_window *window = &sheet->window;
    double height_m = window->high.z_m - window->low.z_m;
    sheet->decimals = usi_phrase_decimals(sheet->section, height_m);
    usi_phrase low = usi_phrase_length(sheet->section, window->low.z_m, sheet->decimals);
    usi_phrase high = usi_phrase_length(sheet->section, window->high.z_m, sheet->decimals);
    usi_type type = usi_type_plain(11, USI_ANCHOR_LEFT);
    double wide = usi_scene_measure(&sheet->scene, low.text, type, 0, 0).right;
    double other = usi_scene_measure(&sheet->scene, high.text, type, 0, 0).right;
    usi_view *view = &sheet->scene.view;
    view->low = window->low;
    view->high = window->high;
    view->plot.left = 24 + (wide > other ? wide : other);
    view->plot.right = USI_PAGE_WIDTH - 26;
    view->plot.top = 90;
    view->plot.bottom = view->plot.top + window->height * (view->plot.right - view->plot.left);
}

static us_status compose(usi_sheet *sheet)
{
    usi_netting netting = {0};
    us_status status = US_OK;
    lay_out(sheet);
    usi_sheet_heading(sheet);
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
    usi_sheet_name_works(sheet);
    usi_sheet_name_ground(sheet);
    usi_sheet_caption(sheet, &netting);
    return sheet->scene.status;
}

static us_status paint(usi_sheet *sheet, int width_px, us_buffer **png)
{
    usi_pixels pixels = {0};
    us_status status = usi_scene_paint(&sheet->scene, width_px, &pixels);
    if (status != US_OK) {
        return status;
    }
    /* The page is ten inches wide. */
    usi_png_words words = {sheet->section->title, sheet->section->sha256, width_px / 0.254};
    status = usi_png_encode(sheet->context, &pixels, &words, png);
    free(pixels.bytes);
    return status;
}

us_status us_section_draw(us_context *context, const us_section *section,
                          const us_solution *solution, const us_draw_options *options,
                          us_buffer **png)
{
    static const us_draw_options defaults = US_DRAW_OPTIONS_INIT;
    if (context == NULL || section == NULL || png == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (options == NULL) {
        options = &defaults;
    }
    us_status status = check_request(context, section, solution, options);
    if (status != US_OK) {
        return status;
    }
    usi_sheet sheet = {.context = context,
                       .section = section,
                       .water = &section->waters[options->water],
                       .net = options->what == US_PICTURE_NET};
    if (solution != NULL) {
        sheet.result = us_solution_water(solution, options->water);
    }
    status = usi_scene_start(context, &sheet.scene);
    if (status == US_OK) {
        status = compose(&sheet);
    }
    if (status == US_OK) {
        status = paint(&sheet, options->width_px, png);
    }
    usi_scene_clear(&sheet.scene);
    return status;
}
