/* Places on the downstream bed where the exit gradient may govern. */
#ifndef USI_MODEL_EXITS_H
#define USI_MODEL_EXITS_H

#include "model/section.h"
#include "model/wedge.h"

typedef enum usi_exit_kind {
    USI_EXIT_TOE,      /* where the bed meets the structure or the bare wall */
    USI_EXIT_WALL,     /* beside a wall that stands in the bed */
    USI_EXIT_STEP,     /* the lower corner of a step in the bed */
    USI_EXIT_SEAL,     /* the end of a stretch that is sealed */
    USI_EXIT_WATERLINE /* where a sloping bed rises out of the water */
} usi_exit_kind;

/* Points of a profile along the bed: at 0, 0.1, 0.25, 0.5, 1, 2 and 4 lengths. */
enum { USI_PROFILE_MOST = 7 };

typedef struct usi_exit {
    usi_exit_kind kind;
    usi_point at;
    usi_face bed;        /* the side of `at` on which the bed lies */
    double embedment_m;  /* impervious vertical face below the bed here; 0 when flush */
    double mean_depth_m; /* depth over which the mean gradient is taken */
    usi_growth growth;   /* of the gradient towards it, by the angle of the soil */
    size_t profile_count;
    double profile_x_m[USI_PROFILE_MOST]; /* the exit's own first */
    /* A gradient that has fallen by half here changes fast: a tenth of the floor (at
     * most a quarter of the soil's thickness) or of the embedment, whichever is more,
     * from the exit. The exit's own x where that is no longer on the same straight piece of bed. */
    double watch_x_m;
} usi_exit;

/* Lists the exits; the toe comes first. `*exits` is the caller's, freed with
 * free(); empty where the section has no downstream bed. */
us_status usi_exits_list(us_context *context, const us_section *section, usi_exit **exits,
                         size_t *count);

#endif
