/* Checked allocation: sizes that overflow are refused, failure is reported. */
#ifndef USI_BASE_MEMORY_H
#define USI_BASE_MEMORY_H

#include <stddef.h>

#include "undersill/context.h"

/* `count` zeroed elements of `size` bytes (at least one byte), or NULL after
 * reporting "out of memory" to `context`. Free with free(). */
void *usi_memory_array(us_context *context, size_t count, size_t size);

/* The same, but not zeroed: for what is filled before it is read. */
void *usi_memory_room(us_context *context, size_t count, size_t size);

/* `block` resized to `count` elements; on failure NULL is returned, reported,
 * and `block` stays valid. New bytes are not zeroed. */
void *usi_memory_resize(us_context *context, void *block, size_t count, size_t size);

/* A copy of `length` bytes of `text` with a NUL behind it. */
char *usi_memory_text(us_context *context, const char *text, size_t length);

/* Tells the system that a block as yet untouched will be used as a whole: a large one then
 * comes in large pages, of which it has to find far fewer. */
void usi_memory_advise(void *block, size_t bytes);

/* US_OK when `bytes` could be had at present, US_ERROR_MEMORY after reporting that
 * they could not. For use before calls that take a shortage badly. */
us_status usi_memory_afford(us_context *context, size_t bytes);

#endif
