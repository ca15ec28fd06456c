/* undersill: the table of commands. */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "command.h"

static const cli_command commands[] = {
    {"example", "[NAME]", "print a commented starter section",
     "NAME is one of those that --list names; without it, demo is printed.",
     "  undersill example > reach.yaml", CLI_TAKES_LIST, false, cmd_example},
    {"check", "FILE", "explain a section and report every mistake, solve nothing",
     "FILE is a section file, - is stdin. Exit code 2 means that the section has mistakes.",
     "  undersill check reach.yaml", CLI_TAKES_OUTPUT | CLI_TAKES_CASES, true, cmd_check},
    {"solve", "FILE", "flow, exit gradient, uplift, heads, checks by water case",
     "FILE is a section file, - is stdin. Exit codes: 0 done; 1 done, and a required check fails "
     "or could not be made; "
     "2 the section has mistakes; 3 not solved, or not to the accuracy asked for.",
     "  undersill solve reach.yaml --accuracy 0.2% --format json -o reach.json",
     CLI_TAKES_OUTPUT | CLI_TAKES_FORMAT | CLI_TAKES_ACCURACY | CLI_TAKES_CASES | CLI_TAKES_APRON,
     true, cmd_solve},
    {"draw", "FILE", "draw flow net, uplift, exit gradients or section: PNG, SVG, PDF",
     "FILE is a section file, - is stdin.",
     "  undersill draw reach.yaml --water low_flow -o net.png",
     CLI_TAKES_OUTPUT | CLI_TAKES_PICTURE | CLI_TAKES_WATER | CLI_TAKES_CASES, true, cmd_draw},
    {"converge", "FILE", "how the numbers settle on finer grids, as table and chart",
     "FILE is a section file, - is stdin. Each grid has every cell of the one before halved both "
     "ways.",
     "  undersill converge reach.yaml --chart convergence.png",
     CLI_TAKES_OUTPUT | CLI_TAKES_FORMAT | CLI_TAKES_WATER | CLI_TAKES_CHART | CLI_TAKES_LADDER,
     true, cmd_converge},
    {"depth", "FILE", "how deep a wall must be: every tip level against the requirements",
     "FILE is a section file, - is stdin. Exit code 1 means that requirements are set and no level "
     "that was looked at keeps all of them.",
     "  undersill depth reach.yaml --wall tail_wall --chart depth.png",
     CLI_TAKES_OUTPUT | CLI_TAKES_FORMAT | CLI_TAKES_ACCURACY | CLI_TAKES_CASES | CLI_TAKES_CHART |
         CLI_TAKES_WALL,
     true, cmd_depth},
    {"verify", "[CASE]", "solve sections whose answers are known, and compare",
     "CASE is the name of one of them; without it, all are solved. Exit code 1 means that a value "
     "misses the known one by more than is allowed: its own stated error, and how closely the "
     "source can be read.",
     "  undersill verify",
     CLI_TAKES_OUTPUT | CLI_TAKES_FORMAT | CLI_TAKES_THREADS | CLI_TAKES_CHART, false, cmd_verify},
};
enum { COMMAND_COUNT = sizeof commands / sizeof commands[0] };

static const char *const later[] = {"compare", "asbuilt", "sweep", "uncertain", "report", NULL};

static const char first_steps[] =
    "  undersill example > reach.yaml          a section to edit\n"
    "  undersill check reach.yaml              is it what you meant?\n"
    "  undersill solve reach.yaml              the tables\n"
    "  undersill draw reach.yaml -o net.png    the flow net\n";

/* For those who type the name alone. */
static void print_first_steps(FILE *stream)
{
    (void)fprintf(stream,
                  "Undersill: seepage under a grade-control structure with cut-off walls.\n\n"
                  "First steps\n%s\n"
                  "undersill --help lists the commands; undersill COMMAND --help tells more.\n",
                  first_steps);
}

static void print_usage(FILE *stream)
{
    (void)fputs("Usage: undersill COMMAND [OPTION...] [FILE]\n\n"
                "Seepage under a grade-control structure with cut-off walls: from a section\n"
                "file to flow, exit gradient, uplift and a flow net.\n\nCommands\n",
                stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        (void)fprintf(stream, "  %-8s %-7s %s\n", commands[i].name, commands[i].operand,
                      commands[i].summary);
    }
    (void)fprintf(stream,
                  "\nFirst steps\n%s\n"
                  "undersill COMMAND --help, or undersill help COMMAND, tells more of a command;\n"
                  "undersill --version names the release and the libraries it runs on.\n",
                  first_steps);
}

static int print_version(void)
{
    (void)printf("undersill %s\n", us_version());
    us_library library;
    for (size_t i = 0; us_version_library(i, &library); i++) {
        (void)printf("  %s %s\n", library.name, library.version);
    }
    return cli_flush();
}

static const cli_command *find(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(commands[i].name, name) == 0) {
            return &commands[i];
        }
    }
    return NULL;
}

static bool comes_later(const char *name)
{
    size_t i = 0;
    while (later[i] != NULL && strcmp(later[i], name) != 0) {
        i++;
    }
    return later[i] != NULL;
}

static bool names_section(const char *word)
{
    const char *ending = strrchr(word, '.');
    return ending != NULL && (strcmp(ending, ".yaml") == 0 || strcmp(ending, ".yml") == 0);
}

static int refuse(const char *name)
{
    static const char *const known[] = {
        "example", "check", "solve",     "draw",   "converge", "help",   "compare",   "depth",
        "asbuilt", "sweep", "uncertain", "report", "verify",   "--help", "--version", NULL};
    if (comes_later(name)) {
        cli_complain(
            "%s: not yet: this release has example, check, solve, draw, converge, depth and "
            "verify",
            name);
        return CLI_USAGE;
    }
    const char *near = cli_nearest(name, known);
    if (names_section(name)) {
        cli_complain("a command comes first: undersill solve %s; undersill --help lists them",
                     name);
    } else if (near != NULL) {
        cli_complain("there is no command '%s'; did you mean '%s'?", name, near);
    } else if (name[0] == '-') {
        cli_complain("%s: a command comes before its options; undersill --help lists them", name);
    } else {
        cli_complain("there is no command '%s'; undersill --help lists them", name);
    }
    return CLI_USAGE;
}

static int run(const cli_command *command, int count, char **arguments)
{
    cli_options options;
    int code = cli_options_parse(command, count, arguments, &options);
    if (code != CLI_DONE) {
        return code;
    }
    if (options.help) {
        return cli_flush();
    }
    if (options.operand == NULL && command->needs_operand) {
        cli_complain("%s needs a section file; undersill example prints one to begin with",
                     command->name);
        return CLI_USAGE;
    }
    if (options.cases != NULL && options.operand != NULL && strcmp(options.cases, "-") == 0 &&
        strcmp(options.operand, "-") == 0) {
        cli_complain("section and table of cases cannot both come from stdin");
        return CLI_USAGE;
    }
    cli_heap_prepare();
    code = command->run(&options);
    return code == CLI_INTERRUPTED ? cli_watch_leave() : code;
}

static bool is_word(const char *argument, const char *word, const char *option, const char *letter)
{
    return strcmp(argument, word) == 0 || strcmp(argument, option) == 0 ||
           strcmp(argument, letter) == 0;
}

/* `undersill help solve` means `undersill solve --help`. */
static int help(int count, char **arguments)
{
    const cli_command *command = count > 2 ? find(arguments[2]) : NULL;
    if (command != NULL) {
        char *as_option[] = {arguments[2], "--help", NULL};
        return run(command, 2, as_option);
    }
    if (count > 2 && !is_word(arguments[2], "help", "--help", "-h")) {
        return refuse(arguments[2]);
    }
    print_usage(stdout);
    return cli_flush();
}

/* A file opened in place of a closed stdout or stderr would receive what is
 * meant for that. The stand-ins are opened the wrong way round on purpose: using
 * them fails as using the closed ones would. */
static void occupy_standard_streams(void)
{
    for (int descriptor = 0; descriptor <= 2; descriptor++) {
        if (fcntl(descriptor, F_GETFD) < 0) {
            (void)open("/dev/null", descriptor == 0 ? O_WRONLY : O_RDONLY);
        }
    }
}

int main(int count, char **arguments)
{
    occupy_standard_streams();
    errno = 0;
    if (count < 2) {
        print_first_steps(stderr);
        return CLI_USAGE;
    }
    if (is_word(arguments[1], "help", "--help", "-h")) {
        return help(count, arguments);
    }
    if (is_word(arguments[1], "version", "--version", "-V")) {
        return print_version();
    }
    const cli_command *command = find(arguments[1]);
    return command == NULL ? refuse(arguments[1]) : run(command, count - 1, arguments + 1);
}
