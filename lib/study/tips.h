/* What a section reads for every tip of one wall, or of two: two nested grids, an engine on each.
 */
#ifndef USI_STUDY_TIPS_H
#define USI_STUDY_TIPS_H

#include "study/nest.h"
#include "study/tipped.h"

/* Levels that the tip of a wall may have. */
typedef struct usi_tip_levels {
    size_t wall;
    double high_m;    /* where soil lies on both sides below */
    double low_m;     /* the lowest from states of walls */
    double deepest_m; /* and by itself */
    double base_m;    /* there; meaningless without a base */
} usi_tip_levels;

typedef struct usi_tips usi_tips;

/* Reads a section, as one field sees it, with tips all along the levels. The section outlives
 * it. `*made` is the caller's, freed with usi_tips_free(). As usi_reading_take(). */
us_status usi_tips_make(us_context *context, const us_section *section,
                        const usi_tip_levels *levels, double accuracy, usi_tips **made);
void usi_tips_free(usi_tips *tips);

/* The highest and the lowest level that usi_tips_nest() is good for. */
double usi_tips_high(const usi_tips *tips);
double usi_tips_low(const usi_tips *tips);

/* A nest for one tip: `section` is that of usi_tips_make() with it. `*afresh` says that no
 * state of the engine will do (one-way edges, or places that come and go): the nest is empty
 * then, and the section is to be solved by itself. Free with usi_nest_free(). */
us_status usi_tips_nest(us_context *context, const usi_tips *tips, const us_section *section,
                        usi_nest *nest, bool *afresh);

/* The same for all pairs of tips of two walls that stand apart. */
typedef struct usi_tip_pairs usi_tip_pairs;

/* As usi_tips_make(); freed with usi_tip_pairs_free(). */
us_status usi_tip_pairs_make(us_context *context, const us_section *section,
                             const usi_tip_levels levels[2], double accuracy, usi_tip_pairs **made);
void usi_tip_pairs_free(usi_tip_pairs *pairs);

/* The highest and the lowest level of the second wall that usi_tip_pairs_take() is good for. */
double usi_tip_pairs_high(const usi_tip_pairs *pairs);
double usi_tip_pairs_low(const usi_tip_pairs *pairs);

/* Tips of the first wall with that of the second where `section`, which outlives them, has it.
 * `*afresh` says that no states will do: usi_tips_make() has to. */
us_status usi_tip_pairs_take(us_context *context, const usi_tip_pairs *pairs,
                             const us_section *section, usi_tips **made, bool *afresh);

#endif
