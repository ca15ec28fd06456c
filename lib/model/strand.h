/* Straight strands laid over each other, and parted where they meet. */
#ifndef USI_MODEL_STRAND_H
#define USI_MODEL_STRAND_H

#include "model/section.h"
#include "undersill/context.h"

typedef struct usi_strand {
    usi_point a; /* by x, then by z, not after b */
    usi_point b;
    int toggle; /* what a step across it enters or leaves, a number of the caller's; -1 nothing */
    unsigned role; /* bits of the caller's */
} usi_strand;

/* Coordinates of one direction that stand: by growing value once settled. */
typedef struct usi_axis {
    size_t count;
    size_t room;
    double *values;
} usi_axis;

/* Initialise with {.context, .tolerance_m}; free with usi_strands_clear(). */
typedef struct usi_strands {
    us_context *context;
    double tolerance_m;
    bool failed; /* memory ran short; was reported */
    size_t count;
    size_t room;
    usi_strand *items;
    usi_axis xs; /* that stand as they are: others that come near become equal to them */
    usi_axis zs;
} usi_strands;

/* Has the coordinates of a point stand. */
void usi_strands_hold(usi_strands *strands, usi_point point);

/* Adds a strand; one without length is left out. */
void usi_strands_add(usi_strands *strands, usi_point from, usi_point to, int toggle, unsigned role);

/* Parts all strands where they meet. Then two of them share ends only, or lie on
 * each other whole; no end comes nearer to another strand than half the tolerance;
 * two coordinates of one direction are equal or farther apart than the tolerance;
 * level and upright strands are exactly so; and the list goes by growing a, then b.
 * US_ERROR_MEMORY, or US_ERROR_INPUT, without a message, when there are over
 * USI_CROSSING_CAP places to part. */
us_status usi_strands_part(usi_strands *strands);

enum { USI_CROSSING_CAP = 200000 };

void usi_strands_clear(usi_strands *strands);

/* Order of points by x, then z: negative, 0, positive. */
int usi_point_order(usi_point a, usi_point b);

/* Level of a strand that is not upright at x. */
double usi_strand_level(const usi_strand *strand, double x_m);

/* Room for one more element: `*items` grown when full. False when memory is short. */
bool usi_list_grow(us_context *context, void **items, size_t count, size_t *room, size_t size);

#endif
