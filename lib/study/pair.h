/* A nested pair of readings, refined until the stated error is small enough. */
#ifndef USI_STUDY_PAIR_H
#define USI_STUDY_PAIR_H

#include "study/reading.h"
#include "undersill/solution.h"

typedef struct usi_pair {
    size_t exit_count;
    usi_exit *exits;
    usi_reading coarse;
    usi_reading fine;  /* every cell of the coarse grid halved both ways */
    double cells;      /* of the coarse grid */
    size_t governing;  /* exit with the largest mean gradient */
    bool peak_governs; /* a bounded place elsewhere on the bed is steeper */
    bool converged;
} usi_pair;

/* Fills `pair` on US_OK; free it with usi_pair_free(). When the size limit stops
 * refinement, `converged` is false and the best pair is kept. */
us_status usi_pair_refine(us_context *context, const us_section *section, double accuracy,
                          usi_pair *pair);

/* The same pair with every open contact at the base sealed. */
us_status usi_pair_sealed(us_context *context, const us_section *section, const usi_pair *pair,
                          usi_pair *sealed);

void usi_pair_free(usi_pair *pair);

/* The fine value, its error the nested difference plus the effect of cutting
 * endless soil: for second-order values about three times the true error. */
us_value usi_pair_value(const usi_pair *pair, double coarse, double fine);

/* A reduced head between 0 and 1, likewise; its error is at least a small share
 * of the width of the flow bracket, which shows how coarse the grid is even
 * where the nested difference passes through zero. */
us_value usi_pair_head(const usi_pair *pair, double coarse, double fine);

/* Exit gradient per unit head difference; absent when unbounded. */
us_value usi_pair_gradient(const usi_pair *pair);

/* Mean gradient at the governing exit, likewise. */
us_value usi_pair_mean(const usi_pair *pair);

#endif
