#include "output/figure.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Below this an error would not fit its column in plain digits. */
static const double LEAST_PLAIN_ERROR = 0.9e-6;

enum { LEAST_DIGITS = 3, MOST_DIGITS = 7, LEAST_EXPONENT = -3, MOST_EXPONENT = 5 };

static int exponent_of(double value)
{
    return value == 0.0 ? 0 : (int)floor(log10(fabs(value)));
}

static double power_of_ten(int exponent)
{
    return pow(10.0, exponent);
}

/* Through an integer, as printf takes its point from the locale. */
char *usi_figure_fixed(char *buffer, double value, int decimals)
{
    const double most = 1e15;
    double scaled = round(fabs(value) * power_of_ten(decimals));
    if (decimals < 0) {
        scaled *= power_of_ten(-decimals);
        decimals = 0;
    }
    if (!(scaled < most) || decimals >= USI_NUMBER_ROOM / 2) {
        return usi_number_write(buffer, value, MOST_DIGITS);
    }
    char digits[USI_NUMBER_ROOM]; /* lowest first */
    int count = 0;
    for (long long rest = (long long)scaled; rest > 0 || count <= decimals; rest /= 10) {
        digits[count++] = (char)('0' + rest % 10);
    }
    char *at = buffer;
    if (value < 0.0 && scaled > 0.0) {
        *at++ = '-';
    }
    while (count > 0) {
        *at++ = digits[--count];
        if (count == decimals && decimals > 0) {
            *at++ = '.';
        }
    }
    *at = '\0';
    return buffer;
}

/* `digits` significant digits, with an exponent whatever the size. */
static void write_scientific(char *buffer, double value, int digits)
{
    int exponent = exponent_of(value);
    double mantissa = value / power_of_ten(exponent);
    if (round(fabs(mantissa) * power_of_ten(digits - 1)) >= power_of_ten(digits)) {
        mantissa /= 10.0;
        exponent++;
        digits++;
    }
    (void)usi_figure_fixed(buffer, mantissa, digits - 1);
    size_t length = strlen(buffer);
    (void)snprintf(buffer + length, USI_NUMBER_ROOM - length, "e%c%02d", exponent < 0 ? '-' : '+',
                   abs(exponent));
}

/* Decimals that show the first digit of the error, two where it begins with 1. */
static int decimals_of_error(double error)
{
    int exponent = exponent_of(error);
    return -exponent + (error / power_of_ten(exponent) < 2.0 ? 1 : 0);
}

static int decimals_of(us_value value, double finest)
{
    int exponent = exponent_of(value.value);
    int most = MOST_DIGITS - 1 - exponent;
    int least = LEAST_DIGITS - 1 - exponent;
    int decimals = value.error > 0.0 ? decimals_of_error(value.error) : most;
    if (finest > 0.0 && decimals > -exponent_of(finest)) {
        decimals = -exponent_of(finest);
    }
    if (decimals > most) {
        return most;
    }
    return decimals < least ? least : decimals;
}

/* An error that is not zero does not become zero. */
static double round_up(double error, int decimals)
{
    const double slack = 1e-6; /* of the last digit: 0.1 stays 0.1 */
    double steps = ceil(error * power_of_ten(decimals) - slack);
    return fmax(steps, 1.0) / power_of_ten(decimals);
}

static void write_zero(usi_figure *figure, double error)
{
    (void)snprintf(figure->value, sizeof figure->value, "0");
    if (error > 0.0) {
        (void)usi_number_write(figure->error, error, 1);
    }
}

static void write_rounded(usi_figure *figure, us_value value, double finest)
{
    int exponent = exponent_of(value.value);
    int decimals = decimals_of(value, finest);
    bool scientific = exponent < LEAST_EXPONENT || exponent > MOST_EXPONENT;
    if (scientific) {
        write_scientific(figure->value, value.value, decimals + exponent + 1);
    } else {
        (void)usi_figure_fixed(figure->value, value.value, decimals);
    }
    if (value.error > 0.0) {
        if (value.error > fabs(value.value)) {
            /* The value's own digits would be more than such an error deserves. */
            decimals =
                decimals < 1 - exponent_of(value.error) ? decimals : 1 - exponent_of(value.error);
        }
        double error = round_up(value.error, decimals);
        if (scientific || error < LEAST_PLAIN_ERROR) {
            int digits = decimals + exponent_of(error) + 1;
            write_scientific(figure->error, error, digits > 1 ? digits : 1);
        } else {
            (void)usi_figure_fixed(figure->error, error, decimals);
        }
    }
}

usi_figure usi_figure_of(us_value value, double finest, const char *absent)
{
    usi_figure figure = {"", ""};
    if (!isfinite(value.error)) {
        value.error = 0.0;
    }
    if (!value.present || !isfinite(value.value)) {
        (void)snprintf(figure.value, sizeof figure.value, "%s", absent);
    } else if (value.value == 0.0) {
        write_zero(&figure, value.error);
    } else if (value.error > 0.0 || finest > 0.0) {
        write_rounded(&figure, value, finest);
    } else {
        (void)usi_number_write(figure.value, value.value, MOST_DIGITS);
    }
    return figure;
}
