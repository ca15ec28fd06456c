/* Reporting into a context. */
#ifndef USI_BASE_CONTEXT_H
#define USI_BASE_CONTEXT_H

#include "undersill/context.h"

/* Where in an input a message belongs. Absent strings NULL, numbers 0. The
 * strings are copied. */
typedef struct usi_place {
    const char *file;
    int line;
    int column;
    const char *key;
    const char *source_line;
} usi_place;

/* Adds a diagnostic. `place` and `hint` may be NULL. Never fails: when memory
 * is short a prepared diagnostic says so. After 100 errors only the count
 * grows. */
void usi_context_report(us_context *context, us_severity severity, const usi_place *place,
                        const char *hint, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Tells the caller that `stage` (static text) is done to `fraction`. US_OK, or
 * US_CANCELLED when the caller wants no more: then free, and return it. */
us_status usi_context_pulse(us_context *context, const char *stage, size_t unknowns,
                            double fraction);

/* The same while equations are solved, which are expected to take so many bytes. */
us_status usi_context_pulse_equations(us_context *context, size_t unknowns, double bytes,
                                      double fraction);

/* How many threads calls may use: 1 for NULL. */
size_t usi_context_threads(const us_context *context);

/* A context for messages that the caller is not to see; progress goes to the
 * same function as that of `parent`, and as many threads are allowed. NULL when memory is short. */
us_context *usi_context_create_aside(const us_context *parent);

/* Frees such a context (NULL is allowed), with which a call ended in `status`: a
 * shortage of memory, which the caller has to see, is reported to `parent`. */
void usi_context_close_aside(us_context *aside, us_context *parent, us_status status);

/* Number of errors reported so far, those past the cap included. */
size_t usi_context_error_count(const us_context *context);

#endif
