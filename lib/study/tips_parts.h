/* Tips from within: for the files of tips alone. */
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

/* Tips of one wall on one grid; of a second wall with one tip of the first, where there are two. */
typedef struct usi_tip_grid {
    size_t count;
    usi_tip_node *nodes; /* upwards */
    double level_m;      /* of the first wall's tip, where there are two */
    double shift_m;
} usi_tip_grid;

/* All there is on one grid: of one wall one row; of two, one a tip of the first. */
typedef struct usi_tip_sheet {
    size_t count;
    usi_tip_grid *rows; /* upwards */
} usi_tip_sheet;

enum { USI_TIP_GRIDS = 2 };

/* A wall whose tip varies. */
typedef struct usi_tip_axis {
    usi_tip_levels levels;
    size_t change_count;
    double *changes_m; /* levels at which the soil beside the wall changes, and the base */
} usi_tip_axis;

/* Which walls, and how fine. */
typedef struct usi_tip_plan {
    const us_section *section;
    double accuracy;
    double cells;
    size_t axis_count; /* 1 or 2 */
    usi_tip_axis axes[2];
} usi_tip_plan;

struct usi_tips {
    usi_tip_plan plan;
    usi_tip_grid grids[USI_TIP_GRIDS]; /* coarse to fine */
};

struct usi_tip_pairs {
    usi_tip_plan plan;
    usi_tip_sheet sheets[USI_TIP_GRIDS];
};

/* Free with usi_tip_plan_free(), also after US_ERROR_MEMORY. */
us_status usi_tip_plan_make(us_context *context, const us_section *section,
                            const usi_tip_levels *levels, size_t count, double accuracy,
                            usi_tip_plan *plan);
void usi_tip_plan_free(usi_tip_plan *plan);

/* Reads one grid. Free with usi_tip_sheet_free(), also after an error. */
us_status usi_tips_read(us_context *context, const usi_tip_plan *plan, int halvings,
                        usi_tip_sheet *to);
void usi_tip_sheet_free(usi_tip_sheet *sheet);
void usi_tip_grid_free(usi_tip_grid *grid);

/* The highest and the lowest level that a grid has readings for; nothing lies between them where
 * it has none. */
double usi_tip_grid_high(const usi_tip_grid *grid, const usi_tip_levels *levels);
double usi_tip_grid_low(const usi_tip_grid *grid, const usi_tip_levels *levels);

/* Where the wall of a node acts for heads. */
double usi_tip_acts_at(const usi_tip_node *node);

/* A reading for a level of one wall of the plan between those of a grid. `section` has the tip
 * there and `places` are its own; those that not all readings have are dropped. US_NOT_CONVERGED
 * where no readings will do; else US_ERROR_MEMORY. */
typedef struct usi_tip_place {
    const usi_tip_plan *plan;
    size_t axis;
    const us_section *section;
    double level_m;
} usi_tip_place;
us_status usi_tips_between(us_context *context, const usi_tip_place *at, const usi_tip_grid *grid,
                           usi_nest *places, usi_reading *reading);

#endif
