/* Numbers as text: read and written exactly, whatever the locale. */
#include "support/support.h"

#include <locale.h>

#include "base/number.h"

static double read_all(const char *text)
{
    double value = NAN;
    const char *end = text + strlen(text);
    assert_ptr_equal(usi_number_read(text, end, &value), end);
    return value;
}

static size_t read_length(const char *text)
{
    double value = 0.0;
    const char *end = usi_number_read(text, text + strlen(text), &value);
    return end == NULL ? 0 : (size_t)(end - text);
}

static void reads_plain_numbers(void **state)
{
    (void)state;
    assert_true(read_all("0") == 0.0);
    assert_true(read_all("-12") == -12.0);
    assert_true(read_all("+3.5") == 3.5);
    assert_true(read_all(".5") == 0.5);
    assert_true(read_all("5.") == 5.0);
    assert_true(read_all("2e-5") == 2e-5);
    assert_true(read_all("2.0E+3") == 2000.0);
    assert_true(read_all("000.125") == 0.125);
    assert_true(signbit(read_all("-0")));
}

/* The compiler's own conversion is the oracle. */
static void reads_to_the_last_bit(void **state)
{
    (void)state;
    assert_true(read_all("0.1") == 0.1);
    assert_true(read_all("101.6") == 101.6);
    assert_true(read_all("9007199254740993") == 9007199254740993.0);
    assert_true(read_all("2.2250738585072014e-308") == 2.2250738585072014e-308);
    assert_true(read_all("1.7976931348623157e308") == 1.7976931348623157e308);
    assert_true(read_all("0.00000000000000000000000000000000000000012345678901234567") ==
                0.00000000000000000000000000000000000000012345678901234567);
    assert_true(read_all("3.14159265358979323846264338327950288419716939937510582097494459") ==
                3.14159265358979323846264338327950288419716939937510582097494459);
}

static void reads_very_long_numbers(void **state)
{
    (void)state;
    enum { LENGTH = 5000 };
    char text[LENGTH + 8];
    memset(text, '9', LENGTH);
    text[LENGTH] = '\0';
    assert_true(isinf(read_all(text)));
    memcpy(text + LENGTH, "e-5000", 7);
    assert_near(read_all(text), 1.0, 1e-15, 0.0);
    memset(text, '0', LENGTH);
    text[1] = '.';
    memcpy(text + LENGTH, "1e4999", 7);
    assert_near(read_all(text), 1.0, 1e-15, 0.0);
}

/* 2^53 + 1 lies halfway between two doubles and goes to the even one below; a
 * digit anywhere behind it, however far, takes it up. */
static void no_digit_is_too_far_to_count(void **state)
{
    (void)state;
    enum { ZEROS = 3000 };
    char text[ZEROS + 32] = "9007199254740993.";
    size_t length = strlen(text);
    memset(text + length, '0', ZEROS);
    assert_true(read_all(text) == 9007199254740992.0);
    text[length + ZEROS] = '1';
    assert_true(read_all(text) == 9007199254740994.0);
}

static void long_digits_and_exponents_make_up_for_each_other(void **state)
{
    (void)state;
    enum { ZEROS = 1000000 };
    char *text = malloc(ZEROS + 32);
    assert_non_null(text);
    memset(text, '0', ZEROS + 1);
    text[1] = '.';
    memcpy(text + 1 + ZEROS, "25e1000000", 11);
    assert_true(read_all(text) == 2.5);
    free(text);
}

static void overflow_is_infinite(void **state)
{
    (void)state;
    assert_true(isinf(read_all("1e400")));
    assert_true(isinf(read_all("-1e999999999999")));
    assert_true(read_all("1e-400") == 0.0);
}

static void stops_where_the_number_ends(void **state)
{
    (void)state;
    assert_int_equal(read_length("12 ft"), 2);
    assert_int_equal(read_length("12+50"), 2);
    assert_int_equal(read_length("1_000"), 1);
    assert_int_equal(read_length("0x10"), 1);
    assert_int_equal(read_length("3em"), 1);
    assert_int_equal(read_length("3e-"), 1);
    assert_int_equal(read_length("1.5.2"), 3);
}

static void refuses_what_is_no_number(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "-", "+", ".", "e5", "inf", "nan", "ft", " 1", "--1"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_int_equal(read_length(texts[i]), 0);
    }
}

static void stays_within_its_bytes(void **state)
{
    (void)state;
    double value = 0.0;
    const char *text = "1234";
    assert_ptr_equal(usi_number_read(text, text + 2, &value), text + 2);
    assert_true(value == 12.0);
}

static void check_written(double value, int digits, const char *expected)
{
    char buffer[USI_NUMBER_ROOM];
    assert_string_equal(usi_number_write(buffer, value, digits), expected);
}

static void writes_as_printf_does(void **state)
{
    (void)state;
    check_written(0.0, 6, "0");
    check_written(-0.0, 6, "0");
    check_written(101.6, 9, "101.6");
    check_written(-0.25, 9, "-0.25");
    check_written(2e-5, 9, "2e-05");
    check_written(1.25e-12, 9, "1.25e-12");
    check_written(0.0001, 9, "0.0001");
    check_written(1e9, 9, "1e+09");
    check_written(123456789.0, 9, "123456789");
    check_written(1500.0, 2, "1.5e+03");
    check_written(99.996, 4, "100");
    check_written(1e-300, 3, "1e-300");
}

static void writes_like_the_c_locale(void **state)
{
    (void)state;
    unsigned long long bits = 88172645463325252ULL;
    for (int i = 0; i < 20000; i++) {
        bits ^= bits << 13;
        bits ^= bits >> 7;
        bits ^= bits << 17;
        double value = 0.0;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value)) {
            continue;
        }
        int digits = 1 + (int)(bits % 17);
        char expected[64];
        char buffer[USI_NUMBER_ROOM];
        (void)snprintf(expected, sizeof expected, "%.*g", digits, value);
        assert_string_equal(usi_number_write(buffer, value, digits), expected);
        (void)usi_number_write(buffer, value, 17);
        assert_true(read_all(buffer) == value);
    }
}

static void knows_no_decimal_comma(void **state)
{
    (void)state;
    char buffer[USI_NUMBER_ROOM];
    support_switch_to_comma();
    double half = read_all("0.5");
    (void)usi_number_write(buffer, 0.5, 6);
    (void)setlocale(LC_ALL, "C");
    assert_true(half == 0.5);
    assert_string_equal(buffer, "0.5");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_plain_numbers),
        cmocka_unit_test(reads_to_the_last_bit),
        cmocka_unit_test(reads_very_long_numbers),
        cmocka_unit_test(overflow_is_infinite),
        cmocka_unit_test(no_digit_is_too_far_to_count),
        cmocka_unit_test(long_digits_and_exponents_make_up_for_each_other),
        cmocka_unit_test(stops_where_the_number_ends),
        cmocka_unit_test(refuses_what_is_no_number),
        cmocka_unit_test(stays_within_its_bytes),
        cmocka_unit_test(writes_as_printf_does),
        cmocka_unit_test(writes_like_the_c_locale),
        cmocka_unit_test(knows_no_decimal_comma),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
