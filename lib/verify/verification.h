/* A verification as it is kept, and how its rows come about. */
#ifndef USI_VERIFY_VERIFICATION_H
#define USI_VERIFY_VERIFICATION_H

#include "undersill/verify.h"
#include "verify/case.h"

struct us_verification {
    size_t case_count;
    size_t count;
    us_verification_row *rows;
    char **titles; /* of the sections, one a case; NULL where there is none */
};

/* A case to be solved, and what became of it. */
typedef struct usi_verify_job {
    const usi_verify_case *one;
    us_verification_row *rows; /* room for the checks of the case */
    char *title;               /* the caller's; NULL where the section could not be read */
    char *trouble;             /* why it was not solved; the caller's; else NULL */
} usi_verify_job;

/* Solves the case of `job` and fills in the rest. Only what may not be put down to the case
 * is returned: US_OK, US_ERROR_MEMORY, US_CANCELLED. Clears `context`. */
us_status usi_verify_job_run(us_context *context, usi_verify_job *job);

/* Whether what was computed is near enough to what is expected; of an exact flow,
 * whether it lies within its bounds, too. */
bool usi_verify_passes(const us_verification_row *row);

/* Runs `count` jobs with `threads` threads, the calling one among them. Where it
 * fails some are done and some are not. */
us_status usi_verify_pool_run(us_context *context, usi_verify_job *jobs, size_t count,
                              size_t threads);

/* The forms of a table. */
void usi_verify_text(us_buffer *out, const us_verification *verification);
void usi_verify_csv(us_buffer *out, const us_verification *verification);
us_status usi_verify_json(us_context *context, us_buffer *out, const us_verification *verification);

/* What a table shows of a row: forces in kN/m, and computed less expected. */
typedef struct usi_verify_shown {
    us_value expected;
    us_value computed;
    us_value difference; /* its error is the stated and the tolerance together */
    double lower;
    double upper;
    const char *unit; /* "" for a plain number */
} usi_verify_shown;

usi_verify_shown usi_verify_show(const us_verification_row *row);

#endif
