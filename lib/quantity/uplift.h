/* Uplift: upward water pressure on the underside of the structure. */
#ifndef USI_QUANTITY_UPLIFT_H
#define USI_QUANTITY_UPLIFT_H

#include "solve/field.h"

typedef struct usi_uplift_reading {
    double force_n_m; /* sum of gamma_w max(h - z, 0) dx */
    double moment_n;  /* of that pressure about x = 0 */
    bool suction;     /* some pressure was below zero and counted as none */
} usi_uplift_reading;

/* Integrates over the level pieces of the underside, head linear between
 * nodes, for one water case. */
usi_uplift_reading usi_uplift_read(const usi_field *field, double downstream_m,
                                   double head_difference_m);

/* Weight of the structure per unit width, N/m; call only where its top and
 * unit weight are known. */
double usi_structure_weight(const us_section *section);

/* Where that weight acts: x of the centroid; call only where the top is known. */
double usi_structure_centroid_x(const us_section *section);

#endif
