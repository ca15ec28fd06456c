/* What the names of picture files stand for. */
#include <string.h>
#include <strings.h>

#include "command.h"

static bool ends_with(const char *name, const char *ending)
{
    size_t length = strlen(name);
    return length > strlen(ending) && strcasecmp(name + length - strlen(ending), ending) == 0;
}

static const struct image {
    const char *ending;
    us_draw_format format;
} images[] = {{".png", US_DRAW_PNG}, {".svg", US_DRAW_SVG}, {".pdf", US_DRAW_PDF}};

bool cli_image_of_file(const char *name, us_draw_format *format)
{
    for (size_t i = 0; i < sizeof images / sizeof images[0]; i++) {
        if (ends_with(name, images[i].ending)) {
            *format = images[i].format;
            return true;
        }
    }
    return false;
}

bool cli_check_chart(const cli_options *options, us_draw_format *format)
{
    if (options->chart == NULL) {
        return true;
    }
    if (!cli_image_of_file(options->chart, format)) {
        cli_complain("--chart %s: the name of a chart ends in .png, .svg or .pdf", options->chart);
        return false;
    }
    if (options->output != NULL && strcmp(options->output, options->chart) == 0) {
        cli_complain("-o and --chart name the same file: %s", options->chart);
        return false;
    }
    return true;
}
