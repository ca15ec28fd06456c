/* The five-point scheme: every soil cell links its corners along its sides. */
#ifndef USI_SOLVE_LINKS_H
#define USI_SOLVE_LINKS_H

#include "grid/grid.h"
#include "solve/problem.h"

/* Dimensionless coefficients of a soil. */
typedef struct usi_coefficient {
    double along; /* of the derivative along x */
    double up;    /* of the derivative along z */
} usi_coefficient;

/* What makes one problem different from another on the same grid. */
typedef struct usi_network {
    const usi_grid *grid;
    double scale_m_s; /* conductivities are made dimensionless by it */
    usi_coefficient (*coefficient)(const usi_soil *soil, double scale_m_s);
    int32_t (*index)(const usi_grid *grid, size_t i, size_t j, usi_corner corner);
    const int32_t *places; /* looked up by `index` */
    bool stream;           /* unknowns are those of the stream function */
} usi_network;

/* The two corners of a side of a cell, the lower or left one first. */
void usi_links_corners(usi_direction direction, usi_corner corners[2]);

/* The node at a corner of cell (i, j). */
int32_t usi_links_node(const usi_grid *grid, size_t i, size_t j, usi_corner corner);

/* Conductance of half a side of soil cell (i, j): linear elements on the two right
 * triangles of the cell come to the same. */
double usi_links_half(const usi_network *network, size_t i, size_t j, usi_direction direction);

/* The most links that usi_links_add() adds. */
size_t usi_links_count(const usi_grid *grid);

/* What a corner of a triangle is to the network: an index into `places`. */
int32_t usi_links_corner(const usi_network *network, const usi_triangle *triangle, int corner);

/* Adds half of each side of each soil cell, scaled near the grid's hardest points
 * (solve/scaling.h), and the sides of each triangle: linear elements too. Both halves of a side
 * are one link. US_OK or US_ERROR_MEMORY. */
us_status usi_links_add(us_context *context, const usi_network *network, usi_problem *problem);

/* Energy of linear elements at the given values, whatever the links were scaled
 * by: of any admissible field it is a bound. */
double usi_links_energy(const usi_network *network, const double *values);

/* What the energy is the square of: of two fields on the same places. */
double usi_links_product(const usi_network *network, const double *one, const double *other);

#endif
