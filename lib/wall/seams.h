/* The pieces of wall line that a state may close, open or let leak. */
#ifndef USI_WALL_SEAMS_H
#define USI_WALL_SEAMS_H

#include "grid/grid.h"
#include "solve/seam.h"

/* Of a wall, what a state may change: from one level up to another. */
typedef struct usi_wall_span {
    size_t wall; /* index in the section */
    double low_m;
    double high_m;
    bool strip;        /* it may stand for an opening: one head along each face */
    double series_s_m; /* then, as in usi_pane */
} usi_wall_span;

/* Between two places of the grid that lie next to each other on a wall, soil on both sides. */
typedef struct usi_segment {
    size_t wall;
    double low_m;
    double high_m;
    int32_t place[2]; /* the lower one first */
    int32_t left[2];  /* unknowns at these places, by face */
    int32_t right[2];
    size_t row;  /* of the grid */
    size_t span; /* index */
} usi_segment;

typedef struct usi_segments {
    size_t count;
    usi_segment *list; /* wall by wall in the order of the spans, upwards */
} usi_segments;

/* Lists segments whose middle lies in a span, on a grid where walls are closed there; spans of
 * one wall come upwards. Free the
 * list with free(). US_ERROR_MEMORY. */
us_status usi_segments_list(us_context *context, const usi_grid *grid, const usi_wall_span *spans,
                            size_t span_count, usi_segments *segments);

/* A grid without walls along some segments: a copy that borrows all but its walls. */
typedef struct usi_walled {
    usi_grid grid;
    uint8_t *wall_left;
    usi_triangle *triangles;
} usi_walled;

/* Where `open` says so of a segment no wall stands on it; NULL: on none. Free with
 * usi_walled_free(), also after US_ERROR_MEMORY. */
us_status usi_walled_make(us_context *context, const usi_grid *grid, const usi_segments *segments,
                          const bool *open, usi_walled *walled);
void usi_walled_free(usi_walled *walled);

/* A place on segments where both faces have a value of their own. */
typedef struct usi_face_pair {
    int32_t place;
    int32_t left;
    int32_t right;
    int32_t below; /* the segment that ends there from below, -1 for none in the list */
    int32_t above;
} usi_face_pair;

/* Lists them in the order of the segments, upwards. `*pairs` is the caller's, freed with
 * free(). US_ERROR_MEMORY. */
us_status usi_segments_pair(us_context *context, const usi_segments *segments,
                            usi_face_pair **pairs, size_t *count);

#endif
