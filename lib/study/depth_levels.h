/* Which tip levels of a wall are looked at. */
#ifndef USI_STUDY_DEPTH_LEVELS_H
#define USI_STUDY_DEPTH_LEVELS_H

#include "study/tips.h"

/* Finds the wall by name (NULL: the only one) and its levels. US_ERROR_INPUT, reported. */
us_status usi_depth_levels_find(us_context *context, const us_section *section, const char *name,
                                usi_tip_levels *levels);

enum { USI_DEPTH_ROWS_MOST = 64 };

/* Round levels from high to low, both ends and the level that is drawn, downwards; returns how
 * many. */
size_t usi_depth_levels_lay(const us_section *section, size_t wall, double high_m, double low_m,
                            double levels_m[USI_DEPTH_ROWS_MOST]);

#endif
