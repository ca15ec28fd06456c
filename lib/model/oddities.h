/* What looks like a slip in a section that breaks no rule. */
#ifndef USI_MODEL_ODDITIES_H
#define USI_MODEL_ODDITIES_H

#include "base/buffer.h"
#include "model/survey.h"

/* Adds a heading and a line for each, or nothing when there are none. */
void usi_oddities_tell(us_buffer *text, const us_section *section, const usi_survey *survey);

#endif
