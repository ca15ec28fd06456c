/* Bytes that the library hands out: a table, a picture. */
#ifndef UNDERSILL_BUFFER_H
#define UNDERSILL_BUFFER_H

#include <stddef.h>

#include "undersill/context.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A finished run of bytes, owned by the caller. */
typedef struct us_buffer us_buffer;

/** The bytes, never NULL. Text is followed by a NUL that is not counted. */
US_API const void *us_buffer_data(const us_buffer *buffer);

/** How many bytes there are. */
US_API size_t us_buffer_length(const us_buffer *buffer);

/** Frees a buffer; NULL is allowed. */
US_API void us_buffer_free(us_buffer *buffer);

/** Writes a buffer to the file `path`, whole or not at all: into a temporary
 * file beside the target, flushed to the disk, then renamed. A target that
 * exists and is no regular file (`/dev/null`, a pipe) is written as a stream.
 *
 * `input` names a file that must not be overwritten (the section the result
 * comes from), or is NULL. Returns `US_OK`, `US_ERROR_FILE` (the diagnostic
 * names the path and the reason; nothing is left behind), `US_ERROR_ARGUMENT`,
 * `US_ERROR_MEMORY` or `US_CANCELLED`. */
US_API us_status us_buffer_write_file(us_context *context, const us_buffer *buffer,
                                      const char *path, const char *input);

#ifdef __cplusplus
}
#endif
#endif
