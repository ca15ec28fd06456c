/* The stream-function problem where a situation acts, factorised once for any heads of
 * its terminals. Water flows out of the soil through a side, walked with the soil on the
 * left, as much as the stream function grows along it. */
#ifndef USI_SOLVE_STREAMS_H
#define USI_SOLVE_STREAMS_H

#include "solve/links.h"
#include "solve/seam.h"
#include "solve/supply.h"

typedef struct usi_streams {
    const usi_supply *supply;
    double scale_m_s;
    size_t free_count;
    int32_t *places; /* of each place: index of its value, or USI_PLACE_ZERO or _NONE */
    size_t soil_links;
    usi_problem problem; /* links of the soil, then resistances */
    usi_factor *factor;
    usi_seam *seam; /* in place of it: gates are open then, and have their level */
} usi_streams;

/* What usi_streams_make() begins with, and a seam for the rest: as of the heads. */
us_status usi_streams_lay(const usi_supply *supply, usi_streams *streams);
us_status usi_streams_sew(usi_streams *streams, const usi_stitch *stitches, size_t count);

/* No terminal lies inside the soil. The state of the gates counts. Free with
 * usi_streams_free(), also after an error: as usi_factor_make(). */
us_status usi_streams_make(usi_supply *supply, usi_streams *streams);
void usi_streams_free(usi_streams *streams);

/* Solves for given reduced heads of the terminals; sides of gates have the heads of
 * `reduced`, one an unknown, or none where that is NULL. `values` has room for
 * free_count numbers, each a flow over scale_m_s. */
us_status usi_streams_solve(usi_streams *streams, const double *terminal_heads,
                            const double *reduced, double *values);

/* What flows out of the soil into each terminal, then onto the left and the right dry
 * bed, over scale_m_s. */
void usi_streams_outflows(const usi_streams *streams, const double *values, double *outflows);

/* The bilinear form, resistances included, of any admissible fields. */
double usi_streams_product(const usi_streams *streams, const double *one, const double *other);

/* The same of two solutions for given terminal heads, from the seam where there is one and no
 * links were scaled. */
double usi_streams_form(usi_streams *streams, const double *terminal_heads[2],
                        const double *values[2]);

/* Fields that loads drive: what is tied takes from their form. */
#define USI_STREAMS_FORM_SIGN (-1.0)

#endif
