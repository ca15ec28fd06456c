/* The head problem: reduced head, 1 at the upstream water and 0 downstream. */
#ifndef USI_SOLVE_HEAD_H
#define USI_SOLVE_HEAD_H

#include "solve/field.h"

/* Fills `reduced`, `upper_m_s` and `imbalance` of a field. */
us_status usi_head_solve(us_context *context, usi_field *field);

#endif
