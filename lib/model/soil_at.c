/* Which soil lies where: layers, overridden by zones. */
#include <math.h>

#include "model/plan.h"
#include "model/section.h"

/* A place, and the way to step off it. */
typedef struct place {
    usi_point at;
    bool right;
    bool above;
    double tolerance_m;
} place;

/* True when a level at the place's x lies below the place. */
static bool is_below(const place *from, double level_m)
{
    double height_m = from->at.z_m - level_m;
    return fabs(height_m) <= from->tolerance_m ? from->above : height_m > 0.0;
}

/* True when the piece from a to b passes over or under the place. */
static bool passes(const place *from, usi_point a, usi_point b)
{
    double x_m = from->at.x_m;
    return from->right ? (a.x_m <= x_m) != (b.x_m <= x_m) : (a.x_m < x_m) != (b.x_m < x_m);
}

static bool is_inside(const place *from, const usi_zone *zone)
{
    double slack_m = from->tolerance_m;
    usi_point at = from->at;
    if (at.x_m < zone->low.x_m - slack_m || at.x_m > zone->high.x_m + slack_m ||
        at.z_m < zone->low.z_m - slack_m || at.z_m > zone->high.z_m + slack_m) {
        return false;
    }
    bool inside = false;
    usi_point a = zone->outline[zone->count - 1];
    for (size_t i = 0; i < zone->count; i++) {
        usi_point b = zone->outline[i];
        if (passes(from, a, b) &&
            is_below(from, a.z_m + (b.z_m - a.z_m) * ((at.x_m - a.x_m) / (b.x_m - a.x_m)))) {
            inside = !inside;
        }
        a = b;
    }
    return inside;
}

static size_t find_soil(const us_section *section, const place *from)
{
    for (size_t i = section->zone_count; i > 0; i--) {
        if (is_inside(from, &section->zones[i - 1])) {
            return section->zones[i - 1].soil;
        }
    }
    for (size_t i = section->soil_count; i > 1; i--) {
        const usi_soil *soil = &section->soils[i - 1];
        if (soil->layer && !is_below(from, usi_line_level(&soil->top, from->at.x_m, from->right))) {
            return i - 1;
        }
    }
    return 0;
}

size_t usi_section_soil_at(const us_section *section, usi_point at, bool right, bool above)
{
    place from = {at, right, above, usi_section_tolerance(section)};
    return find_soil(section, &from);
}

bool usi_section_spans(const us_section *section, double x_m, bool right)
{
    if (section->left.kind != USI_SIDE_ENDLESS &&
        (right ? x_m < section->left.x_m : x_m <= section->left.x_m)) {
        return false;
    }
    return section->right.kind == USI_SIDE_ENDLESS ||
           (right ? x_m < section->right.x_m : x_m <= section->right.x_m);
}

int usi_plan_soil(const us_section *section, usi_point at)
{
    if (!usi_section_spans(section, at.x_m, true) ||
        at.z_m >= usi_section_surface(section, at.x_m, true) ||
        (section->has_base && at.z_m <= usi_section_base(section, at.x_m, true))) {
        return -1;
    }
    place from = {at, true, true, 0.0};
    return (int)find_soil(section, &from);
}
