#include "grid/reach.h"

#include <float.h>
#include <math.h>

/* Unless more is asked for: exp(-2 * 7) = 8e-7 of the flow is what such a cut
 * costs. */
static const double DECAY_LENGTHS = 7.0;
/* Soil of depth without limit is cut all round at this many times the
 * structure's size: heads then err by about its inverse square. */
static const double DEPTH_RATIO = 300.0;

/* The layers of one end of the section, far from everything: lines run level there. */
typedef struct far_column {
    const us_section *section;
    double bed_m;
    double floor_m;
    double far_x_m;
    bool right;
} far_column;

/* Level of the top of a layer after the first. */
static double top_of(const far_column *column, size_t layer)
{
    return usi_line_level(&column->section->soils[layer].top, column->far_x_m, column->right);
}

/* The layer just below a level, and how far down it goes: the last whose top lies at
 * or above holds it, until the top of a later one is met. */
static size_t layer_below(const far_column *column, double level_m, double *bottom_m)
{
    size_t found = 0;
    for (size_t i = 1; i < column->section->soil_count; i++) {
        if (column->section->soils[i].layer && top_of(column, i) >= level_m) {
            found = i;
        }
    }
    *bottom_m = column->floor_m;
    for (size_t i = found + 1; i < column->section->soil_count; i++) {
        if (column->section->soils[i].layer && top_of(column, i) < level_m) {
            *bottom_m = fmax(*bottom_m, top_of(column, i));
        }
    }
    return found;
}

/* Advances the phase of f = A sin(phase), kv f' = A a mu cos(phase) through the
 * layers from the bed down; the smallest mu has it reach pi/2 at the floor. */
static double phase_at_floor(const far_column *column, double mu)
{
    const double quarter = acos(0.0);
    double phase = 0.0;
    double previous = 0.0;
    double top_m = column->bed_m;
    while (top_m > column->floor_m) {
        double bottom_m;
        const usi_soil *soil = &column->section->soils[layer_below(column, top_m, &bottom_m)];
        double impedance = sqrt(soil->kh_m_s * soil->kv_m_s);
        if (previous > 0.0) {
            phase = atan(tan(phase) * impedance / previous);
        }
        phase += mu * sqrt(soil->kh_m_s / soil->kv_m_s) * (top_m - bottom_m);
        if (phase >= quarter) {
            return phase;
        }
        previous = impedance;
        top_m = bottom_m;
    }
    return phase;
}

double usi_reach_decay(const us_section *section, double bed_m, double floor_m, bool right)
{
    far_column column = {section, bed_m, floor_m, right ? DBL_MAX : -DBL_MAX, right};
    const double quarter = acos(0.0);
    double high = 1.0 / (bed_m - floor_m);
    while (phase_at_floor(&column, high) < quarter) {
        high *= 2.0;
    }
    double low = high;
    while (phase_at_floor(&column, low) >= quarter) {
        low *= 0.5;
    }
    for (int i = 0; i < 100 && high - low > 1e-12 * high; i++) {
        double middle = 0.5 * (low + high);
        if (phase_at_floor(&column, middle) < quarter) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

static void widen(const usi_line *line, double *low_m, double *high_m)
{
    for (size_t i = 0; line->count > 1 && i < line->count; i++) {
        *low_m = fmin(*low_m, line->points[i].x_m);
        *high_m = fmax(*high_m, line->points[i].x_m);
    }
}

/* Outermost features across, and the lowest one, of the section. */
static void outermost(const us_section *section, double *low_m, double *high_m, double *lowest_m)
{
    *low_m = section->left_end_m;
    *high_m = section->right_end_m;
    *lowest_m = fmin(usi_line_lowest(&section->left_bed, -HUGE_VAL, section->left_end_m),
                     usi_line_lowest(&section->right_bed, section->right_end_m, HUGE_VAL));
    widen(&section->left_bed, low_m, high_m);
    widen(&section->right_bed, low_m, high_m);
    if (section->has_base) {
        widen(&section->base, low_m, high_m);
        *lowest_m = fmin(*lowest_m, usi_line_lowest(&section->base, -HUGE_VAL, HUGE_VAL));
    }
    if (section->has_structure) {
        *lowest_m = fmin(*lowest_m, usi_line_lowest(&section->underside, -HUGE_VAL, HUGE_VAL));
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        *low_m = fmin(*low_m, section->walls[i].x_m);
        *high_m = fmax(*high_m, section->walls[i].x_m);
        *lowest_m = fmin(*lowest_m, section->walls[i].solved_tip_m);
    }
    for (size_t i = 1; i < section->soil_count; i++) {
        widen(&section->soils[i].top, low_m, high_m);
        for (size_t k = 0; k < section->soils[i].top.count && !section->has_base; k++) {
            *lowest_m = fmin(*lowest_m, section->soils[i].top.points[k].z_m);
        }
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        const usi_zone *zone = &section->zones[i];
        usi_line outline = {zone->count, zone->outline};
        widen(&outline, low_m, high_m);
        for (size_t k = 0; k < zone->count && !section->has_base; k++) {
            *lowest_m = fmin(*lowest_m, zone->outline[k].z_m);
        }
    }
}

/* How far the cuts are, in lengths of their own. */
typedef struct extent {
    double decay_lengths;
    double depth_ratio;
} extent;

/* Either cut may take half of what is allowed. */
static extent extent_for(double truncation)
{
    extent far = {DECAY_LENGTHS, DEPTH_RATIO};
    if (truncation > 0.0) {
        far.decay_lengths = fmax(far.decay_lengths, 0.5 * log(2.0 / truncation));
        far.depth_ratio = fmax(far.depth_ratio, sqrt(2.0 / truncation));
    }
    return far;
}

static double cut(const us_section *section, const extent *far, double edge_m, double floor_m,
                  bool right)
{
    const usi_line *bed = right ? &section->right_bed : &section->left_bed;
    double bed_m = usi_line_level(bed, right ? DBL_MAX : -DBL_MAX, right);
    if (!section->has_base) {
        double depth_m = bed_m - floor_m;
        return right ? edge_m + depth_m : edge_m - depth_m;
    }
    double bottom_m = usi_line_level(&section->base, right ? DBL_MAX : -DBL_MAX, right);
    double distance_m = far->decay_lengths / usi_reach_decay(section, bed_m, bottom_m, right);
    distance_m = fmax(distance_m, section->right_end_m - section->left_end_m);
    return right ? edge_m + distance_m : edge_m - distance_m;
}

usi_reach usi_reach_find(const us_section *section, double truncation)
{
    extent far = extent_for(truncation);
    usi_reach reach = {.truncation = 0.0};
    double low_m;
    double high_m;
    double lowest_m;
    outermost(section, &low_m, &high_m, &lowest_m);
    if (section->has_base) {
        reach.floor_m = lowest_m;
    } else {
        double size_m = usi_section_size(section);
        reach.floor_m = lowest_m - far.depth_ratio * size_m;
        reach.truncation = 1.0 / (far.depth_ratio * far.depth_ratio);
    }
    bool endless = false;
    if (section->left.kind == USI_SIDE_ENDLESS) {
        reach.left_m = cut(section, &far, low_m, reach.floor_m, false);
        endless = true;
    } else {
        reach.left_m = section->left.x_m;
    }
    if (section->right.kind == USI_SIDE_ENDLESS) {
        reach.right_m = cut(section, &far, high_m, reach.floor_m, true);
        endless = true;
    } else {
        reach.right_m = section->right.x_m;
    }
    if (endless) {
        reach.truncation += exp(-2.0 * far.decay_lengths);
    }
    return reach;
}
