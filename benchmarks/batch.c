/* Many realisations of one section through the public calls: a context a thread, on one thread
 * and on two. Conductivities of the top soil are drawn at random, each from the number of its
 * realisation, so that it does not matter who solves it; all tables have to be the same bytes.
 * Arithmetic that needs no memory tells what two threads are worth on this machine at all. */
#include <math.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "undersill/undersill.h"

enum { THREADS = 2, MOST = 64, REALISATIONS = 32, REALISATIONS_BRIEF = 8, UNKNOWNS = 20000 };

typedef struct batch {
    const us_section *section;
    double accuracy;
    size_t count;
    us_buffer *tables[MOST];
    size_t unknowns[MOST];
} batch;

typedef struct worker {
    batch *of;
    size_t first;
    size_t step;
    bool done;
} worker;

/* The n-th number between 0 and 1 of realisation k (a mixing of bits by multiplication). */
static double draw(size_t k, uint64_t n)
{
    uint64_t x = (uint64_t)k * 0x9E3779B97F4A7C15u + n * 0xD1B54A32D192ED03u + 1u;
    x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9u;
    x = (x ^ (x >> 27)) * 0x94D049BB133111EBu;
    return (double)((x ^ (x >> 31)) >> 11) / 9007199254740992.0;
}

static bool solve_one(us_context *context, batch *of, size_t k)
{
    double kh_m_s = 1e-5 * pow(10.0, draw(k, 1));
    double kv_m_s = kh_m_s / (1.0 + 4.0 * draw(k, 2));
    us_change changes[] = {{"soils[0].kh", NULL, kh_m_s}, {"soils[0].kv", NULL, kv_m_s}};
    us_solve_options how = US_SOLVE_OPTIONS_INIT;
    how.accuracy = of->accuracy;
    us_section *variant = NULL;
    us_solution *solution = NULL;
    us_status status = us_section_vary(context, of->section, changes, 2, &variant);
    if (status == US_OK) {
        status = us_section_solve(context, variant, &how, &solution);
    }
    if (status == US_OK) {
        of->unknowns[k] = us_solution_grid(solution)->unknowns;
        status = us_solution_tabulate(context, solution, US_FORMAT_CSV, &of->tables[k]);
    }
    us_solution_free(solution);
    us_section_free(variant);
    return status == US_OK;
}

static void *work(void *argument)
{
    worker *me = argument;
    us_context *context = us_context_create();
    me->done = context != NULL;
    for (size_t k = me->first; me->done && k < me->of->count; k += me->step) {
        me->done = solve_one(context, me->of, k);
    }
    us_context_free(context);
    return NULL;
}

/* A quarter of a second or so of sums and products, for nothing. */
static void *reckon(void *argument)
{
    enum { STEPS = 60 * 1000 * 1000 };
    worker *me = argument;
    double sums[4] = {0.1, 0.2, 0.3, 0.4};
    for (int i = 0; i < STEPS; i++) {
        for (int k = 0; k < 4; k++) {
            sums[k] = 0.999 * sums[k] + 1e-3;
        }
    }
    me->done = sums[0] + sums[1] + sums[2] + sums[3] > 0.0;
    return NULL;
}

/* So many threads at the same work, seconds; a negative number on failure. */
static double run(batch *of, void *(*job)(void *), size_t threads)
{
    pthread_t ids[THREADS];
    worker workers[THREADS];
    size_t started = 0;
    double start_s = bench_now_s();
    for (size_t t = 0; t < threads; t++) {
        workers[t] = (worker){of, t, threads, false};
        started += pthread_create(&ids[t], NULL, job, &workers[t]) == 0 ? 1 : 0;
    }
    bool done = started == threads;
    for (size_t t = 0; t < started; t++) {
        done = pthread_join(ids[t], NULL) == 0 && done;
        done = workers[t].done && done;
    }
    return done ? bench_now_s() - start_s : -1.0;
}

static void forget(batch *of)
{
    for (size_t k = 0; k < of->count; k++) {
        us_buffer_free(of->tables[k]);
        of->tables[k] = NULL;
    }
}

static bool same(const batch *one, const batch *other)
{
    for (size_t k = 0; k < one->count; k++) {
        size_t length = us_buffer_length(one->tables[k]);
        if (length != us_buffer_length(other->tables[k]) ||
            memcmp(us_buffer_data(one->tables[k]), us_buffer_data(other->tables[k]), length) != 0) {
            return false;
        }
    }
    return true;
}

/* The accuracy at which the first realisation comes nearest to the unknowns wanted. */
static double choose_accuracy(const us_section *section)
{
    static const double accuracies[] = {0.02,  0.015, 0.01,   0.008, 0.006, 0.005,
                                        0.004, 0.003, 0.0025, 0.002, 0.0015};
    double chosen = accuracies[0];
    double least = HUGE_VAL;
    for (size_t a = 0; a < sizeof accuracies / sizeof accuracies[0]; a++) {
        batch one = {.section = section, .accuracy = accuracies[a], .count = 1};
        if (run(&one, work, 1) > 0.0) {
            double off = fabs(log((double)one.unknowns[0] / UNKNOWNS));
            chosen = off < least ? accuracies[a] : chosen;
            least = fmin(off, least);
        }
        forget(&one);
    }
    return chosen;
}

static double mean_unknowns(const batch *of)
{
    double sum = 0.0;
    for (size_t k = 0; k < of->count; k++) {
        sum += (double)of->unknowns[k];
    }
    return sum / (double)of->count;
}

/* Both numbers of threads in turns, what each took, what the processors spent on it, and what
 * arithmetic took, a job a thread; false when one fails or their tables differ. */
static bool measure(batch by[THREADS], int runs, double *times_s, double *work_s, double *idle_s)
{
    for (int r = 0; r < runs; r++) {
        for (size_t t = 0; t < THREADS; t++) {
            size_t at = (size_t)runs * t + (size_t)r;
            forget(&by[t]);
            double before_s = bench_work_s();
            times_s[at] = run(&by[t], work, t + 1);
            work_s[at] = bench_work_s() - before_s;
            idle_s[at] = run(&by[t], reckon, t + 1);
            if (times_s[at] < 0.0 || idle_s[at] < 0.0) {
                (void)fputs("bench: a realisation could not be solved\n", stderr);
                return false;
            }
        }
        if (!same(&by[0], &by[1])) {
            (void)fputs("bench: one thread and two do not give the same bytes\n", stderr);
            return false;
        }
    }
    return true;
}

/* What one number of threads took. */
typedef struct tally {
    bench_spread time;
    bench_spread work;
    bench_spread arithmetic;
} tally;

static json_t *tally_json(tally of)
{
    json_t *object = json_object();
    bench_put(object, "wall_s", bench_spread_json(of.time));
    bench_put(object, "processor_s", bench_spread_json(of.work));
    bench_put(object, "arithmetic_s", bench_spread_json(of.arithmetic));
    return object;
}

static void tell(const batch *of, const tally by[THREADS], json_t *results)
{
    double speed_up = by[0].time.middle / by[1].time.middle;
    double more_work = by[1].work.middle / by[0].work.middle;
    double possible = THREADS * by[0].arithmetic.middle / by[1].arithmetic.middle;
    double count = (double)of->count;
    printf("  %zu realisations at %.2g %%, %.0f unknowns each on the finest grid\n", of->count,
           100.0 * of->accuracy, mean_unknowns(of));
    printf(
        "  one thread  %7.2f a second\n  two threads %7.2f a second: %.2f times as many, for %.2f "
        "times the processors' time; the same bytes\n",
        count / by[0].time.middle, count / by[1].time.middle, speed_up, more_work);
    printf("  arithmetic without memory: %.2f times as much on two threads as on one\n", possible);
    json_t *found = json_object();
    bench_put_number(found, "realisations", count);
    bench_put_number(found, "accuracy", of->accuracy);
    bench_put_number(found, "unknowns", mean_unknowns(of));
    bench_put(found, "one_thread", tally_json(by[0]));
    bench_put(found, "two_threads", tally_json(by[1]));
    bench_put_number(found, "per_second_one", count / by[0].time.middle);
    bench_put_number(found, "per_second_two", count / by[1].time.middle);
    bench_put_number(found, "speed_up", speed_up);
    bench_put_number(found, "processor_two_over_one", more_work);
    bench_put_number(found, "arithmetic_speed_up", possible);
    bench_put(found, "same_bytes", json_true());
    bench_put(results, "batch", found);
}

static bool run_section(const bench_options *options, const us_section *section, double *room,
                        json_t *results)
{
    size_t runs = (size_t)options->runs;
    double *work_s = room + THREADS * runs;
    double *idle_s = work_s + THREADS * runs;
    batch first = {.section = section,
                   .accuracy = choose_accuracy(section),
                   .count = options->brief ? REALISATIONS_BRIEF : REALISATIONS};
    batch by[THREADS] = {first, first};
    tally tallies[THREADS];
    bool done = measure(by, options->runs, room, work_s, idle_s);
    for (size_t t = 0; done && t < THREADS; t++) {
        tallies[t] = (tally){bench_spread_of(room + t * runs, runs),
                             bench_spread_of(work_s + t * runs, runs),
                             bench_spread_of(idle_s + t * runs, runs)};
    }
    if (done) {
        tell(&by[1], tallies, results);
    }
    forget(&by[0]);
    forget(&by[1]);
    return done;
}

bool bench_batch(const bench_options *options, json_t *results)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    double *room = calloc((size_t)options->runs * THREADS * 3, sizeof *room);
    bool done = context != NULL && room != NULL &&
                us_section_read_file(context, options->section, &section) == US_OK &&
                run_section(options, section, room, results);
    free(room);
    us_section_free(section);
    us_context_free(context);
    return done;
}
