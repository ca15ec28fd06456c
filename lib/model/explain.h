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

/* Joints between panels, where there are any (model/explain_uplift.c). */
void usi_tell_joints(us_buffer *text, const us_section *section);

/* Specific storage of a soil, where it is given. */
void usi_tell_storage(us_buffer *text, const us_section *section, const usi_soil *soil);

/* What lifts and holds the structure in a water case, apart from what always does. */
void usi_tell_lift(us_buffer *text, const us_section *section, const usi_water *water);

void usi_tell_drains(us_buffer *text, const us_section *section);
void usi_tell_waters(us_buffer *text, const us_section *section);

/* What walls, openings and soils bring for the checks of the works; the limits of those
 * checks: false where there is none. */
void usi_tell_works(us_buffer *text, const us_section *section);
bool usi_tell_work_limits(us_buffer *text, const us_section *section);

/* What a wall lets through, a line each; what words of a driving log stand for
 * (model/explain_openings.c). */
void usi_tell_passages(us_buffer *text, const us_section *section, const usi_wall *wall);
void usi_tell_as_built(us_buffer *text, const us_section *section);

#endif
