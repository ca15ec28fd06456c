/* bench: all parts of the benchmark, or those that are named. benchmarks/run.sh builds and runs it.
 *
 * bench --tool FILE --section FILE [--json FILE] [--runs N] [--short] [--largest] [PART...] */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench.h"
#include "undersill/undersill.h"

typedef struct part {
    const char *name;
    bool (*run)(const bench_options *options, json_t *results);
} part;

static const part parts[] = {
    {"start", bench_start}, /* first: a child inherits the peak memory of this process */
    {"batch", bench_batch},
    {"solve", bench_solve},
    {"accuracy", bench_errors},
};
enum { PARTS = sizeof parts / sizeof parts[0], RUNS = 5, RUNS_BRIEF = 3, RUNS_MOST = 99 };

static int complain(void)
{
    (void)fputs("usage: bench --tool FILE --section FILE [--json FILE] [--runs 1 to 99] [--short] "
                "[--largest] [start] [batch] [solve] [accuracy]\n",
                stderr);
    return 2;
}

static bool find_part(const char *name, bool wanted[PARTS])
{
    for (size_t p = 0; p < PARTS; p++) {
        if (strcmp(name, parts[p].name) == 0) {
            wanted[p] = true;
            return true;
        }
    }
    return false;
}

/* The processor, the number of cores that may be used, and how busy they were. */
static void add_machine(json_t *results)
{
    json_t *machine = json_object();
    char line[256] = "";
    FILE *file = fopen("/proc/loadavg", "r");
    bool known = file != NULL && fgets(line, sizeof line, file) != NULL;
    bench_put(machine, "cores", json_integer(sysconf(_SC_NPROCESSORS_ONLN)));
    bench_put(machine, "load_before", known ? json_real(strtod(line, NULL)) : json_null());
    if (file != NULL) {
        (void)fclose(file);
    }
    us_library library;
    for (size_t i = 0; us_version_library(i, &library); i++) {
        bench_put(machine, library.name, json_string(library.version));
    }
    bench_put(results, "machine", machine);
    bench_put(results, "undersill", json_string(us_version()));
    if (known) {
        printf("cores %ld, load %.2f when this began\n", sysconf(_SC_NPROCESSORS_ONLN),
               strtod(line, NULL));
    }
}

/* Takes one argument, and its value where it has one; false where that is none of ours. */
static bool take(char **argument, bench_options *options, const char **json, bool wanted[PARTS])
{
    bool has_value = argument[1] != NULL;
    if (strcmp(argument[0], "--short") == 0) {
        options->brief = true;
    } else if (strcmp(argument[0], "--largest") == 0) {
        options->largest = true;
    } else if (strcmp(argument[0], "--tool") == 0 && has_value) {
        options->tool = argument[1];
    } else if (strcmp(argument[0], "--section") == 0 && has_value) {
        options->section = argument[1];
    } else if (strcmp(argument[0], "--json") == 0 && has_value) {
        *json = argument[1];
    } else if (strcmp(argument[0], "--runs") == 0 && has_value) {
        options->runs = (int)strtol(argument[1], NULL, 10);
        return options->runs >= 1 && options->runs <= RUNS_MOST;
    } else {
        return find_part(argument[0], wanted);
    }
    return true;
}

static bool takes_value(const char *argument)
{
    return strncmp(argument, "--", 2) == 0 && strcmp(argument, "--short") != 0 &&
           strcmp(argument, "--largest") != 0;
}

static bool write_json(const json_t *results, const char *path)
{
    enum { DIGITS = 6 };
    if (path != NULL &&
        json_dump_file(results, path, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS)) != 0) {
        (void)fprintf(stderr, "bench: %s could not be written\n", path);
        return false;
    }
    return true;
}

int main(int count, char **arguments)
{
    bench_options options = {0};
    const char *json = NULL;
    bool wanted[PARTS] = {false};
    for (int k = 1; k < count; k++) {
        if (!take(&arguments[k], &options, &json, wanted)) {
            return complain();
        }
        k += takes_value(arguments[k]) ? 1 : 0;
    }
    if (options.tool == NULL || options.section == NULL) {
        return complain();
    }
    bool some = false;
    for (size_t p = 0; p < PARTS; p++) {
        some = some || wanted[p];
    }
    if (options.runs == 0) {
        options.runs = options.brief ? RUNS_BRIEF : RUNS;
    }
    json_t *results = json_object();
    add_machine(results);
    bench_put(results, "runs", json_integer(options.runs));
    bool done = true;
    for (size_t p = 0; p < PARTS; p++) {
        if (wanted[p] || !some) {
            printf("\n%s\n", parts[p].name);
            done = parts[p].run(&options, results) && done;
            (void)fflush(stdout);
        }
    }
    done = write_json(results, json) && done;
    json_decref(results);
    return done ? 0 : 1;
}
