/* Convex outlines of places, split along chords and cut up into triangles. */
#ifndef USI_GRID_TRIANGULATE_H
#define USI_GRID_TRIANGULATE_H

#include "grid/grid.h"

enum { USI_FACET_MOST = 64 };

/* Counter-clockwise; several places may lie on one straight side. */
typedef struct usi_facet {
    size_t count;
    int32_t places[USI_FACET_MOST];
} usi_facet;

/* Appends a place; beyond USI_FACET_MOST - 1 they are dropped, and the count shows
 * it. */
void usi_facet_add(usi_facet *outline, int32_t place);

/* Splits off the part beyond the chord from place a to place b; false, and nothing
 * is done, where the outline has not both, or has them side by side. */
bool usi_facet_split(usi_facet *outline, int32_t a, int32_t b, usi_facet *part);

/* Takes one triangle off the outline, the one whose largest angle is least with levels
 * stretched by sqrt(kh/kv); false when none is left. */
bool usi_facet_next(const usi_grid *grid, double stretch, usi_facet *outline, int32_t places[3]);

#endif
