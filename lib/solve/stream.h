/* The stream-function problem: its energy bounds the flow from below. */
#ifndef USI_SOLVE_STREAM_H
#define USI_SOLVE_STREAM_H

#include "solve/field.h"

/* Fills `stream` and `lower_m_s` of a field; `stream` stays NULL where the
 * structure is sealed into the base, so that no water passes. */
us_status usi_stream_solve(us_context *context, usi_field *field);

/* Numbers the places of soil, one number for those tied together: those tied to `zero`
 * are USI_PLACE_ZERO, to `one` (-1 for none) USI_PLACE_ONE, places without soil
 * USI_PLACE_NONE. Returns how many are free. */
size_t usi_stream_number(const usi_grid *grid, int32_t *ties, int32_t zero, int32_t one,
                         int32_t *places);

#endif
