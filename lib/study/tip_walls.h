/* Walls whose tips vary, as their grid has them: closed down to the lowest tips, with lines
 * where openings are. */
#ifndef USI_STUDY_TIP_WALLS_H
#define USI_STUDY_TIP_WALLS_H

#include "study/tips_parts.h"

typedef struct usi_tip_walls {
    const usi_tip_plan *plan;
    usi_tipped *drawn;    /* with openings: lines go by it */
    usi_tipped *standing; /* without: what is factorised; NULL where both are one */
    size_t span_count;
    usi_wall_span *spans; /* axis by axis, upwards */
} usi_tip_walls;

/* Free with usi_tip_walls_free(), also after US_ERROR_MEMORY. */
us_status usi_tip_walls_make(us_context *context, const usi_tip_plan *plan, usi_tip_walls *walls);
void usi_tip_walls_free(usi_tip_walls *walls);

/* What a segment passes in the walls as they are drawn: see wall/engine.h. */
double usi_tip_walls_pass(const usi_tip_walls *walls, const usi_segment *segment);

/* True where a wall may have a tip: water passes it nowhere, or the tip is not too near below a
 * strip for the strip to stand for its opening. */
bool usi_tip_walls_clear(const usi_tip_walls *walls, size_t axis, double level_m);

/* True where tips and the levels at which they act leave the same openings in the walls. */
bool usi_tip_walls_alike(const usi_tip_plan *plan, const us_section *one, const us_section *other);

#endif
