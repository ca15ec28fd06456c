/* Numbers and words for people: how many digits, where a line breaks. */
#include "support/support.h"

#include "output/figure.h"
#include "output/words.h"

#define PRESENT(number, deviation)                                                                 \
    {                                                                                              \
        .value = (number), .error = (deviation), .present = true                                   \
    }

static void assert_figure(double number, double deviation, const char *value, const char *error)
{
    us_value given = PRESENT(number, deviation);
    usi_figure figure = usi_figure_of(given, 0.0, "none");
    assert_string_equal(figure.value, value);
    assert_string_equal(figure.error, error);
}

static void digits_stop_at_the_error(void **state)
{
    (void)state;
    assert_figure(0.23456, 0.004, "0.235", "0.004");
    assert_figure(0.23456, 0.0012, "0.2346", "0.0012");
    assert_figure(0.23456, 0.00121, "0.2346", "0.0013"); /* an error is rounded up */
    assert_figure(0.23456, 0.1, "0.235", "0.100");       /* but three digits stay */
    assert_figure(102.345678, 0.0021, "102.346", "0.003");
    assert_figure(102.0, 1e-9, "102.0000", "0.0001"); /* and no more than seven */
    assert_figure(-12345.0, 300.0, "-12300", "300");
    assert_figure(-0.5, 0.02, "-0.500", "0.020");
    assert_figure(2.34567e-5, 2.4e-8, "2.346e-05", "3e-08");
    assert_figure(9.99999e-5, 2.4e-8, "1.0000e-04", "3e-08");
    assert_figure(1234567.0, 1000.0, "1.2346e+06", "1.0e+03");
    assert_figure(5.0, 1e-16, "5.000000", "0.000001"); /* down to nothing: one step stays */
    assert_figure(2e-5, 1e-30, "2.000000e-05", "1e-11");
    assert_figure(0.0, 0.0, "0", "");
    assert_figure(0.0, 1e-12, "0", "1e-12");
    assert_figure(3.0, 0.0, "3", "");
    us_value fine = PRESENT(102.345678, 0.00004);
    assert_string_equal(usi_figure_of(fine, 0.0025, "none").value, "102.346");
    assert_string_equal(usi_figure_of(fine, 0.0025, "none").error, "0.001");
    us_value exact = PRESENT(0.953585, 0.0);
    assert_string_equal(usi_figure_of(exact, 0.00095, "none").value, "0.9536");
    assert_string_equal(usi_figure_of(exact, 0.00095, "none").error, "");
    us_value absent = {0};
    assert_string_equal(usi_figure_of(absent, 0.0, "none").value, "none");
}

static void words_break_at_blanks_and_count_characters(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_buffer *out = usi_buffer_create(context);
    usi_words_pad(out, "k\xc3\xb6rnig", 8, 0);
    usi_words_pad(out, "\xc3\xb6", 3, 1);
    usi_words_add(out, "|\x07\xc2\x9b|");
    us_buffer *done = NULL;
    assert_int_equal(usi_buffer_finish(out, &done), US_OK);
    assert_string_equal(us_buffer_data(done), "k\xc3\xb6rnig    \xc3\xb6|??|");
    us_buffer_free(done);
    us_context_free(context);
}

static void an_error_beyond_its_value_has_two_digits(void **state)
{
    (void)state;
    usi_figure figure = usi_figure_of((us_value)PRESENT(72.7, 3411.3), 0.0, "-");
    assert_string_equal(figure.value, "72.7");
    assert_string_equal(figure.error, "3500");
    figure = usi_figure_of((us_value)PRESENT(1.59e-6, 3.573e-5), 0.0, "-");
    assert_string_equal(figure.error, "3.6e-05");
}

static void a_tiny_error_fits_its_column(void **state)
{
    (void)state;
    usi_figure figure = usi_figure_of((us_value)PRESENT(0.03061517, 1.2e-7), 0.0, "-");
    assert_string_equal(figure.value, "0.03061517");
    assert_string_equal(figure.error, "1.2e-07");
    figure = usi_figure_of((us_value)PRESENT(0.9135993, 3e-6), 0.0, "-");
    assert_string_equal(figure.error, "0.000003");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(digits_stop_at_the_error),
        cmocka_unit_test(words_break_at_blanks_and_count_characters),
        cmocka_unit_test(a_tiny_error_fits_its_column),
        cmocka_unit_test(an_error_beyond_its_value_has_two_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
