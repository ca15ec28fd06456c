#include "physics/random/trial.h"

#include <time.h>

#include "physics/random/ground.h"

static const char MARK[] = "--- ";
enum { LINE_ROOM = 4096 };

void trial_fault(trial *of, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)fprintf(stderr, "section %llu: ", (unsigned long long)of->index);
    (void)vfprintf(stderr, format, arguments);
    (void)fputc('\n', stderr);
    va_end(arguments);
    of->faults++;
}

bool trial_sane(trial *of, const char *what, us_value value)
{
    if (value.present && !(isfinite(value.value) && isfinite(value.error) && value.error >= 0.0)) {
        trial_fault(of, "%s is %g +/- %g", what, value.value, value.error);
        return false;
    }
    return value.present;
}

static void check_head(trial *of, const char *what, us_value head, double low_m, double high_m)
{
    if (trial_sane(of, what, head) && (head.value > high_m || head.value < low_m)) {
        trial_fault(of, "%s: head %.10g outside %.10g to %.10g", what, head.value, low_m, high_m);
    }
}

void trial_check_walls(trial *of, const us_water_result *water, double low_m, double high_m)
{
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        check_head(of, wall->name, wall->upstream_face_top_m, low_m, high_m);
        check_head(of, wall->name, wall->tip_m, low_m, high_m);
        check_head(of, wall->name, wall->downstream_face_top_m, low_m, high_m);
    }
    for (size_t i = 0; i < water->piezometer_count; i++) {
        check_head(of, water->piezometers[i].name, water->piezometers[i].head_m, low_m, high_m);
    }
}

void trial_check_balance(trial *of, const us_solution *solution, tally *sum)
{
    const us_grid_result *grid = us_solution_grid(solution);
    sum->unknowns = grid->unknowns > sum->unknowns ? grid->unknowns : sum->unknowns;
    sum->balance = fmax(sum->balance, grid->mass_balance);
    if (!(grid->mass_balance <= 1e-8)) {
        trial_fault(of, "mass balance %g of k H", grid->mass_balance);
    }
}

static void solve(trial *of, trial_check *check, tally *sum)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = sum->accuracy;
    us_solution *solution = NULL;
    us_status status = us_section_solve(of->context, of->section, &options, &solution);
    if (solution == NULL) {
        trial_fault(of, "not solved: %s", us_status_name(status));
        support_print_diagnostics(of->context);
        return;
    }
    sum->solved++;
    sum->unconverged += status == US_NOT_CONVERGED ? 1 : 0;
    check(of, solution, sum);
    us_solution_free(solution);
}

static double seconds_now(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void trial_run(uint64_t index, const char *text, trial_check *check, tally *sum)
{
    double begun_s = seconds_now();
    trial of = {.index = index, .context = us_context_create()};
    if (us_section_read(of.context, text, strlen(text), "random", &of.section) == US_OK) {
        solve(&of, check, sum);
    } else {
        trial_fault(&of, "was refused");
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

void trial_run_input(trial_check *check, tally *sum)
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
        trial_run(index, text, check, sum);
        (void)printf("%s %.3f\n",
                     sum->failed > failed             ? "failed"
                     : sum->unconverged > unconverged ? "short"
                                                      : "solved",
                     sum->seconds - before_s);
        (void)fflush(stdout);
    }
}

int trial_end(const tally *sum)
{
    (void)printf("%zu sections: %zu solved, of them %zu not converged; %zu failed\n"
                 "%.1f s; the slowest, %llu, %.2f s; up to %zu unknowns; mass balance within "
                 "%.1e k H; heads outside their range by %.1e; %zu with a stream function to "
                 "look at on a finer grid; up to %d steps\n",
                 sum->tried, sum->solved, sum->unconverged, sum->failed, sum->seconds,
                 (unsigned long long)sum->slowest, sum->slowest_s, sum->unknowns, sum->balance,
                 sum->outside, sum->finer, sum->steps);
    return sum->failed > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
