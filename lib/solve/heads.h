/* The head problem where a situation acts, factorised once for any heads of its
 * terminals. */
#ifndef USI_SOLVE_HEADS_H
#define USI_SOLVE_HEADS_H

#include "solve/links.h"
#include "solve/supply.h"

/* Values of a solution: the free ones, then one a terminal, then one a gate. */
typedef struct usi_heads {
    const usi_supply *supply;
    double scale_m_s;
    size_t free_count;
    int32_t *places; /* of each unknown: index of its value */
    size_t soil_links;
    usi_problem problem; /* links of the soil, then resistances */
    usi_factor *factor;
} usi_heads;

/* Closed gates are free unknowns. Free with usi_heads_free(), also after an error:
 * US_ERROR_INPUT when soil is sealed off from all water, else as usi_factor_make(). */
us_status usi_heads_make(usi_supply *supply, usi_heads *heads);
void usi_heads_free(usi_heads *heads);

size_t usi_heads_count(const usi_heads *heads);

/* Solves for given reduced heads of the terminals; open gates have their level, or 0
 * when `unit`. */
us_status usi_heads_solve(usi_heads *heads, const double *terminal_heads, bool unit,
                          double *values);

/* What flows out of the soil into each terminal, then each open gate, over scale_m_s. */
void usi_heads_outflows(const usi_heads *heads, const double *values, double *outflows);

/* The bilinear form of linear elements, resistances included, over scale_m_s: of any
 * admissible fields, so an upper bound for its square. */
double usi_heads_product(const usi_heads *heads, const double *one, const double *other);

#endif
