/* Input in, results out. */
#include <errno.h>
#include <poll.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "command.h"

static bool is_dash(const char *name)
{
    return name != NULL && strcmp(name, "-") == 0;
}

static us_input input_of(const char *name)
{
    return is_dash(name) ? (us_input){.stream = stdin} : (us_input){.path = name};
}

us_status cli_read(us_context *context, const cli_options *options, us_section **section)
{
    us_input from = input_of(options->operand);
    us_input cases = input_of(options->cases);
    return us_section_read_cases(context, &from, options->cases != NULL ? &cases : NULL, section);
}

/* The file a result must not overwrite. */
static const char *input_path(const cli_options *options)
{
    return is_dash(options->operand) ? "/dev/stdin" : options->operand;
}

/* The table of cases is an input as well; NULL without. */
static const char *cases_path(const cli_options *options)
{
    return is_dash(options->cases) ? "/dev/stdin" : options->cases;
}

static bool is_same(const char *path, const struct stat *output)
{
    struct stat input;
    return path != NULL && stat(path, &input) == 0 && input.st_dev == output->st_dev &&
           input.st_ino == output->st_ino;
}

static bool stdout_is_input(const cli_options *options)
{
    struct stat output;
    return fstat(1, &output) == 0 && S_ISREG(output.st_mode) &&
           (is_same(input_path(options), &output) || is_same(cases_path(options), &output));
}

static bool output_is_cases(const cli_options *options)
{
    struct stat output;
    return stat(options->output, &output) == 0 && is_same(cases_path(options), &output);
}

static int judge_stdout(int error)
{
    if (error == 0) {
        return CLI_DONE;
    }
    if (error != EPIPE) { /* a reader that has seen enough is no news */
        cli_complain("stdout cannot be written: %s", strerror(error));
    }
    return CLI_FILE;
}

int cli_flush(void)
{
    bool failed = fflush(stdout) != 0 || ferror(stdout) != 0;
    return judge_stdout(failed ? errno : 0);
}

/* Room on a stdout that somebody has made non-blocking. */
static bool wait_for_room(void)
{
    struct pollfd out = {.fd = STDOUT_FILENO, .events = POLLOUT};
    return poll(&out, 1, -1) > 0 || errno == EINTR;
}

/* Past stdio, which gives up when a signal interrupts it. 0, or an errno. */
static int write_stdout(const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t written = write(STDOUT_FILENO, bytes, length);
        if (written > 0) {
            bytes += written;
            length -= (size_t)written;
        } else if (written < 0 && errno != EINTR && !(errno == EAGAIN && wait_for_room())) {
            return errno;
        }
    }
    /* Some file systems tell only at the end that there was no room. */
    int again = dup(STDOUT_FILENO);
    return again >= 0 && close(again) != 0 && errno != EINTR ? errno : 0;
}

static int print(const cli_options *options, const us_buffer *result)
{
    if (stdout_is_input(options)) {
        cli_complain("stdout leads to the input itself");
        return CLI_FILE;
    }
    return judge_stdout(write_stdout(us_buffer_data(result), us_buffer_length(result)));
}

int cli_deliver(us_context *context, const cli_options *options, const us_buffer *result)
{
    if (options->output == NULL || is_dash(options->output)) {
        return print(options, result);
    }
    const char *input = output_is_cases(options) ? cases_path(options) : input_path(options);
    struct sigaction before[CLI_SIGNALS];
    cli_watch_hold(before);
    us_status status = us_buffer_write_file(context, result, options->output, input);
    cli_watch_release(before);
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE && !options->quiet) {
        (void)fputs("undersill: wrote ", stderr);
        cli_print_safe(stderr, options->output);
        (void)fputc('\n', stderr);
    }
    return code;
}

int cli_deliver_both(us_context *context, const cli_options *options, const us_buffer *table,
                     const us_buffer *chart)
{
    int code = cli_deliver(context, options, table);
    if (code == CLI_DONE && chart != NULL) {
        cli_options aside = *options;
        aside.output = options->chart;
        code = cli_deliver(context, &aside, chart);
    }
    return code;
}
