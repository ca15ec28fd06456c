/* Edges and walls as straight legs between vertices, and the fans of soil that they
 * part around each. */
#ifndef USI_GRID_RAYS_H
#define USI_GRID_RAYS_H

#include "grid/fan.h"
#include "model/plan.h"

typedef struct usi_leg {
    int from; /* vertices */
    int to;
    usi_point a;
    usi_point b;
    bool wall;
    bool leaky;     /* of a wall: water passes it everywhere */
    bool structure; /* no flow, but for walls and base */
    bool exit;      /* of fixed head, but for the bed where water enters */
    bool far;       /* where endless soil is cut */
    bool fixed;     /* a border of fixed head */
    bool open;      /* soil on both hands, and no wall */
    int left;       /* soil, as in usi_edge; of a wall: -2, not known */
    int right;
} usi_leg;

typedef struct usi_legs {
    const us_section *section;
    size_t vertex_count;
    usi_point *vertices; /* those of the plan first */
    size_t count;
    usi_leg *list;
    size_t *first; /* incident legs of vertex v: around[first[v]] to around[first[v + 1] - 1] */
    int *around;
} usi_legs;

/* Lists the legs of a plan and its walls; free with usi_legs_free(). */
us_status usi_legs_list(us_context *context, const us_section *section, const usi_plan *plan,
                        bool sealed, usi_legs *legs);
void usi_legs_free(usi_legs *legs);

bool usi_leg_meets(const usi_leg *leg, int vertex);

/* True where a vertex lies where endless soil is cut. */
bool usi_legs_far(const usi_legs *legs, int vertex);

/* The smallest exponent of the fans at a vertex; `inside` where soil is all round. */
double usi_legs_exponent(const usi_legs *legs, int vertex, bool *inside);

#endif
