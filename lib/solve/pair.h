/* Both problems of a grid where water stands on two beds and nothing else acts. */
#ifndef USI_SOLVE_PAIR_H
#define USI_SOLVE_PAIR_H

#include "solve/field.h"

/* Fills a field that has been begun: the head problem, then the stream-function problem; or both
 * at once, on two threads, where the caller of the library allows that and it is worth it. What
 * they come to is the same to the last bit. As usi_field_solve(). */
us_status usi_pair_solve(us_context *context, usi_field *field);

#endif
