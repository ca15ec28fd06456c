/* What the commands share: their table, their options, their way out. */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>

#include "undersill/undersill.h"

/* Exit codes. */
enum {
    CLI_DONE = 0,
    CLI_CHECK_FAILED = 1, /* done, but a required check fails or could not be made */
    CLI_USAGE = 2,        /* the command line or the section file is wrong */
    CLI_NUMERICAL = 3,    /* not solved, or not to the accuracy asked for */
    CLI_FILE = 4,         /* a result could not be written */
    CLI_INTERNAL = 70,    /* out of memory, or the program contradicts itself */
    CLI_INTERRUPTED = 128 /* by a signal, whose number is added */
};

/* Everything the options of all commands can say. */
typedef struct cli_options {
    const char *operand; /* FILE or NAME; NULL when absent */
    const char *output;  /* NULL: stdout */
    us_format format;
    double accuracy;
    us_picture what;
    const char *water; /* NULL: the first case */
    const char *cases; /* file of a table of water cases; NULL: none */
    const char *chart; /* file for a chart; NULL: none */
    const char *wall;  /* NULL: the only one */
    const char *with;  /* NULL: no pairs */
    size_t rungs;      /* 0: not given */
    size_t unknowns;   /* 0: not given */
    const char *image; /* "png", "svg" or "pdf"; NULL: by the name of the output */
    int width_px;      /* 0: not given */
    size_t threads;    /* 0: not given */
    bool without_apron;
    bool list;
    bool quiet;
    bool help;
} cli_options;

/* Sets of options, one bit each, that a command takes. */
enum {
    CLI_TAKES_OUTPUT = 1,
    CLI_TAKES_FORMAT = 2,
    CLI_TAKES_ACCURACY = 4,
    CLI_TAKES_PICTURE = 8,
    CLI_TAKES_LIST = 16,
    CLI_TAKES_WATER = 32,
    CLI_TAKES_CHART = 64,
    CLI_TAKES_LADDER = 128,
    CLI_TAKES_THREADS = 256,
    CLI_TAKES_CASES = 512,
    CLI_TAKES_APRON = 1024,
    CLI_TAKES_WALL = 2048
};

typedef struct cli_command {
    const char *name;
    const char *operand; /* as written in the help */
    const char *summary; /* one line */
    const char *more;    /* further help */
    const char *example; /* a line that works after the first steps */
    unsigned takes;
    bool needs_operand;
    int (*run)(const cli_options *options);
} cli_command;

int cmd_example(const cli_options *options);
int cmd_check(const cli_options *options);
int cmd_solve(const cli_options *options);
int cmd_draw(const cli_options *options);
int cmd_converge(const cli_options *options);
int cmd_depth(const cli_options *options);
int cmd_verify(const cli_options *options);

/* Threads that a command may use: those asked for, or one a processor. */
size_t cli_count_threads(const cli_options *options);

/* Readies the memory of the process for the work of a command; without, all is slower. */
void cli_heap_prepare(void);

/* Reads the arguments behind a command's name; `count` includes the name.
 * --help is answered on stdout. CLI_DONE, or another exit code after saying on
 * stderr what is wrong. */
int cli_options_parse(const cli_command *command, int count, char **arguments,
                      cli_options *options);

/* Reads the section named on the command line, `-` for stdin, with the table of water
 * cases that --cases names. */
us_status cli_read(us_context *context, const cli_options *options, us_section **section);

/* The index of the water case that --water names; `*index` stays without one.
 * False after saying which there are. */
bool cli_find_water(const cli_options *options, const us_section *section, size_t *index);

/* The format that the end of a file's name stands for; false where it is none of
 * .png, .svg and .pdf. */
bool cli_image_of_file(const char *name, us_draw_format *format);

/* Whether --chart, where it is given, has a place of its own; says so where not.
 * `*format` is what the end of its name says. */
bool cli_check_chart(const cli_options *options, us_draw_format *format);

/* What a study makes: a table, and a chart where one is asked for. */
typedef struct cli_results {
    us_buffer *table;
    us_buffer *chart;
} cli_results;

/* A command that reads a section and makes both: `study` does the rest and gives the exit code;
 * `how` is how to draw. */
typedef int (*cli_study)(us_context *context, const cli_options *options,
                         const us_draw_options *how, const us_section *section);
int cli_run_study(const cli_options *options, cli_study study);

/* Delivers the results after `status`, prints what was said, and frees them. */
int cli_conclude_study(us_context *context, const cli_options *options, us_status status,
                       cli_results *made);

/* Writes a result to stdout or to the output file, in one go. */
int cli_deliver(us_context *context, const cli_options *options, const us_buffer *result);

/* The table, and behind it the chart to the file of its own; that may be NULL. */
int cli_deliver_both(us_context *context, const cli_options *options, const us_buffer *table,
                     const us_buffer *chart);

/* Flushes stdout: CLI_DONE, or CLI_FILE after saying why not. */
int cli_flush(void);

/* Prints the diagnostics gathered (without notes and warnings when quiet) and
 * forgets them; gives the exit code that belongs to `status`. Ends the watch:
 * after a signal it says only that, and gives CLI_INTERRUPTED. */
int cli_conclude(us_context *context, us_status status, bool quiet);

/* From here to cli_watch_end() the calls made with `context` show their progress
 * on stderr, when that is a terminal, they take over a second and not `quiet`;
 * and SIGINT and SIGTERM cancel them. */
void cli_watch_begin(us_context *context, bool quiet);

/* Erases the line of progress and leaves signals as they were. True when one
 * came. Nothing happens without a beginning. cli_conclude() calls it. */
bool cli_watch_end(void);

/* Ctrl-C and its like wait while a file is written, and come after it: the library holds them
 * back in the thread that writes, but a process may have others (some BLAS brings them along). */
enum { CLI_SIGNALS = 2 };
void cli_watch_hold(struct sigaction before[CLI_SIGNALS]);
void cli_watch_release(const struct sigaction before[CLI_SIGNALS]);

/* Ends the tool by the signal that came, so that a shell sees it: a loop in a
 * script ends as well, and the exit status is 128 and the signal's number. That
 * is also the value, should the tool live on. */
int cli_watch_leave(void);

/* Says "undersill: error: ..." on stderr. */
void cli_complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Prints text from outside with control codes and broken UTF-8 replaced. */
void cli_print_safe(FILE *stream, const char *text);

/* The entry of a NULL-ended list nearest to what was typed, or NULL when none
 * is near. */
const char *cli_nearest(const char *typed, const char *const *known);

#endif
