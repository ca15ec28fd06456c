/* What the parts of the benchmark share. Times are in seconds of the monotonic clock. */
#ifndef BENCHMARKS_BENCH_H
#define BENCHMARKS_BENCH_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct bench_options {
    const char *tool;    /* the command `undersill` */
    const char *section; /* the section file that is measured */
    int runs;            /* of each thing, interleaved */
    bool brief;          /* small sizes and few runs */
    bool largest;        /* 4,000,000 unknowns too */
} bench_options;

/* The parts. Each prints a table and adds an object to `results`; false, after a line on
 * stderr, when something could not be measured or two results differ that may not. */
bool bench_start(const bench_options *options, json_t *results);
bool bench_solve(const bench_options *options, json_t *results);
bool bench_batch(const bench_options *options, json_t *results);
bool bench_errors(const bench_options *options, json_t *results);

double bench_now_s(void);

/* What the processors have spent on this process. */
double bench_work_s(void);

/* Smallest, middle and largest of `count` values; sorts them. */
typedef struct bench_spread {
    double least;
    double middle;
    double most;
} bench_spread;
bench_spread bench_spread_of(double *values, size_t count);
json_t *bench_spread_json(bench_spread spread);

/* Adds a member and gives it to the object; for a number that is not one, null. */
void bench_put(json_t *object, const char *key, json_t *value);
void bench_put_number(json_t *object, const char *key, double value);

/* Forgets the most memory this process has held so far; false where the system cannot. */
bool bench_memory_reset(void);

/* The most memory held since, in bytes, and what is held now; 0 where unknown. */
typedef struct bench_memory {
    double most;
    double now;
} bench_memory;
bench_memory bench_memory_read(void);

#endif
