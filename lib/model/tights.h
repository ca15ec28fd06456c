/* Places downstream where a tight layer lies over a pervious one: water may lift it there. */
#ifndef USI_MODEL_TIGHTS_H
#define USI_MODEL_TIGHTS_H

#include "model/exits.h"

/* How many times kv of the tightest soil above it the lower soil has at least. Our own choice:
 * at less, gravity drainage of the upper soil keeps up with most of the rise. */
#define USI_TIGHT_RATIO 10.0

enum { USI_TIGHT_WATER = -1 }; /* in place of a soil: water under pressure below the base */

/* A point of such a border. */
typedef struct usi_tight {
    double x_m;
    usi_face side; /* the side of x that is meant */
    double level_m;
    double bed_m;
    size_t upper;       /* the tightest soil above */
    int lower;          /* the soil below, or USI_TIGHT_WATER */
    double stress_n_m2; /* weight of the saturated soil above; of the soils whose weight is known */
    int unweighed;      /* a soil above without unit weight, -1 for none */
} usi_tight;

/* Lists such points along the bed from the toe on, at fixed places and wherever a line of the
 * section turns. `*tights` is the caller's, freed with free(). US_ERROR_MEMORY. */
us_status usi_tights_list(us_context *context, const us_section *section, const usi_exit *exits,
                          size_t exit_count, usi_tight **tights, size_t *count);

#endif
