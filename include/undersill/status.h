/* Status codes: how every fallible call of the library ends. */
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

/** A short English name of a status, for messages. Never NULL; static. */
US_API const char *us_status_name(us_status status);

#ifdef __cplusplus
}
#endif
#endif
