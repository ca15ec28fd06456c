/* What passes through a wall. */
#ifndef USI_QUANTITY_WALL_FLOW_H
#define USI_QUANTITY_WALL_FLOW_H

#include "quantity/wall_heads.h"

/* Flow per unit width and unit reduced head through a wall between its highest contact with
 * soil on both sides (the structure, with a gap under it) and its tip, positive downstream:
 * what the stream function grows by. None of tight walls, and where there is no stream
 * function. */
usi_reduced usi_wall_flow(const usi_field *field, const usi_wall *wall);

/* True of a wall that water passes through, or over. */
bool usi_wall_passes(const usi_wall *wall);

#endif
