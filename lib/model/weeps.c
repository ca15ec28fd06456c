#include "model/weeps.h"

#include <math.h>

#include "model/clearance.h"

static const double EULER = 0.57721566490153286;
static const double PI = 3.14159265358979324;
/* Of the distance to what is next to a row of weeps: the width of the strip that stands
 * for it. What a strip of width W changes further out falls with (W / distance)^2. */
static const double STRIP_SHARE = 0.05;

double usi_weeps_slot(double diameter_m, double spacing_m)
{
    return 8.0 * spacing_m * exp(-EULER - PI * spacing_m / (2.0 * diameter_m));
}

/* Distance from a row of weeps to whatever else may bend the flow around it. */
static double free_distance(const us_section *section, const usi_drain *drain)
{
    usi_clearance of = {drain->from, 1.0, NULL, drain};
    return fmin(drain->spacing_m, usi_clearance_of(section, &of));
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
