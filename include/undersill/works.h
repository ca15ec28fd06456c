/* The works themselves: creep along them, openings in them, the walls as pieces of steel. */
#ifndef UNDERSILL_WORKS_H
#define UNDERSILL_WORKS_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/solution.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The way that water creeps along the works to the place where it comes out, by one rule:
 * docs/checks.md tells how it is measured. */
typedef struct us_creep_way {
    us_value length_m; /**< absent where there are no works */
    us_value ratio;    /**< length over `head_m`; absent where no head is lost */
    double head_m;     /**< head difference over the way */
    double x_m;        /**< where it ends */
    double level_m;    /**< likewise */
    const char *end;   /**< name of the drain where it ends, `permeable` for a permeable stretch;
                            NULL at the downstream bed */
    bool cut_across;   /**< water cuts across between tips: that way counts as twice their
                            distance */
} us_creep_way;

/** What kind of opening. */
typedef enum us_opening_kind {
    US_OPENING_WEEPS,     /**< a row of weeps */
    US_OPENING_DRAIN,     /**< a drain without gaps */
    US_OPENING_PERMEABLE, /**< a permeable stretch of the underside */
    US_OPENING_HOLE,      /**< a lifting hole in a sheet that the structure does not cover, or a row
                               of holes in a wall */
    US_OPENING_SLOT,      /**< between two walls at one x, or in a wall */
    US_OPENING_GAP        /**< between a wall and the underside above it */
} us_opening_kind;

/** An opening that soil may be lost through. */
typedef struct us_opening_result {
    us_opening_kind kind;
    const char *name;        /**< of the drain or wall; `permeable` for a stretch */
    double x_m;              /**< where it is, its upstream end */
    double level_m;          /**< likewise, the highest point */
    us_value size_m;         /**< of what lets soil through; absent where not known, or held */
    const char *soil;        /**< the finest soil beside it, or one without d85 */
    us_value d85_m;          /**< of that soil; absent where not given */
    us_value ratio;          /**< size over d85 */
    const char *retained_by; /**< what is said to hold the soil back; NULL: nothing */
} us_opening_result;

/** A wall as a piece of steel. */
typedef struct us_wall_works {
    const char *name;
    us_value embedment_m;     /**< of its top in the structure; absent away from one */
    us_value cap_m;           /**< thickness of the structure there; absent without a `top` */
    us_value embedment_share; /**< embedment over that thickness */
    us_value gap_m;           /**< height of soil between the wall and the underside; absent where
                                   they meet */
    us_value loss_m;          /**< steel lost on each side; absent where not asked for */
    us_value left_m;          /**< thickness that is left */
    us_value left_share;      /**< over the thickness at first */
    us_value friction_n_m;    /**< on both faces, per width; absent where something is lacking */
    us_value weight_n_m;      /**< of the wall in air; absent without a mass */
    us_value load_n_m;        /**< as given */
    us_value load_factor;     /**< friction over load and weight */
    const char *lacks;        /**< what is missing for `load_factor`, in words; NULL: nothing */
} us_wall_works;

/** Everything about the works in one water case. All lengths along the works are exact: there is
 * no numerical error. */
typedef struct us_works_result {
    us_creep_way bligh;
    us_creep_way lane;
    size_t opening_count;
    const us_opening_result *openings; /**< `opening_count` entries */
    size_t wall_count;
    const us_wall_works *walls; /**< `wall_count` entries, in file order */
} us_works_result;

#ifdef __cplusplus
}
#endif
#endif
