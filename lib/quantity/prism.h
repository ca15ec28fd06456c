/* Head below a prism of soil. */
#ifndef USI_QUANTITY_PRISM_H
#define USI_QUANTITY_PRISM_H

#include "model/prisms.h"
#include "quantity/wall_heads.h"

typedef struct usi_prism_reading {
    usi_reduced mean;   /* along its lower side; absent where the grid does not reach */
    usi_reduced corner; /* below the upright side that it was laid from: at a wall, its tip */
} usi_prism_reading;

/* Mean reduced head along the level line from `from_m` to `to_m`, from the soil right above it:
 * in whole cells by the same curved interpolation as at a point, in cut ones linear in each
 * triangle, which is exact for what the grid holds. Absent where part of the line lies in no soil
 * of the grid. */
usi_reduced usi_head_mean(const usi_field *field, double from_m, double to_m, double level_m);

usi_prism_reading usi_prism_read(const usi_field *field, const usi_prism *prism);

#endif
