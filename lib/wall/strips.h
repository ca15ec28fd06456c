/* Strips that stand for openings, among the segments of an engine. */
#ifndef USI_WALL_STRIPS_H
#define USI_WALL_STRIPS_H

#include "wall/seams.h"

typedef struct usi_strip_seam {
    size_t first; /* segment */
    size_t count; /* of segments, upwards */
    double series_s_m;
} usi_strip_seam;

typedef struct usi_strip_seams {
    size_t count;
    usi_strip_seam *list;
} usi_strip_seams;

/* Free the list with free(), also after US_ERROR_MEMORY. */
us_status usi_strips_list(us_context *context, const usi_segments *segments,
                          const usi_wall_span *spans, size_t span_count, usi_strip_seams *strips);

/* How many stitches they add to the head problem; in the other one it is one a strip. */
size_t usi_strips_head_count(const usi_strip_seams *strips);

/* Fills them: both faces are tied along themselves and linked across, or one where both have
 * one head; `places` are those of unknowns. */
void usi_strips_head_stitches(const usi_strip_seams *strips, const usi_segments *segments,
                              const int32_t *places, usi_stitch *stitches);
/* Its ends are linked; `places` are those of places. */
void usi_strips_stream_stitches(const usi_strip_seams *strips, const usi_segments *segments,
                                const int32_t *places, usi_stitch *stitches);

/* Conductances in a state, in which a strip acts where what passes its segments is below 0. */
void usi_strips_set_heads(const usi_strip_seams *strips, const double *pass_m_s, double scale_m_s,
                          double *tie);
void usi_strips_set_streams(const usi_strip_seams *strips, const double *pass_m_s, double scale_m_s,
                            double *tie);

/* True of a segment whose strip has one head on both faces. */
bool usi_strips_joined(const usi_strip_seams *strips, size_t segment);

#endif
