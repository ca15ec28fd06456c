/* Tables: a solution as text for people, CSV or JSON for programs. */
#ifndef UNDERSILL_TABLE_H
#define UNDERSILL_TABLE_H

#include "undersill/solution.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Form of a table. */
typedef enum us_format { US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV } us_format;

/** Writes a solution as a table in the units of its section file; docs/output.md
 * names every field. `*table` is the caller's. Returns `US_OK`,
 * `US_ERROR_ARGUMENT` or `US_ERROR_MEMORY`. */
US_API us_status us_solution_tabulate(us_context *context, const us_solution *solution,
                                      us_format format, us_buffer **table);

#ifdef __cplusplus
}
#endif
#endif
