#define _DEFAULT_SOURCE /* wait4 */

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "bench.h"

extern char **environ;

double bench_process(const char *tool, const char *section, size_t *peak_bytes)
{
    char *arguments[] = {(char *)tool, "solve", (char *)section, NULL};
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    double start_s = bench_now_s();
    pid_t child = 0;
    int failed = posix_spawn(&child, tool, &actions, NULL, arguments, environ);
    posix_spawn_file_actions_destroy(&actions);
    int status = 0;
    struct rusage usage;
    if (failed != 0 || wait4(child, &status, 0, &usage) != child) {
        return -1.0;
    }
    double time_s = bench_now_s() - start_s;
    *peak_bytes = (size_t)usage.ru_maxrss * 1024;
    /* 1 is a finished run whose section fails a check. */
    return WIFEXITED(status) && WEXITSTATUS(status) <= 1 ? time_s : -1.0;
}
