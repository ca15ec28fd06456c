#include "draw/window.h"

#include <math.h>

/* Heights over widths that a plot may take. */
static const double tallest = 0.60;
static const double tallest_boxed = 0.75; /* where both sides are given */
static const double flattest = 0.24;
static const double flat_enough = 0.45; /* more is not taken to show thin soil */

/* Page units: about how wide a plot is, and how thick the band below the base. */
static const double plot_width = 920;
static const double band_units = 30;
static const double least_soil = 80; /* depth of soil that holds a net */

typedef struct extent {
    double left_m, right_m; /* of structure and walls */
    double surface_m;       /* highest soil */
    double deepest_m;       /* lowest tip or underside */
    double crest_m;         /* highest soil, wall or structure */
} extent;

static double higher(double a, double b)
{
    return a > b ? a : b;
}

static double lower(double a, double b)
{
    return a < b ? a : b;
}

static void take_line(extent *core, const usi_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        core->crest_m = higher(core->crest_m, line->points[i].z_m);
    }
}

static extent find_extent(const us_section *section)
{
    double left_bed_m = usi_line_level(&section->left_bed, section->left_end_m, false);
    double right_bed_m = usi_line_level(&section->right_bed, section->right_end_m, true);
    extent core = {.left_m = section->left_end_m,
                   .right_m = section->right_end_m,
                   .surface_m = higher(left_bed_m, right_bed_m),
                   .deepest_m = lower(left_bed_m, right_bed_m)};
    core.crest_m = core.surface_m;
    if (section->has_structure) {
        double low_m =
            usi_line_lowest(&section->underside, section->left_end_m, section->right_end_m);
        core.deepest_m = lower(core.deepest_m, low_m);
        take_line(&core, &section->underside);
        take_line(&core, &section->structure_top);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        core.left_m = lower(core.left_m, wall->x_m);
        core.right_m = higher(core.right_m, wall->x_m);
        core.deepest_m = lower(core.deepest_m, wall->solved_tip_m);
        core.crest_m = higher(core.crest_m, wall->top_m);
    }
    return core;
}

/* How far sideways the net spreads for its depth: with sqrt(kh/kv), up to a
 * limit that keeps the structure large. */
static double find_stretch(const us_section *section)
{
    double most = 1;
    for (size_t i = 0; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            most = higher(most, sqrt(section->soils[i].kh_m_s / section->soils[i].kv_m_s));
        }
    }
    return lower(most, 1.6);
}

static double lowest_base(const us_section *section, const extent *core, double beyond_m)
{
    return usi_line_lowest(&section->base, core->left_m - beyond_m, core->right_m + beyond_m);
}

/* Lowest soil shown: the base, or a stated distance below the deepest point. */
static double find_floor(const us_section *section, const extent *core, usi_window *window)
{
    double embedded_m = core->surface_m - core->deepest_m;
    double half_m = 0.5 * (section->right_end_m - section->left_end_m);
    double scale_m = higher(embedded_m, half_m);
    if (!(scale_m > 0)) { /* nothing stands in the soil: nothing to measure it by */
        return section->has_base ? lowest_base(section, core, 0) : core->deepest_m - 1;
    }
    if (!section->has_base) {
        return core->deepest_m - higher(2 * embedded_m, half_m);
    }
    double base_m = lowest_base(section, core, 3 * scale_m);
    window->base_below = core->surface_m - base_m > 6 * scale_m;
    return window->base_below ? core->deepest_m - 3 * scale_m : base_m;
}

/* Steps of a bed or base that lie near are shown too. */
static void include_steps(usi_window *window, const usi_line *line, double near_m)
{
    if (line->count < 2) {
        return;
    }
    double left_m = window->low.x_m;
    double right_m = window->high.x_m;
    for (size_t i = 0; i < line->count; i++) {
        double x_m = line->points[i].x_m;
        if (x_m > left_m - near_m && x_m < right_m + near_m) {
            window->low.x_m = lower(window->low.x_m, x_m - 0.3 * near_m);
            window->high.x_m = higher(window->high.x_m, x_m + 0.3 * near_m);
        }
    }
}

/* Sides that are given end the picture where they are not far away. */
static void fit_sides(const us_section *section, usi_window *window, double near_m)
{
    double pad_m = 0.04 * (window->high.x_m - window->low.x_m);
    const usi_side *left = &section->left;
    const usi_side *right = &section->right;
    if (left->kind != USI_SIDE_ENDLESS && left->x_m > window->low.x_m - near_m) {
        window->low.x_m = left->x_m - pad_m;
    }
    if (right->kind != USI_SIDE_ENDLESS && right->x_m < window->high.x_m + near_m) {
        window->high.x_m = right->x_m + pad_m;
    }
}

/* Heights of a plot in units of its width. */
typedef struct shape {
    double most;
    double least;
    double soil_m; /* depth of the soil to be shown */
} shape;

/* Keeps the plot neither tower nor ribbon: a tall section is shown with more
 * soil at its sides, a flat one with its heights exaggerated by a stated,
 * round factor. */
static void fit_shape(usi_window *window, shape fit)
{
    static const double factors[] = {1, 1.5, 2, 2.5, 3, 4, 5, 8, 10, 15, 20, 30, 50, 100, 200, 500};
    double width_m = window->high.x_m - window->low.x_m;
    double height_m = window->high.z_m - window->low.z_m;
    if (height_m > fit.most * width_m) {
        double more_m = height_m / fit.most - width_m;
        window->low.x_m -= 0.5 * more_m;
        window->high.x_m += 0.5 * more_m;
        width_m += more_m;
    }
    size_t last = sizeof factors / sizeof factors[0] - 1;
    size_t i = 0;
    while (i < last && (factors[i] * height_m < fit.least * width_m ||
                        (factors[i] * fit.soil_m * plot_width < least_soil * width_m &&
                         factors[i + 1] * height_m < flat_enough * width_m))) {
        i++;
    }
    window->exaggeration = factors[i];
    window->height = factors[i] * height_m / width_m;
}

usi_window usi_window_choose(const us_section *section, const usi_water *water)
{
    usi_window window = {.exaggeration = 1};
    extent core = find_extent(section);
    double floor_m = find_floor(section, &core, &window);
    double depth_m = core.surface_m - floor_m;
    double margin_m =
        higher(1.1 * depth_m * find_stretch(section), 0.18 * (core.right_m - core.left_m));
    window.low.x_m = core.left_m - margin_m;
    window.high.x_m = core.right_m + margin_m;
    include_steps(&window, &section->left_bed, margin_m);
    include_steps(&window, &section->right_bed, margin_m);
    if (section->has_base) {
        include_steps(&window, &section->base, 0.5 * margin_m);
    }
    fit_sides(section, &window, 0.6 * margin_m);
    double water_m = higher(water->upstream_m, water->downstream_m);
    /* Water much higher than the soil is deep would dwarf it. */
    double limit_m =
        higher(core.crest_m + depth_m, floor_m + 0.5 * (window.high.x_m - window.low.x_m));
    double highest_m = lower(higher(core.crest_m, water_m), limit_m);
    window.water_above = water_m > highest_m;
    double height_m = highest_m - floor_m;
    window.high.z_m = highest_m + 0.12 * height_m;
    window.low.z_m = floor_m;
    bool boxed = section->left.kind != USI_SIDE_ENDLESS && section->right.kind != USI_SIDE_ENDLESS;
    shape fit = {boxed ? tallest_boxed : tallest, flattest, depth_m};
    double top_m = window.high.z_m;
    fit_shape(&window, fit);
    /* A band below the base and another above everything, each for a line of text;
     * what they add may change the scale that they are measured in. */
    for (int pass = 0; pass < 3; pass++) {
        double unit_m = (window.high.z_m - window.low.z_m) / (window.height * plot_width);
        if (section->has_base && !window.base_below) {
            window.low.z_m = floor_m - band_units * unit_m;
        }
        window.high.z_m = higher(top_m, highest_m + band_units * unit_m);
        fit_shape(&window, fit);
    }
    return window;
}

/* Heights that a part has at most and at least, in units of its width. */
static const double part_tallest = 0.36;
static const double part_flattest = 0.17;
/* Water or works over the soil, and soil under it, are cut off beyond this. */
static const double part_above = 0.16;
static const double part_below = 0.20;

/* Works and beds between two x. */
static extent find_part(const us_section *section, double left_m, double right_m)
{
    enum { SAMPLES = 200 };
    extent part = {.left_m = left_m, .right_m = right_m, .surface_m = -HUGE_VAL};
    part.deepest_m = HUGE_VAL;
    for (int i = 0; i <= SAMPLES; i++) {
        double x_m = left_m + (right_m - left_m) * i / SAMPLES;
        double z_m = usi_section_surface(section, x_m, true);
        part.surface_m = higher(part.surface_m, z_m);
        part.deepest_m = lower(part.deepest_m, z_m);
    }
    part.crest_m = part.surface_m;
    if (section->structure_top.count > 0 && left_m < section->right_end_m &&
        right_m > section->left_end_m) {
        double top_m =
            usi_line_highest(&section->structure_top, higher(left_m, section->left_end_m),
                             lower(right_m, section->right_end_m));
        part.crest_m = higher(part.crest_m, top_m);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (wall->x_m >= left_m && wall->x_m <= right_m) {
            part.crest_m = higher(part.crest_m, wall->top_m);
            part.deepest_m = lower(part.deepest_m, wall->solved_tip_m);
        }
    }
    return part;
}

/* The highest water that stands between two x. */
static double highest_water(const us_section *section, const usi_water *water, double left_m,
                            double right_m)
{
    bool upstream = section->flows_left ? right_m > usi_section_heel_x(section)
                                        : left_m < usi_section_heel_x(section);
    return upstream ? higher(water->upstream_m, water->downstream_m) : water->downstream_m;
}

/* Lowest level of a part: below its works, but not in the midst of a seam, and with a
 * band for the base where that is near. */
static double find_part_floor(const us_section *section, const extent *part, double highest_m)
{
    double left_m = part->left_m;
    double right_m = part->right_m;
    double width_m = right_m - left_m;
    double lowest_m = usi_line_lowest(usi_section_downstream_bed(section), left_m, right_m);
    if (section->has_structure) {
        lowest_m = lower(lowest_m, usi_line_lowest(&section->underside, left_m, right_m));
    }
    double floor_m = higher(part->deepest_m, lowest_m - part_below * width_m);
    /* Some soil under the works, whether or not they have walls. */
    double height_m = higher(highest_m - floor_m, 0.06 * width_m);
    double low_m = floor_m - 0.35 * height_m;
    if (part->deepest_m < low_m + 0.05 * height_m && part->deepest_m > low_m - 0.2 * height_m) {
        low_m = part->deepest_m - 0.1 * height_m;
    }
    for (size_t i = 1; i < section->soil_count; i++) {
        double top_m = usi_soil_top(&section->soils[i]);
        if (section->soils[i].layer && top_m > low_m && top_m < low_m + 0.08 * height_m &&
            top_m < floor_m) {
            low_m = top_m;
        }
    }
    if (section->has_base) {
        low_m = higher(low_m, usi_line_lowest(&section->base, left_m, right_m));
    }
    return low_m;
}

usi_window usi_window_part(const us_section *section, const usi_water *water, double left_m,
                           double right_m)
{
    usi_window window = {.exaggeration = 1, .low = {left_m, 0}, .high = {right_m, 0}};
    extent part = find_part(section, left_m, right_m);
    double water_m = highest_water(section, water, left_m, right_m);
    double highest_m =
        lower(higher(part.crest_m, water_m), part.surface_m + part_above * (right_m - left_m));
    double floor_m = find_part_floor(section, &part, highest_m);
    shape fit = {part_tallest, part_flattest, HUGE_VAL};
    bool based = false;
    window.low.z_m = floor_m;
    window.high.z_m = highest_m + 0.18 * (highest_m - floor_m);
    double top_m = window.high.z_m;
    if (section->has_base) {
        based = floor_m <= usi_line_lowest(&section->base, left_m, right_m);
    }
    fit_shape(&window, fit);
    for (int pass = 0; pass < 3; pass++) {
        double unit_m = (window.high.z_m - window.low.z_m) / (window.height * plot_width);
        window.low.z_m = floor_m - (based ? band_units * unit_m : 0);
        window.high.z_m = higher(top_m, highest_m + band_units * unit_m);
        fit_shape(&window, fit);
    }
    window.water_above = water_m > window.high.z_m;
    window.base_below =
        section->has_base &&
        window.low.z_m >= usi_line_highest(&section->base, window.low.x_m, window.high.x_m);
    return window;
}
