/* Openings in the works that soil may be lost through. */
#ifndef USI_QUANTITY_OPENINGS_H
#define USI_QUANTITY_OPENINGS_H

#include "model/section.h"
#include "undersill/context.h"
#include "undersill/works.h"

typedef struct usi_openings {
    size_t count;
    us_opening_result *items; /* names belong to the section */
} usi_openings;

/* `open` says which drains are, one each. US_ERROR_MEMORY; free the items with free() whatever
 * comes back. */
us_status usi_openings_find(us_context *context, const us_section *section, const bool *open,
                            usi_openings *openings);

#endif
