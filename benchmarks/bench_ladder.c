/* How few unknowns the promised accuracies take. For single walls, floors with two
 * walls and three hard cases, all solved exactly, prints for each limit the
 * unknowns of one problem, what is reached there, and whether that is within it;
 * then how many times the unknowns of ours a uniform grid needs.
 *
 * Ends with 1 when a limit is missed. */
#include <math.h>
#include <stdlib.h>

#include "ladder.h"
#include "support/cases.h"

enum { CASES_MOST = 16, HALVINGS = 1 };

typedef enum measure { EXIT_PLAIN, EXIT_BEST, FLOW, BRACKET, FLOW_INSIDE } measure;

/* `unequal`: for two unequal walls; 0 for the same. */
typedef struct limit {
    measure of;
    const char *words;
    size_t unknowns;
    double most;
    double unequal;
} limit;

static const limit limits[] = {
    {EXIT_PLAIN, "exit gradient, one grid", 6000, 0.0, 0.0}, /* told, not judged */
    {EXIT_BEST, "exit gradient, extrapolated", 6000, 1e-3, 0.0},
    {EXIT_PLAIN, "exit gradient, one grid", 25000, 0.0, 0.0},
    {EXIT_BEST, "exit gradient, extrapolated", 25000, 1e-4, 1.5e-4},
    {FLOW, "flow, mean of the bounds", 1500, 5e-4, 0.0},
    {FLOW, "flow, mean of the bounds", 6000, 1e-4, 0.0},
    {BRACKET, "bracket of flow", 5000, 6e-3, 9e-3},
    {BRACKET, "bracket of flow", 20000, 1.5e-3, 2.3e-3},
};

static double flow_error(const exact_case *one, const usi_reading *fine)
{
    return fabs(fine->flow_m_s / one->flow_m_s - 1.0);
}

/* What a pair of readings reaches, as a share. */
static double reached(const exact_case *one, measure of, const usi_reading *pair)
{
    const usi_reading *fine = &pair[HALVINGS];
    double gradient = fine->exits[0].gradient_1_m;
    switch (of) {
    case EXIT_PLAIN:
        return fabs(gradient / one->gradient_1_m - 1.0);
    case EXIT_BEST:
        gradient += (gradient - pair[0].exits[0].gradient_1_m) / 3.0;
        return fabs(gradient / one->gradient_1_m - 1.0);
    case FLOW:
        return flow_error(one, fine);
    case BRACKET:
        return (fine->upper_m_s - fine->lower_m_s) / one->flow_m_s;
    case FLOW_INSIDE:
        break;
    }
    double rounding = 1e-11; /* the exact value has 12 digits */
    bool inside = fine->lower_m_s <= one->flow_m_s * (1.0 + rounding) &&
                  fine->upper_m_s >= one->flow_m_s * (1.0 - rounding);
    return inside ? 0.0 : 1.0;
}

/* Prints one line; false when the limit is missed. */
static bool judge(const exact_case *one, const limit *l, const usi_reading *pair)
{
    double is = reached(one, l->of, pair);
    double most = one->slack * (one->unequal && l->unequal > 0.0 ? l->unequal : l->most);
    bool inside = one->flow_m_s <= 0.0 || reached(one, FLOW_INSIDE, pair) < 0.5;
    bool kept = (most <= 0.0 || is <= most) && inside;
    printf("%-28s %-28s %7zu  %9.5f %%", one->name, l->words, pair[HALVINGS].unknowns, 100.0 * is);
    if (most > 0.0) {
        printf("  %8.4f %%  %s", 100.0 * most, kept ? "pass" : "FAIL");
    }
    printf("%s\n", inside ? "" : "  exact flow outside the bounds: FAIL");
    return kept;
}

static bool run_case(us_context *context, const exact_case *one)
{
    bool kept = true;
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        const limit *l = &limits[i];
        if (one->flow_m_s <= 0.0 && (l->of == FLOW || l->of == BRACKET)) {
            continue;
        }
        usi_reading pair[HALVINGS + 1] = {0};
        us_status status = ladder_read(context, one->section, l->unknowns, HALVINGS, pair);
        if (status == US_OK) {
            kept = judge(one, l, pair) && kept;
        } else {
            printf("%-28s %-28s %s: FAIL\n", one->name, l->words, us_status_name(status));
            kept = false;
        }
        for (int h = 0; h <= HALVINGS; h++) {
            usi_reading_free(&pair[h]);
        }
    }
    return kept;
}

static void add_wall(us_context *context, const char *name, wall_and_floor shape, double slack,
                     exact_case *one)
{
    *one = (exact_case){.name = name, .slack = slack};
    one->section = exact_section(context, &shape);
    exact_solve(&shape, &one->flow_m_s, &one->gradient_1_m);
}

/* One of tests/data/cases.json. */
static void add_known(us_context *context, const json_t *file, const char *id, bool unequal,
                      exact_case *one)
{
    const json_t *cases = json_object_get(file, "cases");
    for (size_t i = 0; i < json_array_size(cases); i++) {
        const json_t *known = json_array_get(cases, i);
        if (strcmp(json_string_value(json_object_get(known, "id")), id) != 0) {
            continue;
        }
        const json_t *expected = json_object_get(known, "expected");
        double head_m = cases_number(known, "head_up") - cases_number(known, "head_down");
        *one = (exact_case){.name = id, .slack = 1.0, .unequal = unequal};
        one->section = cases_read(context, known);
        one->flow_m_s = cases_number(expected, "q_m2_per_s") / head_m;
        one->gradient_1_m = cases_number(expected, "exit_gradient") / head_m;
    }
}

static size_t list_cases(us_context *context, const json_t *file, exact_case *list)
{
    size_t n = 0;
    add_wall(context, "wall, s/T 0.25", (wall_and_floor){2.5, 10.0, 0.0}, 1.0, &list[n++]);
    add_wall(context, "wall, s/T 0.5", (wall_and_floor){5.0, 10.0, 0.0}, 1.0, &list[n++]);
    add_wall(context, "wall, s/T 0.75", (wall_and_floor){7.5, 10.0, 0.0}, 1.0, &list[n++]);
    add_known(context, file, "E1", false, &list[n]);
    list[n++].name = "floor, two equal walls (E1)";
    add_known(context, file, "E2", true, &list[n]);
    list[n++].name = "floor, unequal walls (E2)";
    add_known(context, file, "E5", true, &list[n]);
    list[n++].name = "embedded, unequal (E5)";
    add_wall(context, "wall, s/T 0.05", (wall_and_floor){0.5, 10.0, 0.0}, 2.0, &list[n++]);
    add_wall(context, "wall, s/T 0.95", (wall_and_floor){9.5, 10.0, 0.0}, 2.0, &list[n++]);
    add_wall(context, "apron 40 times its wall", (wall_and_floor){1.0, 10.0, 40.0}, 2.0,
             &list[n++]);
    return n;
}

/* The fewest unknowns from which on a graded grid keeps the limit. */
static size_t fewest_graded(us_context *context, const exact_case *one, double most)
{
    size_t fewest = 0;
    for (double cells = 2.0; cells <= 24.0; cells += 0.5) {
        size_t unknowns = 0;
        double gradient = ladder_graded(context, one->section, cells, &unknowns);
        bool kept = fabs(gradient / one->gradient_1_m - 1.0) <= most;
        if (!kept) {
            fewest = 0;
        } else if (fewest == 0) {
            fewest = unknowns;
        }
    }
    return fewest;
}

/* Halves the spacing while memory allows; the error falls with the spacing, which
 * falls with the root of the unknowns. */
static double fewest_uniform(us_context *context, const exact_case *one, double start_m,
                             double most)
{
    double needed = 0.0;
    double error_before = 0.0;
    size_t unknowns = 0;
    for (double step_m = start_m; unknowns < 400000; step_m *= 0.5) {
        double gradient = ladder_uniform(context, one->section, step_m, &unknowns);
        double error = fabs(gradient / one->gradient_1_m - 1.0);
        printf("    uniform, %8zu unknowns: off by %.3f %%", unknowns, 100.0 * error);
        if (error_before > 0.0) {
            printf(", order %.2f", log2(error_before / error));
        }
        printf("\n");
        error_before = error;
        /* From the finest one, by its error to the first power of the spacing. */
        needed = (double)unknowns * (error / most) * (error / most);
    }
    return needed;
}

static bool compare_uniform(us_context *context, const exact_case *one, double start_m)
{
    const double most = 5e-3;
    const double least_ratio = 100.0;
    printf("%s: exit gradient within %.1f %% from one grid\n", one->name, 100.0 * most);
    double uniform = fewest_uniform(context, one, start_m, most);
    size_t graded = fewest_graded(context, one, most);
    double ratio = graded > 0 ? uniform / (double)graded : 0.0;
    printf("    needed: uniform %.0f, graded %zu: ratio %.0f  %s\n", uniform, graded, ratio,
           ratio >= least_ratio ? "pass" : "FAIL");
    return ratio >= least_ratio;
}

int main(void)
{
    us_context *context = us_context_create();
    json_t *file = cases_load();
    if (context == NULL || file == NULL) {
        return 1;
    }
    static exact_case list[CASES_MOST];
    size_t count = list_cases(context, file, list);
    bool kept = true;
    printf("case                         quantity                    unknowns     reached      "
           "limit\n");
    for (size_t i = 0; i < count; i++) {
        kept = run_case(context, &list[i]) && kept;
    }
    printf("\nA uniform grid against a graded one\n");
    for (size_t i = 0; i < 3; i++) {
        kept = compare_uniform(context, &list[i], 0.5) && kept;
    }
    for (size_t i = 0; i < count; i++) {
        us_section_free(list[i].section);
    }
    json_decref(file);
    us_context_free(context);
    return kept ? 0 : 1;
}
