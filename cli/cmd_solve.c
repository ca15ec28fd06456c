/* undersill solve FILE: the tables. */
#include "command.h"

static us_status solve(us_context *context, const cli_options *options, const us_section *section,
                       us_solution **solution)
{
    us_solve_options how = US_SOLVE_OPTIONS_INIT;
    how.accuracy = options->accuracy;
    how.without_apron = options->without_apron;
    how.other_ratios = true;
    cli_watch_begin(context, options->quiet);
    return us_section_solve(context, section, &how, solution);
}

static int tabulate(us_context *context, const cli_options *options, const us_solution *solution)
{
    us_buffer *table = NULL;
    us_status status = us_solution_tabulate(context, solution, options->format, &table);
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver(context, options, table);
    }
    us_buffer_free(table);
    return code;
}

static int judge(const cli_options *options, const us_solution *solution)
{
    if (!us_solution_fails(solution)) {
        return CLI_DONE;
    }
    if (!options->quiet) {
        (void)fputs("undersill: a required check fails, or could not be made\n", stderr);
    }
    return CLI_CHECK_FAILED;
}

int cmd_solve(const cli_options *options)
{
    us_context *context = us_context_create();
    us_context_set_threads(context, cli_count_threads(options));
    us_section *section = NULL;
    us_solution *solution = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    if (status == US_OK) {
        status = solve(context, options, section, &solution);
    }
    int code = cli_conclude(context, status, options->quiet);
    if ((status == US_OK || status == US_NOT_CONVERGED) && code != CLI_INTERRUPTED) {
        int delivered = tabulate(context, options, solution);
        int judged = delivered == CLI_DONE ? judge(options, solution) : delivered;
        /* An unconverged value cannot pass or fail a check for certain. */
        code = delivered == CLI_DONE && code != CLI_DONE ? code : judged;
    }
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return code;
}
