#include "base/source.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { LINE_CAP = 4096, MESSAGE_ROOM = 1024, KEPT_ERRORS = 100 };

static const char *line_end(const char *at, const char *end)
{
    while (at < end && *at != '\n' && *at != '\r') {
        at++;
    }
    return at;
}

static const char *next_line(const char *at, const char *end)
{
    at = line_end(at, end);
    if (at < end && *at == '\r') {
        at++;
        return at < end && *at == '\n' ? at + 1 : at;
    }
    return at < end ? at + 1 : end;
}

/* The cut falls between characters: never inside a UTF-8 sequence. */
static size_t fit(const char *start, const char *end)
{
    size_t length = (size_t)(end - start);
    if (length <= LINE_CAP) {
        return length;
    }
    length = LINE_CAP;
    while (length > 0 && ((unsigned char)start[length] & 0xC0U) == 0x80U) {
        length--;
    }
    return length;
}

char *usi_source_line(us_context *context, const usi_source *source, int number, int column)
{
    const char *at = source->text;
    const char *end = source->text + source->length;
    for (int line = 1; line < number && at < end; line++) {
        at = next_line(at, end);
    }
    if (number < 1 || at >= end || column > LINE_CAP) {
        return NULL;
    }
    size_t length = fit(at, line_end(at, end));
    char *copy = usi_memory_text(context, at, length);
    if (copy == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)copy[i];
        if (byte == '\t') {
            copy[i] = ' ';
        } else if (byte < 0x20 || byte == 0x7F) {
            copy[i] = '?';
        }
    }
    return copy;
}

void usi_source_error(us_context *context, const usi_source *source, const usi_mark *mark,
                      const char *hint, const char *format, ...)
{
    char message[MESSAGE_ROOM];
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    usi_place place = {source->name, mark->line, mark->column, mark->key, NULL};
    /* Past the cap only the count matters: do not search the text for a line. */
    char *quoted = NULL;
    if (mark->line > 0 && usi_context_error_count(context) < KEPT_ERRORS) {
        quoted = usi_source_line(context, source, mark->line, mark->column);
        place.source_line = quoted;
    }
    usi_context_report(context, US_ERROR, &place, hint, "%s", written < 0 ? format : message);
    free(quoted);
}
