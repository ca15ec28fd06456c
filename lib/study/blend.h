/* A reading between others that differ by the tip of one wall. */
#ifndef USI_STUDY_BLEND_H
#define USI_STUDY_BLEND_H

#include "study/reading.h"

enum { USI_BLEND_MOST = 4 };

/* Readings and how much of each counts. On a grid a wall ends a little higher for heads than
 * for the stream function: what is read off the one, off the other and off both has weights of
 * its own. Each kind sums to one. */
typedef struct usi_blend {
    size_t count;
    const usi_reading *from[USI_BLEND_MOST];
    double heads[USI_BLEND_MOST];
    double stream[USI_BLEND_MOST];
    double both[USI_BLEND_MOST];
    size_t nearest; /* what cannot be blended is as here */
} usi_blend;

/* All readings are of one set of places.
 * `reading` is the caller's, freed with usi_reading_free(). US_ERROR_MEMORY. */
us_status usi_blend_make(us_context *context, const us_section *section, const usi_places *places,
                         const usi_blend *blend, usi_reading *reading);

#endif
