/* The stream-function problem: its energy bounds the flow from below. */
#ifndef USI_SOLVE_STREAM_H
#define USI_SOLVE_STREAM_H

#include "solve/field.h"

/* Fills `stream` and `lower_m_s` of a field; `stream` stays NULL where the
 * structure is sealed into the base, so that no water passes. */
us_status usi_stream_solve(us_context *context, usi_field *field);

#endif
