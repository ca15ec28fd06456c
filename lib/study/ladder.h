/* Readings of one section on a ladder of nested grids. */
#ifndef USI_STUDY_LADDER_H
#define USI_STUDY_LADDER_H

#include "study/convergence.h"
#include "study/governing.h"
#include "study/reading.h"

/* Why a ladder has no more grids. */
typedef enum usi_ladder_end {
    USI_LADDER_WHOLE,    /* all that were asked for */
    USI_LADDER_UNKNOWNS, /* the next would have more unknowns than asked for */
    USI_LADDER_LIMIT     /* size or rounding: none finer can be solved */
} usi_ladder_end;

typedef struct usi_ladder {
    const us_section *section;
    size_t exit_count;
    usi_exit *exits;
    usi_governing governing;
    size_t count;                         /* at least 1 */
    usi_reading readings[USI_RUNGS_MOST]; /* coarse to fine, every cell halved both ways */
    usi_ladder_end end;
} usi_ladder;

/* Fills `ladder` on US_OK; free it with usi_ladder_free(). Else as
 * us_section_converge(). */
us_status usi_ladder_climb(us_context *context, const us_section *section,
                           const us_converge_options *options, usi_ladder *ladder);
void usi_ladder_free(usi_ladder *ladder);

/* The finest reading. */
const usi_reading *usi_ladder_finest(const usi_ladder *ladder);

/* Where the exit gradient that is followed occurs. */
usi_point usi_ladder_exit(const usi_ladder *ladder);

#endif
