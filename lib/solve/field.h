/* The two fields of a grid: reduced head and stream function. */
#ifndef USI_SOLVE_FIELD_H
#define USI_SOLVE_FIELD_H

#include "grid/grid.h"

/* What leaves the soil somewhere, per unit of reduced head. */
typedef struct usi_outflow {
    double value_m_s; /* mean of both problems */
    double lower_m_s; /* bounds, where the field is certified; else what both give */
    double upper_m_s;
    double face;  /* reduced head on the face of a terminal */
    bool endless; /* it touches a terminal of another head: no number stands for the flow */
} usi_outflow;

/* Both fields are linear in the head difference, so one pair serves every
 * water case of the section: head = downstream + H * reduced, and the stream
 * function of a case is q * stream, q its flow. Where a situation acts the pair serves
 * its water case: head = datum + scale * reduced. */
typedef struct usi_field {
    const usi_grid *grid;
    double *reduced;        /* one value an unknown: 1 at the upstream water, 0 downstream */
    double *stream;         /* one value a place (usi_grid_place_count()), from 0 to 1; NULL when
                               no water can pass, or where it has no single value */
    double stream_unit_m_s; /* what a stream function of 1 stands for, per unit reduced head */
    bool heads_alone;       /* there is no stream function, and flows are that of the heads */
    bool sealed;            /* no water can pass */
    bool certified;         /* the bounds are bounds */
    /* Of a situation: outflows into its terminals, then onto the left and the right dry bed;
     * lengths of dry bed where water comes out and where none does. */
    size_t outflow_count;
    usi_outflow *outflows;
    double open_m;
    double closed_m;
    double doubt_m;     /* error of both by the sides of cells alone */
    size_t split_count; /* where the one kind passes into the other */
    usi_point *splits;
    int rounds; /* it took to find those */
    size_t seed_count;
    struct usi_seed *seeds; /* all nodes of dry bed as they are */
    double flow_m_s;        /* best flow per unit head difference: mean of both problems */
    double spread;          /* by what share of it the two problems differ */
    double upper_m_s;       /* upper bound */
    double lower_m_s;       /* lower bound; 0 when no water can pass */
    bool leaky;             /* near some hard point neither grading nor links follow the solution */
    double imbalance;       /* |inflow - outflow| / largest conductivity, of the head field */
} usi_field;

/* Solves both problems. `*field` is the caller's and refers to `grid`.
 * US_NOT_CONVERGED, without a diagnostic, when rounding has spoilt the balance of
 * inflow and outflow; US_ERROR_INPUT when soil is sealed off from all water, US_ERROR_NUMERICAL,
 * US_ERROR_MEMORY. */
us_status usi_field_solve(us_context *context, const usi_grid *grid, usi_field **field);

/* The same where a situation acts, without stream function: half the work, for what is
 * looked at in the heads alone. */
us_status usi_field_solve_heads(us_context *context, const usi_grid *grid, usi_field **field);
void usi_field_free(usi_field *field);

/* For those who fill a field themselves: one without values, and what follows from both
 * problems where no situation acts. */
us_status usi_field_begin(us_context *context, const usi_grid *grid, usi_field **field);
void usi_field_conclude(usi_field *field);

/* Reduced head at a corner of a soil cell. */
double usi_field_head(const usi_field *field, size_t i, size_t j, usi_corner corner);

#endif
