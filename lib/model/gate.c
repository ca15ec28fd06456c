/* What this release reads but cannot solve yet. */
#include <math.h>

#include "model/check.h"

/* True after refusing the first sloped piece of a line. */
static bool refuse_slope(usi_check *check, const usi_raw_line *raw, const usi_line *line)
{
    for (size_t i = 1; i < line->count; i++) {
        const usi_point *a = &line->points[i - 1];
        const usi_point *b = &line->points[i];
        if (b->x_m > a->x_m && b->z_m != a->z_m) {
            usi_check_error(check, &raw->points[i].mark,
                            "give level pieces, joined by vertical steps",
                            "not yet: a sloped piece ends here; this release reads level and "
                            "vertical pieces");
            return true;
        }
    }
    return false;
}

static bool refuse_broken_top(usi_check *check, const usi_raw_line *raw, const usi_line *top)
{
    for (size_t i = 1; i < top->count; i++) {
        if (fabs(top->points[i].z_m - top->points[0].z_m) > check->tolerance_m) {
            usi_check_error(check, &raw->points[i].mark, "give one level",
                            "not yet: this release reads level layers");
            return true;
        }
    }
    return false;
}

void usi_check_drawable(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    if (raw->any_shape) {
        return;
    }
    bool left = section->flows_left;
    bool refused = false;
    if (check->shaped) {
        refused = refuse_slope(check, left ? &raw->bed.downstream : &raw->bed.upstream,
                               &section->left_bed);
        refused = refuse_slope(check, left ? &raw->bed.upstream : &raw->bed.downstream,
                               &section->right_bed) ||
                  refused;
        refused = refuse_slope(check, &raw->base, &section->base) || refused;
        refused = refuse_slope(check, &raw->structure.underside, &section->underside) || refused;
        refused = refuse_slope(check, &raw->structure.top, &section->structure_top) || refused;
        check->shaped = !refused;
    }
    for (size_t i = 1; i < section->soil_count && check->layered; i++) {
        const usi_raw_soil *soil = (const usi_raw_soil *)raw->soils.items + i;
        check->layered = !refuse_broken_top(check, &soil->top, &section->soils[i].top);
    }
    if (section->zone_count > 0) {
        usi_check_error(check, &raw->zones.at, "leave the key out: a later release will solve it",
                        "not yet: this release reads zones, but cannot solve them");
        check->zoned = false;
    }
}
