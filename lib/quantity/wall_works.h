/* A wall as a piece of steel: in its cap, under rust, held by friction. */
#ifndef USI_QUANTITY_WALL_WORKS_H
#define USI_QUANTITY_WALL_WORKS_H

#include "model/section.h"
#include "undersill/context.h"

/* Where a wall stands under the structure. */
typedef struct usi_wall_cap {
    bool under;         /* the structure is above it, no other wall between */
    double embedment_m; /* of its top in the structure; 0 where it ends below */
    double gap_m;       /* between its top and the underside; 0 where they meet */
    bool has_thickness; /* the structure has a top */
    double thickness_m; /* of the structure there */
} usi_wall_cap;

usi_wall_cap usi_wall_in_cap(const us_section *section, const usi_wall *wall);

/* What friction needs to know of a soil and does not. */
typedef enum usi_shaft_lack {
    USI_SHAFT_KNOWN,
    USI_SHAFT_NO_WEIGHT,
    USI_SHAFT_NO_FRICTION
} usi_shaft_lack;

typedef struct usi_wall_friction {
    usi_shaft_lack lack;
    size_t soil;         /* that lacks it */
    double friction_n_m; /* on both faces, per width */
} usi_wall_friction;

/* Friction from the soil surface, or the top of the wall, down to its tip. The effective
 * overburden is the weight under water of the soil alone. */
us_status usi_wall_hold(us_context *context, const us_section *section, const usi_wall *wall,
                        usi_wall_friction *friction);

/* Friction on a flat face per width, over a stretch where the effective overburden grows from
 * `from_pa` to `to_pa` at `growth_n_m3` with depth, above 0. */
double usi_shaft_friction(const usi_shaft *shaft, double from_pa, double to_pa, double growth_n_m3);

#endif
