/* The gradient at which soil boils, or slides, where water leaves it. */
#ifndef USI_MODEL_CRITICAL_H
#define USI_MODEL_CRITICAL_H

#include "model/section.h"

/* What is not known of the soil and would be needed. */
typedef enum usi_lack { USI_LACK_NOTHING, USI_LACK_UNIT_WEIGHT, USI_LACK_FRICTION_ANGLE } usi_lack;

typedef struct usi_critical {
    usi_lack lacks;
    double level;     /* on level bed: submerged weight over that of water; 0 without a weight */
    double gradient;  /* on this bed, square to it; 0 where the bed slides without any. 0 as well
                         where something is lacking */
    double slope_rad; /* of the bed, from 0 on */
    bool emerges;     /* no water stands on the bed: it comes out with the pressure of air */
    double aside;     /* of flow out over conductivity square to the bed, what flows along the
                         bed adds where soil is looser level than upright; it is no gradient
                         square to the bed. 0 under water */
} usi_critical;

/* Of a soil under bed of slope `rise` over run, either way.
 *
 * Of an endless slope at angle b (angle of friction phi, critical gradient on level bed i_c, both
 * of effective stress, no cohesion), water under which leaves square to the bed, which then is
 * one of equal head: weight along the slope may be at most friction on what weight is left,
 *   g' sin b = (g' cos b - g_w i) tan phi,    i = i_c (cos b - sin b / tan phi).
 * Where no water stands on it head is the level of the bed itself. It falls along the bed by sin
 * b, and water drags at the soil that way too:
 *   (g' + g_w) sin b = (g' cos b - g_w i) tan phi,    i = i_c cos b - (i_c + 1) sin b / tan phi.
 * Derived here; with i = 0 the second is the known slope with seepage along it, tan b = g' /
 * (g' + g_w) tan phi. A bed of up to 1 in 100 counts as level where no angle is given. */
usi_critical usi_critical_of(const us_section *section, const usi_soil *soil, double rise,
                             bool emerges);

/* On the downstream bed at x, on its right or left side. */
usi_critical usi_critical_at(const us_section *section, usi_point at, bool right);

/* True where no water stands on the downstream bed beside a place on it. */
bool usi_critical_emerges(const us_section *section, usi_point at, bool right);

#endif
