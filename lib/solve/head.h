/* The head problem: reduced head, 1 at the upstream water and 0 downstream. */
#ifndef USI_SOLVE_HEAD_H
#define USI_SOLVE_HEAD_H

#include "solve/field.h"
#include "solve/links.h"

/* Fills `reduced`, `upper_m_s` and `imbalance` of a field. */
us_status usi_head_solve(us_context *context, usi_field *field);

/* The same in steps. `places` tells of each unknown which place of the problem it is. */
typedef struct usi_head {
    const usi_grid *grid;
    double scale_m_s; /* of a conductance of 1 */
    size_t free_count;
    int32_t *places;
    size_t soil_links; /* links beyond are those through walls and the caller's */
    usi_problem problem;
} usi_head;

/* Room for `extra` more links. Free with usi_head_free(), also after an error. */
us_status usi_head_lay(us_context *context, const usi_grid *grid, size_t extra, usi_head *head);
void usi_head_free(usi_head *head);

/* Fills a field from free values and what they lack, NULL for nothing (usi_problem_solve_rest()).
 * US_NOT_CONVERGED as above. */
us_status usi_head_take(const usi_head *head, const double *values, const double *rest,
                        usi_field *field);

/* What is known of a solution already: its energy, which is that of linear elements too where
 * no links were scaled, and what flows by something that the problem lacks out of the upstream
 * and into the downstream water. */
typedef struct usi_known {
    double energy;
    double in;
    double out;
} usi_known;

/* What linear elements make of values: a bound, where links were scaled too. */
double usi_head_bound(const usi_head *head, const double *values);

/* The same with that: `edges` has the links of the problem that end at a water. */
us_status usi_head_take_known(const usi_head *head, const usi_problem *edges, const double *values,
                              usi_known known, usi_field *field);

#endif
