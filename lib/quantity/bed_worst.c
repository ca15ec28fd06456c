#include "quantity/bed_worst.h"

#include <float.h>
#include <math.h>

#include "model/situation.h"
#include "quantity/bed_peak.h"

/* What holds for a side of bed. Grids do not follow where soils meet that differ in weight alone:
 * of the soils at both ends the one that bears less counts. */
static usi_critical critical_of(const us_section *section, const usi_edge_side *side, size_t *soil)
{
    usi_point a = side->ends[0];
    usi_point b = side->ends[1];
    usi_point middle = {0.5 * (a.x_m + b.x_m), 0.5 * (a.z_m + b.z_m)};
    double rise = (b.z_m - a.z_m) / (b.x_m - a.x_m);
    bool emerges = usi_critical_emerges(section, middle, true);
    size_t other = usi_section_soil_at(section, b, false, false);
    *soil = usi_section_soil_at(section, a, true, false);
    usi_critical found = usi_critical_of(section, &section->soils[*soil], rise, emerges);
    if (other != *soil) {
        usi_critical second = usi_critical_of(section, &section->soils[other], rise, emerges);
        bool less = second.lacks == found.lacks && second.gradient < found.gradient;
        if (less || second.lacks > found.lacks) {
            *soil = other;
            return second;
        }
    }
    return found;
}

static bool alike(const usi_critical *one, const usi_critical *other)
{
    const double same = 1e-6; /* of a straight piece, cut anywhere */
    return one->lacks == other->lacks && one->emerges == other->emerges &&
           fabs(one->slope_rad - other->slope_rad) < same &&
           fabs(one->gradient - other->gradient) < same * one->level + DBL_MIN &&
           fabs(one->aside - other->aside) < same;
}

static bool is_uniform(const usi_bed *bed)
{
    const us_section *section = bed->field->grid->section;
    usi_critical first = {0};
    for (size_t k = 0; k < bed->sides.count; k++) {
        size_t soil;
        usi_critical here = critical_of(section, &bed->sides.list[k], &soil);
        if (k == 0) {
            first = here;
        } else if (!alike(&first, &here)) {
            return false;
        }
    }
    return true;
}

/* How near a place is to its critical gradient. */
static double nearness(const usi_bed_worst *one, double unit_m)
{
    double gradient = one->gradient_1_m - one->critical.aside / unit_m;
    return one->critical.gradient > 0.0 ? gradient / one->critical.gradient : one->gradient_1_m;
}

static void take(usi_bed_worst *worst, const usi_bed_worst *next, double unit_m)
{
    usi_bed_worst_kind kind = USI_BED_WORST_KNOWN;
    if (next->critical.lacks != USI_LACK_NOTHING) {
        kind = USI_BED_WORST_UNKNOWN;
    } else if (next->critical.gradient <= 0.0) {
        kind = USI_BED_WORST_SLIDING;
    }
    if (!worst[kind].found || nearness(next, unit_m) > nearness(&worst[kind], unit_m)) {
        worst[kind] = *next;
    }
}

void usi_bed_worst_find(const usi_bed *bed, const usi_exit *exits, const usi_exit_reading *readings,
                        size_t count, usi_bed_worst worst[USI_BED_WORST_COUNT])
{
    const us_section *section = bed->field->grid->section;
    /* Without a situation nothing emerges, and no unit matters. */
    double unit_m = section->situation != NULL ? usi_datum_of(section, 0).unit_m : 1.0;
    if (bed->field->sealed || is_uniform(bed)) {
        return;
    }
    for (size_t r = 0; r < bed->run_count; r++) {
        for (size_t k = bed->runs[r].first; k < bed->runs[r].last; k++) {
            usi_bed_sample samples[2];
            size_t taken = usi_bed_samples(bed, r, k, samples);
            usi_bed_worst next = {.found = true};
            next.critical = critical_of(section, &bed->sides.list[k], &next.soil);
            for (size_t n = 0; n < taken; n++) {
                next.at = samples[n].at;
                next.gradient_1_m = samples[n].gradient_1_m;
                if (!usi_bed_is_unsure(section, next.at.x_m, exits, readings, count, NULL)) {
                    take(worst, &next, unit_m);
                }
            }
        }
    }
}
