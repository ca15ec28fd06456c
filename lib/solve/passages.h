/* Where water passes walls: sides of leaky ones, and strips that stand for openings. */
#ifndef USI_SOLVE_PASSAGES_H
#define USI_SOLVE_PASSAGES_H

#include "grid/grid.h"
#include "solve/problem.h"

/* A side of leaky wall; ends from below. */
typedef struct usi_crossing {
    int32_t left[2]; /* unknowns on its left face */
    int32_t right[2];
    int32_t place[2];
    double conductance_m_s; /* of the whole side */
} usi_crossing;

/* One head along each face. */
typedef struct usi_strip {
    int32_t place[2];  /* its ends, from below */
    double series_s_m; /* between the faces; 0: both have one head */
} usi_strip;

/* All is zero where every wall is tight. */
typedef struct usi_passages {
    size_t crossing_count;
    usi_crossing *crossings;
    size_t strip_count;
    usi_strip *strips;
    size_t unknowns;
    size_t places;
    int32_t *face; /* of each unknown: 2 * strip on a left face, one more on a right one unless
                      both have one head; -1 elsewhere */
    int32_t *next; /* of each place: the upper end of the side from there that water passes; -1
                      for none */
} usi_passages;

/* Free with usi_passages_free(), also after US_ERROR_MEMORY. */
us_status usi_passages_find(us_context *context, const usi_grid *grid, usi_passages *passages);
void usi_passages_free(usi_passages *passages);

/* True of the side between two places where water passes a wall. */
bool usi_passages_open(const usi_passages *passages, int32_t a, int32_t b);

/* The most links that either problem gets. */
size_t usi_passages_count(const usi_passages *passages);

/* Links of the head problem: `places` of unknowns. */
void usi_passages_add_heads(const usi_passages *passages, const int32_t *places, double scale_m_s,
                            usi_problem *problem);

/* Links of the stream-function problem: `places` of places. Water that passes a side of
 * leaky wall loses head in proportion to its flow. */
void usi_passages_add_streams(const usi_passages *passages, const int32_t *places, double scale_m_s,
                              usi_problem *problem);

/* What links from `first` on come to: the part of a form that the soil does not have. */
double usi_passages_product(const usi_problem *problem, size_t first, const double *one,
                            const double *other);

#endif
