/* Release number, and the libraries underneath. */
#ifndef UNDERSILL_VERSION_H
#define UNDERSILL_VERSION_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/status.h"

/** Release of these headers: the numbers of `US_VERSION`. */
#define US_VERSION_MAJOR 0
#define US_VERSION_MINOR 1
#define US_VERSION_PATCH 0

/** Release of these headers as one number that grows, to compare in `#if`:
 * 1.2.3 is 10203. */
#define US_VERSION_NUMBER (US_VERSION_MAJOR * 10000 + US_VERSION_MINOR * 100 + US_VERSION_PATCH)

/** Release of these headers as text. */
#define US_VERSION "0.1.0"

#ifdef __cplusplus
extern "C" {
#endif

/** Tells the release of the library in use, such as "0.1.0".
 *
 * Differs from `US_VERSION` where the program runs with another release than
 * it was compiled for. Never NULL; static. Any thread, at any time. */
US_API const char *us_version(void);

/** Tells the release of the library in use as one number; compare it with
 * `US_VERSION_NUMBER`. Any thread, at any time. */
US_API int us_version_number(void);

/** A library that Undersill stands on, as it is loaded in this process. */
typedef struct us_library {
    char name[32];    /**< such as "CHOLMOD" */
    char version[64]; /**< such as "3.0.14"; "unknown" where it cannot be asked */
} us_library;

/** Tells name and version of one of the libraries that Undersill stands on.
 *
 * `index` counts from 0; `library` is filled in and must not be NULL. Returns
 * false, and writes nothing, when `index` is past the last one. Any thread, at
 * any time.
 *
 * @code
 * us_library library;
 * for (size_t i = 0; us_version_library(i, &library); i++) {
 *     printf("%s %s\n", library.name, library.version);
 * }
 * @endcode
 */
US_API bool us_version_library(size_t index, us_library *library);

#ifdef __cplusplus
}
#endif
#endif
