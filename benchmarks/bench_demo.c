/* How long and how much memory does `undersill solve` take as a whole process,
 * and how does that compare with bare CHOLMOD on the same matrices?
 *
 * bench_demo TOOL SECTION [RUNS]
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "bench.h"

enum { DEFAULT_RUNS = 41, MOST_RUNS = 1001 };

double bench_now_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int compare(const void *a, const void *b)
{
    double left = *(const double *)a;
    double right = *(const double *)b;
    return (left > right) - (left < right);
}

double bench_median(double *times_s, size_t count)
{
    qsort(times_s, count, sizeof *times_s, compare);
    return times_s[count / 2];
}

/* Median over `runs` processes, after one that warms the file cache. */
static double time_processes(const char *tool, const char *section, size_t runs)
{
    static double times_s[MOST_RUNS];
    size_t most_bytes = 0;
    size_t peak_bytes = 0;
    if (bench_process(tool, section, &peak_bytes) < 0.0) {
        fprintf(stderr, "bench_demo: '%s solve %s' failed\n", tool, section);
        return -1.0;
    }
    for (size_t run = 0; run < runs; run++) {
        times_s[run] = bench_process(tool, section, &peak_bytes);
        most_bytes = peak_bytes > most_bytes ? peak_bytes : most_bytes;
    }
    double median_s = bench_median(times_s, runs);
    printf("whole process   median %.4f s   fastest %.4f s   slowest %.4f s   peak %.1f MB\n",
           median_s, times_s[0], times_s[runs - 1], 1e-6 * (double)most_bytes);
    return median_s;
}

static double time_bare(const char *section, size_t runs)
{
    static double times_s[MOST_RUNS];
    size_t count = bench_gather(section);
    if (count == 0 || bench_bare() < 0.0) {
        fprintf(stderr, "bench_demo: the library could not solve %s\n", section);
        return -1.0;
    }
    for (size_t run = 0; run < runs; run++) {
        times_s[run] = bench_bare();
    }
    double median_s = bench_median(times_s, runs);
    printf("bare CHOLMOD    median %.4f s   fastest %.4f s   slowest %.4f s   %zu matrices:",
           median_s, times_s[0], times_s[runs - 1], count);
    for (size_t index = 0; index < count; index++) {
        printf(" %zu", bench_unknowns(index));
    }
    printf(" unknowns\n");
    bench_forget();
    return median_s;
}

int main(int argc, char **argv)
{
    long runs = argc == 4 ? strtol(argv[3], NULL, 10) : DEFAULT_RUNS;
    if (argc < 3 || argc > 4 || runs < 1 || runs > MOST_RUNS) {
        fprintf(stderr, "usage: bench_demo TOOL SECTION [RUNS, 1 to %d]\n", MOST_RUNS);
        return 2;
    }
    printf("undersill solve %s, %ld runs\n", argv[2], runs);
    double process_s = time_processes(argv[1], argv[2], (size_t)runs);
    double bare_s = process_s > 0.0 ? time_bare(argv[2], (size_t)runs) : -1.0;
    if (bare_s <= 0.0) {
        return 1;
    }
    printf("ratio           %.2f   (whole process over bare CHOLMOD)\n", process_s / bare_s);
    return 0;
}
