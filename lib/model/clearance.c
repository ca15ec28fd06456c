#include "model/clearance.h"

#include <math.h>

double usi_clearance_to(const usi_clearance *of, usi_point a, usi_point b)
{
    double dx_m = of->stretch * (b.x_m - a.x_m);
    double dz_m = b.z_m - a.z_m;
    double from_x_m = of->stretch * (of->at.x_m - a.x_m);
    double from_z_m = of->at.z_m - a.z_m;
    double square_m2 = dx_m * dx_m + dz_m * dz_m;
    double share = square_m2 > 0.0 ? (from_x_m * dx_m + from_z_m * dz_m) / square_m2 : 0.0;
    share = fmin(fmax(share, 0.0), 1.0);
    return hypot(from_x_m - share * dx_m, from_z_m - share * dz_m);
}

/* To lines between soils, but for one that the point lies on. */
static double to_soils(const us_section *section, const usi_clearance *of)
{
    double nearest_m = HUGE_VAL;
    for (size_t s = 1; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            double off_m =
                fabs(usi_line_level(&section->soils[s].top, of->at.x_m, true) - of->at.z_m);
            nearest_m = off_m > 0.0 ? fmin(nearest_m, off_m) : nearest_m;
        }
    }
    for (size_t k = 0; k < section->zone_count; k++) {
        const usi_zone *zone = &section->zones[k];
        for (size_t p = 0; p < zone->count; p++) {
            double off_m =
                usi_clearance_to(of, zone->outline[p], zone->outline[(p + 1) % zone->count]);
            nearest_m = off_m > 0.0 ? fmin(nearest_m, off_m) : nearest_m;
        }
    }
    return nearest_m;
}

double usi_clearance_of(const us_section *section, const usi_clearance *of)
{
    double nearest_m = to_soils(section, of);
    for (size_t k = 0; k < section->underside.count; k++) {
        usi_point vertex = section->underside.points[k];
        nearest_m = fmin(nearest_m, usi_clearance_to(of, vertex, vertex));
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        if (wall != of->wall) {
            nearest_m =
                fmin(nearest_m, usi_clearance_to(of, (usi_point){wall->x_m, wall->top_m},
                                                 (usi_point){wall->x_m, wall->solved_tip_m}));
        }
    }
    for (size_t d = 0; d < section->drain_count; d++) {
        const usi_drain *other = &section->drains[d];
        if (other != of->drain) {
            nearest_m = fmin(nearest_m, usi_clearance_to(of, other->from, other->to));
        }
    }
    if (section->has_base) {
        nearest_m = fmin(nearest_m, of->at.z_m - usi_section_base(section, of->at.x_m, true));
    }
    return nearest_m;
}
