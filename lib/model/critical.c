#include "model/critical.h"

#include <math.h>

/* Rise over run up to which a bed counts as level where the angle of friction is not known:
 * what that leaves out is below 3 % under water for angles from 25 degrees on. */
static const double LEVEL = 0.01;

usi_critical usi_critical_of(const us_section *section, const usi_soil *soil, double rise,
                             bool emerges)
{
    double steepness = fabs(rise);
    usi_critical found = {.slope_rad = atan(steepness), .emerges = emerges};
    double sine = sin(found.slope_rad);
    double cosine = cos(found.slope_rad);
    if (emerges && soil->kh_m_s != soil->kv_m_s) {
        double across_m_s = soil->kh_m_s * sine * sine + soil->kv_m_s * cosine * cosine;
        found.aside = (soil->kh_m_s - soil->kv_m_s) * sine * cosine / across_m_s * sine;
    }
    if (!soil->weighs) {
        found.lacks = USI_LACK_UNIT_WEIGHT;
        return found;
    }
    double water_n_m3 = section->water_unit_weight_n_m3;
    found.level = (soil->unit_weight_n_m3 - water_n_m3) / water_n_m3;
    found.gradient = found.level;
    if (soil->friction_rad > 0.0) {
        double dragged = emerges ? found.level + 1.0 : found.level;
        double left = found.level * cosine - dragged * sine / tan(soil->friction_rad);
        found.gradient = fmax(left, 0.0);
    } else if (steepness > LEVEL) {
        found.lacks = USI_LACK_FRICTION_ANGLE;
        found.gradient = 0.0;
    }
    return found;
}

/* Rise to the right, over run, of the bed beside x; level beyond the ends of the line. */
static double rise_beside(const usi_line *bed, double x_m, bool right)
{
    for (size_t k = 0; k + 1 < bed->count; k++) {
        usi_point a = bed->points[k];
        usi_point b = bed->points[k + 1];
        if (right ? x_m >= a.x_m && x_m < b.x_m : x_m > a.x_m && x_m <= b.x_m) {
            return (b.z_m - a.z_m) / (b.x_m - a.x_m);
        }
    }
    return 0.0;
}

bool usi_critical_emerges(const us_section *section, usi_point at, bool right)
{
    if (section->situation == NULL) {
        return false;
    }
    const usi_water *water = &section->waters[0];
    double tolerance_m = usi_section_tolerance(section);
    if (water->at_bed || at.z_m > water->downstream_m + tolerance_m) {
        return true;
    }
    if (at.z_m < water->downstream_m - tolerance_m) {
        return false;
    }
    double rise = rise_beside(usi_section_downstream_bed(section), at.x_m, right);
    return right ? rise > 0.0 : rise < 0.0;
}

usi_critical usi_critical_at(const us_section *section, usi_point at, bool right)
{
    const usi_soil *soil = &section->soils[usi_section_soil_at(section, at, right, false)];
    double rise = rise_beside(usi_section_downstream_bed(section), at.x_m, right);
    return usi_critical_of(section, soil, rise, usi_critical_emerges(section, at, right));
}
