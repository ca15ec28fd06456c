/* Tips from within: for tips.c and tips_read.c alone. */
#ifndef USI_STUDY_TIPS_PARTS_H
#define USI_STUDY_TIPS_PARTS_H

#include "study/tips.h"
#include "wall/engine.h"

/* One tip of one grid, at a node. */
typedef struct usi_tip_node {
    double level_m; /* of the node */
    double shift_m; /* above it, where the wall ends for heads; below it, for streams */
    bool usable;
    usi_nest places; /* without readings */
    usi_reading reading;
} usi_tip_node;

typedef struct usi_tip_grid {
    size_t count;
    usi_tip_node *nodes; /* upwards */
} usi_tip_grid;

enum { USI_TIP_GRIDS = 2 };

struct usi_tips {
    const us_section *section;
    usi_tip_levels levels;
    double accuracy;
    double cells;
    usi_tip_grid grids[USI_TIP_GRIDS]; /* coarse to fine */
    size_t change_count;
    double *changes_m; /* levels at which the soil beside the wall changes, and the base */
};

/* Reads one grid. */
us_status usi_tips_read(us_context *context, usi_tips *tips, int halvings, usi_tip_grid *to);

#endif
