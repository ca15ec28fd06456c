/* The options of the commands; argp is known to this file only.
 *
 * argp reads and explains the options. What it would say of a wrong one names
 * no alternative, so the arguments are looked through before it sees them. */
#include <argp.h>
#include <ctype.h>
#include <errno.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"

enum {
    KEY_LIST = 256,
    KEY_WHAT,
    KEY_WATER,
    KEY_CASES,
    KEY_WIDTH,
    KEY_ACCURACY,
    KEY_FORMAT,
    KEY_IMAGE,
    KEY_CHART,
    KEY_RUNGS,
    KEY_UNKNOWNS,
    KEY_THREADS,
    KEY_APRON,
    KEY_WALL,
    KEY_WITH
};
enum { OPTION_COUNT = 18, NARROWEST_PX = 900, WIDEST_PX = 6000 };

/* An option and the commands that take it (0: all of them). */
typedef struct known_option {
    struct argp_option argp;
    unsigned of;
} known_option;

static const known_option known_options[OPTION_COUNT] = {
    {{"list", KEY_LIST, NULL, 0, "list the names there are", 0}, CLI_TAKES_LIST},
    {{"format", KEY_FORMAT, "FORMAT", 0, "text (default), json or csv", 0}, CLI_TAKES_FORMAT},
    {{"format", KEY_IMAGE, "FORMAT", 0, "png, svg or pdf (default: as the name of FILE ends)", 0},
     CLI_TAKES_PICTURE},
    {{"output", 'o', "FILE", 0, "write to FILE, whole or not at all", 0}, CLI_TAKES_OUTPUT},
    {{"accuracy", KEY_ACCURACY, "P%", 0,
      "stated error of flow and exit gradient, 0.001% to 20% (default 1%)", 0},
     CLI_TAKES_ACCURACY},
    {{"without-apron", KEY_APRON, NULL, 0,
      "each case once more without credit for the apron: water passes up all along", 0},
     CLI_TAKES_APRON},
    {{"what", KEY_WHAT, "PICTURE", 0, "net (default), uplift, exit or section", 0},
     CLI_TAKES_PICTURE},
    {{"water", KEY_WATER, "NAME", 0, "the water case (default: the first)", 0}, CLI_TAKES_WATER},
    {{"cases", KEY_CASES, "FILE", 0,
      "a CSV table of water cases: name,upstream,downstream[,discharge][,return_period]", 0},
     CLI_TAKES_CASES},
    {{"wall", KEY_WALL, "NAME", 0, "the wall whose tip varies (default: the only one)", 0},
     CLI_TAKES_WALL},
    {{"with", KEY_WITH, "NAME", 0, "a second wall: which pairs of tips pass", 0}, CLI_TAKES_WALL},
    {{"width", KEY_WIDTH, "PX", 0, "width of a PNG in pixels, 900 to 6000 (default 1600)", 0},
     CLI_TAKES_PICTURE},
    {{"chart", KEY_CHART, "FILE", 0, "draw a chart to FILE, which ends in .png, .svg or .pdf", 0},
     CLI_TAKES_CHART},
    {{"rungs", KEY_RUNGS, "N", 0, "number of grids, 2 to 8 (default 5)", 0}, CLI_TAKES_LADDER},
    {{"unknowns", KEY_UNKNOWNS, "N", 0,
      "no grid of more unknowns, 1000 to 4000000 (default 400000)", 0},
     CLI_TAKES_LADDER},
    {{"threads", KEY_THREADS, "N", 0, "solve N at once, 1 to 256 (default: one a processor)", 0},
     CLI_TAKES_THREADS},
    {{"quiet", 'q', NULL, 0, "errors only on stderr", 0}, 0},
    {{"help", 'h', NULL, 0, "print this help", 0}, 0},
};

/* What the parser of argp gets to know. */
typedef struct parse_state {
    const cli_command *command;
    cli_options *options;
} parse_state;

static bool takes(const cli_command *command, const known_option *option)
{
    return option->of == 0 || (option->of & command->takes) != 0;
}

/* The options of a command as argp wants them. */
static void select_options(const cli_command *command, struct argp_option *selected)
{
    for (size_t i = 0; i < OPTION_COUNT; i++) {
        if (takes(command, &known_options[i])) {
            *selected++ = known_options[i].argp;
        }
    }
    *selected = (struct argp_option){0};
}

static error_t refuse_choice(const char *option, const char *typed, const char *const *choices)
{
    const char *near = cli_nearest(typed, choices);
    char all[80] = "";
    for (size_t i = 0; choices[i] != NULL; i++) {
        (void)strncat(all, i > 0 ? ", " : "", sizeof all - strlen(all) - 1);
        (void)strncat(all, choices[i], sizeof all - strlen(all) - 1);
    }
    if (near != NULL) {
        cli_complain("%s %s: known are %s; did you mean %s?", option, typed, all, near);
    } else {
        cli_complain("%s %s: known are %s", option, typed, all);
    }
    return EINVAL;
}

static error_t read_format(const char *text, us_format *format)
{
    static const char *const names[] = {"text", "json", "csv", NULL};
    static const us_format formats[] = {US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV};
    for (size_t i = 0; names[i] != NULL; i++) {
        if (strcmp(names[i], text) == 0) {
            *format = formats[i];
            return 0;
        }
    }
    return refuse_choice("--format", text, names);
}

static error_t read_image(const char *text, const char **image)
{
    static const char *const names[] = {"png", "svg", "pdf", NULL};
    for (size_t i = 0; names[i] != NULL; i++) {
        if (strcmp(names[i], text) == 0) {
            *image = names[i];
            return 0;
        }
    }
    return refuse_choice("--format", text, names);
}

static error_t read_what(const char *text, us_picture *what)
{
    static const char *const names[] = {"net", "uplift", "exit", "section", NULL};
    static const us_picture pictures[] = {US_PICTURE_NET, US_PICTURE_UPLIFT, US_PICTURE_EXIT,
                                          US_PICTURE_SECTION};
    for (size_t i = 0; names[i] != NULL; i++) {
        if (strcmp(names[i], text) == 0) {
            *what = pictures[i];
            return 0;
        }
    }
    return refuse_choice("--what", text, names);
}

/* strtod() as it is without a locale: a point is a point. */
static double read_plain(const char *text, char **end)
{
    locale_t plain = newlocale(LC_NUMERIC_MASK, "C", (locale_t)0);
    locale_t before = uselocale(plain);
    double number = strtod(text, end);
    (void)uselocale(before);
    if (plain != (locale_t)0) {
        freelocale(plain);
    }
    return number;
}

/* A percentage with its sign: a bare number could be meant either way. */
static error_t read_accuracy(const char *text, double *accuracy)
{
    const double least = 0.001;
    const double most = 20.0;
    char *end = NULL;
    size_t plain = strspn(text, "0123456789.eE+-");
    double percent = read_plain(text, &end);
    if (end == text || end != text + plain || strcmp(end, "%") != 0) {
        cli_complain("--accuracy %s: a percentage is meant, such as 0.5%%", text);
        return EINVAL;
    }
    if (!(percent >= least && percent <= most)) {
        cli_complain("--accuracy %s: must lie from 0.001%% to 20%%", text);
        return EINVAL;
    }
    *accuracy = percent / 100.0;
    return 0;
}

/* A whole number; `what` says of what. */
static error_t read_whole(const char *option, const char *what, const char *text, long least,
                          long most, long *value)
{
    char *end = NULL;
    long number = strtol(text, &end, 10);
    if (strspn(text, "0123456789") != strlen(text) || end == text || number < least ||
        number > most) {
        cli_complain("%s %s: must be a whole number of %s from %ld to %ld", option, text, what,
                     least, most);
        return EINVAL;
    }
    *value = number;
    return 0;
}

static error_t read_width(const char *text, int *width_px)
{
    long value = 0;
    error_t error = read_whole("--width", "pixels", text, NARROWEST_PX, WIDEST_PX, &value);
    *width_px = error == 0 ? (int)value : *width_px;
    return error;
}

static error_t read_rungs(const char *text, size_t *rungs)
{
    enum { FEWEST = 2, MOST = 8 };
    long value = 0;
    error_t error = read_whole("--rungs", "grids", text, FEWEST, MOST, &value);
    *rungs = error == 0 ? (size_t)value : *rungs;
    return error;
}

static error_t read_threads(const char *text, size_t *threads)
{
    enum { FEWEST = 1, MOST = 256 };
    long value = 0;
    error_t error = read_whole("--threads", "threads", text, FEWEST, MOST, &value);
    *threads = error == 0 ? (size_t)value : *threads;
    return error;
}

static error_t read_unknowns(const char *text, size_t *unknowns)
{
    enum { FEWEST = 1000, MOST = 4000000 };
    long value = 0;
    error_t error = read_whole("--unknowns", "unknowns", text, FEWEST, MOST, &value);
    *unknowns = error == 0 ? (size_t)value : *unknowns;
    return error;
}

static error_t take_operand(const parse_state *state, const char *text)
{
    if (state->options->operand != NULL) {
        cli_complain("%s takes one %s: '%s' is one too many", state->command->name,
                     state->command->needs_operand ? "file" : "name", text);
        return EINVAL;
    }
    state->options->operand = text;
    return 0;
}

/* Leaves out what argp says of options in general. */
static char *filter_help(int key, const char *text, void *input)
{
    (void)input;
    return key == ARGP_KEY_HELP_DUP_ARGS_NOTE ? NULL : (char *)text;
}

static void print_help(const parse_state *state, struct argp_state *argp)
{
    char name[64];
    (void)snprintf(name, sizeof name, "undersill %s", state->command->name);
    argp->name = name;
    argp->flags &= ~(unsigned)ARGP_NO_ERRS; /* which silences help as well */
    argp_state_help(argp, stdout, ARGP_HELP_STD_HELP & ~(unsigned)ARGP_HELP_EXIT_OK);
    argp->flags |= ARGP_NO_ERRS;
    argp->name = (char *)state->command->name;
}

static error_t take_option(int key, char *text, struct argp_state *argp)
{
    parse_state *state = argp->input;
    cli_options *options = state->options;
    switch (key) {
    case KEY_LIST:
        options->list = true;
        return 0;
    case KEY_FORMAT:
        return read_format(text, &options->format);
    case KEY_IMAGE:
        return read_image(text, &options->image);
    case KEY_ACCURACY:
        return read_accuracy(text, &options->accuracy);
    case KEY_APRON:
        options->without_apron = true;
        return 0;
    case KEY_WHAT:
        return read_what(text, &options->what);
    case KEY_WATER:
        options->water = text;
        return 0;
    case KEY_CASES:
        options->cases = text;
        return 0;
    case KEY_WALL:
        options->wall = text;
        return 0;
    case KEY_WITH:
        options->with = text;
        return 0;
    case KEY_WIDTH:
        return read_width(text, &options->width_px);
    case KEY_CHART:
        options->chart = text;
        return 0;
    case KEY_RUNGS:
        return read_rungs(text, &options->rungs);
    case KEY_UNKNOWNS:
        return read_unknowns(text, &options->unknowns);
    case KEY_THREADS:
        return read_threads(text, &options->threads);
    case 'o':
        options->output = text;
        return 0;
    case 'q':
        options->quiet = true;
        return 0;
    case 'h':
        if (!options->help) {
            print_help(state, argp);
        }
        options->help = true;
        return 0;
    case ARGP_KEY_ARG:
        return take_operand(state, text);
    default:
        return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_option *find_letter(const struct argp_option *options, int letter)
{
    while (options->name != NULL && options->key != letter) {
        options++;
    }
    return options->name != NULL ? options : NULL;
}

/* By its whole name, or by a beginning that no other has. */
static const struct argp_option *find_name(const struct argp_option *options, const char *name,
                                           size_t length)
{
    const struct argp_option *found = NULL;
    size_t matches = 0;
    for (; options->name != NULL; options++) {
        if (strncmp(options->name, name, length) != 0) {
            continue;
        }
        if (options->name[length] == '\0') {
            return options;
        }
        found = options;
        matches++;
    }
    return matches == 1 && length > 0 ? found : NULL;
}

static void refuse_name(const cli_command *command, const struct argp_option *options,
                        const char *argument)
{
    enum { NAME_ROOM = 40 };
    char name[NAME_ROOM] = "";
    const char *names[OPTION_COUNT + 1] = {NULL};
    for (size_t i = 0; options[i].name != NULL; i++) {
        names[i] = options[i].name;
    }
    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(argument + 2, "="), argument + 2);
    const char *near = cli_nearest(name, names);
    if (near != NULL) {
        cli_complain("%s has no option --%s; did you mean --%s?", command->name, name, near);
    } else {
        cli_complain("%s has no option --%s; undersill %s --help lists them", command->name, name,
                     command->name);
    }
}

/* Whether `argument`, a `--name` or `--name=value`, will do; `*skip` when the
 * next argument is its value. */
static bool check_name(const cli_command *command, const struct argp_option *options,
                       const char *argument, const char *next, bool *skip)
{
    size_t length = strcspn(argument + 2, "=");
    bool has_value = argument[2 + length] == '=';
    const struct argp_option *option = find_name(options, argument + 2, length);
    if (option == NULL) {
        refuse_name(command, options, argument);
        return false;
    }
    if (option->arg == NULL && has_value) {
        cli_complain("--%s takes no value", option->name);
        return false;
    }
    *skip = option->arg != NULL && !has_value;
    if (*skip && next == NULL) {
        cli_complain("--%s needs a value: --%s=%s", option->name, option->name, option->arg);
        return false;
    }
    return true;
}

/* The same for `-q`, `-oFILE`, `-o FILE`, `-qo FILE`. */
static bool check_letters(const cli_command *command, const struct argp_option *options,
                          const char *argument, const char *next, bool *skip)
{
    for (const char *letter = argument + 1; *letter != '\0'; letter++) {
        const struct argp_option *option = find_letter(options, (unsigned char)*letter);
        if (option == NULL) {
            cli_complain("%s has no option -%c; undersill %s --help lists them", command->name,
                         *letter, command->name);
            return false;
        }
        if (option->arg != NULL) {
            *skip = letter[1] == '\0';
            if (*skip && next == NULL) {
                cli_complain("-%c needs a value: -%c %s", *letter, *letter, option->arg);
                return false;
            }
            return true;
        }
    }
    return true;
}

static bool check_arguments(const cli_command *command, const struct argp_option *options,
                            int count, char **arguments)
{
    for (int i = 1; i < count; i++) {
        const char *argument = arguments[i];
        const char *next = i + 1 < count ? arguments[i + 1] : NULL;
        bool skip = false;
        bool good = true;
        if (strcmp(argument, "--") == 0) {
            return true;
        }
        if (strncmp(argument, "--", 2) == 0) {
            good = check_name(command, options, argument, next, &skip);
        } else if (argument[0] == '-' && argument[1] != '\0') {
            good = check_letters(command, options, argument, next, &skip);
        }
        if (!good) {
            return false;
        }
        i += skip;
    }
    return true;
}

int cli_options_parse(const cli_command *command, int count, char **arguments, cli_options *options)
{
    struct argp_option selected[OPTION_COUNT + 1];
    select_options(command, selected);
    char text[1024];
    (void)snprintf(text, sizeof text, "%c%s.\v%s\n\nExample:\n%s", toupper(command->summary[0]),
                   command->summary + 1, command->more, command->example);
    const struct argp argp = {.options = selected,
                              .parser = take_option,
                              .args_doc = command->operand,
                              .doc = text,
                              .help_filter = filter_help};
    parse_state state = {command, options};
    *options = (cli_options){.format = US_FORMAT_TEXT, .accuracy = 0.01, .what = US_PICTURE_NET};
    if (!check_arguments(command, selected, count, arguments)) {
        return CLI_USAGE;
    }
    error_t error = argp_parse(&argp, count, arguments, ARGP_NO_ERRS | ARGP_NO_HELP | ARGP_NO_EXIT,
                               NULL, &state);
    if (error == ENOMEM) { /* argp's own: all else was said where it was found */
        cli_complain("out of memory");
        return CLI_INTERNAL;
    }
    return error == 0 ? CLI_DONE : CLI_USAGE;
}
