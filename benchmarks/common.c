/* Clock, order statistics, memory. */
#define _DEFAULT_SOURCE /* malloc_trim */

#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "bench.h"

static double read_clock(clockid_t which)
{
    struct timespec now;
    clock_gettime(which, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

double bench_now_s(void)
{
    return read_clock(CLOCK_MONOTONIC);
}

double bench_work_s(void)
{
    return read_clock(CLOCK_PROCESS_CPUTIME_ID);
}

static int by_size(const void *a, const void *b)
{
    double left = *(const double *)a;
    double right = *(const double *)b;
    return (left > right) - (left < right);
}

bench_spread bench_spread_of(double *values, size_t count)
{
    qsort(values, count, sizeof *values, by_size);
    return (bench_spread){values[0], values[count / 2], values[count - 1]};
}

void bench_put(json_t *object, const char *key, json_t *value)
{
    if (value == NULL || json_object_set_new(object, key, value) != 0) {
        (void)fputs("bench: out of memory\n", stderr);
        exit(1);
    }
}

void bench_put_number(json_t *object, const char *key, double value)
{
    bench_put(object, key, isfinite(value) ? json_real(value) : json_null());
}

json_t *bench_spread_json(bench_spread spread)
{
    json_t *object = json_object();
    bench_put_number(object, "median", spread.middle);
    bench_put_number(object, "fastest", spread.least);
    bench_put_number(object, "slowest", spread.most);
    return object;
}

bool bench_memory_reset(void)
{
    (void)malloc_trim(0);
    FILE *file = fopen("/proc/self/clear_refs", "w");
    bool done = file != NULL && fputs("5", file) >= 0;
    return (file == NULL || fclose(file) == 0) && done;
}

bench_memory bench_memory_read(void)
{
    bench_memory found = {0.0, 0.0};
    char line[256];
    FILE *file = fopen("/proc/self/status", "r");
    while (file != NULL && fgets(line, sizeof line, file) != NULL) {
        if (strncmp(line, "VmHWM:", 6) == 0) {
            found.most = 1024.0 * strtod(line + 6, NULL);
        } else if (strncmp(line, "VmRSS:", 6) == 0) {
            found.now = 1024.0 * strtod(line + 6, NULL);
        }
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return found;
}
