/* What looks like a slip in a section that breaks no rule. */
#ifndef USI_MODEL_ODDITIES_H
#define USI_MODEL_ODDITIES_H

#include "base/buffer.h"
#include "model/survey.h"

/* Adds a heading and a line for each, or nothing when there are none. */
void usi_oddities_tell(us_buffer *text, const us_section *section, const usi_survey *survey);

/* --- shared by model/oddities*.c --- */

typedef struct usi_odd {
    us_buffer *text;
    const us_section *section;
    bool begun;
} usi_odd;

/* Begins a line, with the heading before the first. */
void usi_odd_begin(usi_odd *to);

/* The larger extent of structure and walls, the beds at their ends included. */
double usi_odd_works_size(const us_section *section);

/* Levels that look as if they had two datums: water, walls or base far from the ground. */
void usi_odd_tell_datum(usi_odd *to);

/* Drains, seals, leaks, and water below the base (model/oddities_edges.c). */
void usi_odd_tell_edges(usi_odd *to);

#endif
