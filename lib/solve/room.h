/* How much memory equations take, told before any of it is asked for. */
#ifndef USI_SOLVE_ROOM_H
#define USI_SOLVE_ROOM_H

#include <stdbool.h>

#include "undersill/context.h"

/* Bytes that a grid of so many unknowns and its solution take at most, all in all. */
double usi_room_predict(size_t unknowns);

/* Whether both problems of a grid are solved at once: the caller allows two threads, it is worth
 * it, and the machine has memory enough by far. */
bool usi_room_for_both(const us_context *context, size_t unknowns);

/* Bytes that the grid takes then, or else one problem after the other. */
double usi_room_expect(const us_context *context, size_t unknowns);

/* US_OK when `available` bytes are enough for that; else US_ERROR_MEMORY, reported. */
us_status usi_room_check(us_context *context, size_t unknowns, double available);

/* Bytes of memory that the machine has; HUGE_VAL where it does not say. */
double usi_room_of_machine(void);

#endif
