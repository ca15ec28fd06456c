/* Parts of us_section_explain(). */
#ifndef USI_MODEL_EXPLAIN_H
#define USI_MODEL_EXPLAIN_H

#include "base/buffer.h"
#include "model/section.h"

/* "100 m", or "100 m up to x = 5 m, then 99 m", or "100 m up to x = 5 m, sloping to
 * 99 m at x = 8 m". */
void usi_tell_levels(us_buffer *text, const us_section *section, const usi_line *line);

/* Water below the base, and the sides. */
void usi_tell_regional(us_buffer *text, const us_section *section);

/* Where the underside is not tight, and where it has no contact. */
void usi_tell_leaks(us_buffer *text, const us_section *section);

void usi_tell_requirements(us_buffer *text, const us_section *section);
void usi_tell_drains(us_buffer *text, const us_section *section);
void usi_tell_waters(us_buffer *text, const us_section *section);

/* What walls, openings and soils bring for the checks of the works; the limits of those
 * checks: false where there is none. */
void usi_tell_works(us_buffer *text, const us_section *section);
bool usi_tell_work_limits(us_buffer *text, const us_section *section);

#endif
