#include "model/exits.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/panes.h"
#include "model/situation.h"

/* Without embedment nothing fixes a depth: a tenth of the floor, but never more
 * than a quarter of the soil below. */
static const double FLOOR_SHARE = 0.1;
static const double SOIL_SHARE = 0.25;
static const double WATCH_SHARE = 0.1; /* of the embedment */
static const double PROFILE[USI_PROFILE_MOST] = {0.0, 0.1, 0.25, 0.5, 1.0, 2.0, 4.0};

/* Lowest level reached from `from_m` downwards along walls at x, without a gap. */
static double follow_walls(const us_section *section, double x_m, double from_m)
{
    double tolerance_m = usi_section_tolerance(section);
    double low_m = from_m;
    for (bool moved = true; moved;) {
        moved = false;
        for (size_t i = 0; i < section->wall_count; i++) {
            const usi_wall *wall = &section->walls[i];
            usi_pane whole;
            size_t count;
            const usi_pane *panes = usi_panes_of(wall, &whole, &count);
            for (size_t p = 0; p < count && fabs(wall->x_m - x_m) <= tolerance_m; p++) {
                if (panes[p].high_m >= low_m - tolerance_m &&
                    panes[p].low_m < low_m - tolerance_m) {
                    low_m = panes[p].low_m;
                    moved = true;
                }
            }
        }
    }
    return low_m;
}

/* What closes the soil beside a face that goes down from a point. */
static usi_wedge_side face_at(const us_section *section, usi_point at)
{
    double tolerance_m = usi_section_tolerance(section);
    usi_wedge_side side = USI_WEDGE_CLOSED;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        for (size_t p = 0; p < wall->pane_count; p++) {
            const usi_pane *pane = &wall->panes[p];
            bool here = fabs(wall->x_m - at.x_m) <= tolerance_m &&
                        pane->high_m >= at.z_m - tolerance_m && pane->low_m < at.z_m - tolerance_m;
            side = here && pane->kind == USI_PANE_LEAKY ? USI_WEDGE_LEAKY : side;
        }
    }
    return side;
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

/* The direction in which a line leaves (x, z). */
static usi_ray leaving(const usi_line *line, usi_point at, bool right)
{
    for (size_t k = 0; k < line->count; k++) {
        const usi_point *next = &line->points[right ? k : line->count - 1 - k];
        double dx_m = next->x_m - at.x_m;
        if (right ? dx_m > 0.0 : dx_m < 0.0) {
            return (usi_ray){dx_m, next->z_m - at.z_m};
        }
    }
    return (usi_ray){right ? 1.0 : -1.0, 0.0};
}

static double stretch_below(const us_section *section, const usi_exit *exit)
{
    bool right = exit->bed == USI_FACE_RIGHT;
    const usi_soil *soil = &section->soils[usi_section_soil_at(section, exit->at, right, false)];
    return sqrt(soil->kv_m_s / soil->kh_m_s);
}

/* Growth of the gradient between the bed and a face or floor that leaves along
 * `other`. */
static usi_growth growth_at(const us_section *section, const usi_exit *exit, usi_ray other,
                            usi_wedge_side side)
{
    bool right = exit->bed == USI_FACE_RIGHT;
    usi_ray bed = leaving(usi_section_downstream_bed(section), exit->at, right);
    usi_wedge wedge = usi_wedge_between(bed, other, right, stretch_below(section, exit));
    wedge.side = side;
    return usi_wedge_growth(&wedge);
}

static usi_exit toe(const us_section *section)
{
    bool bed_right = !section->flows_left;
    double x_m = usi_section_toe_x(section);
    double bed_m = usi_line_level(usi_section_downstream_bed(section), x_m, bed_right);
    double low_m = bed_m;
    usi_ray face = {0.0, -1.0};
    if (section->has_structure) {
        low_m = fmin(low_m, usi_line_level(&section->underside, x_m, !bed_right));
        face = leaving(&section->underside, (usi_point){x_m, low_m}, !bed_right);
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
        face = (usi_ray){0.0, -1.0};
    }
    exit.growth = growth_at(section, &exit, face, face_at(section, exit.at));
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
            usi_exit exit = {.kind = USI_EXIT_WALL,
                             .at = {wall->x_m, bed_m},
                             .bed = side == 1 ? USI_FACE_RIGHT : USI_FACE_LEFT,
                             .embedment_m = bed_m - low_m,
                             .mean_depth_m = bed_m - low_m};
            exit.growth =
                growth_at(section, &exit, (usi_ray){0.0, -1.0}, face_at(section, exit.at));
            list[added++] = exit;
        }
    }
    return added;
}

/* A wall that holds the step: water leaves beside it, not at the foot. */
static bool held_by_wall(const us_section *section, usi_point foot)
{
    double tolerance_m = usi_section_tolerance(section);
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (fabs(wall->x_m - foot.x_m) <= tolerance_m && wall->top_m >= foot.z_m - tolerance_m &&
            wall->solved_tip_m < foot.z_m - tolerance_m) {
            return true;
        }
    }
    return false;
}

/* The piece of bed that rises from vertex `low` towards the right or left: its
 * far end, past vertices that only continue it upright. */
static usi_point top_of_rise(const usi_line *bed, size_t low, bool right)
{
    size_t k = low;
    do {
        k = right ? k + 1 : k - 1;
    } while ((right ? k + 1 < bed->count : k > 0) && bed->points[k].x_m == bed->points[low].x_m &&
             bed->points[right ? k + 1 : k - 1].x_m == bed->points[k].x_m);
    return bed->points[k];
}

/* True where the bed may rise to the right or left of a vertex, and does not go on
 * down upright on the other side. */
static bool is_foot(const usi_line *bed, size_t vertex, bool right)
{
    if (right ? vertex + 1 == bed->count : vertex == 0) {
        return false;
    }
    bool first = right ? vertex == 0 : vertex + 1 == bed->count;
    return first || bed->points[right ? vertex - 1 : vertex + 1].x_m != bed->points[vertex].x_m;
}

/* Feet of rises in the bed: vertices where the soil fills more than a straight angle. */
static size_t add_steps(const us_section *section, usi_exit *list)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double tolerance_m = usi_section_tolerance(section);
    size_t added = 0;
    for (size_t i = 0; i < 2 * bed->count; i++) {
        bool right = i % 2 == 0; /* the rise lies on the right */
        size_t low = i / 2;
        if (!on_bed(section, bed->points[low].x_m) || !is_foot(bed, low, right)) {
            continue;
        }
        usi_point foot = bed->points[low];
        usi_point top = top_of_rise(bed, low, right);
        double height_m = top.z_m - foot.z_m;
        if (height_m <= tolerance_m || held_by_wall(section, foot)) {
            continue;
        }
        usi_exit exit = {
            .kind = USI_EXIT_STEP, .at = foot, .bed = right ? USI_FACE_LEFT : USI_FACE_RIGHT};
        exit.growth =
            growth_at(section, &exit, (usi_ray){top.x_m - foot.x_m, height_m}, USI_WEDGE_BED);
        exit.mean_depth_m = fmin(height_m, SOIL_SHARE * soil_below(section, foot, !right));
        if (!usi_growth_is_bounded(exit.growth)) {
            list[added++] = exit;
        }
    }
    return added;
}

/* How far the bed beside an exit goes straight on. */
static double straight_end(const us_section *section, const usi_exit *exit)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double outward = exit->bed == USI_FACE_RIGHT ? 1.0 : -1.0;
    double reach_m = HUGE_VAL;
    for (size_t i = 0; i < bed->count; i++) {
        double ahead_m = outward * (bed->points[i].x_m - exit->at.x_m);
        if (ahead_m > usi_section_tolerance(section)) {
            reach_m = fmin(reach_m, ahead_m);
        }
    }
    return reach_m;
}

/* How far the bed beside an exit goes on: to a wall, the works or the side. */
static double bed_end(const us_section *section, const usi_exit *exit)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double tolerance_m = usi_section_tolerance(section);
    bool right = exit->bed == USI_FACE_RIGHT;
    double outward = right ? 1.0 : -1.0;
    double reach_m = HUGE_VAL;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        double ahead_m = outward * (wall->x_m - exit->at.x_m);
        double bed_m = usi_line_level(bed, wall->x_m, !right);
        if (ahead_m > tolerance_m && wall->top_m >= bed_m - tolerance_m) {
            reach_m = fmin(reach_m, ahead_m);
        }
    }
    const usi_side *side = outward > 0.0 ? &section->right : &section->left;
    double inner_m = outward * (usi_section_toe_x(section) - exit->at.x_m);
    if (inner_m > tolerance_m) {
        reach_m = fmin(reach_m, inner_m);
    }
    return side->kind == USI_SIDE_ENDLESS ? reach_m
                                          : fmin(reach_m, outward * (side->x_m - exit->at.x_m));
}

/* Points along the bed beside an exit, in lengths of its embedment or, where
 * that is more, of the depth that a flush edge would have for its mean. */
static void lay_profile(const us_section *section, usi_exit *exit)
{
    bool right = exit->bed == USI_FACE_RIGHT;
    double outward = right ? 1.0 : -1.0;
    double floor_m = 0.0;
    if (exit->kind == USI_EXIT_TOE && section->right_end_m > section->left_end_m) {
        floor_m = fmin(floor_depth(section), SOIL_SHARE * soil_below(section, exit->at, right));
    }
    double length_m = fmax(exit->mean_depth_m, floor_m);
    double end_m = bed_end(section, exit) - usi_section_tolerance(section);
    for (size_t k = 0; k < USI_PROFILE_MOST && PROFILE[k] * length_m < end_m; k++) {
        exit->profile_x_m[exit->profile_count++] = exit->at.x_m + outward * PROFILE[k] * length_m;
    }
    double watch_m = fmax(WATCH_SHARE * exit->embedment_m, floor_m);
    bool straight = watch_m < fmin(end_m, straight_end(section, exit));
    exit->watch_x_m = exit->at.x_m + (straight ? outward * watch_m : 0.0);
}

/* True where the bed beside a point, on its right or left, is sealed. */
static bool is_sealed(const us_section *section, double x_m, bool right)
{
    const usi_situation *situation = section->situation;
    double tolerance_m = usi_section_tolerance(section);
    double beside_m = x_m + (right ? 2.0 : -2.0) * tolerance_m;
    for (size_t m = 0; situation != NULL && m < situation->mark_count; m++) {
        const usi_mark *mark = &situation->marks[m];
        if (mark->kind == USI_MARK_SEALED && mark->low.x_m < beside_m &&
            mark->high.x_m > beside_m) {
            return true;
        }
    }
    return false;
}

/* Water gathers at the ends of a seal as at an edge of the floor. */
static size_t add_seal(const us_section *section, const usi_mark *mark, usi_exit *list)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    size_t added = 0;
    double depth_m = FLOOR_SHARE * (mark->high.x_m - mark->low.x_m);
    for (int side = 0; side < 2; side++) {
        bool right = side == 1;
        double x_m = right ? mark->high.x_m : mark->low.x_m;
        usi_exit exit = {.kind = USI_EXIT_SEAL,
                         .at = {x_m, usi_line_level(bed, x_m, right)},
                         .bed = right ? USI_FACE_RIGHT : USI_FACE_LEFT};
        if (!on_bed(section, x_m) || is_sealed(section, x_m, right)) {
            continue;
        }
        usi_ray back = leaving(bed, exit.at, !right);
        exit.growth = growth_at(section, &exit, back, USI_WEDGE_CLOSED);
        exit.mean_depth_m = fmin(depth_m, SOIL_SHARE * soil_below(section, exit.at, right));
        list[added++] = exit;
    }
    return added;
}

/* Leaves out exits on sealed bed and adds the ends of the seals. */
static size_t heed_seals(const us_section *section, usi_exit *list, size_t count)
{
    const usi_situation *situation = section->situation;
    usi_edge_kind bed = section->flows_left ? USI_EDGE_LEFT_BED : USI_EDGE_RIGHT_BED;
    size_t kept = 0;
    for (size_t e = 0; e < count; e++) {
        if (!is_sealed(section, list[e].at.x_m, list[e].bed == USI_FACE_RIGHT)) {
            list[kept++] = list[e];
        }
    }
    for (size_t m = 0; m < situation->mark_count; m++) {
        const usi_mark *mark = &situation->marks[m];
        if (mark->kind == USI_MARK_SEALED && mark->on == bed) {
            kept += add_seal(section, mark, list + kept);
        }
    }
    return kept;
}

/* Where a piece of bed passes the level of the water on it; false where it does not. */
static bool waterline_on(const usi_point *ends, double level_m, usi_point *at)
{
    double below_m = level_m - ends[0].z_m;
    double rise_m = ends[1].z_m - ends[0].z_m;
    double share = rise_m != 0.0 ? below_m / rise_m : -1.0;
    *at = (usi_point){ends[0].x_m + share * (ends[1].x_m - ends[0].x_m), level_m};
    return share >= 0.0 && share <= 1.0;
}

/* Head is one below the water and the level of the bed above it: at the kink between them
 * water comes out without bound, as log(1/r). */
static size_t add_waterlines(const us_section *section, const usi_exit *toe, usi_exit *list)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double level_m = section->waters[0].downstream_m;
    size_t added = 0;
    for (size_t k = 0; k + 1 < bed->count; k++) {
        const usi_point *ends = &bed->points[k];
        bool rises = ends[1].z_m > ends[0].z_m;
        usi_point at;
        if (!waterline_on(ends, level_m, &at) || !on_bed(section, at.x_m) ||
            fmax(ends[0].z_m, ends[1].z_m) <= level_m + usi_section_tolerance(section) ||
            is_sealed(section, at.x_m, rises)) {
            continue;
        }
        list[added++] = (usi_exit){
            .kind = USI_EXIT_WATERLINE,
            .at = at,
            .bed = rises ? USI_FACE_LEFT : USI_FACE_RIGHT,
            .mean_depth_m = fmin(toe->mean_depth_m, SOIL_SHARE * soil_below(section, at, !rises)),
            .growth = {USI_GROWTH_LOG, 0.0}};
    }
    return added;
}

us_status usi_exits_list(us_context *context, const us_section *section, usi_exit **exits,
                         size_t *count)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    size_t marks = section->situation != NULL ? section->situation->mark_count : 0;
    size_t most = 1 + 2 * section->wall_count + 3 * bed->count + 2 * marks;
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
        usi_exit first = list[0];
        if (section->situation != NULL) {
            used = heed_seals(section, list, used);
            used += section->waters[0].at_bed ? 0 : add_waterlines(section, &first, list + used);
        }
    }
    for (size_t e = 0; e < used; e++) {
        lay_profile(section, &list[e]);
    }
    *exits = list;
    *count = used;
    return US_OK;
}
