/* Places on the downstream bed where the exit gradient may govern. */
#ifndef USI_MODEL_EXITS_H
#define USI_MODEL_EXITS_H

#include "model/section.h"

typedef enum usi_exit_kind {
    USI_EXIT_TOE,  /* where the bed meets the structure or the bare wall */
    USI_EXIT_WALL, /* beside a wall that stands in the bed */
    USI_EXIT_STEP  /* the lower corner of a step in the bed */
} usi_exit_kind;

typedef struct usi_exit {
    usi_exit_kind kind;
    usi_point at;
    usi_face bed;        /* the side of `at` on which the bed lies */
    double embedment_m;  /* impervious vertical face below the bed here; 0 when flush */
    double mean_depth_m; /* depth over which the mean gradient is taken */
} usi_exit;

/* Lists the exits; the toe comes first. `*exits` is the caller's, freed with
 * free(); empty where the section has no downstream bed. */
us_status usi_exits_list(us_context *context, const us_section *section, usi_exit **exits,
                         size_t *count);

#endif
