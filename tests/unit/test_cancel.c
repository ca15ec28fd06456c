/* Cancelling: at each pulse in turn, as failures are injected elsewhere. */
#include "support/support.h"

#include <unistd.h>

#include "base/context.h"

/* Two walls, one with an open contact (which is solved once more, sealed, with a
 * context aside), layers, and two water cases. */
static const char *const TEXT = "bed: {upstream: 10, downstream: 9}\n"
                                "base: 0\n"
                                "structure:\n"
                                "  underside: [[0, 9], [6, 9]]\n"
                                "  top: [[0, 11], [6, 11]]\n"
                                "  unit_weight: 23\n"
                                "walls:\n"
                                "  - {name: head, x: 0, top: 9.5, tip: 0}\n"
                                "  - {name: toe, x: 6, top: 9.5, tip: 6}\n"
                                "soils:\n"
                                "  - {name: sand, kh: 1e-4, kv: 5e-5, unit_weight: 20}\n"
                                "  - {name: silt, top: 4, kh: 1e-6, kv: 1e-6, unit_weight: 19}\n"
                                "water:\n"
                                "  - {name: high, upstream: 13, downstream: 11}\n"
                                "  - {name: dry, upstream: 12, downstream: at_bed}\n";

/* Counts the pulses and cancels one of them. */
typedef struct pulse_count {
    size_t seen;
    size_t stop_at; /* 0: never */
    bool in_range;
} pulse_count;

static bool count(const us_progress *progress, void *data)
{
    pulse_count *counter = data;
    counter->seen++;
    counter->in_range = counter->in_range && progress->stage != NULL && progress->fraction >= 0.0 &&
                        progress->fraction <= 1.0;
    return counter->seen != counter->stop_at;
}

/* Everything that may take long; what came of it. */
typedef struct results {
    us_solution *solution;
    us_buffer *table;
    us_buffer *picture;
} results;

static us_status run(us_context *context, const us_section *section, const char *path,
                     results *outcome)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    how.width_px = 900;
    options.accuracy = 0.2; /* small grids: this is run at each pulse */
    us_status status = us_section_solve(context, section, &options, &outcome->solution);
    if (status == US_OK) {
        status = us_solution_tabulate(context, outcome->solution, US_FORMAT_JSON, &outcome->table);
    }
    if (status == US_OK) {
        status = us_section_draw(context, section, outcome->solution, &how, &outcome->picture);
    }
    if (status == US_OK) {
        status = us_buffer_write_file(context, outcome->picture, path, NULL);
    }
    return status;
}

static void clear(results *outcome)
{
    us_solution_free(outcome->solution);
    us_buffer_free(outcome->table);
    us_buffer_free(outcome->picture);
    *outcome = (results){0};
}

static void assert_same(const us_buffer *a, const us_buffer *b)
{
    assert_int_equal(us_buffer_length(a), us_buffer_length(b));
    assert_memory_equal(us_buffer_data(a), us_buffer_data(b), us_buffer_length(a));
}

typedef struct scene {
    us_context *context;
    us_section *section;
    char folder[64];
    char path[80];
    results plain; /* run without a progress function */
} scene;

static int enter(void **state)
{
    scene *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    made->section = support_read(made->context, TEXT);
    (void)snprintf(made->folder, sizeof made->folder, "/tmp/undersill-test-XXXXXX");
    assert_non_null(mkdtemp(made->folder));
    (void)snprintf(made->path, sizeof made->path, "%s/net.png", made->folder);
    assert_int_equal(run(made->context, made->section, made->path, &made->plain), US_OK);
    assert_int_equal(unlink(made->path), 0);
    us_context_clear(made->context);
    *state = made;
    return 0;
}

static int leave(void **state)
{
    scene *made = *state;
    clear(&made->plain);
    us_section_free(made->section);
    us_context_free(made->context);
    int removed = rmdir(made->folder); /* fails when something was left in it */
    free(made);
    return removed;
}

static void watching_changes_nothing(void **state)
{
    scene *made = *state;
    pulse_count counter = {.in_range = true};
    us_context_set_progress(made->context, count, &counter);
    results watched = {0};
    assert_int_equal(run(made->context, made->section, made->path, &watched), US_OK);
    assert_int_equal(unlink(made->path), 0);
    assert_true(counter.in_range);
    assert_true(counter.seen > 30);
    assert_same(watched.table, made->plain.table);
    assert_same(watched.picture, made->plain.picture);
    clear(&watched);
}

static void each_pulse_can_cancel(void **state)
{
    scene *made = *state;
    pulse_count all = {0};
    results outcome = {0};
    us_context_set_progress(made->context, count, &all);
    assert_int_equal(run(made->context, made->section, made->path, &outcome), US_OK);
    assert_int_equal(unlink(made->path), 0);
    clear(&outcome);
    for (size_t k = 1; k <= all.seen; k++) {
        pulse_count counter = {.stop_at = k};
        us_context_set_progress(made->context, count, &counter);
        assert_int_equal(run(made->context, made->section, made->path, &outcome), US_CANCELLED);
        assert_int_equal(counter.seen, k); /* nobody went on after that */
        assert_int_equal(usi_context_error_count(made->context), 0);
        assert_int_equal(access(made->path, F_OK), -1);
        /* The writing is the last pulse: everything before it is whole. */
        assert_true((outcome.picture != NULL) == (k == all.seen));
        assert_true(outcome.table == NULL || outcome.solution != NULL);
        clear(&outcome);
    }
    us_context_set_progress(made->context, NULL, NULL);
    assert_int_equal(run(made->context, made->section, made->path, &outcome), US_OK);
    assert_int_equal(unlink(made->path), 0);
    assert_same(outcome.table, made->plain.table);
    assert_same(outcome.picture, made->plain.picture);
    clear(&outcome);
}

/* Fine solves go another way: by extrapolation over more grids. */
static void each_pulse_of_a_fine_solve_can_cancel(void **state)
{
    const scene *made = *state;
    us_section *section = support_read(made->context, "bed: {upstream: 10, downstream: 10}\n"
                                                      "base: 0\n"
                                                      "walls: [{x: 0, top: 10, tip: 5}]\n"
                                                      "soils: [{kh: 1e-5}]\n"
                                                      "water: [{upstream: 12, downstream: 11}]\n");
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.002;
    us_status status = US_CANCELLED;
    size_t k = 0;
    while (status == US_CANCELLED) {
        pulse_count counter = {.stop_at = ++k};
        us_context_set_progress(made->context, count, &counter);
        us_solution *solution = NULL;
        status = us_section_solve(made->context, section, &options, &solution);
        assert_true((solution == NULL) == (status == US_CANCELLED));
        us_solution_free(solution);
    }
    assert_int_equal(status, US_OK);
    assert_true(k > 20);
    us_section_free(section);
}

static us_status study(us_context *context, const us_section *section, us_buffer **chart)
{
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    how.width_px = 900;
    options.rungs = 3;
    us_convergence *ladder = NULL;
    us_status status = us_section_converge(context, section, &options, &ladder);
    assert_true((ladder == NULL) == (status != US_OK));
    if (status == US_OK) {
        status = us_convergence_draw(context, ladder, &how, chart);
    }
    us_convergence_free(ladder);
    return status;
}

static void each_pulse_of_a_study_can_cancel(void **state)
{
    const scene *made = *state;
    us_status status = US_CANCELLED;
    us_buffer *chart = NULL;
    size_t k = 0;
    while (status == US_CANCELLED) {
        pulse_count counter = {.stop_at = ++k};
        us_context_set_progress(made->context, count, &counter);
        status = study(made->context, made->section, &chart);
        assert_true((chart == NULL) == (status == US_CANCELLED));
    }
    assert_int_equal(status, US_OK);
    assert_true(k > 10);
    us_buffer_free(chart);
}

static void a_solve_cancelled_leaves_its_output_alone(void **state)
{
    scene *made = *state;
    pulse_count counter = {.stop_at = 3};
    us_context_set_progress(made->context, count, &counter);
    us_solution *untouched = made->plain.solution;
    assert_int_equal(us_section_solve(made->context, made->section, NULL, &untouched),
                     US_CANCELLED);
    assert_ptr_equal(untouched, made->plain.solution);
}

static void a_file_that_stands_is_not_touched(void **state)
{
    scene *made = *state;
    assert_int_equal(us_buffer_write_file(made->context, made->plain.table, made->path, NULL),
                     US_OK);
    pulse_count counter = {.stop_at = 1};
    us_context_set_progress(made->context, count, &counter);
    assert_int_equal(us_buffer_write_file(made->context, made->plain.picture, made->path, NULL),
                     US_CANCELLED);
    FILE *file = fopen(made->path, "r");
    assert_non_null(file);
    assert_int_equal(fgetc(file), '{');
    (void)fclose(file);
    assert_int_equal(unlink(made->path), 0);
}

static void clearing_keeps_the_function(void **state)
{
    scene *made = *state;
    pulse_count counter = {.stop_at = 1};
    us_context_set_progress(made->context, count, &counter);
    us_context_clear(made->context);
    us_solution *solution = NULL;
    assert_int_equal(us_section_solve(made->context, made->section, NULL, &solution), US_CANCELLED);
    us_context_set_progress(NULL, count, &counter);
}

static void a_context_aside_asks_the_same_function(void **state)
{
    const scene *made = *state;
    pulse_count counter = {.stop_at = 1};
    us_context_set_progress(made->context, count, &counter);
    us_context *aside = usi_context_create_aside(made->context);
    assert_non_null(aside);
    assert_int_equal(usi_context_pulse(aside, "testing", 0, 0.5), US_CANCELLED);
    us_context_free(aside);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(watching_changes_nothing, enter, leave),
        cmocka_unit_test_setup_teardown(each_pulse_can_cancel, enter, leave),
        cmocka_unit_test_setup_teardown(each_pulse_of_a_fine_solve_can_cancel, enter, leave),
        cmocka_unit_test_setup_teardown(each_pulse_of_a_study_can_cancel, enter, leave),
        cmocka_unit_test_setup_teardown(a_solve_cancelled_leaves_its_output_alone, enter, leave),
        cmocka_unit_test_setup_teardown(a_file_that_stands_is_not_touched, enter, leave),
        cmocka_unit_test_setup_teardown(clearing_keeps_the_function, enter, leave),
        cmocka_unit_test_setup_teardown(a_context_aside_asks_the_same_function, enter, leave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
