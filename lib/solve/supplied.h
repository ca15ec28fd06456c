/* Both fields where a situation acts. */
#ifndef USI_SOLVE_SUPPLIED_H
#define USI_SOLVE_SUPPLIED_H

#include "solve/field.h"

/* Fills a field whose section has a situation. As usi_field_solve(). */
us_status usi_supplied_solve(us_context *context, usi_field *field);

#endif
