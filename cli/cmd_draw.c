/* undersill draw FILE -o net.png: the flow net, or the section alone. */
#include <string.h>
#include <strings.h>

#include "command.h"

static bool ends_with(const char *name, const char *ending)
{
    size_t length = strlen(name);
    return length > strlen(ending) && strcasecmp(name + length - strlen(ending), ending) == 0;
}

static bool output_suits(const cli_options *options)
{
    const char *output = options->output;
    if (output == NULL) {
        cli_complain("draw needs a file for the picture: -o net.png");
        return false;
    }
    if (ends_with(output, ".svg") || ends_with(output, ".pdf")) {
        cli_complain("%s: not yet: this release draws .png only", output);
        return false;
    }
    if (strcmp(output, "-") != 0 && !ends_with(output, ".png")) {
        cli_complain("%s: the name of a picture ends in .png", output);
        return false;
    }
    return true;
}

/* Index of the water case asked for; false after saying which there are. */
static bool find_water(const cli_options *options, const us_section *section, size_t *index)
{
    enum { OFFERED = 16 };
    const char *known[OFFERED + 1] = {NULL};
    *index = 0;
    for (size_t i = 0; options->water != NULL; i++) {
        const char *name = us_section_water_name(section, i);
        if (name == NULL) {
            const char *near = cli_nearest(options->water, known);
            if (near != NULL) {
                cli_complain("no water case is called '%s'; did you mean '%s'?", options->water,
                             near);
            } else {
                cli_complain("no water case is called '%s'; the first is '%s'", options->water,
                             known[0]);
            }
            return false;
        }
        if (strcmp(name, options->water) == 0) {
            *index = i;
            break;
        }
        if (i < OFFERED) {
            known[i] = name;
        }
    }
    return true;
}

static int draw(us_context *context, const cli_options *options, const us_section *section)
{
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    how.what = options->what;
    how.width_px = options->width_px;
    if (!find_water(options, section, &how.water)) {
        return CLI_USAGE;
    }
    us_solution *solution = NULL;
    us_buffer *picture = NULL;
    us_status solved = US_OK;
    if (how.what == US_PICTURE_NET) {
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
    if (!output_suits(options)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    int code = status == US_OK ? draw(context, options, section)
                               : cli_conclude(context, status, options->quiet);
    us_section_free(section);
    us_context_free(context);
    return code;
}
