/* Every allocation of every public call fails in turn: alone, and with all
 * that follow. Each time the call says so, leaves its output alone, loses no
 * memory, and succeeds when it is made again. */
#include "faults/calls.h"

#include <unistd.h>

#include "faults/shortage.h"

typedef struct job {
    const char *name;
    us_status (*run)(fixture *with, outcome *out);
    us_status expected;
    size_t stride; /* in the quick tier every so manyeth point is tried */
} job;

static bool thorough; /* every point, and after each whether the next call is as ever */

static char untouched; /* its address marks outputs that nobody has written */

static void open_outcome(outcome *out)
{
    out->section = (us_section *)&untouched;
    out->solution = (us_solution *)&untouched;
    out->bytes = (us_buffer *)&untouched;
}

/* What was given as bytes that can be compared, NULL for nothing. It is freed. */
static us_buffer *close_outcome(fixture *with, outcome *out)
{
    us_buffer *bytes = NULL;
    if (out->section != (us_section *)&untouched) {
        assert_int_equal(us_section_explain(with->context, out->section, &bytes), US_OK);
        us_section_free(out->section);
    } else if (out->solution != (us_solution *)&untouched) {
        assert_int_equal(us_solution_tabulate(with->context, out->solution, US_FORMAT_JSON, &bytes),
                         US_OK);
        us_solution_free(out->solution);
    } else if (out->bytes != (us_buffer *)&untouched) {
        bytes = out->bytes;
    }
    return bytes;
}

static bool same_bytes(const us_buffer *a, const us_buffer *b)
{
    return us_buffer_length(a) == us_buffer_length(b) &&
           memcmp(us_buffer_data(a), us_buffer_data(b), us_buffer_length(a)) == 0;
}

static bool says_memory(const us_context *context)
{
    for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *said = us_context_diagnostic(context, i);
        if (said->severity == US_ERROR && strstr(said->message, "out of memory") != NULL) {
            return true;
        }
    }
    return false;
}

/* What becomes of the points of one job. */
typedef struct tally {
    size_t points;
    size_t refused;  /* said that memory is short */
    size_t absorbed; /* did without: the same result */
    size_t faults;
    size_t by_owner[SHORTAGE_OWNERS];
} tally;

static void complain(const fixture *with, const job *of, shortage_plan plan, tally *sum,
                     const char *what)
{
    if (sum->faults++ < 10) {
        shortage_owner owner = shortage_failed();
        print_error("%s, point %zu%s (%s): %s\n", of->name, plan.at,
                    plan.and_later ? " and later" : "",
                    owner < SHORTAGE_OWNERS ? shortage_names[owner] : "none", what);
        support_print_diagnostics(with->context);
    }
}

static void judge_failure(fixture *with, const job *of, shortage_plan plan, us_status status,
                          tally *sum)
{
    bool said = says_memory(with->context);
    bool input = of->expected == US_ERROR_INPUT && status == US_ERROR_INPUT;
    if (status != US_ERROR_MEMORY && !input) {
        complain(with, of, plan, sum, us_status_name(status));
    } else if (!said) {
        complain(with, of, plan, sum, "no message says that memory is short");
    } else if (of->expected == US_OK && us_context_diagnostic_count(with->context) != 1) {
        complain(with, of, plan, sum, "more than one message");
    }
    sum->refused++;
}

static void run_point(fixture *with, const job *of, shortage_plan plan, const us_buffer *expected,
                      size_t messages, tally *sum)
{
    outcome out;
    open_outcome(&out);
    shortage_arm(plan);
    us_status status = of->run(with, &out);
    (void)shortage_disarm();
    if (shortage_failed() != SHORTAGE_OWNERS) { /* a later run may take fewer */
        sum->points++;
        sum->by_owner[shortage_failed()]++;
    }
    size_t said = us_context_diagnostic_count(with->context);
    if (status == of->expected && said == messages && !says_memory(with->context)) {
        sum->absorbed += shortage_failed() != SHORTAGE_OWNERS;
    } else {
        judge_failure(with, of, plan, status, sum);
    }
    us_buffer *bytes = close_outcome(with, &out);
    if (status == US_OK ? !same_bytes(bytes, expected) : bytes != NULL) {
        complain(with, of, plan, sum,
                 status == US_OK ? "another result" : "the output was touched");
    }
    us_buffer_free(bytes);
    us_context_clear(with->context);
    size_t left = shortage_outstanding(SHORTAGE_OURS);
    if (left > 0) {
        char text[64];
        (void)snprintf(text, sizeof text, "%zu blocks were not freed", left);
        complain(with, of, plan, sum, text);
    }
}

/* Runs a job without a fault; the calls that could have failed, or 0 after a
 * complaint. */
static size_t run_sound(fixture *with, const job *of, us_buffer **bytes, size_t *messages)
{
    outcome out;
    open_outcome(&out);
    shortage_arm((shortage_plan){SHORTAGE_OURS, 0, false});
    us_status status = of->run(with, &out);
    size_t count = shortage_disarm();
    *messages = us_context_diagnostic_count(with->context);
    if (status != of->expected) {
        support_print_diagnostics(with->context);
    }
    assert_int_equal(status, of->expected);
    *bytes = close_outcome(with, &out);
    us_context_clear(with->context);
    return count;
}

/* Whether the call is as ever afterwards. */
static void try_again(fixture *with, const job *of, size_t at, const us_buffer *expected,
                      size_t messages, tally *sum)
{
    us_buffer *again = NULL;
    size_t said = 0;
    (void)run_sound(with, of, &again, &said);
    if (!same_bytes(again, expected) || said != messages) {
        complain(with, of, (shortage_plan){SHORTAGE_OURS, at, true}, sum, "spoils the next call");
    }
    us_buffer_free(again);
}

/* The point alone, and with all that follow. */
static void try_point(fixture *with, const job *of, size_t at, const us_buffer *expected,
                      size_t messages, tally *sum)
{
    run_point(with, of, (shortage_plan){SHORTAGE_OURS, at, false}, expected, messages, sum);
    run_point(with, of, (shortage_plan){SHORTAGE_OURS, at, true}, expected, messages, sum);
}

static void report(const job *of, const tally *sum)
{
    print_message("%-18s %5zu points: %zu refused, %zu absorbed;", of->name, sum->points,
                  sum->refused, sum->absorbed);
    for (int owner = 0; owner < SHORTAGE_OWNERS; owner++) {
        if (sum->by_owner[owner] > 0) {
            print_message(" %s %zu", shortage_names[owner], sum->by_owner[owner]);
        }
    }
    print_message("\n");
    assert_int_equal(sum->faults, 0);
}

static void run_job(fixture *with, const job *of)
{
    us_buffer *expected = NULL;
    size_t messages = 0;
    size_t count = run_sound(with, of, &expected, &messages);
    assert_true(count > 0);
    tally sum = {0};
    size_t stride = thorough || of->stride == 0 ? 1 : of->stride;
    for (size_t at = 1; at <= count; at += stride) {
        try_point(with, of, at, expected, messages, &sum);
        if (thorough || at % 8 == 1 || stride > 1) {
            try_again(with, of, at, expected, messages, &sum);
        }
    }
    us_buffer_free(expected);
    report(of, &sum);
}

static int enter(void **state)
{
    fixture *with = calloc(1, sizeof *with);
    assert_non_null(with);
    with->context = us_context_create();
    with->section = support_read(with->context, calls_good_text);
    with->aside = support_read(with->context, calls_aside_text);
    with->solution = support_solve(with->context, with->section, 0.2);
    assert_int_equal(
        us_solution_tabulate(with->context, with->solution, US_FORMAT_TEXT, &with->table), US_OK);
    (void)snprintf(with->folder, sizeof with->folder, "/tmp/undersill-test-XXXXXX");
    assert_non_null(mkdtemp(with->folder));
    (void)snprintf(with->path, sizeof with->path, "%s/tiny.yaml", with->folder);
    FILE *file = fopen(with->path, "w");
    assert_non_null(file);
    assert_true(fputs(calls_good_text, file) >= 0);
    assert_int_equal(fclose(file), 0);
    (void)snprintf(with->spare, sizeof with->spare, "%s/spare", with->folder);
    assert_int_equal(us_buffer_write_file(with->context, with->table, with->spare, NULL), US_OK);
    *state = with;
    return 0;
}

static int leave(void **state)
{
    fixture *with = *state;
    us_buffer_free(with->table);
    us_solution_free(with->solution);
    us_section_free(with->aside);
    us_section_free(with->section);
    us_context_free(with->context);
    int removed = unlink(with->path) + unlink(with->spare) + rmdir(with->folder);
    free(with);
    return removed;
}

static void reading_runs_short(void **state)
{
    static const job jobs[] = {{"read", calls_read_good, US_OK, 0},
                               {"read a file", calls_read_file, US_OK, 0},
                               {"read mistakes", calls_read_bad, US_ERROR_INPUT, 0},
                               {"read bad geometry", calls_read_misplaced, US_ERROR_INPUT, 0},
                               {"read broken YAML", calls_read_broken, US_ERROR_INPUT, 0},
                               {"read edges", calls_read_edges, US_OK, 5},
                               {"explain", calls_explain, US_OK, 0}};
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        run_job(*state, &jobs[i]);
    }
}

static void solving_runs_short(void **state)
{
    static const job jobs[] = {{"solve", calls_solve, US_OK, 11},
                               {"solve aside", calls_solve_aside, US_OK, 31},
                               {"text", calls_tabulate_text, US_OK, 0},
                               {"CSV", calls_tabulate_csv, US_OK, 0},
                               {"JSON", calls_tabulate_json, US_OK, 0},
                               {"study", calls_study_table, US_OK, 31},
                               {"verify", calls_verify, US_OK, 31},
                               {"write a file", calls_write_file, US_OK, 0},
                               {"replace a file", calls_replace_file, US_OK, 0}};
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        run_job(*state, &jobs[i]);
    }
}

/* The net has a fine grid of its own, whose solving takes most of the time. */
static void drawing_runs_short(void **state)
{
    static const job jobs[] = {{"draw the section", calls_draw_section, US_OK, 0},
                               {"draw as SVG", calls_draw_svg, US_OK, 17},
                               {"draw as PDF", calls_draw_pdf, US_OK, 17},
                               {"draw the net", calls_draw_net, US_OK, 67},
                               {"draw the uplift", calls_draw_uplift, US_OK, 97},
                               {"draw the exit gradient", calls_draw_exit, US_OK, 97},
                               {"draw a study", calls_study_chart, US_OK, 67}};
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        run_job(*state, &jobs[i]);
    }
}

int main(int count, char **arguments)
{
    thorough = count > 1 && strcmp(arguments[1], "--all") == 0;
    shortage_begin();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(reading_runs_short, enter, leave),
        cmocka_unit_test_setup_teardown(solving_runs_short, enter, leave),
        cmocka_unit_test_setup_teardown(drawing_runs_short, enter, leave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
