/* Tables: a solution as text for people, CSV or JSON for programs. */
#ifndef UNDERSILL_TABLE_H
#define UNDERSILL_TABLE_H

#include "undersill/solution.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Form of a table. */
typedef enum us_format {
    US_FORMAT_TEXT, /**< for people, 80 columns wide */
    US_FORMAT_JSON, /**< one object, nine digits, null for what is absent */
    US_FORMAT_CSV   /**< one number a row, RFC 4180 */
} us_format;

/** Writes a solution as a table, as `undersill solve` prints it.
 *
 * Numbers are in the units of the section file, not in SI; docs/output.md names
 * every field. `*table` is the caller's (us_buffer_free()). Same solution, same
 * bytes. Returns `US_OK`, `US_ERROR_ARGUMENT` or `US_ERROR_MEMORY`. Several
 * threads may tabulate one solution, each with its own context.
 *
 * @code
 * us_buffer *table = NULL;
 * if (us_solution_tabulate(context, solution, US_FORMAT_TEXT, &table) == US_OK) {
 *     fwrite(us_buffer_data(table), 1, us_buffer_length(table), stdout);
 * }
 * us_buffer_free(table);
 * @endcode
 */
US_API us_status us_solution_tabulate(us_context *context, const us_solution *solution,
                                      us_format format, us_buffer **table);

#ifdef __cplusplus
}
#endif
#endif
