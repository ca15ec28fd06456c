/* Writing files whole or not at all. */
#ifndef USI_BASE_FILE_H
#define USI_BASE_FILE_H

#include <stddef.h>
#include <sys/types.h>

#include "undersill/context.h"

/* open(), not given up when a signal interrupts it. */
int usi_file_open(const char *path, int flags, mode_t mode);

/* Writes `length` bytes to `path`. A symbolic link counts as the file it leads
 * to, and one that leads nowhere is refused. Nothing, or a regular file, at
 * that place: a new file is created beside it, flushed and renamed onto it, so
 * that others see the old content or the new, never a part. A folder is
 * refused; anything else (device, pipe) is written as a stream. `input` (NULL
 * for none) names a file that is not to be overwritten, under any name.
 * US_OK, US_ERROR_FILE (reported with path and reason; nothing is left
 * behind), US_ERROR_MEMORY, US_CANCELLED. */
us_status usi_file_write(us_context *context, const void *bytes, size_t length, const char *path,
                         const char *input);

#endif
