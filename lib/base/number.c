/* Numbers as text without the locale: digits are handed to strtod and taken
 * from printf in forms that hold no decimal point. */
#include "base/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* More digits than any double needs to be read to its last bit. */
enum { DIGIT_ROOM = 800, EXPONENT_CAP = 100000000 };

typedef struct scan {
    char digits[DIGIT_ROOM];
    int count;    /* significant digits kept */
    int exponent; /* of ten, for the digits read as an integer */
    bool any;     /* a digit was seen, leading zeros included */
} scan;

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static void add_digit(scan *into, char digit, bool fraction)
{
    into->any = true;
    if (into->count == 0 && digit == '0') {
        into->exponent -= fraction ? 1 : 0;
    } else if (into->count < DIGIT_ROOM) {
        into->digits[into->count++] = digit;
        into->exponent -= fraction ? 1 : 0;
    } else {
        /* Too far back to have a value, but it may break a tie. */
        if (digit != '0') {
            into->digits[DIGIT_ROOM - 1] = '1';
        }
        into->exponent += fraction ? 0 : 1;
    }
}

static const char *read_mantissa(const char *text, const char *end, scan *into)
{
    for (; text < end && is_digit(*text); text++) {
        add_digit(into, *text, false);
    }
    if (text < end && *text == '.') {
        for (text++; text < end && is_digit(*text); text++) {
            add_digit(into, *text, true);
        }
    }
    return into->any ? text : NULL;
}

/* An `e` that no digits follow is not part of the number. */
static const char *read_exponent(const char *text, const char *end, int *exponent)
{
    *exponent = 0;
    if (text >= end || (*text != 'e' && *text != 'E')) {
        return text;
    }
    const char *at = text + 1;
    bool negative = at < end && *at == '-';
    if (at < end && (*at == '-' || *at == '+')) {
        at++;
    }
    if (at >= end || !is_digit(*at)) {
        return text;
    }
    for (; at < end && is_digit(*at); at++) {
        if (*exponent < EXPONENT_CAP) {
            *exponent = 10 * *exponent + (*at - '0');
        }
    }
    *exponent = negative ? -*exponent : *exponent;
    return at;
}

const char *usi_number_read(const char *text, const char *end, double *value)
{
    bool negative = text < end && *text == '-';
    if (text < end && (*text == '-' || *text == '+')) {
        text++;
    }
    scan read = {.count = 0};
    const char *at = read_mantissa(text, end, &read);
    if (at == NULL) {
        return NULL;
    }
    int exponent = 0;
    at = read_exponent(at, end, &exponent);
    char plain[DIGIT_ROOM + USI_NUMBER_ROOM];
    (void)snprintf(plain, sizeof plain, "%.*se%d", read.count > 0 ? read.count : 1,
                   read.count > 0 ? read.digits : "0", read.exponent + exponent);
    double size = strtod(plain, NULL);
    *value = negative ? -size : size;
    return at;
}

/* The significant digits of |value| without trailing zeros, and the exponent
 * of the first one. */
static int decimal_digits(double value, int digits, char *kept, int *exponent)
{
    char text[USI_NUMBER_ROOM + 16];
    (void)snprintf(text, sizeof text, "%.*e", digits - 1, fabs(value));
    int count = 0;
    const char *at = text;
    for (; *at != 'e' && *at != '\0'; at++) {
        if (is_digit(*at) && count < digits) {
            kept[count++] = *at;
        }
    }
    *exponent = *at == 'e' ? (int)strtol(at + 1, NULL, 10) : 0;
    while (count > 1 && kept[count - 1] == '0') {
        count--;
    }
    return count;
}

static char *put(char *at, const char *digits, int count)
{
    memcpy(at, digits, (size_t)count);
    return at + count;
}

static char *put_zeros(char *at, int count)
{
    memset(at, '0', (size_t)count);
    return at + count;
}

static char *write_fixed(char *at, const char *kept, int count, int exponent)
{
    if (exponent < 0) {
        at = put(at, "0.", 2);
        at = put_zeros(at, -exponent - 1);
        return put(at, kept, count);
    }
    int whole = exponent + 1;
    if (count <= whole) {
        at = put(at, kept, count);
        return put_zeros(at, whole - count);
    }
    at = put(at, kept, whole);
    *at++ = '.';
    return put(at, kept + whole, count - whole);
}

char *usi_number_write(char *buffer, double value, int digits)
{
    if (!isfinite(value)) {
        const char *word = isnan(value) ? "nan" : value > 0.0 ? "inf" : "-inf";
        (void)snprintf(buffer, USI_NUMBER_ROOM, "%s", word);
        return buffer;
    }
    digits = digits < 1 ? 1 : digits > 17 ? 17 : digits;
    char kept[USI_NUMBER_ROOM] = {0};
    int exponent = 0;
    int count = decimal_digits(value, digits, kept, &exponent);
    char *at = buffer;
    if (signbit(value) && value != 0.0) {
        *at++ = '-';
    }
    if (exponent >= -4 && exponent < digits) {
        at = write_fixed(at, kept, count, exponent);
        *at = '\0';
        return buffer;
    }
    *at++ = kept[0];
    if (count > 1) {
        *at++ = '.';
        at = put(at, kept + 1, count - 1);
    }
    (void)snprintf(at, 16, "e%c%02d", exponent < 0 ? '-' : '+', abs(exponent));
    return buffer;
}
