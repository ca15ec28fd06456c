/* Lines reduced to what counts. */
#ifndef USI_MODEL_CUT_H
#define USI_MODEL_CUT_H

#include "model/section.h"

/* Cuts a line, in place, to its part between two x (either may be infinite)
 * and drops points that change nothing. What is left of a line that is level
 * there is one point at `home_m`. */
void usi_line_cut(usi_line *line, double from_m, double to_m, double home_m);

/* Cuts the points of an underside to its ends: no vertical piece at either,
 * and no point within a straight piece. */
void usi_line_trim(usi_line *line);

#endif
