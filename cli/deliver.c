/* Input in, results out. */
#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "command.h"

static bool is_dash(const char *name)
{
    return name != NULL && strcmp(name, "-") == 0;
}

us_status cli_read(us_context *context, const cli_options *options, us_section **section)
{
    if (is_dash(options->operand)) {
        return us_section_read_stream(context, stdin, "-", section);
    }
    return us_section_read_file(context, options->operand, section);
}

/* The file a result must not overwrite. */
static const char *input_path(const cli_options *options)
{
    return is_dash(options->operand) ? "/dev/stdin" : options->operand;
}

static bool stdout_is_input(const cli_options *options)
{
    struct stat input;
    struct stat output;
    const char *path = input_path(options);
    return path != NULL && fstat(1, &output) == 0 && S_ISREG(output.st_mode) &&
           stat(path, &input) == 0 && input.st_dev == output.st_dev &&
           input.st_ino == output.st_ino;
}

int cli_flush(void)
{
    int failed = fflush(stdout) != 0 || ferror(stdout) != 0;
    if (!failed) {
        return CLI_DONE;
    }
    if (errno != EPIPE) { /* a reader that has seen enough is no news */
        cli_complain("stdout cannot be written: %s", strerror(errno));
    }
    return CLI_FILE;
}

static int print(const cli_options *options, const us_buffer *result)
{
    if (stdout_is_input(options)) {
        cli_complain("stdout leads to the input itself");
        return CLI_FILE;
    }
    errno = 0;
    (void)fwrite(us_buffer_data(result), 1, us_buffer_length(result), stdout);
    return cli_flush();
}

int cli_deliver(us_context *context, const cli_options *options, const us_buffer *result)
{
    if (options->output == NULL || is_dash(options->output)) {
        return print(options, result);
    }
    us_status status = us_buffer_write_file(context, result, options->output, input_path(options));
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE && !options->quiet) {
        (void)fputs("undersill: wrote ", stderr);
        cli_print_safe(stderr, options->output);
        (void)fputc('\n', stderr);
    }
    return code;
}
