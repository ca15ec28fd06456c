/* Drawing a section: from the model to the bytes of a picture. */
#include "undersill/draw.h"

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "draw/compose.h"
#include "draw/paint.h"
#include "draw/picture.h"
#include "study/solution.h"

/* A page with the longest key is 4.2 times as high as wide: 150 megapixels at most,
 * of the 200 that a PNG may have. */
enum { WIDTH_LEAST = 900, WIDTH_MOST = 6000 };

static us_status refuse(us_context *context, const char *message)
{
    usi_context_report(context, US_ERROR, NULL, NULL, "%s", message);
    return US_ERROR_ARGUMENT;
}

static us_status check_request(us_context *context, const us_section *section,
                               const us_solution *solution, const us_draw_options *options)
{
    if ((int)options->what < US_PICTURE_NET || options->what > US_PICTURE_EXIT) {
        return refuse(context, "no such picture");
    }
    if (options->water >= section->water_count) {
        return refuse(context, "no such water case");
    }
    if (options->format != US_DRAW_PNG && options->format != US_DRAW_SVG &&
        options->format != US_DRAW_PDF) {
        return refuse(context, "no such format of a picture");
    }
    if (options->format == US_DRAW_PNG &&
        (options->width_px < WIDTH_LEAST || options->width_px > WIDTH_MOST)) {
        return refuse(context, "a PNG is 900 to 6000 pixels wide");
    }
    if (solution == NULL && options->what != US_PICTURE_SECTION) {
        return refuse(context, "all pictures but that of the section need a solution");
    }
    if (solution != NULL && solution->section != section) {
        return refuse(context, "the solution is not of this section");
    }
    return US_OK;
}

/* Whether the section has what the picture is about. */
static us_status check_subject(us_context *context, const us_section *section,
                               const us_water_result *result, const us_draw_options *options)
{
    const usi_water *water = &section->waters[options->water];
    if (options->what != US_PICTURE_SECTION && water->undermined != NULL) {
        usi_context_report(context, US_ERROR, NULL,
                           "draw section, which shows the bed of this case",
                           "water case %s: undermined. %s Nothing can be solved for it",
                           water->name, water->undermined);
        return US_ERROR_INPUT;
    }
    if (options->what == US_PICTURE_UPLIFT && !section->has_structure) {
        usi_context_report(context, US_ERROR, NULL,
                           "give the section a `structure`, or draw net, exit or section",
                           "no structure: there is no underside that water could lift");
        return US_ERROR_INPUT;
    }
    if (options->what == US_PICTURE_EXIT && !result->exit.present) {
        usi_context_report(context, US_ERROR, NULL,
                           "move the downstream side away from the structure, or draw net, "
                           "uplift or section",
                           "no downstream bed: the section ends where the structure does");
        return US_ERROR_INPUT;
    }
    return US_OK;
}

static const char *subject_of(us_picture what)
{
    switch (what) {
    case US_PICTURE_SECTION:
        return "Section";
    case US_PICTURE_UPLIFT:
        return "Uplift";
    case US_PICTURE_EXIT:
        return "Exit gradient";
    case US_PICTURE_NET:
        break;
    }
    return "Flow net";
}

static us_status write(const usi_sheet *sheet, const us_draw_options *options, us_buffer **picture)
{
    usi_phrase subject =
        usi_phrase_print("%s, water case %s", subject_of(sheet->what), sheet->water->name);
    usi_words words = {sheet->drawn->title, subject.text, sheet->drawn->sha256};
    us_status status = usi_context_pulse(sheet->context, "painting", 0, 0.0);
    if (status != US_OK) {
        return status;
    }
    return usi_picture_write(&sheet->scene, &words, options->format, options->width_px, picture);
}

static us_status draw_on(usi_sheet *sheet, const us_draw_options *options, us_buffer **picture)
{
    us_context *context = sheet->context;
    us_status status = usi_memory_afford(context, USI_ROOM_FOR_LETTERS);
    if (status == US_OK) {
        status = usi_scene_start(context, &sheet->scene);
    }
    if (status == US_OK) {
        status = usi_context_pulse(context, "drawing", 0, 0.0);
    }
    if (status == US_OK) {
        status = usi_sheet_compose(sheet);
    }
    if (status == US_OK) {
        status = write(sheet, options, picture);
    }
    usi_scene_clear(&sheet->scene);
    return status;
}

us_status us_section_draw(us_context *context, const us_section *section,
                          const us_solution *solution, const us_draw_options *given,
                          us_buffer **picture)
{
    if (context == NULL || section == NULL || picture == NULL) {
        return US_ERROR_ARGUMENT;
    }
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        return refuse(context, "draw options of a later release, or never initialised");
    }
    us_status status = check_request(context, section, solution, &options);
    if (status != US_OK) {
        return status;
    }
    const us_water_result *result =
        solution != NULL ? us_solution_water(solution, options.water) : NULL;
    status = check_subject(context, section, result, &options);
    if (status != US_OK) {
        return status;
    }
    usi_sheet sheet = {
        .context = context, .solution = solution, .result = result, .what = options.what};
    status = usi_sheet_take(&sheet, section, options.water);
    if (status == US_OK) {
        status = draw_on(&sheet, &options, picture);
        usi_sheet_leave(&sheet);
    }
    return status;
}
