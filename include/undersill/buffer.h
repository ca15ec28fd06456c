/* Bytes that the library hands out: a table, a picture. */
#ifndef UNDERSILL_BUFFER_H
#define UNDERSILL_BUFFER_H

#include <stddef.h>

#include "undersill/context.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A finished run of bytes, owned by the caller, freed by us_buffer_free(). It
 * does not change: several threads may read it. */
typedef struct us_buffer us_buffer;

/** Gives the bytes of a buffer, us_buffer_length() of them.
 *
 * Never NULL; lives as long as the buffer. Text is UTF-8 and followed by a NUL
 * that is not counted. */
US_API const void *us_buffer_data(const us_buffer *buffer);

/** Counts the bytes of a buffer. */
US_API size_t us_buffer_length(const us_buffer *buffer);

/** Frees a buffer; NULL is allowed. */
US_API void us_buffer_free(us_buffer *buffer);

/** Writes a buffer to a file, whole or not at all.
 *
 * The bytes go into a temporary file beside `path`, are flushed to the disk, and
 * the file is renamed. A symbolic link counts as the file it leads to. A target
 * that exists and is no regular file (`/dev/null`, a pipe) is written as a
 * stream. `input` names a file that must not be overwritten, under whatever
 * name (the section file the result comes from), or is NULL.
 *
 * Returns `US_OK`, `US_ERROR_FILE` (a diagnostic names the path and the reason;
 * nothing is left behind), `US_ERROR_ARGUMENT`, `US_ERROR_MEMORY` or
 * `US_CANCELLED`.
 *
 * @code
 * us_buffer *table = NULL;
 * if (us_solution_tabulate(context, solution, US_FORMAT_CSV, &table) == US_OK &&
 *     us_buffer_write_file(context, table, "results.csv", NULL) == US_OK) {
 *     printf("wrote %zu bytes\n", us_buffer_length(table));
 * }
 * us_buffer_free(table);
 * @endcode
 */
US_API us_status us_buffer_write_file(us_context *context, const us_buffer *buffer,
                                      const char *path, const char *input);

#ifdef __cplusplus
}
#endif
#endif
