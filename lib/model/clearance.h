/* How far what bends flow lies from a point. */
#ifndef USI_MODEL_CLEARANCE_H
#define USI_MODEL_CLEARANCE_H

#include "model/section.h"

/* Whose distance is asked for: what it is itself does not count. */
typedef struct usi_clearance {
    usi_point at;
    double stretch;         /* distances along x count times this: sqrt(kv / kh), 1 as drawn */
    const usi_wall *wall;   /* or NULL */
    const usi_drain *drain; /* or NULL */
} usi_clearance;

/* Distance to the nearest vertex of the underside, wall, drain, edge between soils or base;
 * HUGE_VAL where there is none. */
double usi_clearance_of(const us_section *section, const usi_clearance *of);

/* Distance to the segment from a to b. */
double usi_clearance_to(const usi_clearance *of, usi_point a, usi_point b);

#endif
