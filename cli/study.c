/* What commands with a table and a chart have in common. */
#include "command.h"

int cli_run_study(const cli_options *options, cli_study study)
{
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    if (!cli_check_chart(options, &how.format)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    us_context_set_threads(context, cli_count_threads(options));
    us_section *section = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    int code = status == US_OK ? study(context, options, &how, section)
                               : cli_conclude(context, status, options->quiet);
    us_section_free(section);
    us_context_free(context);
    return code;
}

int cli_conclude_study(us_context *context, const cli_options *options, us_status status,
                       cli_results *made)
{
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver_both(context, options, made->table, made->chart);
    }
    us_buffer_free(made->table);
    us_buffer_free(made->chart);
    return code;
}
