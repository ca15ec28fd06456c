#include "quantity/bed_peak.h"

#include <math.h>

#include "model/situation.h"

static const double CURVE_TURN = 3.14159265358979323846 / 9.0; /* 20 degrees */

/* True beside a side where the gradient is unbounded, where the section only ends: a closed
 * one that a falling bed meets, at more than a right angle, or one of another head. */
static bool near_side(const us_section *section, double x_m, const usi_exit *toe)
{
    bool right = !section->flows_left;
    const usi_side *side = right ? &section->right : &section->left;
    if (side->kind == USI_SIDE_ENDLESS || fabs(side->x_m - x_m) >= toe->mean_depth_m) {
        return false;
    }
    if (side->kind == USI_SIDE_FIXED_HEAD) {
        return usi_situation_side_differs(section);
    }
    const usi_line *bed = usi_section_downstream_bed(section);
    double end_m = usi_line_level(bed, side->x_m, !right);
    return end_m < usi_line_level(bed, x_m, !right) - usi_section_tolerance(section);
}

/* Slope of the piece of bed that ends, or begins, at a vertex, and its length; beyond the
 * ends level, to the works or endless. False for an upright one. */
static bool piece_beside(const us_section *section, size_t vertex, bool after, double *slope,
                         double *length_m)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    *slope = 0.0;
    *length_m = HUGE_VAL;
    if (after ? vertex + 1 == bed->count : vertex == 0) {
        if (after == section->flows_left) {
            *length_m = fabs(bed->points[vertex].x_m - usi_section_toe_x(section));
        }
        return true;
    }
    usi_point a = bed->points[after ? vertex : vertex - 1];
    usi_point b = bed->points[after ? vertex + 1 : vertex];
    *length_m = b.x_m - a.x_m;
    *slope = (b.z_m - a.z_m) / *length_m;
    return b.x_m > a.x_m;
}

/* Half the width of what a hollow vertex spoils, where it turns by less than `most_rad`: a
 * share of the shorter piece there; 0 for any other vertex. A vertex that turns little
 * stands for a curve: its own gradient, which a grid would follow without end, is none of
 * the curve's. */
static double hollow_reach(const us_section *section, size_t vertex, double most_rad)
{
    static const double curve_share = 0.1;
    double before;
    double after;
    double before_m;
    double after_m;
    bool hollow = usi_section_downstream_bed(section)->count > 1 &&
                  piece_beside(section, vertex, false, &before, &before_m) &&
                  piece_beside(section, vertex, true, &after, &after_m) && after > before &&
                  atan(after) - atan(before) < most_rad;
    return hollow ? curve_share * fmin(before_m, after_m) : 0.0;
}

static bool near_hollow(const us_section *section, double x_m, double most_rad, const usi_exit *but)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    for (size_t k = 0; k < bed->count; k++) {
        bool own = but != NULL && bed->points[k].x_m == but->at.x_m;
        if (!own && fabs(x_m - bed->points[k].x_m) < hollow_reach(section, k, most_rad)) {
            return true;
        }
    }
    return false;
}

bool usi_bed_is_hollow(const us_section *section, double x_m)
{
    return near_hollow(section, x_m, CURVE_TURN, NULL);
}

bool usi_bed_is_unsure(const us_section *section, double x_m, const usi_exit *exits,
                       const usi_exit_reading *readings, size_t count, const usi_exit *but)
{
    if (count > 0 &&
        (near_side(section, x_m, &exits[0]) || near_hollow(section, x_m, HUGE_VAL, but))) {
        return true;
    }
    for (size_t e = 0; e < count; e++) {
        if (&exits[e] != but && !readings[e].bounded &&
            fabs(x_m - exits[e].at.x_m) < exits[e].mean_depth_m) {
            return true;
        }
    }
    return false;
}

/* What one place on the bed has to the largest so far. */
static void take(usi_bed_peak *peak, double gradient, usi_point at)
{
    if (!peak->found || gradient > peak->gradient_1_m) {
        *peak = (usi_bed_peak){true, gradient, at.x_m, at.z_m, false, 0.0};
    }
}

/* The exits of a section as they were read. */
typedef struct exits_read {
    const usi_exit *exits;
    const usi_exit_reading *readings;
    size_t count;
} exits_read;

/* Looks right beside what is kept clear of around x: grid lines, where the search goes
 * otherwise, would come nearer to it from grid to grid. */
static void look_beside(const usi_bed *bed, const exits_read *of, double x_m, double reach_m,
                        usi_bed_peak *peak)
{
    static const double clear = 1.0 + 1e-9;
    const us_section *section = bed->field->grid->section;
    for (int side = 0; side < 2; side++) {
        double at_m = x_m + (side == 0 ? -clear : clear) * reach_m;
        if (usi_bed_is_unsure(section, at_m, of->exits, of->readings, of->count, NULL)) {
            continue;
        }
        usi_bed_gradient found =
            usi_bed_gradient_at(bed, at_m, side == 0 ? USI_FACE_LEFT : USI_FACE_RIGHT);
        double level_m = usi_line_level(usi_section_downstream_bed(section), at_m, side == 1);
        if (found.present) {
            take(peak, found.value_1_m, (usi_point){at_m, level_m});
        }
    }
}

static void look_beside_all(const usi_bed *bed, const exits_read *of, usi_bed_peak *peak)
{
    const us_section *section = bed->field->grid->section;
    const usi_line *line = usi_section_downstream_bed(section);
    for (size_t k = 0; k < line->count; k++) {
        double reach_m = hollow_reach(section, k, HUGE_VAL);
        if (reach_m > 0.0) {
            look_beside(bed, of, line->points[k].x_m, reach_m, peak);
        }
    }
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    if (of->count > 0 && near_side(section, side->x_m, &of->exits[0])) {
        look_beside(bed, of, side->x_m, of->exits[0].mean_depth_m, peak);
    }
    for (size_t e = 0; e < of->count; e++) {
        if (!of->readings[e].bounded) {
            look_beside(bed, of, of->exits[e].at.x_m, of->exits[e].mean_depth_m, peak);
        }
    }
}

usi_bed_peak usi_bed_peak_find(const usi_bed *bed, const usi_exit *exits,
                               const usi_exit_reading *readings, size_t count)
{
    const us_section *section = bed->field->grid->section;
    exits_read of = {exits, readings, count};
    usi_bed_peak peak = {.found = false};
    look_beside_all(bed, &of, &peak);
    for (size_t r = 0; r < bed->run_count; r++) {
        for (size_t k = bed->runs[r].first; k < bed->runs[r].last; k++) {
            usi_bed_sample samples[2];
            size_t taken = usi_bed_samples(bed, r, k, samples);
            for (size_t n = 0; n < taken; n++) {
                if (!usi_bed_is_unsure(section, samples[n].at.x_m, exits, readings, count, NULL)) {
                    take(&peak, samples[n].gradient_1_m, samples[n].at);
                }
            }
        }
    }
    if (peak.found && count > 0) {
        usi_point at = {peak.x_m, peak.level_m};
        usi_reduced mean = usi_exit_mean(bed->field, at, exits[0].bed, exits[0].mean_depth_m);
        peak.has_mean = mean.present;
        peak.mean_1_m = mean.value;
    }
    return peak;
}
