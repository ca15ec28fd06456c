/* Growing bytes: how every table, text and picture is put together.
 *
 * A buffer that ran out of memory reports it once, swallows what follows and
 * gives US_ERROR_MEMORY at usi_buffer_finish(): no check is needed between. */
#ifndef USI_BASE_BUFFER_H
#define USI_BASE_BUFFER_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/buffer.h"

/* An empty buffer that reports to `context`, or NULL when memory is short.
 * Every call below takes NULL and does nothing with it. */
us_buffer *usi_buffer_create(us_context *context);

/* Appends `length` bytes. */
void usi_buffer_add(us_buffer *buffer, const void *bytes, size_t length);

/* Appends a text up to its NUL. */
void usi_buffer_add_text(us_buffer *buffer, const char *text);

/* Appends formatted text. No %f, %e or %g: their point depends on the locale;
 * write numbers with usi_number_write() and pass them as %s. */
void usi_buffer_print(us_buffer *buffer, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* False once memory ran out: a writer that can stop early should. */
bool usi_buffer_is_sound(const us_buffer *buffer);

/* Hands over a finished buffer: `*result` is written on US_OK only; on
 * US_ERROR_MEMORY `built` is freed. */
us_status usi_buffer_finish(us_buffer *built, us_buffer **result);

#endif
