/* A sweep of one's own: a wall of a section at several tip levels, solved in two
 * threads, as a small table.
 *
 *   sweep SECTION.yaml WALL HIGHEST LOWEST COUNT
 *   sweep demo.yaml tail_wall 48.5 46.5 5
 *
 * Levels are in the unit of the section file, results in SI. */
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

#include <undersill/undersill.h>

enum { THREADS = 2, MOST = 100 };

/* One row of the table: what is asked, then what comes out. */
typedef struct row {
    double tip;
    us_status status;
    us_value flow_m2_s;
    us_value gradient;
    us_value piping_factor;
} row;

/* What a thread works on: every THREADS-th row, from `first` on. */
typedef struct job {
    const us_section *section; /* is only read: the threads share it */
    const char *key;
    row *rows;
    size_t count;
    size_t first;
    us_context *context; /* holds what went wrong: each thread has its own */
} job;

static us_status solve_row(us_context *context, const us_section *section, const char *key,
                           row *into)
{
    us_change change = {key, NULL, into->tip};
    us_section *variant = NULL;
    us_solution *solution = NULL;
    us_status status = us_section_vary(context, section, &change, 1, &variant);
    if (status == US_OK) {
        status = us_section_solve(context, variant, NULL, &solution);
    }
    if (status == US_OK || status == US_NOT_CONVERGED) {
        const us_water_result *water = us_solution_water(solution, 0);
        into->flow_m2_s = water->flow.rate_m2_s;
        into->gradient = water->exit.gradient;
        into->piping_factor = water->exit.piping_factor;
    }
    us_solution_free(solution);
    us_section_free(variant);
    return status;
}

static void *work(void *argument)
{
    job *mine = argument;
    for (size_t i = mine->first; i < mine->count; i += THREADS) {
        mine->rows[i].status = solve_row(mine->context, mine->section, mine->key, &mine->rows[i]);
    }
    return NULL;
}

static void print_diagnostics(const us_context *context)
{
    for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *said = us_context_diagnostic(context, i);
        (void)fprintf(stderr, "%s: %s: %s\n", said->file != NULL ? said->file : "sweep",
                      said->key != NULL ? said->key : "", said->message);
    }
}

/* Runs the threads; false when one could not be started or ran out of memory. */
static int sweep(const us_section *section, const char *key, row *rows, size_t count)
{
    pthread_t threads[THREADS];
    job jobs[THREADS];
    int started[THREADS] = {0};
    int good = 1;
    for (size_t i = 0; i < THREADS; i++) {
        jobs[i] = (job){section, key, rows, count, i, us_context_create()};
        started[i] =
            jobs[i].context != NULL && pthread_create(&threads[i], NULL, work, &jobs[i]) == 0;
        good = good && started[i];
    }
    for (size_t i = 0; i < THREADS; i++) {
        if (started[i]) {
            (void)pthread_join(threads[i], NULL);
        }
        print_diagnostics(jobs[i].context);
        us_context_free(jobs[i].context);
    }
    return good;
}

/* An absent value is not a small one: a dash stands for it. */
static void print_value(us_value value)
{
    if (value.present) {
        (void)printf(" %12.4g", value.value);
    } else {
        (void)printf(" %12s", "-");
    }
}

/* Prints the table; returns how many rows have no result. */
static int print_rows(const row *rows, size_t count)
{
    int without = 0;
    (void)printf("%8s %12s %12s %12s\n", "tip", "flow m2/s", "gradient", "piping");
    for (size_t i = 0; i < count; i++) {
        (void)printf("%8.2f", rows[i].tip);
        print_value(rows[i].flow_m2_s);
        print_value(rows[i].gradient);
        print_value(rows[i].piping_factor);
        (void)printf("%s%s\n", rows[i].status == US_OK ? "" : "  ",
                     rows[i].status == US_OK ? "" : us_status_name(rows[i].status));
        without += rows[i].status != US_OK;
    }
    return without;
}

int main(int count_of_words, char **words)
{
    int count = count_of_words == 6 ? (int)strtol(words[5], NULL, 10) : 0;
    if (count < 2 || count > MOST) {
        (void)fprintf(stderr, "usage: sweep SECTION.yaml WALL HIGHEST LOWEST COUNT (2 to 100)\n");
        return 2;
    }
    us_context *context = us_context_create();
    us_section *section = NULL;
    if (us_section_read_file(context, words[1], &section) != US_OK) {
        print_diagnostics(context);
        us_context_free(context);
        return 2;
    }
    char key[200];
    (void)snprintf(key, sizeof key, "walls[%s].tip", words[2]);
    double highest = strtod(words[3], NULL);
    double lowest = strtod(words[4], NULL);
    row rows[MOST] = {{0}};
    for (int i = 0; i < count; i++) {
        rows[i].tip = highest + (lowest - highest) * i / (count - 1);
    }
    int good = sweep(section, key, rows, (size_t)count);
    int without = good ? print_rows(rows, (size_t)count) : count;
    us_section_free(section);
    us_context_free(context);
    return without == 0 ? 0 : 1;
}
