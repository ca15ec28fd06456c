/* A section whose walls end elsewhere. */
#ifndef USI_STUDY_TIPPED_H
#define USI_STUDY_TIPPED_H

#include "model/section.h"
#include "undersill/context.h"

/* Where a wall is to end. Openings above stay in it; those below are none of it. A tip within an
 * opening leaves the wall down to its upper edge. */
typedef struct usi_tip {
    size_t wall;
    double level_m;
} usi_tip;

typedef struct usi_tipped {
    us_section section; /* borrows all it points to but walls, their panes and water cases */
    size_t ground_count;
    struct usi_tipped **grounds; /* of water cases with beds of their own */
} usi_tipped;

/* `section` outlives it. `*made` is the caller's, freed with usi_tipped_free(). US_ERROR_MEMORY. */
us_status usi_tipped_make(us_context *context, const us_section *section, const usi_tip *tips,
                          size_t count, usi_tipped **made);
void usi_tipped_free(usi_tipped *tipped);

#endif
