/* undersill verify: sections whose answers are known. */
#include <unistd.h>

#include "command.h"

enum { MOST_THREADS = 256 };

static size_t count_threads(const cli_options *options)
{
    if (options->threads > 0) {
        return options->threads;
    }
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    if (processors < 1) {
        return 1;
    }
    return processors < MOST_THREADS ? (size_t)processors : MOST_THREADS;
}

static int deliver(us_context *context, const cli_options *options,
                   const us_verification *verification)
{
    us_buffer *table = NULL;
    us_status status = us_verification_tabulate(context, verification, options->format, &table);
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver(context, options, table);
    }
    us_buffer_free(table);
    return code;
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
    us_context *context = us_context_create();
    us_verification *verification = NULL;
    us_status status = US_ERROR_MEMORY;
    if (context != NULL) {
        us_verify_options how = US_VERIFY_OPTIONS_INIT;
        how.threads = count_threads(options);
        how.only = options->operand;
        cli_watch_begin(context, options->quiet);
        status = us_verification_run(context, &how, &verification);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (status == US_OK && code == CLI_DONE) {
        code = deliver(context, options, verification);
        code = code == CLI_DONE ? judge(options, verification) : code;
    }
    us_verification_free(verification);
    us_context_free(context);
    return code;
}
