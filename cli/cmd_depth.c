/* undersill depth FILE: every tip level of a wall, as a table and as a chart. */
#include "command.h"

static us_status study_section(us_context *context, const cli_options *options,
                               const us_section *section, us_depth **depth)
{
    us_depth_options how = US_DEPTH_OPTIONS_INIT;
    how.accuracy = options->accuracy;
    how.wall = options->wall;
    how.with = options->with;
    return us_section_depth(context, section, &how, depth);
}

static int judge(const cli_options *options, const us_depth *depth)
{
    if (!us_depth_requires(depth) || us_depth_interval_count(depth) > 0) {
        return CLI_DONE;
    }
    if (!options->quiet) {
        (void)fputs("undersill: no level of the tip keeps every requirement\n", stderr);
    }
    return CLI_CHECK_FAILED;
}

static int look(us_context *context, const cli_options *options, const us_draw_options *how,
                const us_section *section)
{
    us_depth *depth = NULL;
    cli_results made = {NULL, NULL};
    cli_watch_begin(context, options->quiet);
    us_status status = study_section(context, options, section, &depth);
    if (status == US_OK) {
        status = us_depth_tabulate(context, depth, options->format, &made.table);
    }
    if (status == US_OK && options->chart != NULL) {
        status = us_depth_draw(context, depth, how, &made.chart);
    }
    int code = cli_conclude_study(context, options, status, &made);
    if (code == CLI_DONE) {
        code = judge(options, depth);
    }
    us_depth_free(depth);
    return code;
}

int cmd_depth(const cli_options *options)
{
    return cli_run_study(options, look);
}
