/* The head problem where a situation acts, factorised once for any heads of its
 * terminals and any gates open. */
#ifndef USI_SOLVE_HEADS_H
#define USI_SOLVE_HEADS_H

#include "solve/gated.h"
#include "solve/links.h"
#include "solve/seam.h"
#include "solve/supply.h"

/* Values of a solution: the free ones, then one a gate, then one a terminal. */
typedef struct usi_heads {
    const usi_supply *supply;
    double scale_m_s;
    size_t free_count;
    int32_t *places; /* of each unknown: index of its value */
    size_t soil_links;
    usi_problem problem; /* links of the soil, then resistances */
    usi_factor *factor;  /* without gates; else `gated` */
    usi_gated *gated;
    usi_seam *seam; /* in place of both: gates are open then, or */
    bool loose;     /* gates are the last of the free places, and stitched to where their level is
                       given: open where they are tied */
} usi_heads;

/* What usi_heads_make() begins with: places and links. A seam may come instead of the rest;
 * its columns are loaded when terminal heads are solved for first. */
us_status usi_heads_lay(const usi_supply *supply, bool loose, usi_heads *heads);
us_status usi_heads_sew(usi_heads *heads, const usi_stitch *stitches, size_t count);

/* Free with usi_heads_free(), also after an error:
 * US_ERROR_INPUT when soil is sealed off from all water, else as usi_factor_make(). */
us_status usi_heads_make(usi_supply *supply, usi_heads *heads);
void usi_heads_free(usi_heads *heads);

size_t usi_heads_count(const usi_heads *heads);

/* Solves for given reduced heads of the terminals. Gates are open or closed as the supply
 * has them: open ones have their level. */
us_status usi_heads_solve(usi_heads *heads, const double *terminal_heads, double *values);

/* The same for gates alone, quickly: values of them, and what flows out by each. */
us_status usi_heads_look(usi_heads *heads, const double *terminal_heads, double *values,
                         double *outflows);

/* What the values of a solution still lack for balance: outflows by both are known better.
 * There is no seam. */
us_status usi_heads_rest(usi_heads *heads, const double *values, double *rest);

/* What flows out of the soil into each terminal, then each gate, over scale_m_s; 0
 * by closed ones. */
void usi_heads_outflows(const usi_heads *heads, const double *values, double *outflows);

/* The bilinear form of linear elements, resistances included, over scale_m_s: of any
 * admissible fields, so an upper bound for its square. */
double usi_heads_product(const usi_heads *heads, const double *one, const double *other);

/* The same of two solutions for given terminal heads, from the seam where there is one and no
 * links were scaled. */
double usi_heads_form(usi_heads *heads, const double *terminal_heads[2], const double *values[2]);

/* What the state adds takes part in heads: their form grows by it. */
#define USI_HEADS_FORM_SIGN 1.0

#endif
