#include "quantity/uplift.h"

#include <math.h>

/* Adds a pressure (as head) that runs linearly from pa at a to pb at b, both
 * zero or more. */
static void add_strip(usi_uplift_reading *reading, double a_m, double b_m, double pa_m, double pb_m)
{
    double width_m = b_m - a_m;
    reading->force_n_m += 0.5 * width_m * (pa_m + pb_m);
    reading->moment_n += width_m * (pa_m * (2.0 * a_m + b_m) + pb_m * (a_m + 2.0 * b_m)) / 6.0;
}

static void add_clipped(usi_uplift_reading *reading, double a_m, double b_m, double pa_m,
                        double pb_m)
{
    if (pa_m >= 0.0 && pb_m >= 0.0) {
        add_strip(reading, a_m, b_m, pa_m, pb_m);
        return;
    }
    reading->suction = true;
    if (pa_m <= 0.0 && pb_m <= 0.0) {
        return;
    }
    double zero_m = a_m + (b_m - a_m) * pa_m / (pa_m - pb_m);
    if (pa_m > 0.0) {
        add_strip(reading, a_m, zero_m, pa_m, 0.0);
    } else {
        add_strip(reading, zero_m, b_m, 0.0, pb_m);
    }
}

/* The part of a piece within a stretch. */
static void add_piece(const usi_underside_piece *piece, usi_stretch over, usi_datum datum,
                      usi_uplift_reading *reading)
{
    double width_m = piece->ends[1].x_m - piece->ends[0].x_m;
    double x_m[2];
    double pressure_m[2];
    for (int k = 0; k < 2; k++) {
        double limit_m = k == 0 ? over.from_m : over.to_m;
        bool inside = k == 0 ? piece->ends[k].x_m >= limit_m : piece->ends[k].x_m <= limit_m;
        x_m[k] = inside ? piece->ends[k].x_m : limit_m;
        double share = inside ? (double)k : (x_m[k] - piece->ends[0].x_m) / width_m;
        double reduced = (1.0 - share) * piece->reduced[0] + share * piece->reduced[1];
        double level_m = (1.0 - share) * piece->ends[0].z_m + share * piece->ends[1].z_m;
        pressure_m[k] = datum.zero_m + datum.unit_m * reduced - level_m;
    }
    if (x_m[0] < x_m[1]) {
        add_clipped(reading, x_m[0], x_m[1], pressure_m[0], pressure_m[1]);
    }
}

usi_uplift_reading usi_uplift_read(const usi_underside *underside, usi_stretch over,
                                   usi_datum datum)
{
    double water_n_m3 = underside->section->water_unit_weight_n_m3;
    usi_uplift_reading reading = {0};
    for (size_t k = 0; k < underside->count; k++) {
        add_piece(&underside->pieces[k], over, datum, &reading);
    }
    reading.force_n_m *= water_n_m3;
    reading.moment_n *= water_n_m3;
    return reading;
}

size_t usi_uplift_panel_count(const us_section *section)
{
    return section->joint_count + 1;
}

usi_stretch usi_uplift_panel(const us_section *section, size_t index)
{
    return (usi_stretch){index > 0 ? section->joints_m[index - 1] : section->left_end_m,
                         index < section->joint_count ? section->joints_m[index]
                                                      : section->right_end_m};
}

usi_stretch usi_uplift_whole(const us_section *section)
{
    return (usi_stretch){section->left_end_m, section->right_end_m};
}

/* Next vertex of a line right of x, no further than `to_m`. */
static double next_vertex(const usi_line *line, double x_m, double to_m)
{
    for (size_t k = 0; k < line->count; k++) {
        if (line->points[k].x_m > x_m) {
            return fmin(line->points[k].x_m, to_m);
        }
    }
    return to_m;
}

/* What lies between two lines, as far as the upper one is above the lower one. */
static usi_load between(const usi_line *upper, const usi_line *lower, usi_stretch over,
                        double unit_weight_n_m3)
{
    usi_uplift_reading area = {0};
    double a_m = over.from_m;
    while (a_m < over.to_m) {
        double b_m = fmin(next_vertex(upper, a_m, over.to_m), next_vertex(lower, a_m, over.to_m));
        double at_a_m = usi_line_level(upper, a_m, true) - usi_line_level(lower, a_m, true);
        double at_b_m = usi_line_level(upper, b_m, false) - usi_line_level(lower, b_m, false);
        add_clipped(&area, a_m, b_m, at_a_m, at_b_m);
        a_m = b_m;
    }
    return (usi_load){area.force_n_m * unit_weight_n_m3, area.moment_n * unit_weight_n_m3};
}

usi_load usi_structure_load(const us_section *section, usi_stretch over)
{
    return between(&section->structure_top, &section->underside, over,
                   section->structure_unit_weight_n_m3);
}

usi_load usi_surface_load(const us_section *section, const usi_line *surface, usi_stretch over)
{
    if (surface->count == 0) {
        return (usi_load){0.0, 0.0};
    }
    return between(surface, &section->structure_top, over, section->water_unit_weight_n_m3);
}

double usi_structure_weight(const us_section *section)
{
    return usi_structure_load(section, usi_uplift_whole(section)).force_n_m;
}

double usi_structure_centroid_x(const us_section *section)
{
    usi_load area =
        between(&section->structure_top, &section->underside, usi_uplift_whole(section), 1.0);
    return area.force_n_m > 0.0 ? area.moment_n / area.force_n_m
                                : 0.5 * (section->left_end_m + section->right_end_m);
}

const double usi_thickness_allowance = 4.0 / 3.0;

double usi_thickness_submerged(double head_m, double ratio)
{
    return fmax(head_m, 0.0) / (ratio - 1.0);
}

double usi_thickness_dry(double head_m, double ratio)
{
    return fmax(head_m, 0.0) / ratio;
}
