/* Uplift: upward water pressure on the underside of the structure, and what holds it down. */
#ifndef USI_QUANTITY_UPLIFT_H
#define USI_QUANTITY_UPLIFT_H

#include "model/situation.h"
#include "quantity/underside.h"

typedef struct usi_uplift_reading {
    double force_n_m; /* sum of gamma_w max(h - z, 0) dx */
    double moment_n;  /* of that pressure about x = 0 */
    bool suction;     /* some pressure was below zero and counted as none */
} usi_uplift_reading;

/* Integrates over a stretch of the underside, head linear between nodes, for one water case:
 * its heads are datum.zero_m + datum.unit_m times the reduced ones. */
usi_uplift_reading usi_uplift_read(const usi_underside *underside, usi_stretch over,
                                   usi_datum datum);

/* Panels between joints: a structure without joints is one. */
size_t usi_uplift_panel_count(const us_section *section);
usi_stretch usi_uplift_panel(const us_section *section, size_t index);
/* The whole structure. */
usi_stretch usi_uplift_whole(const us_section *section);

/* A load that acts down, per unit width. */
typedef struct usi_load {
    double force_n_m;
    double moment_n; /* about x = 0 */
} usi_load;

/* Weight of a stretch of the structure; call only where its top and unit weight are known. */
usi_load usi_structure_load(const us_section *section, usi_stretch over);

/* Weight of the water between the top of the structure and a surface, where that lies above;
 * none without a surface. Call it with a surface only where the top is known. */
usi_load usi_surface_load(const us_section *section, const usi_line *surface, usi_stretch over);

/* Weight of the whole structure, N/m, likewise. */
double usi_structure_weight(const us_section *section);

/* Where that weight acts: x of the centroid; call only where the top is known. */
double usi_structure_centroid_x(const us_section *section);

/* Thickness of a floor that just holds at a place by its own weight. `ratio` is its unit weight
 * over that of water. Submerged: `head_m` is the head above its top, which stays where it is
 * while a thicker floor reaches deeper; `ratio` above 1. Dry: `head_m` is the pressure head at
 * its underside, which stays while the top rises. None where the head is negative. */
double usi_thickness_submerged(double head_m, double ratio);
double usi_thickness_dry(double head_m, double ratio);
/* On top of the submerged one, 4/3 by the practice of Indian weir design (Punmia and Pande Lal,
 * Irrigation and Water Power Engineering, chapter 12). */
extern const double usi_thickness_allowance;

#endif
