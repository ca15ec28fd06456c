/* Random valid sections: every one is read and solved, and what must hold of any
 * solution holds of it.
 *
 *   random_sections FIRST COUNT [ACCURACY]   checks sections FIRST, FIRST + 1, ...
 *   random_sections --leaks FIRST COUNT [ACCURACY]   the same with walls that water passes
 *   random_sections --print INDEX            writes one as a section file
 *   random_sections --print-leaks INDEX      writes one of the others
 *   random_sections - [ACCURACY]             checks sections from standard input, each
 *                                            behind a line `--- INDEX`; of each it says
 *                                            `INDEX ...` before, and what became of it after
 */
#include "physics/random/ground.h"
#include "physics/random/trial.h"
#include "solve/field.h"

static const uint64_t SEED = 5;
/* On cut cells, of what the bounds of flow differ by. */
static const double CUT_SHARE = 0.01;
static const double COARSE_CELLS = 4.0;
/* Of all flow, what a stream function may lie outside its range by with four times the cells. */
static const double STREAM_SHARE = 2e-3;

static void check_flow(trial *of, const us_water_result *water)
{
    const us_flow_result *flow = &water->flow;
    if (!trial_sane(of, "flow", flow->rate_m2_s)) {
        return;
    }
    double value = flow->rate_m2_s.value;
    if (flow->lower_m2_s > flow->upper_m2_s || value < 0.0) {
        trial_fault(of, "flow %g, bounds %g and %g", value, flow->lower_m2_s, flow->upper_m2_s);
    }
    if (flow->certified && (value < flow->lower_m2_s || value > flow->upper_m2_s)) {
        trial_fault(of, "flow %.12g outside its bounds %.12g and %.12g", value, flow->lower_m2_s,
                    flow->upper_m2_s);
    }
    if (water->head_difference_m == 0.0 && value != 0.0) {
        trial_fault(of, "flow %g without a head difference", value);
    }
}

static void check_water(trial *of, const us_water_result *water)
{
    check_flow(of, water);
    (void)trial_sane(of, "mean gradient", water->exit.mean);
    (void)trial_sane(of, "uplift", water->uplift.force_n_m);
    (void)trial_sane(of, "piping factor", water->exit.piping_factor);
    us_value gradient = water->exit.gradient;
    if (trial_sane(of, "exit gradient", gradient) && gradient.value < -gradient.error - 1e-12) {
        trial_fault(of, "exit gradient %g +/- %g is negative", gradient.value, gradient.error);
    }
    if (water->uplift.present && water->uplift.force_n_m.value < 0.0) {
        trial_fault(of, "uplift %g is negative", water->uplift.force_n_m.value);
    }
    double slack_m = 1e-9 * (water->head_difference_m + fabs(water->upstream_m));
    trial_check_walls(of, water, water->downstream_m - slack_m, water->upstream_m + slack_m);
}

/* How far a value lies outside 0 to 1; NaN lies outside by more than anything. */
static double outside(double value)
{
    return isnan(value) ? HUGE_VAL : fmax(fmax(-value, value - 1.0), 0.0);
}

static double outside_most(const double *values, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; values != NULL && i < count; i++) {
        most = fmax(most, outside(values[i]));
    }
    return most;
}

/* What heads may leave their range by: nothing but rounding, and where edges slope a small part
 * of what the bounds differ by. Obtuse triangles let linear elements leave the range of the
 * boundary values. */
static double allowed_outside(const usi_field *field)
{
    double lower_m_s = field->lower_m_s;
    if (field->grid->triangle_count == 0) {
        return 1e-9;
    }
    return CUT_SHARE * (lower_m_s > 0.0 ? fmin(field->upper_m_s / lower_m_s - 1.0, 0.1) : 0.1);
}

/* Every node of a coarse grid, not only the places that are printed. False where the stream
 * function lies further outside than a head may: then it has to come back on finer grids. Where
 * kh / kv is large no triangles of a cut cell are without obtuse angles. */
static bool check_nodes(trial *of, const usi_field *field, bool last, tally *sum)
{
    double allowed = allowed_outside(field);
    double heads = outside_most(field->reduced, field->grid->unknowns);
    double streams = outside_most(field->stream, usi_grid_place_count(field->grid));
    if (!(heads <= allowed)) {
        trial_fault(of, "head outside its range by %.3g", heads);
    }
    if (last && !(streams <= fmax(allowed, STREAM_SHARE))) {
        trial_fault(of, "stream function outside its range by %.3g", streams);
    }
    sum->outside = fmax(sum->outside, heads);
    return streams <= allowed;
}

/* False where a finer grid has to show more. */
static bool check_grid(trial *of, double cells, bool last, tally *sum)
{
    usi_grid_options options = {.cells = cells};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    bool done = true;
    us_status status = usi_grid_build(of->context, of->section, &options, &grid);
    if (status == US_OK) {
        status = usi_field_solve(of->context, grid, &field);
    }
    if (status == US_OK) {
        done = check_nodes(of, field, last, sum);
        /* Where both problems are exact, rounding alone decides which is the larger. */
        double upper_m_s = field->upper_m_s * (1.0 + 1e-10);
        if (!(field->lower_m_s <= upper_m_s && field->imbalance <= 1e-8)) {
            trial_fault(of, "%g cells: bounds %.15g and %.15g, imbalance %g", cells,
                        field->lower_m_s, field->upper_m_s, field->imbalance);
        }
    } else if (status != US_NOT_CONVERGED) {
        trial_fault(of, "%g cells: %s", cells, us_status_name(status));
    }
    usi_field_free(field);
    usi_grid_free(grid);
    return done;
}

static void check_field(trial *of, tally *sum)
{
    if (!check_grid(of, COARSE_CELLS, false, sum)) {
        sum->finer++;
        (void)check_grid(of, 4.0 * COARSE_CELLS, true, sum);
    }
}

static void check_solution(trial *of, const us_solution *solution, tally *sum)
{
    trial_check_balance(of, solution, sum);
    for (size_t w = 0; w < us_solution_water_count(solution); w++) {
        check_water(of, us_solution_water(solution, w));
    }
    check_field(of, sum);
}

int main(int count, char **words)
{
    if (count == 3 && strncmp(words[1], "--print", strlen("--print")) == 0) {
        static char text[GROUND_ROOM];
        bool leaky = strcmp(words[1], "--print-leaks") == 0;
        ground_write(SEED, strtoull(words[2], NULL, 10), leaky, text);
        (void)fputs(text, stdout);
        return EXIT_SUCCESS;
    }
    tally sum = {0};
    if (count >= 2 && strcmp(words[1], "-") == 0) {
        sum.accuracy = count > 2 ? strtod(words[2], NULL) : 0.01;
        trial_run_input(check_solution, &sum);
        return trial_end(&sum);
    }
    bool leaks = count >= 2 && strcmp(words[1], "--leaks") == 0;
    count -= leaks ? 1 : 0;
    words += leaks ? 1 : 0;
    if (count < 3) {
        (void)fputs(
            "random_sections [--leaks] FIRST COUNT [ACCURACY] | --print INDEX | - [ACCURACY]\n",
            stderr);
        return 2;
    }
    uint64_t first = strtoull(words[1], NULL, 10);
    uint64_t sections = strtoull(words[2], NULL, 10);
    sum.accuracy = count > 3 ? strtod(words[3], NULL) : 0.01;
    for (uint64_t i = first; i < first + sections; i++) {
        static char text[GROUND_ROOM];
        size_t before = sum.unconverged;
        ground_write(SEED, i, leaks, text);
        trial_run(i, text, check_solution, &sum);
        if (sum.unconverged > before) {
            (void)printf("not converged: %llu\n", (unsigned long long)i);
        }
    }
    return trial_end(&sum);
}
