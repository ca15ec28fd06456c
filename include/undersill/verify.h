/* Verification: sections whose answers are known, solved and compared. */
#ifndef UNDERSILL_VERIFY_H
#define UNDERSILL_VERIFY_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/draw.h"
#include "undersill/table.h"

#ifdef __cplusplus
extern "C" {
#endif

/** One known value beside the computed one, in SI. The strings live as long as the
 * verification. */
typedef struct us_verification_row {
    const char *name;     /**< of the case, such as `wall_half`; a case has several rows */
    const char *title;    /**< of its section; "" where that could not be read */
    const char *source;   /**< who published the value, or how it was derived */
    const char *section;  /**< text of its section file */
    const char *quantity; /**< as in the CSV of us_solution_tabulate(): `flow`, `wall.tip`, ... */
    const char *place;    /**< name of the wall or piezometer; "" where there is none */
    const char *unit;     /**< `m^2/s`, `m`, `N/m`; "" for a plain number */
    us_value expected;    /**< its error is how closely the source can be read, 0 for an exact
                             value; absent where theory gives no finite value */
    us_value computed;    /**< with its stated error; absent where none was given */
    double lower_m2_s;    /**< lower bound of a flow, else 0 */
    double upper_m2_s;    /**< upper bound of a flow, else 0 */
    double accuracy;      /**< that was asked for, a share */
    bool converged;       /**< false where the accuracy was not reached */
    bool pass;
    const char *why; /**< why ours may differ from a printed value; "" where it should not */
} us_verification_row;

/** The outcome, freed by us_verification_free(). It does not change: any number of
 * threads may read it at once. */
typedef struct us_verification us_verification;

/** How to verify. Initialise with `US_VERIFY_OPTIONS_INIT`, then set what is to be
 * other than the default. */
typedef struct us_verify_options {
    size_t size;      /**< sizeof(us_verify_options), set by the initialiser */
    size_t threads;   /**< how many cases to solve at once, 1 to 256; by default 1 */
    const char *only; /**< name of the one case to solve; NULL, the default, for all */
} us_verify_options;

/** The defaults of us_verify_options. */
#define US_VERIFY_OPTIONS_INIT                                                                     \
    {                                                                                              \
        sizeof(us_verify_options), 1, NULL                                                         \
    }

/** Solves the sections that are built in and compares with what is known of them:
 * closed forms, and worked examples as printed.
 *
 * Each goes the way of any section: its text is read, solved, and the results are
 * looked at. A value passes when it differs from the expected one by no more than
 * its own stated error and the tolerance of the source together; an exact flow has
 * to lie within its bounds as well. Where theory gives no finite value, none may
 * be given. `options` may be NULL for defaults.
 *
 * `*verification` is the caller's (us_verification_free()) on `US_OK`, whatever
 * passes or not; a section that cannot be solved is a miss, and a warning says
 * why. Other statuses: `US_ERROR_INPUT` (there is no case of that name),
 * `US_ERROR_ARGUMENT`, `US_ERROR_MEMORY`, `US_CANCELLED`. The results have the same bytes whatever
 * the number of threads. The function of us_context_set_progress() is called in
 * the calling thread only.
 *
 * @code
 * us_verify_options how = US_VERIFY_OPTIONS_INIT;
 * how.only = "wall_half";
 * us_verification *verified = NULL;
 * if (us_verification_run(context, &how, &verified) == US_OK) {
 *     for (size_t i = 0; i < us_verification_count(verified); i++) {
 *         const us_verification_row *row = us_verification_row_at(verified, i);
 *         printf("%s: %.6g against %.6g\n", row->quantity, row->computed.value,
 *                row->expected.value);
 *     }
 *     printf("%zu misses\n", us_verification_misses(verified));
 * }
 * us_verification_free(verified);
 * @endcode
 */
US_API us_status us_verification_run(us_context *context, const us_verify_options *options,
                                     us_verification **verification);

/** Frees a verification; NULL is allowed. */
US_API void us_verification_free(us_verification *verification);

/** Counts the rows of a verification. */
US_API size_t us_verification_count(const us_verification *verification);

/** Gives row `index`, counted from 0; NULL when out of range. It lives as long as
 * the verification. Rows of one case follow each other. */
US_API const us_verification_row *us_verification_row_at(const us_verification *verification,
                                                         size_t index);

/** Counts the rows that do not pass. */
US_API size_t us_verification_misses(const us_verification *verification);

/** Writes a verification as a table, as `undersill verify` prints it.
 *
 * Numbers are in SI, forces in kN/m; docs/commands.md names the fields. `*table`
 * is the caller's (us_buffer_free()). Returns `US_OK`, `US_ERROR_ARGUMENT` or
 * `US_ERROR_MEMORY`.
 *
 * @code
 * us_verify_options one = US_VERIFY_OPTIONS_INIT;
 * one.only = "floor_plain";
 * us_verification *floor_plain = NULL;
 * us_buffer *table = NULL;
 * if (us_verification_run(context, &one, &floor_plain) == US_OK &&
 *     us_verification_tabulate(context, floor_plain, US_FORMAT_TEXT, &table) == US_OK) {
 *     printf("%s", (const char *)us_buffer_data(table));
 * }
 * us_buffer_free(table);
 * us_verification_free(floor_plain);
 * @endcode
 */
US_API us_status us_verification_tabulate(us_context *context, const us_verification *verification,
                                          us_format format, us_buffer **table);

/** Draws how the error falls as grids get finer: a chart on logarithmic axes.
 *
 * Some of the exact sections are solved on a ladder of grids, as by
 * us_section_converge(), and each point is the largest true error among them: of
 * the exit gradient as read and extrapolated, of the bounds of flow and of their
 * mean. Of `options` only `format` and `width_px` are looked at; NULL for defaults.
 * `*picture` is the caller's (us_buffer_free()). Returns `US_OK`,
 * `US_ERROR_ARGUMENT` (a diagnostic says which), `US_ERROR_NUMERICAL`,
 * `US_ERROR_MEMORY`, `US_ERROR_INTERNAL` or `US_CANCELLED`.
 *
 * @code
 * us_buffer *errors = NULL;
 * if (us_verification_draw(context, NULL, &errors) == US_OK &&
 *     us_buffer_write_file(context, errors, "errors.png", NULL) == US_OK) {
 *     printf("wrote errors.png\n");
 * }
 * us_buffer_free(errors);
 * @endcode
 */
US_API us_status us_verification_draw(us_context *context, const us_draw_options *options,
                                      us_buffer **picture);

#ifdef __cplusplus
}
#endif
#endif
