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

/* What the command makes: a table, and a chart where one is asked for. */
typedef struct results {
    us_buffer *table;
    us_buffer *chart;
} results;

static us_status write_down(us_context *context, const cli_options *options, us_draw_format format,
                            const us_depth *depth, results *made)
{
    us_status status = us_depth_tabulate(context, depth, options->format, &made->table);
    if (status == US_OK && options->chart != NULL) {
        us_draw_options how = US_DRAW_OPTIONS_INIT;
        how.format = format;
        status = us_depth_draw(context, depth, &how, &made->chart);
    }
    return status;
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

static int look(us_context *context, const cli_options *options, us_draw_format format,
                const us_section *section)
{
    us_depth *depth = NULL;
    results made = {NULL, NULL};
    cli_watch_begin(context, options->quiet);
    us_status status = study_section(context, options, section, &depth);
    if (status == US_OK) {
        status = write_down(context, options, format, depth, &made);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver_both(context, options, made.table, made.chart);
    }
    if (code == CLI_DONE) {
        code = judge(options, depth);
    }
    us_buffer_free(made.table);
    us_buffer_free(made.chart);
    us_depth_free(depth);
    return code;
}

int cmd_depth(const cli_options *options)
{
    us_draw_format format = US_DRAW_PNG;
    if (!cli_check_chart(options, &format)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    int code = status == US_OK ? look(context, options, format, section)
                               : cli_conclude(context, status, options->quiet);
    us_section_free(section);
    us_context_free(context);
    return code;
}
