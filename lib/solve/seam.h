/* A problem with a seam, factorised once: links between pairs of places, of which any state
 * leaves out some, ties others, and gives the rest a conductance. */
#ifndef USI_SOLVE_SEAM_H
#define USI_SOLVE_SEAM_H

#include "solve/problem.h"

/* One link of the seam; the problem itself does not have it. */
typedef struct usi_stitch {
    int32_t a; /* places of the problem */
    int32_t b;
} usi_stitch;

typedef struct usi_seam usi_seam;

/* The problem stays until usi_seam_free(). As usi_factor_make(). */
us_status usi_seam_make(us_context *context, usi_problem *problem, const usi_stitch *stitches,
                        size_t count, usi_seam **made);
void usi_seam_free(usi_seam *seam);

/* Solves without any stitch for a load and for given values (`count` of them, of which those
 * behind the free places are given; the seam keeps a copy), and goes over to the state that is
 * set. Columns are counted from 0. */
typedef struct usi_seam_key {
    const double *numbers; /* by which usi_seam_find() knows a column again */
    size_t count;
} usi_seam_key;
us_status usi_seam_load(us_context *context, usi_seam *seam, usi_seam_key key, const double *load,
                        const double *given, size_t count);

/* The column of a key; usi_seam_columns() where there is none. */
size_t usi_seam_find(const usi_seam *seam, const double *numbers, size_t count);
size_t usi_seam_columns(const usi_seam *seam);

/* The values of a column without any stitch. */
const double *usi_seam_base(const usi_seam *seam, size_t column);

/* What the values of a column differ by across stitch `k`, from a to b, without any. */
double usi_seam_gap(const usi_seam *seam, size_t column, size_t k);

/* Sets the conductance of every stitch: 0 for none, HUGE_VAL to tie its places. Stitches
 * between places that are given alike count for nothing. US_NOT_CONVERGED where no state of
 * finite flow is left: unlike values tied, or tied twice. */
us_status usi_seam_set(usi_seam *seam, const double *conductance);
double usi_seam_conductance(const usi_seam *seam, size_t k);

/* From the next state on, what is to flow through each stitch that has no conductance there, from
 * a to b, in every column; the forms below then mean nothing. US_ERROR_MEMORY. */
us_status usi_seam_push(us_context *context, usi_seam *seam, const double *flows);

/* All values of a column in the state that is set. */
us_status usi_seam_values(us_context *context, usi_seam *seam, size_t index, double *values);

/* The form of two columns in the state that is set, once usi_seam_form_of() worked it out in
 * some state; NaN before. `sign` is 1 where it grows by usi_seam_growth(), -1 where it shrinks. */
double usi_seam_form(usi_seam *seam, size_t one, size_t other, double sign);

/* How a form of fields is worked out. */
typedef struct usi_seam_product {
    double (*of)(const void *problem, const double *one, const double *other);
    const void *problem;
    double sign; /* as above */
} usi_seam_product;

/* The form of the columns that two keys of `count` numbers have, worked out once, from their
 * `values` in the state that is set. NaN when memory is short, which the context is told. */
double usi_seam_form_of(us_context *context, usi_seam *seam, const usi_seam_product *by,
                        const double *keys[2], size_t count, const double *values[2]);

/* By what the energy, as a form of two columns, grows from no stitch to the state set. */
double usi_seam_growth(usi_seam *seam, size_t one, size_t other);

/* What all stitches see of each other: entry (i, j) is the gap across i that one unit of flow
 * from b to a of stitch j makes, as a number below zero reversed. `count` by `count`. */
const double *usi_seam_response(const usi_seam *seam);
size_t usi_seam_count(const usi_seam *seam);
const usi_stitch *usi_seam_stitch(const usi_seam *seam, size_t k);

/* What flows through a stitch in it, from a to b, in a column. */
double usi_seam_flow(const usi_seam *seam, size_t column, size_t k);

/* What the stitches of the state that is set add to the form of two fields. */
double usi_seam_beside(const usi_seam *seam, const double *one, const double *other);

/* A sum of values at free places by weights, as stitches see it: entry k is by what the sum falls
 * per unit of flow through stitch k. It takes the less the fewer places there are. */
typedef struct usi_seam_weight {
    int32_t place; /* free, or the weight does not count */
    double weight;
} usi_seam_weight;
us_status usi_seam_weigh(us_context *context, usi_seam *seam, const usi_seam_weight *weights,
                         size_t count, double *seen);

#endif
