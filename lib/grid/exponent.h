/* How smooth the head is at a node: the exponent of its local solution. */
#ifndef USI_GRID_EXPONENT_H
#define USI_GRID_EXPONENT_H

#include "grid/grid.h"

/* Near the node at `corner` of soil cell (i, j), inside the soil that hangs
 * together with that cell there, head varies as r^lambda (grid/fan.h). Returns the
 * smallest lambda in (0, 1), or 1 where the head is as smooth as the soil allows:
 * then gradients are finite. 1 also where sloping edges meet the node. */
double usi_exponent_at(const usi_grid *grid, size_t i, size_t j, usi_corner corner);

/* What a quadrant of soil begins with on its first ray, counter-clockwise, in the
 * plane mapped by x -> x stretch, at distance 1. */
typedef struct usi_local_quadrant {
    double conductance; /* sqrt(kh kv), m/s */
    double stretch;     /* sqrt(kv / kh) */
    double value;
    double flux;
} usi_local_quadrant;

/* The leading local solution at a node, of any size. */
typedef struct usi_local {
    size_t node_i;
    size_t node_j;
    double reach_m;  /* within which nothing else disturbs; the caller's business */
    double across_m; /* and how far across lines lie alike on both sides; likewise */
    double lambda;
    int first; /* the quadrants are ring cells first, first + 1, ... round the node */
    int count;
    usi_local_quadrant quadrants[4];
} usi_local;

/* Reduced head and stream function of the local solution, both zero at the node:
 * the flow across any line is the difference of `flux` between its ends. */
typedef struct usi_local_value {
    double head;
    double flux;
} usi_local_value;

/* Fills `local` for the soil at `corner` of cell (i, j); false where the head is
 * smooth there. */
bool usi_local_find(const usi_grid *grid, size_t i, size_t j, usi_corner corner, usi_local *local);

/* Value at a place (dx, dz) from the node that lies in ring cell `ring`, its sides
 * included. */
usi_local_value usi_local_at(const usi_local *local, usi_corner ring, double dx_m, double dz_m);

#endif
