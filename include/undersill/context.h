/* The context: where the library leaves its messages. */
#ifndef UNDERSILL_CONTEXT_H
#define UNDERSILL_CONTEXT_H

#include <stddef.h>

#include "undersill/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Holds the diagnostics of the calls made with it. One context serves one
 * thread at a time; two threads use two contexts. */
typedef struct us_context us_context;

/** How much a diagnostic matters. */
typedef enum us_severity { US_NOTE, US_WARNING, US_ERROR } us_severity;

/** One message, pointing at its place in the input where it has one.
 * Absent strings are NULL, absent numbers 0; lines and columns count from 1.
 * All strings belong to the context and live until it is cleared or freed. */
typedef struct us_diagnostic {
    us_severity severity;
    const char *file;        /**< name of the input as given by the caller */
    int line;                /**< line in that input */
    int column;              /**< column (in characters) in that line */
    const char *key;         /**< dotted path of the key, such as `walls[1].tip` */
    const char *message;     /**< what is wrong */
    const char *hint;        /**< what to do about it */
    const char *source_line; /**< the line itself, control codes replaced */
} us_diagnostic;

/** Creates a context; NULL when memory is short. Free it with us_context_free(). */
US_API us_context *us_context_create(void);

/** Frees a context and its diagnostics; NULL is allowed. */
US_API void us_context_free(us_context *context);

/** Forgets the diagnostics gathered so far. */
US_API void us_context_clear(us_context *context);

/** Number of diagnostics kept. At most 100 errors are kept; a last one says
 * how many more there were. */
US_API size_t us_context_diagnostic_count(const us_context *context);

/** Diagnostic number `index`, counted from 0, in the order reported. NULL when
 * `index` is out of range. */
US_API const us_diagnostic *us_context_diagnostic(const us_context *context, size_t index);

#ifdef __cplusplus
}
#endif
#endif
