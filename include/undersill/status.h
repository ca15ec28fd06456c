/* Status codes: how every fallible call of the library ends.
 *
 * What holds for all headers:
 *
 * - Units are SI: metres, metres per second, newtons; per metre of width where
 *   nothing else is said. A number that has a unit carries it in its name
 *   (`head_m`). Elevations grow upwards, x grows to the right.
 * - A function takes the context first, then what it reads, then options, then
 *   its outputs. Outputs are written only when the call succeeds; on any other
 *   status they are as they were.
 * - What a call hands out through a pointer to a pointer is the caller's, and is
 *   freed by the function named in its comment. What a function returns as a
 *   pointer to const belongs to the object it was asked of, and lives as long.
 * - Where a comment does not allow NULL, NULL is `US_ERROR_ARGUMENT`, or, in a
 *   function without a status, gives 0, false, "" or NULL.
 * - A context is used by one thread at a time. Sections, solutions and buffers do
 *   not change once they are made: any number of threads may read one at once.
 * - The library does not print, end the process, read the environment, touch the
 *   locale or install signal handlers.
 */
#ifndef UNDERSILL_STATUS_H
#define UNDERSILL_STATUS_H

/* Set by the build of the library itself to mark what it exports. */
#ifndef US_API
#define US_API
#endif

#ifdef __cplusplus
extern "C" {
#endif

/** How a call ended. Outputs are written only on `US_OK` (and on
 * `US_NOT_CONVERGED`, which says so in the comment of the call). */
typedef enum us_status {
    US_OK = 0,          /**< done */
    US_NOT_CONVERGED,   /**< best values are there, but the accuracy asked for was not reached */
    US_ERROR_INPUT,     /**< the section or another input is wrong; diagnostics say where */
    US_ERROR_ARGUMENT,  /**< the caller broke the contract of the function */
    US_ERROR_NUMERICAL, /**< the equations could not be solved */
    US_ERROR_FILE,      /**< reading or writing a file failed */
    US_ERROR_MEMORY,    /**< an allocation failed */
    US_ERROR_INTERNAL,  /**< the library contradicts itself: please report it */
    US_CANCELLED        /**< the caller's own progress function asked to stop */
} us_status;

/** Names a status in a few English words, for messages.
 *
 * Any value is allowed. Never NULL; static. Any thread, at any time. */
US_API const char *us_status_name(us_status status);

#ifdef __cplusplus
}
#endif
#endif
