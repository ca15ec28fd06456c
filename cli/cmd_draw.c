/* undersill draw FILE -o net.png, .svg or .pdf: flow net, diagrams, or the section alone. */
#include <string.h>

#include "command.h"

static const struct image {
    const char *name; /* as --format knows it */
    us_draw_format format;
} images[] = {{"png", US_DRAW_PNG}, {"svg", US_DRAW_SVG}, {"pdf", US_DRAW_PDF}};
enum { IMAGE_COUNT = sizeof images / sizeof images[0] };

static const struct image *image_named(const char *name)
{
    size_t i = 0;
    while (i < IMAGE_COUNT && (name == NULL || strcmp(images[i].name, name) != 0)) {
        i++;
    }
    return i < IMAGE_COUNT ? &images[i] : NULL;
}

/* The format of the picture: as --format says, else as the name of the output
 * ends, PNG on stdout. False after saying what is wrong. */
static bool find_format(const cli_options *options, us_draw_format *format)
{
    const char *output = options->output;
    const struct image *asked = image_named(options->image);
    us_draw_format by_name = US_DRAW_PNG;
    bool ending = output != NULL && cli_image_of_file(output, &by_name);
    if (asked != NULL && ending && asked->format != by_name) {
        cli_complain("-o %s and --format %s contradict each other", output, asked->name);
        return false;
    }
    if (asked == NULL && output == NULL) {
        cli_complain("draw needs a file for the picture: -o net.png, net.svg or net.pdf");
        return false;
    }
    if (asked == NULL && !ending && strcmp(output, "-") != 0) {
        cli_complain("%s: the name of a picture ends in .png, .svg or .pdf, or --format says "
                     "what it is",
                     output);
        return false;
    }
    *format = asked != NULL ? asked->format : by_name;
    if (*format != US_DRAW_PNG && options->width_px != 0) {
        cli_complain("--width is for PNG: SVG and PDF are ten inches wide and have no pixels");
        return false;
    }
    return true;
}

static int draw(us_context *context, const cli_options *options, us_draw_format format,
                const us_section *section)
{
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    how.what = options->what;
    how.width_px = options->width_px != 0 ? options->width_px : how.width_px;
    how.format = format;
    if (!cli_find_water(options, section, &how.water)) {
        return CLI_USAGE;
    }
    us_solution *solution = NULL;
    us_buffer *picture = NULL;
    us_status solved = US_OK;
    cli_watch_begin(context, options->quiet);
    if (how.what != US_PICTURE_SECTION) {
        solved = us_section_solve(context, section, NULL, &solution);
    }
    us_status status = solved == US_NOT_CONVERGED ? US_OK : solved;
    if (status == US_OK) {
        status = us_section_draw(context, section, solution, &how, &picture);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver(context, options, picture);
    }
    us_buffer_free(picture);
    us_solution_free(solution);
    return code == CLI_DONE && solved == US_NOT_CONVERGED ? CLI_NUMERICAL : code;
}

int cmd_draw(const cli_options *options)
{
    us_draw_format format = US_DRAW_PNG;
    if (!find_format(options, &format)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    us_context_set_threads(context, cli_count_threads(options));
    us_section *section = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    int code = status == US_OK ? draw(context, options, format, section)
                               : cli_conclude(context, status, options->quiet);
    us_section_free(section);
    us_context_free(context);
    return code;
}
