/* Verification: what passes and what does not, threads, cancelling, tables. The
 * values themselves are judged by physics.verification. */
#include "support/support.h"

#include "verify/tables.h"
#include "verify/verification.h"

static const char *const SECTION = "title: Planted\n"
                                   "bed: {upstream: 10, downstream: 10}\n"
                                   "base: 0\n"
                                   "walls: [{name: sheet, x: 0, top: 10, tip: 5}]\n"
                                   "soils: [{name: sand, kh: 1e-5}]\n"
                                   "water: [{name: w, upstream: 13, downstream: 10}]\n";

/* What becomes of one check of a section. */
static us_verification_row try_check(const char *section, usi_verify_check check)
{
    us_context *context = us_context_create();
    const usi_verify_case one = {.name = "planted",
                                 .source = "here",
                                 .section = section,
                                 .check_count = 1,
                                 .checks = &check};
    us_verification_row row;
    usi_verify_job job = {.one = &one, .rows = &row};
    assert_int_equal(usi_verify_job_run(context, &job), US_OK);
    assert_true((job.trouble == NULL) == (row.accuracy > 0.0));
    free(job.title);
    free(job.trouble);
    us_context_free(context);
    row.title = NULL;
    return row;
}

static void test_wrong_value_misses(void **state)
{
    (void)state;
    usi_verify_check check = {USI_VERIFY_FLOW, NULL, 1.5e-5, 0.0, NULL};
    assert_true(try_check(SECTION, check).pass);
    check.expected = 1.51e-5;
    assert_false(try_check(SECTION, check).pass);
    check.tolerance = 0.02e-5;
    assert_true(try_check(SECTION, check).pass);
    check.expected = 1.54e-5;
    assert_false(try_check(SECTION, check).pass);
}

/* An exact flow outside its bounds is a miss, however wide the stated error; one
 * that was read off something need not keep to them. */
static void test_flow_out_of_bounds(void **state)
{
    (void)state;
    us_verification_row row = {.expected = {2.0, 0.0, true},
                               .computed = {2.1, 1.0, true},
                               .lower_m2_s = 1.9,
                               .upper_m2_s = 2.2};
    assert_true(usi_verify_passes(&row));
    row.upper_m2_s = 1.99;
    assert_false(usi_verify_passes(&row));
    row.expected.error = 0.1;
    assert_true(usi_verify_passes(&row));
    row.expected.error = 0.0;
    row.upper_m2_s = 2.2;
    row.lower_m2_s = 2.01;
    assert_false(usi_verify_passes(&row));
}

/* The bounds come with a flow, and with nothing else. */
static void test_bounds(void **state)
{
    (void)state;
    usi_verify_check check = {USI_VERIFY_FLOW, NULL, 1.5e-5, 0.0, NULL};
    us_verification_row row = try_check(SECTION, check);
    assert_true(row.lower_m2_s < 1.5e-5 && 1.5e-5 < row.upper_m2_s);
    check = (usi_verify_check){USI_VERIFY_TIP, "sheet", 11.5, 0.0, NULL};
    row = try_check(SECTION, check);
    assert_true(row.lower_m2_s == 0.0 && row.upper_m2_s == 0.0);
}

static void test_absent(void **state)
{
    (void)state;
    /* A number where theory has none, and none where theory has one. */
    assert_false(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL})
            .pass);
    assert_false(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_UPLIFT_FORCE, NULL, 1.0, 0.0, NULL}).pass);
    assert_true(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_UPLIFT_FORCE, NULL, INFINITY, 0.0, NULL})
            .pass);
    /* Names that are not there. */
    assert_false(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_TIP, "toe", 11.5, 0.0, NULL}).pass);
    assert_false(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_PIEZOMETER, "P1", 11.5, 0.0, NULL}).pass);
    assert_true(
        try_check(SECTION, (usi_verify_check){USI_VERIFY_TIP, "sheet", 11.5, 0.0, NULL}).pass);
}

static void test_broken_section_misses(void **state)
{
    (void)state;
    us_verification_row row =
        try_check("bed: 3\n", (usi_verify_check){USI_VERIFY_FLOW, NULL, INFINITY, 0.0, NULL});
    assert_false(row.pass);
    assert_false(row.computed.present);
}

/* The tables hold what their header promises. */
static void test_tables(void **state)
{
    (void)state;
    size_t exact = 0;
    for (size_t i = 0; usi_verify_case_at(i) != NULL; i++) {
        const usi_verify_case *one = usi_verify_case_at(i);
        size_t length = strlen(one->name);
        assert_true(length >= 1 && length <= 28);
        assert_int_equal(strspn(one->name, "abcdefghijklmnopqrstuvwxyz0123456789_"), length);
        assert_true(strlen(one->source) > 0 && one->check_count > 0);
        assert_true(strncmp(one->section, "title: ", 7) == 0);
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(one->name, usi_verify_case_at(j)->name);
        }
        bool open_to_reading = false;
        for (size_t c = 0; c < one->check_count; c++) {
            const usi_verify_check *check = &one->checks[c];
            open_to_reading = open_to_reading || check->tolerance > 0.0;
            assert_true(check->tolerance >= 0.0 && !isnan(check->expected));
        }
        exact += !open_to_reading;
    }
    assert_true(exact >= 60);
}

static us_verification *run(const char *only, size_t threads)
{
    us_context *context = us_context_create();
    us_verify_options options = US_VERIFY_OPTIONS_INIT;
    options.only = only;
    options.threads = threads;
    us_verification *made = NULL;
    assert_int_equal(us_verification_run(context, &options, &made), US_OK);
    us_context_free(context);
    return made;
}

static us_buffer *tabulate(const us_verification *verification, us_format format)
{
    us_context *context = us_context_create();
    us_buffer *table = NULL;
    assert_int_equal(us_verification_tabulate(context, verification, format, &table), US_OK);
    us_context_free(context);
    return table;
}

static void test_arguments(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_verify_options options = US_VERIFY_OPTIONS_INIT;
    us_verification *made = NULL;
    us_buffer *table = NULL;
    assert_int_equal(us_verification_run(NULL, &options, &made), US_ERROR_ARGUMENT);
    assert_int_equal(us_verification_run(context, &options, NULL), US_ERROR_ARGUMENT);
    options.threads = 0;
    assert_int_equal(us_verification_run(context, &options, &made), US_ERROR_ARGUMENT);
    options.threads = 257;
    assert_int_equal(us_verification_run(context, &options, &made), US_ERROR_ARGUMENT);
    options = (us_verify_options)US_VERIFY_OPTIONS_INIT;
    options.size = 0;
    assert_int_equal(us_verification_run(context, &options, &made), US_ERROR_ARGUMENT);
    options = (us_verify_options)US_VERIFY_OPTIONS_INIT;
    options.only = "wall_halve";
    assert_int_equal(us_verification_run(context, &options, &made), US_ERROR_INPUT);
    assert_int_equal(us_context_diagnostic_count(context), 1);
    assert_int_equal(us_verification_tabulate(context, NULL, US_FORMAT_CSV, &table),
                     US_ERROR_ARGUMENT);
    assert_null(made);
    assert_int_equal(us_verification_count(NULL), 0);
    assert_null(us_verification_row_at(NULL, 0));
    assert_int_equal(us_verification_misses(NULL), 0);
    us_verification_free(NULL);
    us_context_free(context);
}

static void test_one_case(void **state)
{
    (void)state;
    us_verification *made = run("wall_half", 1);
    assert_int_equal(us_verification_count(made), 7);
    assert_int_equal(us_verification_misses(made), 0);
    const us_verification_row *flow = us_verification_row_at(made, 0);
    assert_string_equal(flow->name, "wall_half");
    assert_string_equal(flow->title, "A wall half-way into the soil");
    assert_string_equal(flow->quantity, "flow");
    assert_near(flow->expected.value, 1.5e-5, 1e-12, 0.0);
    assert_null(us_verification_row_at(made, 7));
    us_buffer *text = tabulate(made, US_FORMAT_TEXT);
    assert_non_null(strstr(us_buffer_data(text), "1 section, 7 values: all pass\n"));
    us_buffer_free(text);
    us_verification_free(made);
}

/* A miss shows in each form. */
static void test_miss_is_told(void **state)
{
    (void)state;
    us_verification *made = run("wall_half", 1);
    made->rows[0].pass = false;
    assert_int_equal(us_verification_misses(made), 1);
    static const char *const told[] = {[US_FORMAT_TEXT] = "7 values: 1 MISSED\n",
                                       [US_FORMAT_JSON] = "\"misses\": 1",
                                       [US_FORMAT_CSV] = ",miss,"};
    for (int f = US_FORMAT_TEXT; f <= US_FORMAT_CSV; f++) {
        us_buffer *table = tabulate(made, (us_format)f);
        assert_non_null(strstr(us_buffer_data(table), told[f]));
        us_buffer_free(table);
    }
    us_verification_free(made);
}

enum { SOME = 12, ROOM = 200 };

/* Solves the first cases with so many threads. */
static size_t run_some(size_t threads, us_verification_row *rows)
{
    us_context *context = us_context_create();
    usi_verify_job jobs[SOME] = {{0}};
    size_t count = 0;
    for (size_t i = 0; i < SOME; i++) {
        jobs[i].one = usi_verify_case_at(i);
        jobs[i].rows = &rows[count];
        count += jobs[i].one->check_count;
        assert_true(count <= ROOM);
    }
    assert_int_equal(usi_verify_pool_run(context, jobs, SOME, threads), US_OK);
    for (size_t i = 0; i < SOME; i++) {
        free(jobs[i].title);
        free(jobs[i].trouble);
    }
    us_context_free(context);
    return count;
}

/* The same to the last bit whatever the number of threads. */
static void test_threads(void **state)
{
    (void)state;
    static us_verification_row one[ROOM];
    static us_verification_row three[ROOM];
    size_t count = run_some(1, one);
    assert_int_equal(run_some(3, three), count);
    for (size_t i = 0; i < count; i++) {
        assert_string_equal(one[i].name, three[i].name);
        assert_string_equal(one[i].place, three[i].place);
        assert_memory_equal(&one[i].computed.value, &three[i].computed.value, sizeof(double));
        assert_memory_equal(&one[i].computed.error, &three[i].computed.error, sizeof(double));
        assert_int_equal(one[i].pass, three[i].pass);
    }
}

/* The chart is a picture, the same each time, and of known formats only. */
static void test_chart(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    us_buffer *one = NULL;
    us_buffer *two = NULL;
    options.format = US_DRAW_SVG;
    assert_int_equal(us_verification_draw(context, &options, &one), US_OK);
    assert_int_equal(us_verification_draw(context, &options, &two), US_OK);
    assert_int_equal(us_buffer_length(one), us_buffer_length(two));
    assert_memory_equal(us_buffer_data(one), us_buffer_data(two), us_buffer_length(one));
    us_buffer_free(one);
    us_buffer_free(two);
    two = NULL;
    assert_int_equal(us_verification_draw(NULL, NULL, &two), US_ERROR_ARGUMENT);
    assert_int_equal(us_verification_draw(context, NULL, NULL), US_ERROR_ARGUMENT);
    options.format = US_DRAW_PNG;
    options.width_px = 1;
    assert_int_equal(us_verification_draw(context, &options, &two), US_ERROR_ARGUMENT);
    options.size = 1;
    assert_int_equal(us_verification_draw(context, &options, &two), US_ERROR_ARGUMENT);
    assert_null(two);
    us_context_free(context);
}

typedef struct watch {
    size_t seen;
    size_t stop_at; /* 0: never */
    double last;
    bool sound;
} watch;

static bool look(const us_progress *progress, void *data)
{
    watch *on = data;
    on->seen++;
    on->sound = on->sound && strcmp(progress->stage, "verifying") == 0 &&
                progress->fraction >= on->last && progress->fraction <= 1.0;
    on->last = progress->fraction;
    return on->seen != on->stop_at;
}

static void test_progress_and_cancel(void **state)
{
    (void)state;
    static const size_t threads[] = {1, 3};
    for (size_t t = 0; t < sizeof threads / sizeof threads[0]; t++) {
        static const size_t stops[] = {1, 2, 30};
        for (size_t s = 0; s < sizeof stops / sizeof stops[0]; s++) {
            us_context *context = us_context_create();
            watch on = {.stop_at = stops[s], .sound = true};
            us_context_set_progress(context, look, &on);
            us_verify_options options = US_VERIFY_OPTIONS_INIT;
            options.threads = threads[t];
            us_verification *made = NULL;
            assert_int_equal(us_verification_run(context, &options, &made), US_CANCELLED);
            assert_null(made);
            assert_true(on.sound);
            assert_int_equal(us_context_diagnostic_count(context), 0);
            us_context_free(context);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_wrong_value_misses),
        cmocka_unit_test(test_flow_out_of_bounds),
        cmocka_unit_test(test_bounds),
        cmocka_unit_test(test_absent),
        cmocka_unit_test(test_broken_section_misses),
        cmocka_unit_test(test_tables),
        cmocka_unit_test(test_arguments),
        cmocka_unit_test(test_one_case),
        cmocka_unit_test(test_miss_is_told),
        cmocka_unit_test(test_threads),
        cmocka_unit_test(test_chart),
        cmocka_unit_test(test_progress_and_cancel),
    };
    return cmocka_run_group_tests_name("verify", tests, NULL, NULL);
}
