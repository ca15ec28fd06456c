#include "base/buffer.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct us_buffer {
    us_context *context; /* only while it is built */
    char *bytes;         /* `length` bytes and a NUL */
    size_t length;
    size_t room;
    bool failed;
};

us_buffer *usi_buffer_create(us_context *context)
{
    enum { FIRST_ROOM = 1024 };
    us_buffer *buffer = usi_memory_array(context, 1, sizeof *buffer);
    if (buffer == NULL) {
        return NULL;
    }
    buffer->context = context;
    buffer->room = FIRST_ROOM;
    buffer->bytes = usi_memory_array(context, buffer->room, 1);
    if (buffer->bytes == NULL) {
        free(buffer);
        return NULL;
    }
    return buffer;
}

/* Makes room for `length` more bytes and the NUL behind them. */
static bool reserve(us_buffer *buffer, size_t length)
{
    if (buffer == NULL || buffer->failed) {
        return false;
    }
    if (length < buffer->room - buffer->length) {
        return true;
    }
    /* Twice the length, counted in pairs: an absurd length overflows and is refused there. */
    size_t pairs = length < SIZE_MAX - buffer->length - 1 ? buffer->length + length + 1 : SIZE_MAX;
    char *bytes = usi_memory_resize(buffer->context, buffer->bytes, pairs, 2);
    if (bytes == NULL) {
        buffer->failed = true;
        return false;
    }
    buffer->bytes = bytes;
    buffer->room = 2 * pairs;
    return true;
}

void usi_buffer_add(us_buffer *buffer, const void *bytes, size_t length)
{
    if (length == 0 || !reserve(buffer, length)) {
        return;
    }
    memcpy(buffer->bytes + buffer->length, bytes, length);
    buffer->length += length;
    buffer->bytes[buffer->length] = '\0';
}

void usi_buffer_add_text(us_buffer *buffer, const char *text)
{
    usi_buffer_add(buffer, text, strlen(text));
}

void usi_buffer_print(us_buffer *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length > 0 && reserve(buffer, (size_t)length)) {
        (void)vsnprintf(buffer->bytes + buffer->length, (size_t)length + 1, format, again);
        buffer->length += (size_t)length;
    }
    va_end(again);
}

bool usi_buffer_is_sound(const us_buffer *buffer)
{
    return buffer != NULL && !buffer->failed;
}

us_status usi_buffer_finish(us_buffer *built, us_buffer **result)
{
    if (built == NULL || built->failed) {
        us_buffer_free(built);
        return US_ERROR_MEMORY;
    }
    built->context = NULL;
    *result = built;
    return US_OK;
}

const void *us_buffer_data(const us_buffer *buffer)
{
    return buffer == NULL ? "" : buffer->bytes;
}

size_t us_buffer_length(const us_buffer *buffer)
{
    return buffer == NULL ? 0 : buffer->length;
}

void us_buffer_free(us_buffer *buffer)
{
    if (buffer != NULL) {
        free(buffer->bytes);
        free(buffer);
    }
}
