#include "output/words.h"

#include <stdbool.h>
#include <string.h>

static bool continues(unsigned char byte)
{
    return (byte & 0xC0) == 0x80;
}

size_t usi_words_width(const char *text)
{
    size_t width = 0;
    for (; *text != '\0'; text++) {
        width += !continues((unsigned char)*text);
    }
    return width;
}

/* Length of the control code that `text` begins with, else 0: below the blank,
 * DEL, and the second set (0xC2 0x80 to 0xC2 0x9F in UTF-8). */
static size_t control_length(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    if (first < 0x20 || first == 0x7F) {
        return 1;
    }
    unsigned char second = (unsigned char)text[1];
    return first == 0xC2 && second >= 0x80 && second < 0xA0 ? 2 : 0;
}

static void add_safe(us_buffer *out, const char *text, size_t length)
{
    const char *end = text + length;
    while (text < end) {
        size_t control = control_length(text);
        if (control > 0) {
            usi_buffer_add(out, "?", 1);
            text += control;
        } else {
            usi_buffer_add(out, text++, 1);
        }
    }
}

void usi_words_add(us_buffer *out, const char *text)
{
    add_safe(out, text, strlen(text));
}

static void add_spaces(us_buffer *out, size_t count)
{
    while (count-- > 0) {
        usi_buffer_add(out, " ", 1);
    }
}

void usi_words_pad(us_buffer *out, const char *text, size_t width, int right)
{
    size_t own = usi_words_width(text);
    size_t spaces = own < width ? width - own : 0;
    if (right) {
        add_spaces(out, spaces);
    }
    usi_words_add(out, text);
    if (!right) {
        add_spaces(out, spaces);
    }
}

static size_t width_of(const char *text, size_t length)
{
    size_t width = 0;
    for (size_t i = 0; i < length; i++) {
        width += !continues((unsigned char)text[i]);
    }
    return width;
}

void usi_words_wrap(us_buffer *out, const char *first, const char *text)
{
    size_t indent = usi_words_width(first);
    size_t column = indent;
    usi_words_add(out, first);
    text += strspn(text, " \n");
    while (*text != '\0') {
        size_t length = strcspn(text, " \n");
        size_t width = width_of(text, length);
        if (column > indent && column + 1 + width > USI_PAGE_WIDTH) {
            usi_buffer_add(out, "\n", 1);
            add_spaces(out, indent);
            column = indent;
        } else if (column > indent) {
            usi_buffer_add(out, " ", 1);
            column++;
        }
        add_safe(out, text, length);
        column += width;
        text += length;
        text += strspn(text, " \n");
    }
    usi_buffer_add(out, "\n", 1);
}
