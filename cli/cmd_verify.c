/* undersill verify: sections whose answers are known. */
#include "command.h"

/* What the command makes: a table, and a chart where one is asked for. */
typedef struct results {
    us_verification *verification;
    us_buffer *table;
    us_buffer *chart;
} results;

static us_status make(us_context *context, const cli_options *options, us_draw_format format,
                      results *made)
{
    us_verify_options how = US_VERIFY_OPTIONS_INIT;
    how.threads = cli_count_threads(options);
    how.only = options->operand;
    us_status status = us_verification_run(context, &how, &made->verification);
    if (status == US_OK) {
        status =
            us_verification_tabulate(context, made->verification, options->format, &made->table);
    }
    if (status == US_OK && options->chart != NULL) {
        us_draw_options drawn = US_DRAW_OPTIONS_INIT;
        drawn.format = format;
        status = us_verification_draw(context, &drawn, &made->chart);
    }
    return status;
}

static int judge(const cli_options *options, const us_verification *verification)
{
    size_t misses = us_verification_misses(verification);
    if (misses == 0) {
        return CLI_DONE;
    }
    if (!options->quiet) {
        (void)fprintf(stderr, "undersill: %zu of %zu values missed\n", misses,
                      us_verification_count(verification));
    }
    return CLI_CHECK_FAILED;
}

int cmd_verify(const cli_options *options)
{
    us_draw_format format = US_DRAW_PNG;
    if (!cli_check_chart(options, &format)) {
        return CLI_USAGE;
    }
    us_context *context = us_context_create();
    results made = {NULL, NULL, NULL};
    us_status status = US_ERROR_MEMORY;
    if (context != NULL) {
        cli_watch_begin(context, options->quiet);
        status = make(context, options, format, &made);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        cli_options without_input = *options;
        without_input.operand = NULL; /* the name of a case is no file */
        code = cli_deliver_both(context, &without_input, made.table, made.chart);
    }
    if (code == CLI_DONE) {
        code = judge(options, made.verification);
    }
    us_buffer_free(made.table);
    us_buffer_free(made.chart);
    us_verification_free(made.verification);
    us_context_free(context);
    return code;
}
