/* The way that water creeps along the works, by the rules of Bligh and Lane: docs/checks.md. */
#ifndef USI_QUANTITY_CREEP_H
#define USI_QUANTITY_CREEP_H

#include "model/section.h"
#include "undersill/context.h"

typedef struct usi_creep_point {
    usi_point at;
    bool tip; /* of a wall */
} usi_creep_point;

/* The line of contact from the upstream bed to the downstream one: end faces, underside, both
 * faces of every wall that hangs on it. */
typedef struct usi_creep_path {
    size_t count;
    usi_creep_point *points;
    double *along_m[2]; /* length up to each point, by usi_creep_rule */
} usi_creep_path;

typedef struct usi_creep_length {
    double length_m;
    bool cut_across; /* tips stand so near that water cuts across */
} usi_creep_length;

/* US_ERROR_MEMORY; free with usi_creep_clear() whatever comes back. */
us_status usi_creep_make(us_context *context, const us_section *section, usi_creep_path *path);

void usi_creep_clear(usi_creep_path *path);

/* Length up to the point of the path that is nearest to `end`, the one furthest downstream where
 * several are. */
us_status usi_creep_measure(us_context *context, const us_section *section,
                            const usi_creep_path *path, usi_creep_rule rule, usi_point end,
                            usi_creep_length *length);

/* Marks the soils that touch the path: `touched` has one entry a soil, false at first. */
us_status usi_creep_soils(us_context *context, const us_section *section,
                          const usi_creep_path *path, bool *touched);

/* The lowest tip of a wall and of those that touch it from below. */
double usi_creep_tip(const us_section *section, const usi_wall *wall);

/* True when a wall reaches the underside or the lower bed where it stands: no gap above it. */
bool usi_creep_hangs(const us_section *section, const usi_wall *wall);

#endif
