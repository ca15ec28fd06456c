/* Edges and walls as straight pieces between vertices, and the fans of soil that they
 * part around each. */
#ifndef USI_GRID_RAYS_H
#define USI_GRID_RAYS_H

#include "grid/fan.h"
#include "model/plan.h"

typedef struct usi_piece {
    int from; /* vertices */
    int to;
    usi_point a;
    usi_point b;
    bool wall;
    bool far;   /* where endless soil is cut */
    bool fixed; /* a border of fixed head */
    bool open;  /* soil on both hands, and no wall */
    int left;   /* soil, as in usi_edge; of a wall: -2, not known */
    int right;
} usi_piece;

typedef struct usi_pieces {
    const us_section *section;
    size_t vertex_count;
    usi_point *vertices; /* those of the plan first */
    size_t count;
    usi_piece *list;
    size_t *first; /* incident pieces of vertex v: around[first[v]] to around[first[v + 1] - 1] */
    int *around;
} usi_pieces;

/* Lists the pieces of a plan and its walls; free with usi_pieces_free(). */
us_status usi_pieces_list(us_context *context, const us_section *section, const usi_plan *plan,
                          bool sealed, usi_pieces *pieces);
void usi_pieces_free(usi_pieces *pieces);

bool usi_piece_meets(const usi_piece *piece, int vertex);

/* True where a vertex lies where endless soil is cut. */
bool usi_pieces_far(const usi_pieces *pieces, int vertex);

/* The smallest exponent of the fans at a vertex; `inside` where soil is all round. */
double usi_pieces_exponent(const usi_pieces *pieces, int vertex, bool *inside);

#endif
