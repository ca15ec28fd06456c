/* Random valid sections: every one is read and solved, and what must hold of any
 * solution holds of it.
 *
 *   random_sections FIRST COUNT [ACCURACY]   checks sections FIRST, FIRST + 1, ...
 *   random_sections --print INDEX            writes one as a section file
 *   random_sections - [ACCURACY]             checks sections from standard input, each
 *                                            behind a line `--- INDEX`; of each it says
 *                                            `INDEX ...` before, and what became of it after
 */
#include "support/support.h"

#include <time.h>

#include "physics/random/ground.h"
#include "solve/field.h"

static const uint64_t SEED = 5;
/* On cut cells, of what the bounds of flow differ by. */
static const double CUT_SHARE = 0.01;
static const double COARSE_CELLS = 4.0;
/* Of all flow, what a stream function may lie outside its range by with four times the cells. */
static const double STREAM_SHARE = 2e-3;
static const char MARK[] = "--- ";
enum { LINE_ROOM = 2048 };

typedef struct tally {
    size_t tried;
    size_t solved;
    size_t unconverged;
    size_t failed;
    size_t finer; /* looked at on a second grid */
    double seconds;
    double slowest_s;
    uint64_t slowest;
    size_t unknowns; /* most */
    double balance;  /* worst */
    double outside;  /* of its range is a head, on a coarse grid */
} tally;

typedef struct trial {
    uint64_t index;
    us_context *context;
    us_section *section;
    size_t faults;
} trial;

static void fault(trial *of, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void fault(trial *of, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)fprintf(stderr, "section %llu: ", (unsigned long long)of->index);
    (void)vfprintf(stderr, format, arguments);
    (void)fputc('\n', stderr);
    va_end(arguments);
    of->faults++;
}

/* A present value is finite and has an error that is. */
static bool sane(trial *of, const char *what, us_value value)
{
    if (value.present && !(isfinite(value.value) && isfinite(value.error) && value.error >= 0.0)) {
        fault(of, "%s is %g +/- %g", what, value.value, value.error);
        return false;
    }
    return value.present;
}

static void check_head(trial *of, const us_water_result *water, const char *what, us_value head)
{
    double slack_m = 1e-9 * (water->head_difference_m + fabs(water->upstream_m));
    if (sane(of, what, head) &&
        (head.value > water->upstream_m + slack_m || head.value < water->downstream_m - slack_m)) {
        fault(of, "%s: head %.10g outside %.10g to %.10g", what, head.value, water->downstream_m,
              water->upstream_m);
    }
}

static void check_flow(trial *of, const us_water_result *water)
{
    const us_flow_result *flow = &water->flow;
    if (!sane(of, "flow", flow->rate_m2_s)) {
        return;
    }
    double value = flow->rate_m2_s.value;
    if (flow->lower_m2_s > flow->upper_m2_s || value < 0.0) {
        fault(of, "flow %g, bounds %g and %g", value, flow->lower_m2_s, flow->upper_m2_s);
    }
    if (flow->certified && (value < flow->lower_m2_s || value > flow->upper_m2_s)) {
        fault(of, "flow %.12g outside its bounds %.12g and %.12g", value, flow->lower_m2_s,
              flow->upper_m2_s);
    }
    if (water->head_difference_m == 0.0 && value != 0.0) {
        fault(of, "flow %g without a head difference", value);
    }
}

static void check_water(trial *of, const us_water_result *water)
{
    check_flow(of, water);
    (void)sane(of, "mean gradient", water->exit.mean);
    (void)sane(of, "uplift", water->uplift.force_n_m);
    (void)sane(of, "piping factor", water->exit.piping_factor);
    us_value gradient = water->exit.gradient;
    if (sane(of, "exit gradient", gradient) && gradient.value < -gradient.error - 1e-12) {
        fault(of, "exit gradient %g +/- %g is negative", gradient.value, gradient.error);
    }
    if (water->uplift.present && water->uplift.force_n_m.value < 0.0) {
        fault(of, "uplift %g is negative", water->uplift.force_n_m.value);
    }
    for (size_t i = 0; i < water->wall_count; i++) {
        check_head(of, water, water->walls[i].name, water->walls[i].upstream_face_top_m);
        check_head(of, water, water->walls[i].name, water->walls[i].tip_m);
        check_head(of, water, water->walls[i].name, water->walls[i].downstream_face_top_m);
    }
    for (size_t i = 0; i < water->piezometer_count; i++) {
        check_head(of, water, water->piezometers[i].name, water->piezometers[i].head_m);
    }
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
        fault(of, "head outside its range by %.3g", heads);
    }
    if (last && !(streams <= fmax(allowed, STREAM_SHARE))) {
        fault(of, "stream function outside its range by %.3g", streams);
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
            fault(of, "%g cells: bounds %.15g and %.15g, imbalance %g", cells, field->lower_m_s,
                  field->upper_m_s, field->imbalance);
        }
    } else if (status != US_NOT_CONVERGED) {
        fault(of, "%g cells: %s", cells, us_status_name(status));
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

static void check_solution(trial *of, double accuracy, tally *sum)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = accuracy;
    us_solution *solution = NULL;
    us_status status = us_section_solve(of->context, of->section, &options, &solution);
    if (solution == NULL) {
        fault(of, "not solved: %s", us_status_name(status));
        support_print_diagnostics(of->context);
        return;
    }
    const us_grid_result *grid = us_solution_grid(solution);
    sum->solved++;
    if (status == US_NOT_CONVERGED) {
        sum->unconverged++;
    }
    sum->unknowns = grid->unknowns > sum->unknowns ? grid->unknowns : sum->unknowns;
    sum->balance = fmax(sum->balance, grid->mass_balance);
    if (!(grid->mass_balance <= 1e-8)) {
        fault(of, "mass balance %g of k H", grid->mass_balance);
    }
    for (size_t w = 0; w < us_solution_water_count(solution); w++) {
        check_water(of, us_solution_water(solution, w));
    }
    us_solution_free(solution);
}

static double seconds_now(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void try_text(uint64_t index, const char *text, double accuracy, tally *sum)
{
    double begun_s = seconds_now();
    trial of = {.index = index, .context = us_context_create()};
    if (us_section_read(of.context, text, strlen(text), "random", &of.section) == US_OK) {
        check_solution(&of, accuracy, sum);
        check_field(&of, sum);
    } else {
        fault(&of, "was refused");
        support_print_diagnostics(of.context);
    }
    us_section_free(of.section);
    us_context_free(of.context);
    double took_s = seconds_now() - begun_s;
    sum->seconds += took_s;
    if (took_s > sum->slowest_s) {
        sum->slowest_s = took_s;
        sum->slowest = index;
    }
    sum->tried++;
    sum->failed += of.faults > 0 ? 1 : 0;
}

/* What is read up to the next line `--- INDEX`; false at the end of the input. */
static bool read_text(FILE *input, char *line, char *text)
{
    size_t used = 0;
    text[0] = '\0';
    while (fgets(line, LINE_ROOM, input) != NULL) {
        size_t length = strlen(line);
        if (strncmp(line, MARK, strlen(MARK)) == 0) {
            return true;
        }
        if (used + length < GROUND_ROOM) {
            memcpy(text + used, line, length + 1);
            used += length;
        }
    }
    return false;
}

static void try_input(double accuracy, tally *sum)
{
    static char line[LINE_ROOM];
    static char text[GROUND_ROOM];
    bool more = read_text(stdin, line, text);
    while (more) {
        uint64_t index = strtoull(line + strlen(MARK), NULL, 10);
        more = read_text(stdin, line, text);
        size_t failed = sum->failed;
        size_t unconverged = sum->unconverged;
        double before_s = sum->seconds;
        (void)printf("%llu ", (unsigned long long)index);
        (void)fflush(stdout);
        try_text(index, text, accuracy, sum);
        (void)printf("%s %.3f\n",
                     sum->failed > failed             ? "failed"
                     : sum->unconverged > unconverged ? "short"
                                                      : "solved",
                     sum->seconds - before_s);
        (void)fflush(stdout);
    }
}

static void print_tally(const tally *sum)
{
    (void)printf(
        "%zu sections: %zu solved, of them %zu not converged; %zu failed\n"
        "%.1f s; the slowest, %llu, %.2f s; up to %zu unknowns; mass balance within "
        "%.1e k H; heads outside their range by %.1e; %zu with a stream function to look at "
        "on a finer grid\n",
        sum->tried, sum->solved, sum->unconverged, sum->failed, sum->seconds,
        (unsigned long long)sum->slowest, sum->slowest_s, sum->unknowns, sum->balance, sum->outside,
        sum->finer);
}

int main(int count, char **words)
{
    if (count == 3 && strcmp(words[1], "--print") == 0) {
        static char text[GROUND_ROOM];
        ground_write(SEED, strtoull(words[2], NULL, 10), text);
        (void)fputs(text, stdout);
        return EXIT_SUCCESS;
    }
    tally sum = {0};
    if (count >= 2 && strcmp(words[1], "-") == 0) {
        try_input(count > 2 ? strtod(words[2], NULL) : 0.01, &sum);
        print_tally(&sum);
        return sum.failed > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
    }
    if (count < 3) {
        (void)fputs("random_sections FIRST COUNT [ACCURACY] | --print INDEX | - [ACCURACY]\n",
                    stderr);
        return 2;
    }
    uint64_t first = strtoull(words[1], NULL, 10);
    uint64_t sections = strtoull(words[2], NULL, 10);
    double accuracy = count > 3 ? strtod(words[3], NULL) : 0.01;
    for (uint64_t i = first; i < first + sections; i++) {
        static char text[GROUND_ROOM];
        size_t before = sum.unconverged;
        ground_write(SEED, i, text);
        try_text(i, text, accuracy, &sum);
        if (sum.unconverged > before) {
            (void)printf("not converged: %llu\n", (unsigned long long)i);
        }
    }
    print_tally(&sum);
    return sum.failed > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
