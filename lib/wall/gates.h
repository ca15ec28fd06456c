/* Gates (nodes of dry bed) as stitches of an engine's seams: open where they are tied. */
#ifndef USI_WALL_GATES_H
#define USI_WALL_GATES_H

#include "solve/supplied.h"

typedef struct usi_gate_seams {
    size_t count;      /* of gates; 0 where there are none, or none that may close */
    size_t side_count; /* of sides of them in the stream-function problem */
    size_t *sides;     /* contacts of the open supply */
    double *push;      /* room for the flows of that seam */
} usi_gate_seams;

/* Lists them for the supply of the grid without walls. Free with
 * usi_gate_seams_free(), also after US_ERROR_MEMORY. */
us_status usi_gate_seams_list(us_context *context, const usi_supply *open, usi_gate_seams *gates);
void usi_gate_seams_free(usi_gate_seams *gates);

/* Fills the stitches of either problem. */
void usi_gates_head_stitches(const usi_heads *heads, usi_stitch *stitches);
void usi_gates_stream_stitches(const usi_gate_seams *gates, const usi_streams *streams,
                               usi_stitch *stitches);

/* Conductances by which gates of `closed` are open. */
void usi_gates_set_heads(const usi_supply *closed, double *tie);
void usi_gates_set_streams(const usi_gate_seams *gates, const usi_supply *closed,
                           const usi_supply *open, double *tie);

/* What the heads of closed gates push through sides that are not closed all over. */
void usi_gates_push(const usi_gate_seams *gates, const usi_heads *heads, const usi_supply *open,
                    const double *values, double *flows);

#endif
