#include "input/mistake.h"

#include <stdbool.h>
#include <string.h>

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool begins_with(const char *text, size_t length, const char *word)
{
    size_t i = 0;
    while (word[i] != '\0' && i < length && lower(text[i]) == word[i]) {
        i++;
    }
    return word[i] == '\0';
}

static bool is_not_finite(const char *text, size_t length)
{
    if (length > 0 && text[0] == '.') {
        text++;
        length--;
    }
    return (length == 3 &&
            (begins_with(text, length, "inf") || begins_with(text, length, "nan"))) ||
           (length == 8 && begins_with(text, length, "infinity"));
}

/* A mark that stands between the first digits and another digit. */
static char mark_between_digits(const char *text, size_t length)
{
    size_t i = 0;
    while (i < length && is_digit(text[i])) {
        i++;
    }
    return i > 0 && i + 1 < length && is_digit(text[i + 1]) ? text[i] : '\0';
}

usi_mistake usi_mistake_find(const char *text, size_t length)
{
    if (length > 0 && (text[0] == '-' || text[0] == '+')) {
        text++;
        length--;
    }
    if (is_not_finite(text, length)) {
        return (usi_mistake){"is not a finite number", "give a plain decimal number"};
    }
    if (begins_with(text, length, "0x") || begins_with(text, length, "0b")) {
        return (usi_mistake){"is hexadecimal or binary, which is not accepted",
                             "give a plain decimal number"};
    }
    bool padded = length > 1 && text[0] == '0' && is_digit(text[1]);
    if (padded || begins_with(text, length, "0o")) {
        return (usi_mistake){"begins with a zero and could be meant as octal",
                             "drop the leading zero"};
    }
    switch (mark_between_digits(text, length)) {
    case '_':
        return (usi_mistake){"has an underscore between digits", "write the digits together"};
    case ':':
        return (usi_mistake){"looks like a time or angle, not a number",
                             "give a plain decimal number"};
    case ',':
        return (usi_mistake){"has a comma between digits",
                             "the decimal mark is a point, and digits are not grouped"};
    default:
        return (usi_mistake){NULL, NULL};
    }
}
