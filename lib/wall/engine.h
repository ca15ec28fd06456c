/* Every state of the walls of a section on one grid, from one factorisation a problem. */
#ifndef USI_WALL_ENGINE_H
#define USI_WALL_ENGINE_H

#include "solve/field.h"
#include "wall/seams.h"

typedef struct usi_engine usi_engine;

/* `grid` has the walls closed all over the spans, tight there in its section (no panes), and
 * outlives the engine. As usi_field_solve(). */
us_status usi_engine_make(us_context *context, const usi_grid *grid, const usi_wall_span *spans,
                          size_t span_count, usi_engine **made);
void usi_engine_free(usi_engine *engine);

const usi_segments *usi_engine_segments(const usi_engine *engine);

/* A state: of each segment what flows through it per unit of head difference across it, over
 * the length: 0 closed, HUGE_VAL no wall. Below 0 in a span that is a strip: there all of it
 * stands for an opening. A segment of which the grid has several in one row is
 * open for readings where all of them are. */
typedef struct usi_wall_state {
    usi_walled walled; /* leaky segments and strips are walls */
    usi_field *field;  /* on that grid */
    bool one_way;      /* which one-way edges let water out was not found: solve afresh */
} usi_wall_state;

/* `*state` is the caller's, freed with usi_wall_state_free(). `section` is that of the state,
 * with what readings go by; it may be the grid's. US_NOT_CONVERGED where what is opened makes
 * the flow unlimited, or rounding spoils the balance; US_ERROR_NUMERICAL, US_ERROR_MEMORY. */
us_status usi_engine_state(us_context *context, usi_engine *engine, const us_section *section,
                           const double *pass_m_s, usi_wall_state **state);
void usi_wall_state_free(usi_wall_state *state);

#endif
