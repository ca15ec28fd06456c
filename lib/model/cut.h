/* Lines reduced to what counts. */
#ifndef USI_MODEL_CUT_H
#define USI_MODEL_CUT_H

#include "model/section.h"

/* What is left of a line. */
typedef struct usi_cut {
    double from_m; /* may be infinite */
    double to_m;
    double home_m;      /* where the one point of a level line stands */
    double tolerance_m; /* points this near to a straight line lie on it */
} usi_cut;

/* Cuts a line, in place, and drops points that change nothing. */
void usi_line_cut(usi_line *line, const usi_cut *cut);

/* Cuts the points of an underside to its ends: no vertical piece at either,
 * and no point within a straight piece. */
void usi_line_trim(usi_line *line, double tolerance_m);

/* Drops points within straight pieces, and points that stand twice. */
void usi_line_tidy(usi_line *line, double tolerance_m);

#endif
