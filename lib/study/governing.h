/* Which exit governs: the one that a check would fail by. */
#ifndef USI_STUDY_GOVERNING_H
#define USI_STUDY_GOVERNING_H

#include "study/reading.h"

typedef struct usi_governing {
    size_t exit; /* of the largest gradient, or of the largest mean where that is unbounded */
    bool peak;   /* a bounded place elsewhere on the bed is steeper still, on every grid */
} usi_governing;

/* Judges by the last of `count` readings, the finest. */
usi_governing usi_governing_find(const usi_reading *readings, size_t count);

/* Where that is; there is an exit. `exits` are those that the reading was taken at. */
usi_point usi_governing_place(usi_governing governing, const usi_exit *exits,
                              const usi_reading *finest);

#endif
