/* A section as one water case sees it. */
#ifndef USI_STUDY_VIEW_H
#define USI_STUDY_VIEW_H

#include "model/situation.h"

/* For pictures and studies: the default of solving. */
#define USI_VIEW_ACCURACY 0.01

typedef struct usi_view {
    us_section section; /* borrows all it points to; has that one water case */
    usi_situation *situation;
} usi_view;

/* The view of water case `water`, or of a variant of it: on its own beds, and with what acts
 * in it, on grids found for an accuracy. The section outlives it. `*view` is written on US_OK;
 * free it with usi_view_free(). US_ERROR_MEMORY. */
us_status usi_view_make(us_context *context, const us_section *section, size_t water,
                        usi_variant variant, double accuracy, usi_view *view);
void usi_view_free(usi_view *view);

/* True where the case needs a view: it has beds of its own, or a situation acts. */
bool usi_view_differs(const usi_view *view, const us_section *section);

/* True where some drain is open in it. */
bool usi_view_drains(const usi_view *view);

#endif
