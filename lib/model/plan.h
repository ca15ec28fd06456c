/* The section laid out in a window: where soil lies, and its edges. */
#ifndef USI_MODEL_PLAN_H
#define USI_MODEL_PLAN_H

#include "model/section.h"
#include "undersill/context.h"

typedef enum usi_edge_kind {
    USI_EDGE_INTERFACE, /* between two soils that differ in kh or kv */
    USI_EDGE_LEFT_BED,  /* soil surface left of the works: fixed head */
    USI_EDGE_RIGHT_BED, /* soil surface right of the works: fixed head */
    USI_EDGE_STRUCTURE, /* underside and end faces: no flow */
    USI_EDGE_BASE,      /* or the window's floor: no flow */
    USI_EDGE_LEFT_SIDE, /* the window's vertical sides, where soil goes on or a side stands */
    USI_EDGE_RIGHT_SIDE,
    USI_EDGE_DRAIN /* a drain inside the soil, which lies on both hands */
} usi_edge_kind;

/* A straight edge. It goes to the right, or straight up: a.x < b.x, or a.x == b.x
 * and a.z < b.z. So the left hand is above, or, of an upright edge, the side of
 * smaller x. */
typedef struct usi_edge {
    int a; /* indices of vertices */
    int b;
    usi_edge_kind kind;
    int left; /* index of the soil on the left hand going from a to b, -1 where there is none */
    int right;
    int mark; /* 1 + index of the situation's mark that holds here; 0 for none */
} usi_edge;

/* What of the section is laid out. The window spans the works; a side that the
 * section gives cuts it shorter. */
typedef struct usi_plan_window {
    double left_m;
    double right_m;
    double floor_m; /* counts only with `base: none` */
} usi_plan_window;

/* Edges meet at vertices only. Tops and tips of walls in the soil, and crossings
 * of walls with edges, are vertices too; walls are no edges. What makes no
 * difference has left no trace: points along a straight edge, borders between
 * soils of equal kh and kv. So `left` and `right` name the first soil with that kh
 * and kv. Vertices stand by growing x, then z; edges by growing a, then b. Two x of
 * vertices are equal or differ by more than usi_section_tolerance(), and so are two
 * z; level and upright edges are exactly so. No two edges share both vertices. */
typedef struct usi_plan {
    size_t vertex_count;
    usi_point *vertices;
    size_t edge_count;
    usi_edge *edges;
    /* Where the soil goes on for ever no constant head may be told on a side: the bed
     * there is dry or sealed, or there is water below the base. */
    bool left_closed;
    bool right_closed;
} usi_plan;

/* Lays out the section, and what acts on its edges (section->situation). `*plan` is written on
 * US_OK only; free it with usi_plan_free(). US_ERROR_MEMORY; US_ERROR_ARGUMENT when the window does
 * not span the works; US_ERROR_INPUT, reported, when the lines cross too often. */
us_status usi_plan_build(us_context *context, const us_section *section,
                         const usi_plan_window *window, usi_plan *plan);

/* Frees what a plan holds, and empties it. */
void usi_plan_free(usi_plan *plan);

/* Index of the soil at a point strictly inside a face of the plan: zones
 * override layers, later zones win; -1 outside the soil. */
int usi_plan_soil(const us_section *section, usi_point at);

#endif
