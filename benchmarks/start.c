/* Whole processes, from start to exit: what someone waits for at a prompt. */
#define _DEFAULT_SOURCE /* wait4 */

#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench.h"

enum { ARGUMENTS = 8, RUNS_MOST = 128, ROUNDS_EACH = 4 };

extern char **environ;

/* `SECTION` and `PICTURE` stand for the section file and a file to draw into. */
typedef struct run_kind {
    const char *name;
    const char *arguments[ARGUMENTS];
} run_kind;

static const run_kind kinds[] = {
    {"--version", {"--version"}},
    {"check", {"check", "SECTION"}},
    {"solve", {"solve", "SECTION"}},
    {"draw", {"draw", "SECTION", "-o", "PICTURE"}},
    {"solve, 0.1 %", {"solve", "SECTION", "--accuracy", "0.1%"}},
    {"solve, 0.01 %", {"solve", "SECTION", "--accuracy", "0.01%"}},
};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

static const char *meaning(const bench_options *options, const char *argument, const char *picture)
{
    if (argument[0] == 'S') {
        return options->section;
    }
    return argument[0] == 'P' ? picture : argument;
}

/* What runs of one kind took: the wall's time, and that of the processors. */
typedef struct tally {
    double wall_s[RUNS_MOST * ROUNDS_EACH];
    double work_s[RUNS_MOST * ROUNDS_EACH];
    double peak_bytes;
} tally;

static double seconds(struct timeval time)
{
    return (double)time.tv_sec + 1e-6 * (double)time.tv_usec;
}

/* Runs one of them with its output thrown away, as run number `run`. False when it failed; a run
 * whose section fails a check ends with 1. */
static bool run_once(const bench_options *options, const run_kind *kind, const char *picture,
                     size_t run, tally *to)
{
    char *arguments[ARGUMENTS + 2] = {(char *)options->tool};
    for (int k = 0; kind->arguments[k] != NULL; k++) {
        arguments[k + 1] = (char *)meaning(options, kind->arguments[k], picture);
    }
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    double start_s = bench_now_s();
    pid_t child = 0;
    int failed = posix_spawn(&child, options->tool, &actions, NULL, arguments, environ);
    posix_spawn_file_actions_destroy(&actions);
    int status = 0;
    struct rusage usage;
    if (failed != 0 || wait4(child, &status, 0, &usage) != child) {
        return false;
    }
    double bytes = 1024.0 * (double)usage.ru_maxrss;
    to->wall_s[run] = bench_now_s() - start_s;
    to->work_s[run] = seconds(usage.ru_utime) + seconds(usage.ru_stime);
    to->peak_bytes = bytes > to->peak_bytes ? bytes : to->peak_bytes;
    return WIFEXITED(status) && WEXITSTATUS(status) <= 1;
}

static void tell(const run_kind *kind, tally *of, size_t runs, json_t *results)
{
    bench_spread wall = bench_spread_of(of->wall_s, runs);
    bench_spread work = bench_spread_of(of->work_s, runs);
    printf("  %-14s median %7.4f s   fastest %7.4f s   slowest %7.4f s   processor %7.4f s   peak "
           "%5.1f MB\n",
           kind->name, wall.middle, wall.least, wall.most, work.middle, 1e-6 * of->peak_bytes);
    json_t *object = json_object();
    bench_put(object, "wall_s", bench_spread_json(wall));
    bench_put(object, "processor_s", bench_spread_json(work));
    bench_put_number(object, "peak_bytes", of->peak_bytes);
    bench_put(results, kind->name, object);
}

bool bench_start(const bench_options *options, json_t *results)
{
    static tally tallies[KINDS];
    char picture[] = "/tmp/bench-XXXXXX.png";
    int descriptor = mkstemps(picture, 4);
    size_t runs = (size_t)options->runs * ROUNDS_EACH;
    bool done = descriptor >= 0 && close(descriptor) == 0;
    /* One round more: the first, which is overwritten, warms the cache of files. */
    for (size_t round = 0; done && round <= runs; round++) {
        for (size_t k = 0; done && k < KINDS; k++) {
            size_t run = round > 0 ? round - 1 : 0;
            done = run_once(options, &kinds[k], picture, run, &tallies[k]);
            if (!done) {
                (void)fprintf(stderr, "bench: '%s' of %s failed\n", kinds[k].name, options->tool);
            }
        }
    }
    (void)unlink(picture);
    json_t *found = json_object();
    for (size_t k = 0; done && k < KINDS; k++) {
        tell(&kinds[k], &tallies[k], runs, found);
    }
    bench_put(results, "start", found);
    return done;
}
