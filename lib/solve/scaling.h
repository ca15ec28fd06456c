/* Links near a point too hard for any grading: there head goes like r^lambda with
 * a small lambda, and linear elements of any size see little of it. */
#ifndef USI_SOLVE_SCALING_H
#define USI_SOLVE_SCALING_H

#include <stdbool.h>

#include "solve/links.h"

typedef struct usi_scaling {
    double ratio; /* exact over plain conductance */
    bool exact;   /* false where the local solution has flow without drop: plain then */
} usi_scaling;

/* What the link along a side of soil cell (i, j) is scaled by, so that the local
 * solution satisfies the scheme exactly: its conductance becomes the local flow
 * across the dual face over the local drop along the link. Around any node those
 * flows sum to zero, and with distance the ratio tends to 1 like its inverse
 * square, so nothing is lost elsewhere (derived here). */
usi_scaling usi_scaling_find(const usi_network *network, size_t i, size_t j,
                             usi_direction direction);

#endif
