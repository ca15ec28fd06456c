/* Notes: what a reader of the numbers has to know beside them. */
#ifndef USI_STUDY_NOTES_H
#define USI_STUDY_NOTES_H

#include "study/nest.h"
#include "study/solution.h"

/* Adds the notes of the section, of unbounded and steep places, of suction and
 * of refinement that stopped early. */
us_status usi_notes_fill(us_context *context, const usi_nest *nest, us_solution *solution);

/* Adds what to know about exits that are unbounded, and about a gradient that holds
 * for its spot alone. Part of usi_notes_fill(). */
us_status usi_notes_exits(us_context *context, const usi_nest *nest, us_solution *solution);

/* Adds what to know where drains, dry bed and the like act. Part of usi_notes_fill(). */
us_status usi_notes_edges(us_context *context, const usi_nest *nest, us_solution *solution);

/* Adds what became of the accuracy: which values miss it and by how much, and
 * which ones reach it only on the scale that they tend to zero from. Part of
 * usi_notes_fill(). */
us_status usi_notes_accuracy(us_context *context, const usi_nest *nest, us_solution *solution);

/* Adds what a section through the middle of the channel cannot show: banks, a narrow channel,
 * drops nearby. Once for all cases. */
us_status usi_notes_works(us_context *context, us_solution *solution);

/* Adds what a careful colleague would ask of all cases together: low flow, tailwater, datum, and
 * what was not checked. The checks are there. */
us_status usi_notes_cases(us_context *context, us_solution *solution);

/* Where walls touch the base unsealed: solves the section with them sealed and
 * notes that answer beside the reported one. */
us_status usi_notes_sealed(us_context *context, const usi_nest *nest, us_solution *solution);

#endif
