/* Where a point lies, and what a straight line through the soil meets. */
#ifndef USI_MODEL_REACH_H
#define USI_MODEL_REACH_H

#include "model/contact.h"

typedef enum usi_reach {
    USI_REACH_CONTACT,   /* on the underside or an end face */
    USI_REACH_SOIL,      /* strictly inside it */
    USI_REACH_BED,       /* on the soil surface beside the works */
    USI_REACH_AIR,       /* above it */
    USI_REACH_STRUCTURE, /* above the underside */
    USI_REACH_BASE,      /* on the base or below it */
    USI_REACH_OUTSIDE    /* beyond a side, or on it */
} usi_reach;

/* Where a point lies, to within `slack_m`. */
usi_reach usi_reach_of(const us_section *section, const usi_contact *contact, usi_point at,
                       double slack_m);

/* What is wrong with a drain in the soil: how the sentence "the drain ..." ends, and
 * what to do. NULL where nothing is. */
typedef struct usi_crossing {
    const char *what;
    const char *hint;
} usi_crossing;

/* Looks along drain `index` for the surface, the base, walls and drains before it.
 * `ends` say where its two ends lie: one of them may be on the structure. */
usi_crossing usi_reach_crossing(const us_section *section, size_t index, const usi_reach ends[2],
                                const usi_contact *contact);

#endif
