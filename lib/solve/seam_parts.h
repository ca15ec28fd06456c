/* A seam from within: for the files of seam alone. */
#ifndef USI_SOLVE_SEAM_PARTS_H
#define USI_SOLVE_SEAM_PARTS_H

#include "solve/factor.h"
#include "solve/seam.h"

/* A solution without stitches, and what it differs by across them. */
typedef struct seam_column {
    double *values;
    double *gaps;
    double *flows; /* through the stitches of the state that is set */
    double *key;
    double *forms; /* with this column and those before it, NaN where not known; or NULL */
} seam_column;

struct usi_seam {
    usi_problem *problem;
    usi_factor *factor;
    size_t count;
    usi_stitch *stitches;
    size_t kept_count;
    int32_t *kept;    /* free places of stitches, ascending */
    int *rank;        /* of each row of the factor among the kept, or -1 */
    int *rank_of;     /* of each free place, or -1 */
    double *lower;    /* the end of the factor, by rows */
    double *halves;   /* L^-1 D at the kept: one row a stitch */
    double *response; /* D' A^-1 D */
    size_t column_count;
    seam_column *columns;
    double *conductance; /* of the state that is set */
    size_t set_count;    /* stitches that count in it */
    size_t *set;
    double *square;   /* the factor for them, by rows of `count` */
    int32_t *row_of;  /* of the factor, of each free place; NULL until something is weighed */
    bool *reached;    /* room for one a block */
    size_t kept_from; /* the first row of those that are kept; likewise */
    double *push;     /* what flows through the others; NULL for nothing */
};

static inline bool usi_seam_is_free(const usi_seam *seam, int32_t place)
{
    return place >= 0 && (size_t)place < seam->problem->free_count;
}

#endif
