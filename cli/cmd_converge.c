/* undersill converge FILE: a convergence study as a table, and as a chart. */
#include "command.h"

static us_status study_section(us_context *context, const cli_options *options,
                               const us_section *section, size_t water, us_convergence **study)
{
    us_converge_options how = US_CONVERGE_OPTIONS_INIT;
    how.water = water;
    how.rungs = options->rungs != 0 ? options->rungs : how.rungs;
    how.unknowns_most = options->unknowns != 0 ? options->unknowns : how.unknowns_most;
    return us_section_converge(context, section, &how, study);
}

/* What the command makes: a table, and a chart where one is asked for. */
typedef struct results {
    us_buffer *table;
    us_buffer *chart;
} results;

static us_status write_down(us_context *context, const cli_options *options, us_draw_format format,
                            const us_convergence *study, results *made)
{
    us_status status = us_convergence_tabulate(context, study, options->format, &made->table);
    if (status == US_OK && options->chart != NULL) {
        us_draw_options how = US_DRAW_OPTIONS_INIT;
        how.format = format;
        status = us_convergence_draw(context, study, &how, &made->chart);
    }
    return status;
}

static int converge(us_context *context, const cli_options *options, us_draw_format format,
                    const us_section *section)
{
    size_t water = US_WATER_FIRST_FLOWING;
    if (!cli_find_water(options, section, &water)) {
        return CLI_USAGE;
    }
    us_convergence *study = NULL;
    results made = {NULL, NULL};
    cli_watch_begin(context, options->quiet);
    us_status status = study_section(context, options, section, water, &study);
    if (status == US_OK) {
        status = write_down(context, options, format, study, &made);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver_both(context, options, made.table, made.chart);
    }
    us_buffer_free(made.table);
    us_buffer_free(made.chart);
    us_convergence_free(study);
    return code;
}

int cmd_converge(const cli_options *options)
{
    us_draw_format format = US_DRAW_PNG;
    if (!cli_check_chart(options, &format)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    int code = status == US_OK ? converge(context, options, format, section)
                               : cli_conclude(context, status, options->quiet);
    us_section_free(section);
    us_context_free(context);
    return code;
}
