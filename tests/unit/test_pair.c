/* Both problems of a grid at once: the same bytes as one after the other, cancelled as soon, and
 * refused where there is no memory for them. */
#include <pthread.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/context.h"
#include "grid/grid.h"
#include "solve/field.h"
#include "solve/room.h"
#include "support/support.h"

static const char TEXT[] = "bed: {upstream: 10, downstream: 9}\n"
                           "base: 0\n"
                           "structure:\n"
                           "  underside: [[0, 9], [6, 9]]\n"
                           "walls:\n"
                           "  - {x: 0, top: 9.5, tip: 5}\n"
                           "soils:\n"
                           "  - {kh: 1e-4, kv: 5e-5}\n"
                           "  - {top: 4, kh: 1e-6, kv: 1e-6}\n"
                           "water: [{upstream: 13, downstream: 11}]\n";

/* The linker puts this in the place of usi_room_of_machine(). */
double __real_usi_room_of_machine(void);
double __wrap_usi_room_of_machine(void);

static double machine; /* 0 for what it has */

double __wrap_usi_room_of_machine(void)
{
    return machine > 0.0 ? machine : __real_usi_room_of_machine();
}

typedef struct set_up {
    us_context *context;
    us_section *section;
    usi_grid *grid;
} set_up;

static int enter(void **state)
{
    set_up *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    made->section = support_read(made->context, TEXT);
    usi_grid_options options = {.cells = 22.0, .truncation = 1e-4};
    assert_int_equal(usi_grid_build(made->context, made->section, &options, &made->grid), US_OK);
    *state = made;
    return 0;
}

static int leave(void **state)
{
    set_up *made = *state;
    usi_grid_free(made->grid);
    us_section_free(made->section);
    us_context_free(made->context);
    free(made);
    machine = 0.0;
    return 0;
}

static usi_field *solve(set_up *on, size_t threads)
{
    usi_field *field = NULL;
    us_context_set_threads(on->context, threads);
    assert_int_equal(usi_room_for_both(on->context, on->grid->unknowns), threads > 1);
    assert_int_equal(usi_field_solve(on->context, on->grid, &field), US_OK);
    return field;
}

static void both_at_once_are_the_same_to_the_last_bit(void **state)
{
    set_up *on = *state;
    usi_field *one = solve(on, 1);
    usi_field *both = solve(on, 2);
    assert_memory_equal(one->reduced, both->reduced, on->grid->unknowns * sizeof(double));
    assert_memory_equal(one->stream, both->stream, usi_grid_place_count(on->grid) * sizeof(double));
    assert_true(one->flow_m_s == both->flow_m_s && one->lower_m_s == both->lower_m_s &&
                one->upper_m_s == both->upper_m_s && one->imbalance == both->imbalance &&
                one->stream_unit_m_s == both->stream_unit_m_s);
    usi_field_free(one);
    usi_field_free(both);
}

typedef struct counter {
    pthread_t thread;
    size_t calls;
    size_t most;
    bool elsewhere;
} counter;

static bool count(const us_progress *progress, void *data)
{
    (void)progress;
    counter *of = data;
    of->elsewhere = of->elsewhere || pthread_equal(of->thread, pthread_self()) == 0;
    return ++of->calls <= of->most;
}

/* At each of its calls, which come in its own thread only, the caller may stop both. */
static void both_are_cancelled_by_the_caller(void **state)
{
    set_up *on = *state;
    counter of = {.thread = pthread_self(), .most = SIZE_MAX};
    us_context_set_progress(on->context, count, &of);
    usi_field_free(solve(on, 2));
    size_t calls = of.calls;
    assert_true(calls > 4);
    for (of.most = 0; of.most < 4; of.most++) {
        usi_field *field = NULL;
        of.calls = 0;
        assert_int_equal(usi_field_solve(on->context, on->grid, &field), US_CANCELLED);
        assert_null(field);
        assert_int_equal(of.calls, of.most + 1);
    }
    assert_false(of.elsewhere);
    us_context_set_progress(on->context, NULL, NULL);
}

static void memory_decides_how_and_whether(void **state)
{
    set_up *on = *state;
    double needed = usi_room_predict(on->grid->unknowns);
    us_context_set_threads(on->context, 2);
    assert_true(usi_room_expect(on->context, on->grid->unknowns) > 1.2 * needed);
    machine = 1.1 * needed;
    assert_false(usi_room_for_both(on->context, on->grid->unknowns));
    assert_near(usi_room_expect(on->context, on->grid->unknowns), needed, 0.0, 0.0);
    usi_field *field = NULL;
    assert_int_equal(usi_field_solve(on->context, on->grid, &field), US_OK);
    usi_field_free(field);
    machine = 0.9 * needed;
    field = NULL;
    assert_int_equal(usi_field_solve(on->context, on->grid, &field), US_ERROR_MEMORY);
    assert_null(field);
    assert_int_equal(us_context_diagnostic_count(on->context), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(both_at_once_are_the_same_to_the_last_bit, enter, leave),
        cmocka_unit_test_setup_teardown(both_are_cancelled_by_the_caller, enter, leave),
        cmocka_unit_test_setup_teardown(memory_decides_how_and_whether, enter, leave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
