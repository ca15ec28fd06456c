/* What a section may say and this release does not solve yet. */
#ifndef USI_STUDY_LATER_H
#define USI_STUDY_LATER_H

#include "model/section.h"
#include "undersill/context.h"

/* US_OK, or US_ERROR_INPUT after naming the first key of that kind. */
us_status usi_later_refuse(us_context *context, const us_section *section);

#endif
