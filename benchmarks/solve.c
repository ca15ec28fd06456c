/* One system of equations, solved in several ways in turns. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "direct.h"
#include "multigrid.h"

enum { RUNS_MOST = 128 };
/* Heads go from 0 to 1; methods that differ by more than this have not solved the same. */
static const double SAME = 1e-4;

typedef enum way {
    OURS,
    SHIPPED,
    AMD_SIMPLICIAL,
    AMD_SUPERNODAL,
    METIS_SIMPLICIAL,
    METIS_SUPERNODAL,
    MULTIGRID,
    WAYS
} way;

static const char *const names[WAYS] = {"ours",
                                        "as shipped",
                                        "AMD, simplicial",
                                        "AMD, supernodal",
                                        "METIS, simplicial",
                                        "METIS, supernodal",
                                        "multigrid"};

typedef struct results_of {
    bool used; /* of two kernels, the quicker one is */
    double peak_bytes;
    double apart; /* from ours */
    run_figures figures[RUNS_MOST];
} results_of;

typedef struct contest {
    bench_matrix matrix;
    double *values;
    double *by_ours;
    size_t runs;
    results_of of[WAYS];
} contest;

static bool run_multigrid(const bench_matrix *matrix, double *values, run_figures *figures)
{
    mg_outcome outcome = {0};
    bool done = mg_solve(matrix, values, &outcome);
    *figures = (run_figures){
        .order_s = outcome.set_up_s, .solve_s = outcome.solve_s, .iterations = outcome.iterations};
    return done;
}

static bool run_way(contest *in, way w, run_figures *figures)
{
    switch (w) {
    case OURS:
        return direct_ours(&in->matrix, in->values, figures);
    case SHIPPED:
        return direct_shipped(&in->matrix, in->values, figures);
    case AMD_SIMPLICIAL:
    case AMD_SUPERNODAL:
        return direct_ordered(&in->matrix, CHOLMOD_AMD,
                              w == AMD_SIMPLICIAL ? CHOLMOD_SIMPLICIAL : CHOLMOD_SUPERNODAL,
                              in->values, figures);
    case METIS_SIMPLICIAL:
    case METIS_SUPERNODAL:
        return direct_ordered(&in->matrix, CHOLMOD_METIS,
                              w == METIS_SIMPLICIAL ? CHOLMOD_SIMPLICIAL : CHOLMOD_SUPERNODAL,
                              in->values, figures);
    default:
        return run_multigrid(&in->matrix, in->values, figures);
    }
}

static bool run_one(contest *in, way w, run_figures *figures)
{
    double start_s = bench_work_s();
    bool done = run_way(in, w, figures);
    figures->work_s = bench_work_s() - start_s;
    return done;
}

/* A first run of each: memory, agreement, and which kernel goes with which ordering. */
static bool try_all(contest *in)
{
    size_t n = in->matrix.problem.free_count;
    for (int w = 0; w < WAYS; w++) {
        results_of *of = &in->of[w];
        bool known = bench_memory_reset();
        double before = bench_memory_read().now;
        if (!run_one(in, (way)w, &of->figures[0])) {
            (void)fprintf(stderr, "bench: %zu unknowns not solved by: %s\n", n, names[w]);
            return false;
        }
        of->used = true;
        of->peak_bytes = known ? bench_memory_read().most - before : (double)NAN;
        for (size_t k = 0; k < n; k++) {
            in->by_ours[k] = w == OURS ? in->values[k] : in->by_ours[k];
            of->apart = fmax(of->apart, fabs(in->values[k] - in->by_ours[k]));
        }
        if (!(of->apart < SAME)) {
            (void)fprintf(stderr, "bench: heads by %s differ by %g\n", names[w], of->apart);
            return false;
        }
    }
    for (int w = AMD_SIMPLICIAL; w <= METIS_SIMPLICIAL; w += 2) {
        results_of *pair = &in->of[w];
        bool first = run_total(&pair[0].figures[0]) <= run_total(&pair[1].figures[0]);
        pair[first ? 1 : 0].used = false;
    }
    return true;
}

static bool run_all(contest *in)
{
    for (size_t r = 0; r < in->runs; r++) {
        for (int w = 0; w < WAYS; w++) {
            if (in->of[w].used && !run_one(in, (way)w, &in->of[w].figures[r])) {
                return false;
            }
        }
    }
    return true;
}

/* The figures of the run with the middle total. */
static const run_figures *middle(const contest *in, way w)
{
    static double totals[RUNS_MOST];
    const run_figures *figures = in->of[w].figures;
    for (size_t r = 0; r < in->runs; r++) {
        totals[r] = run_total(&figures[r]);
    }
    double median = bench_spread_of(totals, in->runs).middle;
    size_t r = 0;
    while (r + 1 < in->runs && run_total(&figures[r]) != median) {
        r++;
    }
    return &figures[r];
}

static double middle_work(const contest *in, way w)
{
    static double work_s[RUNS_MOST];
    for (size_t r = 0; r < in->runs; r++) {
        work_s[r] = in->of[w].figures[r].work_s;
    }
    return bench_spread_of(work_s, in->runs).middle;
}

/* Seconds to write so many numbers once and read them twice: no factor is made and used in less. */
static double floor_s(double entries)
{
    size_t count = (size_t)entries;
    double *numbers = malloc(count * sizeof *numbers);
    if (numbers == NULL) {
        return (double)NAN;
    }
    memset(numbers, 0, count * sizeof *numbers); /* pages that were never touched cost more */
    double start_s = bench_now_s();
    for (size_t k = 0; k < count; k++) {
        numbers[k] = (double)k;
    }
    volatile double kept = 0.0;
    for (int pass = 0; pass < 2; pass++) {
        double sums[4] = {0.0};
        for (size_t k = 0; k + 4 <= count; k += 4) {
            for (size_t m = 0; m < 4; m++) {
                sums[m] += numbers[k + m];
            }
        }
        kept = kept + sums[0] + sums[1] + sums[2] + sums[3];
    }
    double time_s = bench_now_s() - start_s;
    free(numbers);
    return time_s;
}

/* The list of links, which a solve holds beside what it makes. */
static double list_bytes(const contest *in)
{
    return (double)in->matrix.problem.link_count * sizeof(usi_link) +
           (double)in->matrix.problem.free_count * sizeof(usi_spot);
}

static json_t *tell_way(const contest *in, way w)
{
    const run_figures *figures = middle(in, w);
    double n = (double)in->matrix.problem.free_count;
    double bytes = (in->of[w].peak_bytes + list_bytes(in)) / n;
    printf("  %-18s %9.4f =%9.4f +%9.4f +%9.4f %9.4f %10.4f %8.1f %8.3f %7.0f\n", names[w],
           run_total(figures), figures->order_s, figures->numeric_s, figures->solve_s,
           figures->assembly_s, middle_work(in, w), figures->entries / n,
           1e-9 * figures->operations, bytes);
    json_t *object = json_object();
    bench_put_number(object, "median_s", run_total(figures));
    bench_put_number(object, "order_and_symbolic_s", figures->order_s);
    bench_put_number(object, "numeric_s", figures->numeric_s);
    bench_put_number(object, "solve_s", figures->solve_s);
    bench_put_number(object, "assembly_s", figures->assembly_s);
    bench_put_number(object, "processor_s", middle_work(in, w));
    bench_put_number(object, "factor_entries", figures->entries);
    bench_put_number(object, "operations", figures->operations);
    bench_put_number(object, "peak_bytes_per_unknown", bytes);
    bench_put_number(object, "differs_from_ours", in->of[w].apart);
    if (w == MULTIGRID) {
        bench_put(object, "iterations", json_integer(figures->iterations));
    }
    return object;
}

/* How others stand to ours, by one measure. */
typedef struct ratios {
    double shipped;
    double other;
    double multigrid;
} ratios;

static ratios ratios_by(const contest *in, double (*measure)(const contest *in, way w))
{
    double ours = measure(in, OURS);
    double other = HUGE_VAL;
    for (int w = AMD_SIMPLICIAL; w <= METIS_SUPERNODAL; w++) {
        other = in->of[w].used ? fmin(other, measure(in, (way)w)) : other;
    }
    return (ratios){measure(in, SHIPPED) / ours, other / ours, ours / measure(in, MULTIGRID)};
}

static double middle_total(const contest *in, way w)
{
    return run_total(middle(in, w));
}

static void tell_ratios(const contest *in, json_t *object)
{
    ratios time = ratios_by(in, middle_total);
    ratios work = ratios_by(in, middle_work);
    double least_s = floor_s(middle(in, OURS)->entries);
    printf("  as shipped over ours %.2f, best other ordering over ours %.2f, ours over multigrid "
           "%.2f (%d iterations)\n",
           time.shipped, time.other, time.multigrid, middle(in, MULTIGRID)->iterations);
    printf("  the same by the processors' time, assembly included: %.2f, %.2f, %.2f; writing the "
           "factor once and reading it twice takes %.4f s\n",
           work.shipped, work.other, work.multigrid, least_s);
    bench_put_number(object, "shipped_over_ours", time.shipped);
    bench_put_number(object, "best_other_over_ours", time.other);
    bench_put_number(object, "ours_over_multigrid", time.multigrid);
    bench_put_number(object, "processor_shipped_over_ours", work.shipped);
    bench_put_number(object, "processor_best_other_over_ours", work.other);
    bench_put_number(object, "processor_ours_over_multigrid", work.multigrid);
    bench_put_number(object, "streaming_floor_s", least_s);
}

static void tell(const contest *in, json_t *results)
{
    printf("  %zu unknowns; seconds, middle of %zu runs\n", in->matrix.problem.free_count,
           in->runs);
    printf("  %-18s %9s  %9s  %9s  %9s %9s %10s %8s %8s %7s\n", "", "total", "order*", "numeric",
           "solve", "assembly", "processor", "entries", "1e9", "bytes");
    json_t *object = json_object();
    bench_put(object, "unknowns", json_integer((json_int_t)in->matrix.problem.free_count));
    bench_put(object, "runs", json_integer((json_int_t)in->runs));
    for (int w = 0; w < WAYS; w++) {
        if (in->of[w].used) {
            bench_put(object, names[w], tell_way(in, (way)w));
        }
    }
    printf(
        "  * and symbolic analysis; set-up for multigrid. Entries of the factor and peak bytes an "
        "unknown; 1e9 operations.\n");
    tell_ratios(in, object);
    if (json_array_append_new(results, object) != 0) {
        (void)fputs("bench: out of memory\n", stderr);
    }
}

static bool contest_of(const bench_options *options, double unknowns, json_t *results)
{
    enum { RUNS_LARGEST = 1 };
    static contest in;
    in = (contest){.runs = (size_t)(unknowns > 2e6 ? RUNS_LARGEST : options->runs)};
    if (!bench_matrix_make(options->section, unknowns, &in.matrix)) {
        return false;
    }
    in.values = malloc(in.matrix.problem.free_count * sizeof *in.values);
    in.by_ours = malloc(in.matrix.problem.free_count * sizeof *in.by_ours);
    bool done = in.values != NULL && in.by_ours != NULL && try_all(&in) && run_all(&in);
    if (done) {
        tell(&in, results);
        (void)fflush(stdout);
    }
    free(in.values);
    free(in.by_ours);
    bench_matrix_free(&in.matrix);
    return done;
}

bool bench_solve(const bench_options *options, json_t *results)
{
    static const double sizes[] = {1e4, 1e5, 1e6, 4e6};
    size_t count = options->brief ? 2 : 3;
    count = options->largest ? 4 : count;
    json_t *list = json_array();
    bool done = true;
    for (size_t k = 0; done && k < count; k++) {
        done = contest_of(options, sizes[k], list);
    }
    bench_put(results, "solve", list);
    return done;
}
