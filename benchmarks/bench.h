/* The parts of bench_demo. Times in seconds of the monotonic clock. */
#ifndef BENCHMARKS_BENCH_H
#define BENCHMARKS_BENCH_H

#include <stddef.h>

/* The middle one of `count` times; sorts them. */
double bench_median(double *times_s, size_t count);

double bench_now_s(void);

/* Runs `tool solve section` once, its output thrown away. Returns the wall
 * time, or a negative number when the run failed; `peak_bytes` is the most
 * memory it held. A child inherits the peak of its parent, so call this while
 * the calling process is still small. */
double bench_process(const char *tool, const char *section, size_t *peak_bytes);

/* Solves `section` by the library and keeps a copy of each matrix on the way.
 * Returns how many there are, 0 on failure. */
size_t bench_gather(const char *section);

/* Unknowns of kept matrix `index`. */
size_t bench_unknowns(size_t index);

/* CHOLMOD as it comes: analyses, factorises and solves every kept matrix with
 * default settings; assembly is not counted. A negative number on failure. */
double bench_bare(void);

void bench_forget(void);

#endif
