/* Both fields where a situation acts. */
#ifndef USI_SOLVE_SUPPLIED_H
#define USI_SOLVE_SUPPLIED_H

#include "solve/field.h"
#include "solve/heads.h"
#include "solve/streams.h"

/* Fills a field whose section has a situation. As usi_field_solve(). */
us_status usi_supplied_solve(us_context *context, usi_field *field);

/* Both problems with a seam; `streams` counts only where the field is to have one. */
typedef struct usi_sewn {
    usi_heads *heads;
    usi_streams *streams;
} usi_sewn;

/* The same for the states that their seams are set to. Whether gates are open that should be is
 * the caller's to look at: the rounds of the field say nothing of it. */
us_status usi_supplied_take(us_context *context, const usi_sewn *sewn, usi_field *field);

#endif
