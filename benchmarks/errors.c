/* Error against the processor's time (one thread works), on a wall at the end of a floor whose exit
 * gradient and flow are known. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "bench.h"
#include "grid/grid.h"
#include "ladder.h"
#include "model/exits.h"
#include "quantity/exit_gradient.h"
#include "solve/field.h"
#include "undersill/undersill.h"

enum { RUNS_MOST = 128 };

typedef struct subject {
    us_context *context;
    us_section *section;
    double flow_m_s;
    double gradient_1_m;
    int runs;
} subject;

static json_t *row_of(json_t *list)
{
    json_t *row = json_object();
    if (row == NULL || json_array_append_new(list, row) != 0) {
        (void)fputs("bench: out of memory\n", stderr);
        exit(1);
    }
    return row;
}

/* The library's default way, at one accuracy. */
static bool solve_as_usual(const subject *of, double accuracy, json_t *list)
{
    static double times_s[RUNS_MOST];
    us_solve_options how = US_SOLVE_OPTIONS_INIT;
    how.accuracy = accuracy;
    us_value flow = {0};
    us_value gradient = {0};
    size_t unknowns = 0;
    for (int r = 0; r < of->runs; r++) {
        us_solution *solution = NULL;
        double start_s = bench_work_s();
        us_status status = us_section_solve(of->context, of->section, &how, &solution);
        times_s[r] = bench_work_s() - start_s;
        if (status != US_OK) {
            us_solution_free(solution);
            return false;
        }
        const us_water_result *water = us_solution_water(solution, 0);
        flow = water->flow.rate_m2_s;
        gradient = water->exit.gradient;
        unknowns = us_solution_grid(solution)->unknowns;
        us_solution_free(solution);
    }
    double time_s = bench_spread_of(times_s, (size_t)of->runs).middle;
    double gradient_off = fabs(gradient.value / of->gradient_1_m - 1.0);
    double flow_off = fabs(flow.value / of->flow_m_s - 1.0);
    printf("  asked for %-7.3g %%  %8.4f s  %8zu unknowns  gradient off %.1e, said %.1e; flow off "
           "%.1e, said %.1e\n",
           100.0 * accuracy, time_s, unknowns, gradient_off, gradient.error / gradient.value,
           flow_off, flow.error / flow.value);
    json_t *row = row_of(list);
    bench_put_number(row, "accuracy", accuracy);
    bench_put_number(row, "median_processor_s", time_s);
    bench_put_number(row, "unknowns", (double)unknowns);
    bench_put_number(row, "gradient_off", gradient_off);
    bench_put_number(row, "gradient_error_said", gradient.error / gradient.value);
    bench_put_number(row, "flow_off", flow_off);
    bench_put_number(row, "flow_error_said", flow.error / flow.value);
    return true;
}

static bool solve_uniform(const subject *of, double step_m, json_t *list)
{
    size_t unknowns = 0;
    double start_s = bench_work_s();
    double gradient_1_m = ladder_uniform(of->context, of->section, step_m, &unknowns);
    double time_s = bench_work_s() - start_s;
    if (gradient_1_m < 0.0) {
        return false;
    }
    double off = fabs(gradient_1_m / of->gradient_1_m - 1.0);
    printf("  uniform, %-8.4g m  %8.4f s  %8zu unknowns  gradient off %.1e\n", step_m, time_s,
           unknowns, off);
    json_t *row = row_of(list);
    bench_put_number(row, "step_m", step_m);
    bench_put_number(row, "processor_s", time_s);
    bench_put_number(row, "unknowns", (double)unknowns);
    bench_put_number(row, "gradient_off", off);
    return true;
}

/* Ways to read the gradient off one field: from the first node below the bed, a parabola or an odd
 * cubic through two, the stream function along the bed, and the mean of the last two. */
enum { STRAIGHT, PARABOLA, ODD, STREAM, MEAN, EXTRACTIONS };
static const char *const extractions[EXTRACTIONS] = {"one node", "parabola", "odd cubic",
                                                     "stream function", "mean of both"};

static void extract(const usi_field *field, const usi_exit *exit, double found[EXTRACTIONS])
{
    const usi_grid *grid = field->grid;
    bool right = exit->bed == USI_FACE_RIGHT;
    size_t line = usi_grid_x_line(grid, exit->at.x_m);
    size_t i = right ? line : line - 1;
    size_t j = usi_grid_z_line(grid, exit->at.z_m) - 1;
    usi_corner upper = right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
    usi_corner lower = right ? USI_LOWER_LEFT : USI_LOWER_RIGHT;
    double y1_m = grid->z_m[j + 1] - grid->z_m[j];
    double y2_m = grid->z_m[j + 1] - grid->z_m[j - 1];
    double bed = usi_field_head(field, i, j, upper);
    double g1 = (usi_field_head(field, i, j, lower) - bed) / y1_m;
    double g2 = (usi_field_head(field, i, j - 1, lower) - bed) / y2_m;
    usi_exit_reading reading = usi_exit_read(field, exit);
    found[STRAIGHT] = g1;
    found[PARABOLA] = (g1 * y2_m - g2 * y1_m) / (y2_m - y1_m);
    found[ODD] = reading.gradient_1_m;
    found[STREAM] = reading.second_1_m;
    found[MEAN] = 0.5 * (found[ODD] + found[STREAM]);
}

static bool solve_once(const subject *of, double cells, const usi_exit *exit, json_t *list)
{
    usi_grid_options options = {.cells = cells, .truncation = 1e-8};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    double start_s = bench_work_s();
    bool done = usi_grid_build(of->context, of->section, &options, &grid) == US_OK &&
                usi_field_solve(of->context, grid, &field) == US_OK;
    double time_s = bench_work_s() - start_s;
    if (done) {
        double found[EXTRACTIONS];
        extract(field, exit, found);
        json_t *row = row_of(list);
        bench_put_number(row, "processor_s", time_s);
        bench_put_number(row, "unknowns", (double)grid->unknowns);
        printf("  one graded grid     %8.4f s  %8zu unknowns ", time_s, grid->unknowns);
        for (int e = 0; e < EXTRACTIONS; e++) {
            double off = fabs(found[e] / of->gradient_1_m - 1.0);
            printf(" %s %.1e%s", extractions[e], off, e + 1 < EXTRACTIONS ? "," : "\n");
            bench_put_number(row, extractions[e], off);
        }
    }
    usi_field_free(field);
    usi_grid_free(grid);
    return done;
}

static bool solve_graded(const subject *of, bool brief, json_t *list)
{
    static const double cells[] = {5.0, 7.0, 10.0, 14.0, 20.0, 28.0, 56.0};
    usi_exit *exits = NULL;
    size_t count = 0;
    bool done = usi_exits_list(of->context, of->section, &exits, &count) == US_OK && count > 0;
    for (size_t k = 0; done && k < sizeof cells / sizeof cells[0] - (brief ? 2 : 0); k++) {
        done = solve_once(of, cells[k], &exits[0], list);
    }
    free(exits);
    return done;
}

static bool measure(const subject *of, bool brief, json_t *found)
{
    static const double accuracies[] = {0.1, 0.05, 0.02, 0.01, 3e-3, 1e-3, 3e-4, 1e-4};
    static const double steps_m[] = {0.5, 0.25, 0.125, 0.0625, 0.03125};
    json_t *usual = json_array();
    json_t *uniform = json_array();
    json_t *graded = json_array();
    bool done = true;
    for (size_t k = 0; done && k < sizeof accuracies / sizeof accuracies[0]; k++) {
        done = solve_as_usual(of, accuracies[k], usual);
    }
    for (size_t k = 0; done && k < sizeof steps_m / sizeof steps_m[0] - (brief ? 2 : 0); k++) {
        done = solve_uniform(of, steps_m[k], uniform);
    }
    done = done && solve_graded(of, brief, graded);
    bench_put(found, "as_usual", usual);
    bench_put(found, "uniform", uniform);
    bench_put(found, "graded_by_extraction", graded);
    return done;
}

bool bench_errors(const bench_options *options, json_t *results)
{
    static const wall_and_floor shape = {2.0, 8.0, 6.0};
    subject of = {.context = us_context_create(), .runs = options->runs};
    bool done = false;
    json_t *found = json_object();
    if (of.context != NULL) {
        exact_solve(&shape, &of.flow_m_s, &of.gradient_1_m);
        of.section = exact_section(of.context, &shape);
        done = of.section != NULL && measure(&of, options->brief, found);
    }
    if (!done) {
        (void)fputs("bench: the section with a known answer was not solved\n", stderr);
    }
    bench_put(results, "accuracy", found);
    us_section_free(of.section);
    us_context_free(of.context);
    return done;
}
