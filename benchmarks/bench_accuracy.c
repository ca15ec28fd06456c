/* How true the stated errors are: every exact case of tests/data/cases.json at
 * six accuracies. For flow, exit gradient, uplift and heads it prints how many
 * true errors lie within the stated ones, the median of stated over true, and
 * the largest true error; those that are missed are listed.
 *
 * True errors below 1e-7 (relative, or of the head difference) are left out, and
 * so are cases whose exact values are themselves not known that well. */
#include <math.h>
#include <stdlib.h>

#include "support/cases.h"

enum { MOST = 4096 };
static const double LEAST_ERROR = 1e-7;

typedef struct tally {
    const char *name;
    size_t count;
    size_t covered;
    double largest;
    double ratios[MOST];
} tally;

enum { FLOW, EXIT, UPLIFT, HEAD, QUANTITIES };

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

/* `trust` is how well the exact value is known. */
static void add(tally *to, const json_t *one, us_value error, double trust)
{
    double size = fabs(error.value);
    double stated = error.error;
    if (size < fmax(LEAST_ERROR, 10.0 * trust) || to->count == MOST) {
        return;
    }
    to->ratios[to->count++] = stated / size;
    to->covered += size <= stated;
    if (size > stated) {
        printf("  missed: case %s, %s off by %.2e, %.2e stated\n",
               json_string_value(json_object_get(one, "id")), to->name, error.value, stated);
    }
    to->largest = fmax(to->largest, size);
}

static void add_heads(const json_t *one, const us_water_result *result, double trust, tally *to)
{
    const json_t *heads = json_object_get(json_object_get(one, "expected"), "heads_fraction");
    double down = cases_number(one, "head_down");
    double drop = cases_number(one, "head_up") - down;
    for (size_t i = 0; i < json_array_size(heads); i++) {
        double exact = cases_number(json_array_get(heads, i), "h");
        us_value head = result->piezometers[i].head_m;
        us_value error = {(head.value - down) / drop - exact, head.error / drop, true};
        add(to, one, error, trust);
    }
}

static void add_relative(const json_t *one, const char *key, double unit, us_value value,
                         double trust, tally *to)
{
    const json_t *expected = json_object_get(one, "expected");
    if (cases_has_number(expected, key) && value.present) {
        double exact = unit * cases_number(expected, key);
        us_value error = {value.value / exact - 1.0, value.error / exact, true};
        add(to, one, error, trust);
    }
}

static void run_case(const json_t *one, double accuracy, tally *tallies)
{
    us_context *context = us_context_create();
    us_section *section = cases_read(context, one);
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = accuracy;
    us_solution *solution = NULL;
    us_status status = us_section_solve(context, section, &options, &solution);
    if (status != US_OK) {
        printf("%s: %s at %g\n", json_string_value(json_object_get(one, "id")),
               us_status_name(status), accuracy);
    }
    if (solution != NULL) {
        const us_water_result *result = us_solution_water(solution, 0);
        const json_t *trusted = json_object_get(one, "trusted_error");
        add_relative(one, "q_m2_per_s", 1.0, result->flow.rate_m2_s, cases_number(trusted, "q"),
                     &tallies[FLOW]);
        add_relative(one, "exit_gradient", 1.0, result->exit.gradient,
                     cases_number(trusted, "exit_gradient"), &tallies[EXIT]);
        add_relative(one, "uplift_force_total_kN_per_m", 1000.0, result->uplift.force_n_m,
                     cases_number(trusted, "uplift"), &tallies[UPLIFT]);
        add_heads(one, result, cases_number(trusted, "heads_abs"), &tallies[HEAD]);
    }
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

static void run_all(const json_t *file, double accuracy)
{
    static tally tallies[QUANTITIES];
    static const char *const names[] = {"flow", "exit gradient", "uplift", "heads"};
    const json_t *cases = json_object_get(file, "cases");
    for (size_t q = 0; q < QUANTITIES; q++) {
        tallies[q] = (tally){.name = names[q]};
    }
    for (size_t i = 0; i < json_array_size(cases); i++) {
        run_case(json_array_get(cases, i), accuracy, tallies);
    }
    for (size_t q = 0; q < QUANTITIES; q++) {
        tally *t = &tallies[q];
        if (t->count > 0) {
            qsort(t->ratios, t->count, sizeof t->ratios[0], by_size);
            printf("%8.3g %%  %-14s %5zu  %6.1f %%  %8.1f  %10.2e\n", 100.0 * accuracy, t->name,
                   t->count, 100.0 * (double)t->covered / (double)t->count, t->ratios[t->count / 2],
                   t->largest);
        }
    }
}

int main(void)
{
    json_t *file = cases_load();
    if (file == NULL) {
        return 1;
    }
    printf("accuracy    quantity       values  covered  stated/true  largest true error\n");
    static const double accuracies[] = {0.2, 0.1, 0.05, 1e-2, 1e-3, 1e-4};
    for (size_t a = 0; a < sizeof accuracies / sizeof accuracies[0]; a++) {
        run_all(file, accuracies[a]);
    }
    json_decref(file);
    return 0;
}
