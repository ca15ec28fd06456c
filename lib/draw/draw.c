/* Drawing a section: from the model to a finished PNG. */
#include "undersill/draw.h"

#include <stdlib.h>

#include "base/context.h"
#include "draw/compose.h"
#include "draw/paint.h"

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

static us_status paint(usi_sheet *sheet, int width_px, us_buffer **png)
{
    usi_pixels pixels = {0};
    us_status status = usi_context_pulse(sheet->context, "painting", 0, 0.0);
    if (status == US_OK) {
        status = usi_scene_paint(&sheet->scene, width_px, &pixels);
    }
    if (status != US_OK) {
        return status;
    }
    /* The page is ten inches wide. */
    usi_png_words words = {sheet->section->title, sheet->section->sha256, width_px / 0.254};
    status = usi_context_pulse(sheet->context, "painting", 0, 0.6);
    if (status == US_OK) {
        status = usi_png_encode(sheet->context, &pixels, &words, png);
    }
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
        status = usi_context_pulse(context, "drawing", 0, 0.0);
    }
    if (status == US_OK) {
        status = usi_sheet_compose(&sheet);
    }
    if (status == US_OK) {
        status = paint(&sheet, options->width_px, png);
    }
    usi_scene_clear(&sheet.scene);
    return status;
}
