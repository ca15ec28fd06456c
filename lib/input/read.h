/* Reading beyond what can be solved. */
#ifndef USI_INPUT_READ_H
#define USI_INPUT_READ_H

#include <stddef.h>

#include "undersill/section.h"

/* As us_section_read(), but shapes that no grid follows yet are taken: for tests. */
us_status usi_section_read_any(us_context *context, const char *text, size_t length,
                               us_section **section);

#endif
