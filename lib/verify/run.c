/* The public entry: which cases, and what comes of them. */
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "verify/tables.h"
#include "verify/verification.h"

enum { MOST_THREADS = 256 };

/* Lists the cases that are meant, or only counts them when `jobs` is NULL. */
static size_t select_cases(const char *only, usi_verify_job *jobs)
{
    size_t count = 0;
    for (size_t i = 0; usi_verify_case_at(i) != NULL; i++) {
        const usi_verify_case *one = usi_verify_case_at(i);
        if (only == NULL || strcmp(only, one->name) == 0) {
            if (jobs != NULL) {
                jobs[count].one = one;
            }
            count++;
        }
    }
    return count;
}

/* Gives each job its rows among those of `made`. */
static us_status deal_rows(us_context *context, usi_verify_job *jobs, us_verification *made)
{
    size_t count = 0;
    for (size_t i = 0; i < made->case_count; i++) {
        count += jobs[i].one->check_count;
    }
    made->rows = usi_memory_array(context, count, sizeof *made->rows);
    if (made->rows == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t i = 0; i < made->case_count; i++) {
        jobs[i].rows = &made->rows[made->count];
        made->count += jobs[i].one->check_count;
    }
    return US_OK;
}

/* Hands the titles over to `made`; warns of what could not be solved, in order. */
static void settle(us_context *context, usi_verify_job *jobs, us_verification *made)
{
    for (size_t i = 0; i < made->case_count; i++) {
        made->titles[i] = jobs[i].title;
        if (jobs[i].trouble != NULL) {
            usi_context_report(context, US_WARNING, NULL, NULL, "%s could not be solved: %s",
                               jobs[i].one->name, jobs[i].trouble);
        }
        free(jobs[i].trouble);
    }
}

static us_status fill(us_context *context, const us_verify_options *options, us_verification *made)
{
    size_t count = select_cases(options->only, NULL);
    usi_verify_job *jobs = usi_memory_array(context, count, sizeof *jobs);
    made->titles = usi_memory_array(context, count, sizeof *made->titles);
    us_status status = US_ERROR_MEMORY;
    if (jobs != NULL && made->titles != NULL) {
        made->case_count = select_cases(options->only, jobs);
        status = deal_rows(context, jobs, made);
    }
    if (status == US_OK) {
        status = usi_verify_pool_run(context, jobs, count, options->threads);
        settle(context, jobs, made);
    }
    free(jobs);
    return status;
}

us_status us_verification_run(us_context *context, const us_verify_options *given,
                              us_verification **verification)
{
    us_verify_options options = US_VERIFY_OPTIONS_INIT;
    if (context == NULL || verification == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        return US_ERROR_ARGUMENT;
    }
    if (options.threads < 1 || options.threads > MOST_THREADS) {
        return US_ERROR_ARGUMENT;
    }
    if (select_cases(options.only, NULL) == 0) {
        usi_context_report(context, US_ERROR, NULL, "without a name all cases are solved",
                           "there is no case '%s'", options.only);
        return US_ERROR_INPUT;
    }
    us_verification *made = usi_memory_array(context, 1, sizeof *made);
    us_status status = made == NULL ? US_ERROR_MEMORY : fill(context, &options, made);
    if (status != US_OK) {
        us_verification_free(made);
        return status;
    }
    *verification = made;
    return US_OK;
}

void us_verification_free(us_verification *verification)
{
    if (verification == NULL) {
        return;
    }
    for (size_t i = 0; i < verification->case_count; i++) {
        free(verification->titles[i]);
    }
    free(verification->titles);
    free(verification->rows);
    free(verification);
}

size_t us_verification_count(const us_verification *verification)
{
    return verification == NULL ? 0 : verification->count;
}

const us_verification_row *us_verification_row_at(const us_verification *verification, size_t index)
{
    return index < us_verification_count(verification) ? &verification->rows[index] : NULL;
}

size_t us_verification_misses(const us_verification *verification)
{
    size_t misses = 0;
    for (size_t i = 0; i < us_verification_count(verification); i++) {
        misses += !verification->rows[i].pass;
    }
    return misses;
}
