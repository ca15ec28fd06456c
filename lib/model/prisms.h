/* Blocks of soil below the downstream bed that seepage might lift: a fixed set, which does not
 * depend on any grid. */
#ifndef USI_MODEL_PRISMS_H
#define USI_MODEL_PRISMS_H

#include "model/exits.h"

typedef enum usi_prism_kind {
    USI_PRISM_TOE, /* beside the toe's wall or end face, down to its tip; at most one, the first */
    USI_PRISM_DEPTH, /* beside the toe, of another depth */
    USI_PRISM_ALONG  /* from some other place of the bed */
} usi_prism_kind;

/* From a level up to the bed, half as wide as it is deep, less where a wall, the works or a
 * side is nearer. */
typedef struct usi_prism {
    usi_prism_kind kind;
    double from_m; /* x of its sides, the smaller first */
    double to_m;
    usi_face bed;   /* which way it was laid: its upright side at `from_m` or, to the left, `to_m`
                       is where its depth counts */
    double level_m; /* of its lower side, all of it in soil */
    double depth_m;
    bool narrow;       /* not as wide as half its depth */
    double bed_mean_m; /* level of the bed over it */
    double bed_low_m;
    double bed_high_m;
    double weight_n_m; /* saturated; of the soils whose weight is known */
    int unweighed;     /* a soil in it without unit weight, -1 for none */
} usi_prism;

/* Lists prisms beside the toe and along the bed, and weighs them. `*prisms` is the caller's,
 * freed with free(); none without an exit. US_ERROR_MEMORY; US_ERROR_INPUT, reported, when the
 * lines of the section cross too often. */
us_status usi_prisms_list(us_context *context, const us_section *section, const usi_exit *exits,
                          size_t exit_count, usi_prism **prisms, size_t *count);

/* Weighs prisms, saturated: sets `weight_n_m` and `unweighed`. Statuses as above. */
us_status usi_prisms_weigh(us_context *context, const us_section *section, usi_prism *prisms,
                           size_t count);

/* Mean level of the water over a prism in a water case; where the bed lies out of the water, the
 * level of the bed. */
double usi_prism_water(const us_section *section, const usi_water *water, const usi_prism *prism);

/* Places of the bed from the toe outwards where something may govern: exits, distances graded by
 * the embedment, points of the bed. */
typedef struct usi_bed_place {
    double x_m;
    usi_face bed;   /* the side of it that is looked at */
    double least_m; /* least depth that means something there */
    bool toe;
} usi_bed_place;

enum { USI_BED_PLACES_MOST = 40 };

/* Fills `places`, room for USI_BED_PLACES_MOST; returns how many. */
size_t usi_bed_places_lay(const us_section *section, const usi_exit *exits, size_t exit_count,
                          usi_bed_place *places);

#endif
