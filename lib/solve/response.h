/* How the terminals of a section answer to each other's heads. */
#ifndef USI_SOLVE_RESPONSE_H
#define USI_SOLVE_RESPONSE_H

#include "solve/field.h"
#include "solve/heads.h"
#include "solve/streams.h"

/* Terminals of given head, and all of them, those that touch no soil as well. */
enum { USI_RESPONSE_MOST = 24, USI_RESPONSE_TERMINALS = 256 };

/* One problem's part: for terminals of given head i and j, what flows in at i when j has
 * head 1 and all others 0. */
typedef struct usi_response {
    size_t count;
    size_t terminal[USI_RESPONSE_MOST];
    double flow_m_s[USI_RESPONSE_MOST][USI_RESPONSE_MOST];  /* as the problem gives it */
    double bound_m_s[USI_RESPONSE_MOST][USI_RESPONSE_MOST]; /* as a form: never below the true
                                                               one (heads) or never above it */
} usi_response;

/* Terminals of given head that touch soil. False where there are too many. */
bool usi_response_begin(const usi_supply *supply, usi_response *response);

/* Solves for each of them; `combined` (usi_heads_count() or free_count numbers) becomes
 * the solution for the terminals' own heads. */
us_status usi_response_heads(usi_heads *heads, usi_response *response, double *combined);
us_status usi_response_streams(usi_streams *streams, usi_response *response, double *combined);

/* What flows out of the soil into a group of terminals, `members` by number in the
 * response, at the heads that the supply has, with bounds: half the sum of both forms, plus
 * or minus half sqrt(D_ss g'Dg), D their difference and s the group (Cauchy and Schwarz for
 * the form D). `face` is not touched. */
void usi_response_outflow(const usi_supply *supply, const usi_response *upper,
                          const usi_response *lower, const bool members[USI_RESPONSE_MOST],
                          usi_outflow *outflow);

#endif
