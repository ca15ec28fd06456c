/* Where along the downstream bed prisms and layers are looked at. */
#include <math.h>

#include "model/prisms.h"

/* Distances from the toe, in embedments or, at a flush edge, depths of its mean. */
static const double DISTANCES[] = {0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0};
/* Of the embedment: a prism that shallow goes by the exit gradient. */
static const double LEAST_SHARE = 0.1;
enum { DISTANCE_COUNT = sizeof DISTANCES / sizeof DISTANCES[0], EXITS_MOST = 14 };

/* Beside an exit that is unbounded a shallower prism would always be a worse one. */
static double least_depth(const usi_exit *exit)
{
    return usi_growth_is_bounded(exit->growth) ? LEAST_SHARE * exit->mean_depth_m
                                               : exit->mean_depth_m;
}

/* True where bed lies at x, seen from the toe, and goes on outwards. */
static bool on_bed(const us_section *section, double x_m)
{
    double outward = section->flows_left ? -1.0 : 1.0;
    double tolerance_m = usi_section_tolerance(section);
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    return outward * (x_m - usi_section_toe_x(section)) > tolerance_m &&
           (side->kind == USI_SIDE_ENDLESS || outward * (side->x_m - x_m) > tolerance_m);
}

size_t usi_bed_places_lay(const us_section *section, const usi_exit *exits, size_t exit_count,
                          usi_bed_place *places)
{
    if (exit_count == 0) {
        return 0;
    }
    size_t used = 0;
    double outward = section->flows_left ? -1.0 : 1.0;
    usi_face face = section->flows_left ? USI_FACE_LEFT : USI_FACE_RIGHT;
    double scale_m = exits[0].mean_depth_m;
    for (size_t e = 0; e < exit_count && used < EXITS_MOST; e++) {
        places[used++] =
            (usi_bed_place){exits[e].at.x_m, exits[e].bed, least_depth(&exits[e]), e == 0};
    }
    for (size_t k = 0; k < DISTANCE_COUNT; k++) {
        double x_m = exits[0].at.x_m + outward * DISTANCES[k] * scale_m;
        if (on_bed(section, x_m)) {
            places[used++] = (usi_bed_place){x_m, face, LEAST_SHARE * scale_m, false};
        }
    }
    const usi_line *bed = usi_section_downstream_bed(section);
    for (size_t k = 0; k < bed->count && used < USI_BED_PLACES_MOST; k++) {
        double x_m = bed->points[section->flows_left ? bed->count - 1 - k : k].x_m;
        if (on_bed(section, x_m)) {
            places[used++] = (usi_bed_place){x_m, face, LEAST_SHARE * scale_m, false};
        }
    }
    return used;
}
