/* From a section as typed to the checked section. */
#ifndef USI_MODEL_BUILD_H
#define USI_MODEL_BUILD_H

#include "model/check.h"

/* Judges a raw section and builds the section from it. Every breach of a rule
 * is reported at its place; values that are absent because they could not be
 * read are passed over (they were reported then). `*section` is written on
 * US_OK only, and only when `context` holds no error from before; free it with
 * us_section_free(). US_ERROR_INPUT, US_ERROR_MEMORY. */
us_status usi_section_build(us_context *context, const usi_raw_section *raw, us_section **section);

/* The same for a water case with beds of its own, which `raw` has in place of those
 * drawn; its one water is the case. What is undermined comes back in own->undermined,
 * the caller's, and `*section` is then only good for its water levels. With `own` NULL
 * it is usi_section_build(). */
us_status usi_section_build_own(us_context *context, const usi_raw_section *raw, usi_own *own,
                                us_section **section);

#endif
