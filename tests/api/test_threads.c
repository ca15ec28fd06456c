/* Threads that solve different sections in one process, each with a context of
 * its own: the same bytes as one after the other. Run under ThreadSanitizer by
 * the preset `tsan`, where a race ends the program. */
#include <pthread.h>

#include "support/support.h"

static const char *const FILES[] = {
    UNDERSILL_EXAMPLES "/demo.yaml",  UNDERSILL_EXAMPLES "/deep.yaml",
    UNDERSILL_EXAMPLES "/flume.yaml", UNDERSILL_EXAMPLES "/us.yaml",
    UNDERSILL_EXAMPLES "/wall.yaml",
};
enum { SECTIONS = sizeof FILES / sizeof FILES[0], THREADS = 3, ROUNDS = 2 };

/* What is made of each section: three tables and a picture. */
enum { TABLES = 3, RESULTS = TABLES + 1 };
static const us_format FORMATS[TABLES] = {US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV};

typedef struct results {
    us_buffer *made[RESULTS];
} results;

static void free_results(results *of)
{
    for (int i = 0; i < RESULTS; i++) {
        us_buffer_free(of->made[i]);
        of->made[i] = NULL;
    }
}

static bool same(const results *one, const results *other)
{
    for (int i = 0; i < RESULTS; i++) {
        size_t length = us_buffer_length(one->made[i]);
        if (length != us_buffer_length(other->made[i]) ||
            memcmp(us_buffer_data(one->made[i]), us_buffer_data(other->made[i]), length) != 0) {
            return false;
        }
    }
    return true;
}

/* Tables and picture of a solution; threads have no cmocka, so the first
 * failure is told by the status. */
static us_status present(us_context *context, const us_section *section,
                         const us_solution *solution, results *into)
{
    us_status status = US_OK;
    for (int i = 0; i < TABLES && status == US_OK; i++) {
        status = us_solution_tabulate(context, solution, FORMATS[i], &into->made[i]);
    }
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.width_px = 900;
    return status != US_OK
               ? status
               : us_section_draw(context, section, solution, &options, &into->made[TABLES]);
}

static us_status make_results(const char *file, results *into)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_solution *solution = NULL;
    us_status status = us_section_read_file(context, file, &section);
    if (status == US_OK) {
        status = us_section_solve(context, section, NULL, &solution);
    }
    if (status == US_OK) {
        status = present(context, section, solution, into);
    }
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return status;
}

typedef struct job {
    const results *alone; /* of each section */
    int first;            /* section to begin with */
    int failed;
    int differing;
} job;

static void *solve_all(void *argument)
{
    job *mine = argument;
    for (int i = 0; i < ROUNDS * SECTIONS; i++) {
        int which = (mine->first + i) % SECTIONS;
        results made = {{NULL}};
        if (make_results(FILES[which], &made) != US_OK) {
            mine->failed++;
        } else {
            mine->differing += !same(&made, &mine->alone[which]);
        }
        free_results(&made);
    }
    return NULL;
}

static void different_sections_at_once_give_the_bytes_of_one_alone(void **state)
{
    (void)state;
    results alone[SECTIONS] = {{{NULL}}};
    for (int i = 0; i < SECTIONS; i++) {
        assert_int_equal(make_results(FILES[i], &alone[i]), US_OK);
    }
    pthread_t threads[THREADS];
    job jobs[THREADS];
    for (int i = 0; i < THREADS; i++) {
        jobs[i] = (job){alone, i, 0, 0};
        assert_int_equal(pthread_create(&threads[i], NULL, solve_all, &jobs[i]), 0);
    }
    for (int i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        assert_int_equal(jobs[i].failed, 0);
        assert_int_equal(jobs[i].differing, 0);
    }
    for (int i = 0; i < SECTIONS; i++) {
        free_results(&alone[i]);
    }
}

/* One section and one solution, which several threads only read. */
typedef struct reading {
    const us_section *section;
    const us_solution *solution;
    us_status status;
    results made;
} reading;

static void *solve_and_present_shared(void *argument)
{
    reading *mine = argument;
    us_context *context = us_context_create();
    us_solution *own = NULL;
    mine->status = us_section_solve(context, mine->section, NULL, &own);
    us_solution_free(own);
    if (mine->status == US_OK) {
        mine->status = present(context, mine->section, mine->solution, &mine->made);
    }
    us_context_free(context);
    return NULL;
}

static void a_section_and_its_solution_are_read_by_several_threads(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read_file(context, FILES[0], &section), US_OK);
    us_solution *solution = support_solve(context, section, 0.01);
    pthread_t threads[THREADS];
    reading readings[THREADS];
    for (int i = 0; i < THREADS; i++) {
        readings[i] = (reading){section, solution, US_OK, {{NULL}}};
        assert_int_equal(pthread_create(&threads[i], NULL, solve_and_present_shared, &readings[i]),
                         0);
    }
    for (int i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        assert_int_equal(readings[i].status, US_OK);
    }
    for (int i = 1; i < THREADS; i++) {
        assert_true(same(&readings[0].made, &readings[i].made));
        free_results(&readings[i].made);
    }
    free_results(&readings[0].made);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(different_sections_at_once_give_the_bytes_of_one_alone),
        cmocka_unit_test(a_section_and_its_solution_are_read_by_several_threads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
