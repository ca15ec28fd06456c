/* Pairs of tips of two walls. */
#ifndef USI_STUDY_DEPTH_PAIRS_H
#define USI_STUDY_DEPTH_PAIRS_H

#include "study/depth.h"

/* Looks at levels of a second wall; nothing where `with` is NULL. US_ERROR_INPUT, reported, where
 * there is no such wall. */
us_status usi_depth_pairs_fill(us_context *context, us_depth *depth, const char *with);
void usi_depth_pairs_free(us_depth *depth);

#endif
