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

static int converge(us_context *context, const cli_options *options, const us_draw_options *how,
                    const us_section *section)
{
    size_t water = US_WATER_FIRST_FLOWING;
    if (!cli_find_water(options, section, &water)) {
        return CLI_USAGE;
    }
    us_convergence *study = NULL;
    cli_results made = {NULL, NULL};
    cli_watch_begin(context, options->quiet);
    us_status status = study_section(context, options, section, water, &study);
    if (status == US_OK) {
        status = us_convergence_tabulate(context, study, options->format, &made.table);
    }
    if (status == US_OK && options->chart != NULL) {
        status = us_convergence_draw(context, study, how, &made.chart);
    }
    int code = cli_conclude_study(context, options, status, &made);
    us_convergence_free(study);
    return code;
}

int cmd_converge(const cli_options *options)
{
    return cli_run_study(options, converge);
}
