/* Questions about a section that several parts of the library ask. */
#include <math.h>

#include "model/section.h"

static const double COINCIDENCE = 1e-9;
static const double CONTACT_M = 0.1;          /* height of an open contact on the base */
static const double CONTACT_SHARE = 1.0 / 20; /* at most this share of the soil's thickness */

/* The first point that lies at or beyond x, or behind x (`past`). */
static size_t find_point(const usi_line *line, double x_m, bool past)
{
    size_t low = 0;
    size_t high = line->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        double at_m = line->points[middle].x_m;
        if (past ? at_m <= x_m : at_m < x_m) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

double usi_line_level(const usi_line *line, double x_m, bool right)
{
    size_t next = find_point(line, x_m, right);
    if (next == 0) {
        return line->points[0].z_m;
    }
    usi_point a = line->points[next - 1];
    if (next == line->count) {
        return a.z_m;
    }
    usi_point b = line->points[next];
    if (b.x_m == x_m || a.z_m == b.z_m) {
        return b.z_m;
    }
    return a.z_m + (b.z_m - a.z_m) * ((x_m - a.x_m) / (b.x_m - a.x_m));
}

/* The extreme of the pieces that overlap (from, to): sign +1 highest, -1 lowest. */
static double extreme(const usi_line *line, double from_m, double to_m, double sign)
{
    double found_m = sign * usi_line_level(line, from_m, true);
    found_m = fmax(found_m, sign * usi_line_level(line, to_m, false));
    for (size_t i = 0; i < line->count; i++) {
        if (line->points[i].x_m > from_m && line->points[i].x_m < to_m) {
            found_m = fmax(found_m, sign * line->points[i].z_m);
        }
    }
    return sign * found_m;
}

double usi_line_lowest(const usi_line *line, double from_m, double to_m)
{
    return extreme(line, from_m, to_m, -1.0);
}

double usi_line_highest(const usi_line *line, double from_m, double to_m)
{
    return extreme(line, from_m, to_m, 1.0);
}

double usi_soil_top(const usi_soil *soil)
{
    return soil->top.count > 0 ? soil->top.points[0].z_m : 0.0;
}

double usi_section_surface(const us_section *section, double x_m, bool right)
{
    if (right ? x_m < section->left_end_m : x_m <= section->left_end_m) {
        return usi_line_level(&section->left_bed, x_m, right);
    }
    if (right ? x_m >= section->right_end_m : x_m > section->right_end_m) {
        return usi_line_level(&section->right_bed, x_m, right);
    }
    return usi_line_level(&section->underside, x_m, right);
}

double usi_section_base(const us_section *section, double x_m, bool right)
{
    return usi_line_level(&section->base, x_m, right);
}

double usi_section_open_contact(const us_section *section, double x_m)
{
    double surface_m =
        fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
    double base_m =
        fmax(usi_section_base(section, x_m, false), usi_section_base(section, x_m, true));
    return fmin(CONTACT_M, CONTACT_SHARE * (surface_m - base_m));
}

const usi_line *usi_section_downstream_bed(const us_section *section)
{
    return section->flows_left ? &section->left_bed : &section->right_bed;
}

const usi_line *usi_section_upstream_bed(const us_section *section)
{
    return section->flows_left ? &section->right_bed : &section->left_bed;
}

double usi_section_toe_x(const us_section *section)
{
    return section->flows_left ? section->left_end_m : section->right_end_m;
}

double usi_section_heel_x(const us_section *section)
{
    return section->flows_left ? section->right_end_m : section->left_end_m;
}

typedef struct extent {
    double low_m;
    double high_m;
} extent;

static void widen(extent *of, double value_m)
{
    of->low_m = fmin(of->low_m, value_m);
    of->high_m = fmax(of->high_m, value_m);
}

static void widen_line(extent *x, extent *z, const usi_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        widen(z, line->points[i].z_m);
        if (line->count > 1) {
            widen(x, line->points[i].x_m);
        }
    }
}

double usi_section_size(const us_section *section)
{
    extent x = {HUGE_VAL, -HUGE_VAL};
    extent z = {HUGE_VAL, -HUGE_VAL};
    widen(&x, section->left_end_m);
    widen(&x, section->right_end_m);
    widen_line(&x, &z, &section->left_bed);
    widen_line(&x, &z, &section->right_bed);
    widen_line(&x, &z, &section->base);
    widen_line(&x, &z, &section->underside);
    widen_line(&x, &z, &section->structure_top);
    for (size_t i = 0; i < section->wall_count; i++) {
        widen(&x, section->walls[i].x_m);
        widen(&z, section->walls[i].top_m);
        widen(&z, section->walls[i].tip_m);
    }
    for (size_t i = 1; i < section->soil_count; i++) {
        widen_line(&x, &z, &section->soils[i].top);
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        usi_line outline = {section->zones[i].count, section->zones[i].outline};
        widen_line(&x, &z, &outline);
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        widen(&x, section->drains[i].from.x_m);
        widen(&x, section->drains[i].to.x_m);
        widen(&z, section->drains[i].from.z_m);
        widen(&z, section->drains[i].to.z_m);
    }
    if (section->left.kind != USI_SIDE_ENDLESS) {
        widen(&x, section->left.x_m);
    }
    if (section->right.kind != USI_SIDE_ENDLESS) {
        widen(&x, section->right.x_m);
    }
    double size_m = fmax(x.high_m - x.low_m, z.high_m - z.low_m);
    return size_m > 0.0 ? size_m : 1.0;
}

double usi_section_tolerance(const us_section *section)
{
    return COINCIDENCE * usi_section_size(section);
}
