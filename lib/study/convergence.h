/* The convergence study as it is kept. */
#ifndef USI_STUDY_CONVERGENCE_H
#define USI_STUDY_CONVERGENCE_H

#include "model/section.h"
#include "undersill/convergence.h"

enum { USI_RUNGS_MOST = 8 };

struct us_convergence {
    const us_section *section;
    size_t water; /* index of the water case */
    size_t rung_count;
    us_rung rungs[USI_RUNGS_MOST];
    size_t trend_count;
    us_trend *trends; /* places and steps inside belong to the study */
    size_t note_count;
    char **notes;
};

/* Whether errors of a trend are told by their distance from its extrapolated
 * best value; else the difference between grids is all there is to tell. */
bool usi_convergence_is_extrapolated(const us_trend *trend);

#endif
