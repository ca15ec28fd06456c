/* What a wall lets through, as parts of its line. */
#ifndef USI_MODEL_PANES_H
#define USI_MODEL_PANES_H

#include "model/section.h"
#include "undersill/context.h"

/* Lays down the panes of every wall that is not tight all over. US_ERROR_MEMORY. */
us_status usi_panes_lay(us_context *context, us_section *section);

/* The panes of a wall, from the top down: its own, or `whole`, filled here. */
const usi_pane *usi_panes_of(const usi_wall *wall, usi_pane *whole, size_t *count);

/* True where water passes a wall somewhere. */
bool usi_panes_pass(const usi_wall *wall);

/* True where some opening stands in for one of equal effect from afar: no bound is true
 * then. */
bool usi_panes_stand_in(const us_section *section);

/* What passes a unit area of leaky wall per drop of head between its faces, 1/s: the
 * joint's own resistance, and on each side that of level flow which converges to a joint
 * of width b from a band of width S. A row of slits b wide, S apart, in a wall adds
 * S / (pi k) log(1 / sin(pi b / (2 S))) per unit flow on a side (conformal map of the
 * half strip; derived in docs/method.md). */
double usi_interlock_conductance(const usi_interlock *interlock, const usi_soil *left,
                                 const usi_soil *right);

/* The slot that a row of round holes is worth from afar, in soil with conductivities kh
 * level (across the wall and along it) and kv upright: as usi_weeps_slot(), with
 * a = sqrt(kh / kv) and the arithmetic-geometric mean M of D and a D,
 * (8 S / a) exp(-0.5772 - pi S / (2 M)) (derived in docs/method.md). */
double usi_holes_slot(const usi_opening *holes, const usi_soil *soil);

/* What M is at most on the two sides of a wall: the diameter of holes where soil is as
 * loose upright as level. */
double usi_holes_breadth(const us_section *section, const usi_wall *wall, const usi_opening *holes);

/* From an opening to the nearest of the wall's ends, the soil's surface and the wall's
 * other openings. */
double usi_opening_room(const us_section *section, const usi_wall *wall, size_t opening);

#endif
