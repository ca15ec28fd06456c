#include "model/weeps.h"

#include <math.h>

static const double EULER = 0.57721566490153286;
static const double PI = 3.14159265358979324;
/* Of the distance to what is next to a row of weeps: the width of the strip that stands
 * for it. What a strip of width W changes further out falls with (W / distance)^2. */
static const double STRIP_SHARE = 0.05;

double usi_weeps_slot(double diameter_m, double spacing_m)
{
    return 8.0 * spacing_m * exp(-EULER - PI * spacing_m / (2.0 * diameter_m));
}

static double to_line(usi_point at, usi_point a, usi_point b)
{
    double dx_m = b.x_m - a.x_m;
    double dz_m = b.z_m - a.z_m;
    double square_m2 = dx_m * dx_m + dz_m * dz_m;
    double share =
        square_m2 > 0.0 ? ((at.x_m - a.x_m) * dx_m + (at.z_m - a.z_m) * dz_m) / square_m2 : 0.0;
    share = fmin(fmax(share, 0.0), 1.0);
    return hypot(at.x_m - a.x_m - share * dx_m, at.z_m - a.z_m - share * dz_m);
}

static double to_points(usi_point at, const usi_line *line, double nearest_m)
{
    for (size_t k = 0; k < line->count; k++) {
        nearest_m =
            fmin(nearest_m, hypot(line->points[k].x_m - at.x_m, line->points[k].z_m - at.z_m));
    }
    return nearest_m;
}

/* Distance from a row of weeps to whatever else may bend the flow around it. */
static double free_distance(const us_section *section, const usi_drain *drain)
{
    usi_point at = drain->from;
    double nearest_m = drain->spacing_m;
    nearest_m = to_points(at, &section->underside, nearest_m);
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        nearest_m = fmin(nearest_m, to_line(at, (usi_point){wall->x_m, wall->top_m},
                                            (usi_point){wall->x_m, wall->solved_tip_m}));
    }
    for (size_t d = 0; d < section->drain_count; d++) {
        const usi_drain *other = &section->drains[d];
        if (other != drain) {
            nearest_m = fmin(nearest_m, to_line(at, other->from, other->to));
        }
    }
    for (size_t s = 1; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            double off_m = fabs(usi_line_level(&section->soils[s].top, at.x_m, true) - at.z_m);
            nearest_m = off_m > 0.0 ? fmin(nearest_m, off_m) : nearest_m;
        }
    }
    for (size_t k = 0; k < section->zone_count; k++) {
        const usi_zone *zone = &section->zones[k];
        for (size_t p = 0; p < zone->count; p++) {
            double off_m = to_line(at, zone->outline[p], zone->outline[(p + 1) % zone->count]);
            nearest_m = off_m > 0.0 ? fmin(nearest_m, off_m) : nearest_m;
        }
    }
    if (section->has_base) {
        nearest_m = fmin(nearest_m, at.z_m - usi_section_base(section, at.x_m, true));
    }
    return nearest_m;
}

/* The piece of structure that a point lies on leaves it upright. */
static bool on_upright(const us_section *section, usi_point at)
{
    double tolerance_m = usi_section_tolerance(section);
    double right_m = usi_section_surface(section, at.x_m + 2.0 * tolerance_m, true);
    double left_m = usi_section_surface(section, at.x_m - 2.0 * tolerance_m, false);
    return fabs(right_m - at.z_m) > tolerance_m && fabs(left_m - at.z_m) > tolerance_m;
}

usi_weeps usi_weeps_of(const us_section *section, const usi_drain *drain)
{
    const usi_soil *soil = &section->soils[usi_section_soil_at(section, drain->from, true, false)];
    double slot_m = usi_weeps_slot(drain->diameter_m, drain->spacing_m);
    double strip_m = fmax(slot_m, STRIP_SHARE * free_distance(section, drain));
    double hole_m2 = 0.25 * PI * drain->diameter_m * drain->diameter_m;
    bool upright = on_upright(section, drain->from);
    double x_m = upright ? usi_section_tolerance(section) : 0.5 * strip_m;
    double z_m = 0.5 * strip_m;
    return (usi_weeps){.low = {drain->from.x_m - x_m, drain->from.z_m - z_m},
                       .high = {drain->from.x_m + x_m, drain->from.z_m + z_m},
                       .series_s_m =
                           log(strip_m / slot_m) / (PI * sqrt(soil->kh_m_s * soil->kv_m_s)) +
                           drain->clogging_s * drain->spacing_m / hole_m2};
}
