#include "model/exits.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Without embedment nothing fixes a depth: a tenth of the floor, but never more
 * than a quarter of the soil below. */
static const double FLOOR_SHARE = 0.1;
static const double SOIL_SHARE = 0.25;

/* Lowest level reached from `from_m` downwards along walls at x, without a gap. */
static double follow_walls(const us_section *section, double x_m, double from_m)
{
    double tolerance_m = usi_section_tolerance(section);
    double low_m = from_m;
    for (bool moved = true; moved;) {
        moved = false;
        for (size_t i = 0; i < section->wall_count; i++) {
            const usi_wall *wall = &section->walls[i];
            if (fabs(wall->x_m - x_m) <= tolerance_m && wall->top_m >= low_m - tolerance_m &&
                wall->solved_tip_m < low_m - tolerance_m) {
                low_m = wall->solved_tip_m;
                moved = true;
            }
        }
    }
    return low_m;
}

static double soil_below(const us_section *section, usi_point at, bool right)
{
    return section->has_base ? at.z_m - usi_section_base(section, at.x_m, right) : HUGE_VAL;
}

/* Beds that meet with nothing between them have no floor and no flow: any depth
 * will do. */
static double floor_depth(const us_section *section)
{
    double floor_m = section->right_end_m - section->left_end_m;
    return floor_m > 0.0 ? FLOOR_SHARE * floor_m : 1.0;
}

static usi_exit toe(const us_section *section)
{
    bool bed_right = !section->flows_left;
    double x_m = usi_section_toe_x(section);
    double bed_m = usi_line_level(usi_section_downstream_bed(section), x_m, bed_right);
    double low_m = bed_m;
    if (section->has_structure) {
        low_m = fmin(low_m, usi_line_level(&section->underside, x_m, !bed_right));
    }
    low_m = follow_walls(section, x_m, low_m);
    usi_exit exit = {.kind = USI_EXIT_TOE,
                     .at = {x_m, bed_m},
                     .bed = bed_right ? USI_FACE_RIGHT : USI_FACE_LEFT,
                     .embedment_m = bed_m - low_m};
    if (exit.embedment_m <= usi_section_tolerance(section)) {
        exit.embedment_m = 0.0;
        exit.mean_depth_m =
            fmin(floor_depth(section), SOIL_SHARE * soil_below(section, exit.at, bed_right));
    } else {
        exit.mean_depth_m = exit.embedment_m;
    }
    return exit;
}

/* True when x lies on the used part of the downstream bed, its inner end apart. */
static bool on_bed(const us_section *section, double x_m)
{
    double tolerance_m = usi_section_tolerance(section);
    double toe_m = usi_section_toe_x(section);
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    double outward = section->flows_left ? -1.0 : 1.0;
    if (outward * (x_m - toe_m) <= tolerance_m) {
        return false;
    }
    return side->kind == USI_SIDE_ENDLESS || outward * (side->x_m - x_m) > tolerance_m;
}

static size_t add_wall(const us_section *section, const usi_wall *wall, usi_exit *list)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double tolerance_m = usi_section_tolerance(section);
    size_t added = 0;
    for (int side = 0; side < 2; side++) {
        double bed_m = usi_line_level(bed, wall->x_m, side == 1);
        if (wall->top_m < bed_m - tolerance_m) {
            continue;
        }
        double low_m = follow_walls(section, wall->x_m, bed_m);
        if (bed_m - low_m > tolerance_m) {
            list[added++] = (usi_exit){.kind = USI_EXIT_WALL,
                                       .at = {wall->x_m, bed_m},
                                       .bed = side == 1 ? USI_FACE_RIGHT : USI_FACE_LEFT,
                                       .embedment_m = bed_m - low_m,
                                       .mean_depth_m = bed_m - low_m};
        }
    }
    return added;
}

static size_t add_steps(const us_section *section, usi_exit *list)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double tolerance_m = usi_section_tolerance(section);
    size_t added = 0;
    for (size_t i = 0; i + 1 < bed->count; i++) {
        usi_point a = bed->points[i];
        usi_point b = bed->points[i + 1];
        double height_m = fabs(a.z_m - b.z_m);
        if (b.x_m - a.x_m > tolerance_m || height_m <= tolerance_m || !on_bed(section, a.x_m)) {
            continue;
        }
        bool right_is_low = b.z_m < a.z_m;
        usi_exit exit = {.kind = USI_EXIT_STEP,
                         .at = {a.x_m, fmin(a.z_m, b.z_m)},
                         .bed = right_is_low ? USI_FACE_RIGHT : USI_FACE_LEFT};
        exit.mean_depth_m = fmin(height_m, SOIL_SHARE * soil_below(section, exit.at, right_is_low));
        list[added++] = exit;
    }
    return added;
}

us_status usi_exits_list(us_context *context, const us_section *section, usi_exit **exits,
                         size_t *count)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    size_t most = 1 + 2 * section->wall_count + bed->count;
    usi_exit *list = usi_memory_array(context, most, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    size_t used = 0;
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    double outward = section->flows_left ? -1.0 : 1.0;
    bool has_bed =
        side->kind == USI_SIDE_ENDLESS ||
        outward * (side->x_m - usi_section_toe_x(section)) > usi_section_tolerance(section);
    if (has_bed) {
        list[used++] = toe(section);
        for (size_t i = 0; i < section->wall_count; i++) {
            if (on_bed(section, section->walls[i].x_m)) {
                used += add_wall(section, &section->walls[i], list + used);
            }
        }
        used += add_steps(section, list + used);
    }
    *exits = list;
    *count = used;
    return US_OK;
}
