/* The line along which structure and soil touch. */
#ifndef USI_MODEL_CONTACT_H
#define USI_MODEL_CONTACT_H

#include "model/section.h"

/* From the left bed down the end face, along the underside, up to the right bed. An
 * end face is there only where the bed lies above the underside. */
typedef struct usi_contact {
    size_t count; /* 0 without a structure */
    usi_point *points;
    double *along_m; /* length of the line up to each point */
} usi_contact;

/* US_ERROR_MEMORY; free with usi_contact_clear() whatever comes back. */
us_status usi_contact_make(us_context *context, const us_section *section, usi_contact *contact);

void usi_contact_clear(usi_contact *contact);

/* Index of a piece that both points lie on, to within `slack_m`; contact->count where
 * there is none. */
size_t usi_contact_piece(const usi_contact *contact, usi_point a, usi_point b, double slack_m);

/* The point of a piece that is nearest. */
usi_point usi_contact_foot(const usi_contact *contact, size_t piece, usi_point at);

/* Length of the line up to a point of a piece. */
double usi_contact_along(const usi_contact *contact, size_t piece, usi_point at);

/* Length up to where the underside passes x, on the right or left side of a step. */
double usi_contact_at(const usi_contact *contact, double x_m, bool right);

#endif
