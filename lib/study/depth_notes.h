/* What to know beside a study of tip levels. */
#ifndef USI_STUDY_DEPTH_NOTES_H
#define USI_STUDY_DEPTH_NOTES_H

#include "study/depth.h"

us_status usi_depth_notes_fill(us_context *context, us_depth *depth, bool ratio);

#endif
