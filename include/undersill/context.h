/* The context: where the library leaves its messages, and tells how far it is. */
#ifndef UNDERSILL_CONTEXT_H
#define UNDERSILL_CONTEXT_H

#include <stdbool.h>
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
 * All strings are UTF-8, belong to the context, and live until it is cleared or
 * freed. */
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

/** How far a call has come. The strings are static. */
typedef struct us_progress {
    const char *stage; /**< what it is at, such as `solving the equations` */
    size_t unknowns;   /**< number of unknowns of the equations in hand, 0 where there are none */
    double fraction;   /**< share of this stage that is done, 0 to 1; stages may come again */
    double bytes;      /**< memory that these equations are expected to take, 0 where none */
} us_progress;

/** A function of the caller that is told of progress, and can stop the call.
 *
 * `progress` is valid during the call only; `data` is what
 * us_context_set_progress() was given. Returns true to go on, false to cancel.
 * It is called in the thread that uses the context, some times a second or less,
 * and must not use the same context. */
typedef bool (*us_progress_function)(const us_progress *progress, void *data);

/** Has a function of the caller told how far long calls have come.
 *
 * `function` hears of the calls made with `context` that may take long:
 * us_section_solve(), us_section_draw(), us_buffer_write_file() (once,
 * before it begins). NULL, the default, tells nobody.
 *
 * When `function` returns false, the call that is under way frees what it holds,
 * leaves its outputs untouched and returns `US_CANCELLED`; the context may then
 * be used for anything else. `data` is passed on and stays the caller's.
 * us_context_clear() does not change this setting. */
US_API void us_context_set_progress(us_context *context, us_progress_function function, void *data);

/** Allows calls made with a context to use several threads at once.
 *
 * `threads` counts the calling one: 1, the default, means that no call starts another; 0 counts
 * as 1. So far two are used at most: large grids have both their problems solved at once, which
 * takes more memory. Results are the same to the last bit, and functions of the caller are called
 * in the calling thread only. A program that makes calls in all of its own threads had better
 * leave it at 1. us_context_clear() does not change this setting. */
US_API void us_context_set_threads(us_context *context, size_t threads);

/** Creates a context.
 *
 * It is the caller's, to be freed by us_context_free(). NULL when memory is
 * short. Any thread, at any time: a thread that works for itself makes its own. */
US_API us_context *us_context_create(void);

/** Frees a context and its diagnostics; NULL is allowed. */
US_API void us_context_free(us_context *context);

/** Forgets the diagnostics gathered so far; what us_context_diagnostic() gave is
 * gone with them. NULL is allowed. */
US_API void us_context_clear(us_context *context);

/** Counts the diagnostics kept since the context was made or cleared. At most 100
 * errors are kept; a last one says how many more there were. */
US_API size_t us_context_diagnostic_count(const us_context *context);

/** Gives diagnostic number `index`, counted from 0, in the order reported.
 *
 * NULL when `index` is out of range. It belongs to the context and lives until
 * that is used for another call, cleared or freed.
 *
 * @code
 * us_section *section_of_file = NULL;
 * us_status status = us_section_read_file(context, "not-there.yaml", &section_of_file);
 * for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
 *     const us_diagnostic *said = us_context_diagnostic(context, i);
 *     printf("%s: %s: %s\n", us_status_name(status), said->file != NULL ? said->file : "",
 *            said->message);
 * }
 * us_context_clear(context);
 * @endcode
 */
US_API const us_diagnostic *us_context_diagnostic(const us_context *context, size_t index);

#ifdef __cplusplus
}
#endif
#endif
