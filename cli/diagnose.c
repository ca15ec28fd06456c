/* Diagnostics on stderr, and the exit codes they lead to. */
#include <stdarg.h>
#include <string.h>

#include "command.h"

/* Line separators, and marks that turn the direction of the text behind them
 * (U+2028 to U+202E, U+2066 to U+2069): a name could pass for another. */
static bool misleads(const unsigned char *text)
{
    return text[0] == 0xE2 && ((text[1] == 0x80 && text[2] >= 0xA8 && text[2] <= 0xAE) ||
                               (text[1] == 0x81 && text[2] >= 0xA6 && text[2] <= 0xA9));
}

/* Length of the valid UTF-8 character at `text`, 0 when it is broken or a
 * control code (C0, DEL, C1). */
static size_t printable_length(const unsigned char *text)
{
    if (text[0] < 0x80) {
        return text[0] >= 0x20 && text[0] != 0x7F;
    }
    size_t length = text[0] >= 0xF0 ? 4 : text[0] >= 0xE0 ? 3 : 2;
    if (text[0] < 0xC2 || text[0] > 0xF4 || (text[0] == 0xC2 && text[1] < 0xA0)) {
        return 0;
    }
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0) != 0x80) {
            return 0;
        }
    }
    return misleads(text) ? 0 : length;
}

static size_t step_over(const char *text)
{
    size_t length = printable_length((const unsigned char *)text);
    return length > 0 ? length : 1;
}

static void print_character(FILE *stream, const char *text)
{
    size_t length = printable_length((const unsigned char *)text);
    if (length == 0) {
        (void)fputc('?', stream);
    } else {
        (void)fwrite(text, 1, length, stream);
    }
}

void cli_print_safe(FILE *stream, const char *text)
{
    for (; *text != '\0'; text += step_over(text)) {
        print_character(stream, text);
    }
}

void cli_complain(const char *format, ...)
{
    char text[2048];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    (void)fputs("undersill: error: ", stderr);
    cli_print_safe(stderr, text);
    (void)fputc('\n', stderr);
}

/* The source line and a caret under its column. Of a long line only the
 * stretch around the column is shown. */
static void print_source(const us_diagnostic *said)
{
    enum { BEFORE = 60, SHOWN = 90 };
    int first = said->column > SHOWN ? said->column - BEFORE : 1;
    const char *text = said->source_line;
    for (int column = 1; column < first && *text != '\0'; column++) {
        text += step_over(text);
    }
    (void)fputs(first > 1 ? "    ..." : "    ", stderr);
    int shown = 0;
    for (; *text != '\0' && shown < SHOWN; shown++) {
        print_character(stderr, text);
        text += step_over(text);
    }
    (void)fputs(*text != '\0' ? "...\n" : "\n", stderr);
    if (said->column > 0) {
        int blanks = said->column - first + (first > 1 ? 3 : 0);
        (void)fprintf(stderr, "    %*s^\n", blanks, "");
    }
}

static void print_place(const us_diagnostic *said)
{
    if (said->file != NULL) {
        cli_print_safe(stderr, said->file);
        (void)fputc(':', stderr);
    }
    if (said->line > 0) {
        (void)fprintf(stderr, "%d:", said->line);
    }
    if (said->line > 0 && said->column > 0) {
        (void)fprintf(stderr, "%d:", said->column);
    }
    if (said->file != NULL || said->line > 0) {
        (void)fputc(' ', stderr);
    }
}

static void print_diagnostic(const us_diagnostic *said)
{
    static const char *const severities[] = {
        [US_NOTE] = "note: ", [US_WARNING] = "warning: ", [US_ERROR] = "error: "};
    print_place(said);
    (void)fputs(severities[said->severity], stderr);
    if (said->key != NULL) {
        cli_print_safe(stderr, said->key);
        (void)fputs(": ", stderr);
    }
    cli_print_safe(stderr, said->message);
    (void)fputc('\n', stderr);
    if (said->source_line != NULL) {
        print_source(said);
    }
    if (said->hint != NULL) {
        (void)fputs("    hint: ", stderr);
        cli_print_safe(stderr, said->hint);
        (void)fputc('\n', stderr);
    }
}

static int exit_code(us_status status)
{
    switch (status) {
    case US_OK:
        return CLI_DONE;
    case US_ERROR_INPUT:
        return CLI_USAGE;
    case US_NOT_CONVERGED:
    case US_ERROR_NUMERICAL:
        return CLI_NUMERICAL;
    case US_ERROR_FILE:
        return CLI_FILE;
    case US_ERROR_ARGUMENT:
    case US_ERROR_MEMORY:
    case US_ERROR_INTERNAL:
        break;
    case US_CANCELLED:
        return CLI_INTERRUPTED;
    }
    return CLI_INTERNAL;
}

int cli_conclude(us_context *context, us_status status, bool quiet)
{
    if (cli_watch_end()) {
        us_context_clear(context);
        (void)fputs("undersill: interrupted\n", stderr);
        return CLI_INTERRUPTED;
    }
    size_t errors = 0;
    for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *said = us_context_diagnostic(context, i);
        errors += said->severity == US_ERROR;
        if (said->severity == US_ERROR || !quiet) {
            print_diagnostic(said);
        }
    }
    us_context_clear(context);
    if (status == US_NOT_CONVERGED && !quiet) {
        (void)fputs("undersill: the accuracy asked for was not reached; the stated errors say by "
                    "how much\n",
                    stderr);
    }
    if (errors == 0 && status != US_OK && status != US_NOT_CONVERGED) {
        cli_complain("%s", us_status_name(status));
    }
    return exit_code(status);
}
