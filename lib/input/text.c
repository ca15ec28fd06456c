#include "input/text.h"

#include <string.h>

typedef struct kind {
    size_t cap; /* bytes */
    const char *too_long;
    const char *when_empty;
    const char *plain;
} kind;

static const kind kinds[] = {
    [USI_TEXT_SECTION] = {USI_TEXT_CAP, "a section file has at most 1 MiB; this one is longer",
                          "`undersill example` prints one to start from",
                          "a section file is plain text"},
    [USI_TEXT_TABLE] = {(size_t)1 << 25, "a table has at most 32 MiB; this one is longer",
                        "a table begins with a header: a line of column names",
                        "a table is plain text: comma-separated values"},
};

typedef struct character {
    unsigned long code;
    size_t length; /* bytes; 0 when the bytes are no UTF-8 */
} character;

static size_t sequence_length(unsigned char first)
{
    if (first < 0x80) {
        return 1;
    }
    if (first >= 0xC2 && first < 0xE0) {
        return 2;
    }
    if (first >= 0xE0 && first < 0xF0) {
        return 3;
    }
    return first >= 0xF0 && first < 0xF5 ? 4 : 0;
}

/* Overlong forms, surrogates and codes past U+10FFFF are no UTF-8. */
static character decode(const unsigned char *text, size_t room)
{
    static const unsigned long smallest[] = {0, 0, 0x80, 0x800, 0x10000};
    character read = {text[0], sequence_length(text[0])};
    if (read.length == 1 || read.length == 0 || read.length > room) {
        read.length = read.length == 1 ? 1 : 0;
        return read;
    }
    read.code = text[0] & (0xFFU >> (read.length + 1));
    for (size_t i = 1; i < read.length; i++) {
        if ((text[i] & 0xC0U) != 0x80U) {
            read.length = 0;
            return read;
        }
        read.code = read.code << 6 | (text[i] & 0x3FU);
    }
    bool surrogate = read.code >= 0xD800 && read.code <= 0xDFFF;
    if (read.code < smallest[read.length] || read.code > 0x10FFFF || surrogate) {
        read.length = 0;
    }
    return read;
}

/* Control codes, and code points that are no characters: XML and PDF forbid them. */
static bool is_control(unsigned long code)
{
    bool none = (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
    bool ascii = code < 0x20 || code == 0x7F;
    bool separator = code == 0x2028 || code == 0x2029;
    bool direction = (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
    return ascii || (code >= 0x80 && code < 0xA0) || separator || direction || none ||
           code == 0xFEFF;
}

bool usi_text_is_printable(const char *text, size_t length)
{
    for (size_t at = 0; at < length;) {
        character read = decode((const unsigned char *)text + at, length - at);
        if (read.length == 0 || is_control(read.code)) {
            return false;
        }
        at += read.length;
    }
    return true;
}

static bool starts_with(const usi_source *source, const char *bytes, size_t count)
{
    return source->length >= count && memcmp(source->text, bytes, count) == 0;
}

/* Encodings other than plain UTF-8, told from their first bytes. */
static const char *wrong_encoding(const usi_source *source)
{
    if (starts_with(source, "\xEF\xBB\xBF", 3)) {
        return "the text begins with a byte order mark";
    }
    if (starts_with(source, "\xFF\xFE", 2) || starts_with(source, "\xFE\xFF", 2)) {
        return "the text is UTF-16, not UTF-8";
    }
    if (source->length >= 2 && (source->text[0] == '\0') != (source->text[1] == '\0')) {
        return "the text looks like UTF-16, not UTF-8";
    }
    return NULL;
}

static bool report_character(us_context *context, const usi_source *source, usi_mark mark,
                             character read, const char *plain)
{
    if (read.code != 0 && memchr(source->text, '\0', source->length) != NULL) {
        mark = (usi_mark){0, 0, NULL, NULL};
        usi_source_error(context, source, &mark, plain, "this is not a text file");
    } else if (read.length == 0) {
        usi_source_error(context, source, &mark, "save the file as UTF-8 text",
                         "this byte is not valid UTF-8");
    } else if (read.code == 0) {
        usi_source_error(context, source, &mark, plain, "a zero byte: this is not a text file");
    } else {
        usi_source_error(context, source, &mark, "remove the character",
                         "control code U+%04lX is not accepted", read.code);
    }
    return false;
}

size_t usi_text_cap(usi_text_kind what)
{
    return kinds[what].cap;
}

bool usi_text_check(us_context *context, const usi_source *source, usi_text_kind what)
{
    const kind *wanted = &kinds[what];
    usi_mark mark = {0, 0, NULL, NULL};
    if (source->length > wanted->cap) {
        usi_source_error(context, source, &mark, NULL, "%s", wanted->too_long);
        return false;
    }
    if (source->length == 0) {
        usi_source_error(context, source, &mark, wanted->when_empty, "the input is empty");
        return false;
    }
    const char *wrong = wrong_encoding(source);
    if (wrong != NULL) {
        usi_source_error(context, source, &mark, "save the file as UTF-8 without byte order mark",
                         "%s", wrong);
        return false;
    }
    mark = (usi_mark){1, 1, NULL, NULL};
    for (size_t at = 0; at < source->length;) {
        const unsigned char *bytes = (const unsigned char *)source->text + at;
        character read = decode(bytes, source->length - at);
        bool layout = bytes[0] == '\t' || bytes[0] == '\n' || bytes[0] == '\r';
        if (read.length == 0 || (is_control(read.code) && !layout)) {
            return report_character(context, source, mark, read, wanted->plain);
        }
        at += read.length;
        bool crlf = bytes[0] == '\r' && at < source->length && source->text[at] == '\n';
        if ((bytes[0] == '\n' || bytes[0] == '\r') && !crlf) {
            mark.line++;
            mark.column = 1;
        } else {
            mark.column++;
        }
    }
    return true;
}
