/* Where soil touches something other than more soil of the same kind: every side of a
 * cell or a triangle that is a border, walls included. */
#ifndef USI_SOLVE_CONTACT_H
#define USI_SOLVE_CONTACT_H

#include "grid/grid.h"

/* A side from end 0 to end 1, with its soil on the left. */
typedef struct usi_contact {
    usi_border border;
    int32_t place[2];
    int32_t unknown[2];
} usi_contact;

typedef struct usi_contacts {
    size_t count;
    size_t room;
    usi_contact *list;
} usi_contacts;

/* Free with usi_contacts_free(), also after US_ERROR_MEMORY. A drain inside the soil is
 * listed from both sides. */
us_status usi_contacts_list(us_context *context, const usi_grid *grid, usi_contacts *contacts);
void usi_contacts_free(usi_contacts *contacts);

double usi_contact_length(const usi_grid *grid, const usi_contact *contact);

#endif
