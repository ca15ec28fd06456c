#include "quantity/creep.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "quantity/soils_along.h"

static const double FLAT_SHARE = 1.0 / 3.0; /* Lane: of what is not steep */

static double lower_surface(const us_section *section, double x_m)
{
    return fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
}

bool usi_creep_hangs(const us_section *section, const usi_wall *wall)
{
    return wall->x_m >= section->left_end_m && wall->x_m <= section->right_end_m &&
           wall->top_m >= lower_surface(section, wall->x_m) - usi_section_tolerance(section);
}

double usi_creep_tip(const us_section *section, const usi_wall *wall)
{
    double tip_m = wall->tip_m;
    double slack_m = usi_section_tolerance(section);
    for (size_t round = 0; round < section->wall_count; round++) {
        for (size_t i = 0; i < section->wall_count; i++) {
            const usi_wall *other = &section->walls[i];
            if (other->x_m == wall->x_m && fabs(other->top_m - tip_m) <= slack_m) {
                tip_m = other->tip_m;
            }
        }
    }
    return tip_m;
}

/* The wall that hangs on the contact nearest to the right of x, or at x itself. */
static const usi_wall *next_wall(const us_section *section, double x_m, bool at_x)
{
    const usi_wall *found = NULL;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        bool beyond = wall->x_m > x_m || (at_x && wall->x_m == x_m);
        if (beyond && usi_creep_hangs(section, wall) && (found == NULL || wall->x_m < found->x_m)) {
            found = wall;
        }
    }
    return found;
}

static void add(usi_creep_path *path, usi_point at, bool tip)
{
    usi_creep_point *last = path->count > 0 ? &path->points[path->count - 1] : NULL;
    if (last == NULL || last->at.x_m != at.x_m || last->at.z_m != at.z_m) {
        path->points[path->count++] = (usi_creep_point){at, tip};
    }
}

static void add_wall(const us_section *section, const usi_wall *wall, usi_creep_path *path)
{
    double x_m = wall->x_m;
    add(path, (usi_point){x_m, usi_section_surface(section, x_m, false)}, false);
    add(path, (usi_point){x_m, usi_creep_tip(section, wall)}, true);
    add(path, (usi_point){x_m, usi_section_surface(section, x_m, true)}, false);
}

/* Where soil ends at the end of the structure there is no bed to begin or end at. */
static bool has_bed(const us_section *section, bool left)
{
    const usi_side *side = left ? &section->left : &section->right;
    double end_m = left ? section->left_end_m : section->right_end_m;
    return side->kind == USI_SIDE_ENDLESS || side->x_m != end_m;
}

/* From left to right. */
static void lay(const us_section *section, usi_creep_path *path)
{
    const usi_wall *wall = next_wall(section, section->left_end_m, true);
    double x_m = section->left_end_m;
    if (has_bed(section, true)) {
        add(path, (usi_point){x_m, usi_section_surface(section, x_m, false)}, false);
    }
    for (size_t i = 0; i < section->underside.count; i++) {
        usi_point point = section->underside.points[i];
        while (wall != NULL && wall->x_m <= point.x_m) {
            add_wall(section, wall, path);
            x_m = wall->x_m;
            wall = next_wall(section, x_m, false);
        }
        bool passed = path->count > 1 && path->points[path->count - 1].at.x_m == point.x_m &&
                      path->points[path->count - 2].tip;
        if (!passed) { /* else a wall stands there, and has both levels */
            add(path, point, false);
        }
    }
    if (section->underside.count == 0 && wall != NULL) {
        add_wall(section, wall, path);
    }
    x_m = section->right_end_m;
    if (has_bed(section, false)) {
        add(path, (usi_point){x_m, usi_section_surface(section, x_m, true)}, false);
    }
}

static void turn(usi_creep_path *path)
{
    for (size_t i = 0; i < path->count / 2; i++) {
        usi_creep_point kept = path->points[i];
        path->points[i] = path->points[path->count - 1 - i];
        path->points[path->count - 1 - i] = kept;
    }
}

/* The share of a piece of contact that has no void along it. */
static double held_share(const us_section *section, const usi_creep_point *a,
                         const usi_creep_point *b)
{
    double from_m = fmin(a->at.x_m, b->at.x_m);
    double to_m = fmax(a->at.x_m, b->at.x_m);
    double share = 1.0;
    for (size_t i = 0; i < section->void_count && !a->tip && !b->tip; i++) {
        const usi_stretch *hollow = &section->voids[i];
        if (from_m == to_m) {
            share = from_m > hollow->from_m && from_m < hollow->to_m ? 0.0 : share;
        } else {
            double lost_m = fmin(to_m, hollow->to_m) - fmax(from_m, hollow->from_m);
            share -= fmax(lost_m, 0.0) / (to_m - from_m);
        }
    }
    return fmax(share, 0.0);
}

us_status usi_creep_make(us_context *context, const us_section *section, usi_creep_path *path)
{
    size_t room = section->underside.count + 3 * section->wall_count + 2;
    *path = (usi_creep_path){0};
    path->points = usi_memory_array(context, room, sizeof *path->points);
    path->along_m[0] = usi_memory_array(context, room, sizeof *path->along_m[0]);
    path->along_m[1] = usi_memory_array(context, room, sizeof *path->along_m[1]);
    if (path->points == NULL || path->along_m[0] == NULL || path->along_m[1] == NULL) {
        return US_ERROR_MEMORY;
    }
    lay(section, path);
    if (section->flows_left) {
        turn(path);
    }
    for (size_t i = 1; i < path->count; i++) {
        const usi_creep_point *a = &path->points[i - 1];
        const usi_creep_point *b = &path->points[i];
        double dx_m = fabs(b->at.x_m - a->at.x_m);
        double dz_m = fabs(b->at.z_m - a->at.z_m);
        double length_m = hypot(dx_m, dz_m) * held_share(section, a, b);
        path->along_m[USI_CREEP_BLIGH][i] = path->along_m[USI_CREEP_BLIGH][i - 1] + length_m;
        path->along_m[USI_CREEP_LANE][i] =
            path->along_m[USI_CREEP_LANE][i - 1] + (dz_m > dx_m ? length_m : FLAT_SHARE * length_m);
    }
    return US_OK;
}

void usi_creep_clear(usi_creep_path *path)
{
    free(path->points);
    free(path->along_m[0]);
    free(path->along_m[1]);
    *path = (usi_creep_path){0};
}

/* A place on the path: on the piece behind a point. */
typedef struct place {
    size_t piece;
    double share;
} place;

static place find_place(const us_section *section, const usi_creep_path *path, usi_point at)
{
    place best = {0, 0.0};
    double nearest_m = HUGE_VAL;
    for (size_t i = 0; i + 1 < path->count; i++) {
        usi_point a = path->points[i].at;
        usi_point b = path->points[i + 1].at;
        double dx_m = b.x_m - a.x_m;
        double dz_m = b.z_m - a.z_m;
        double share =
            ((at.x_m - a.x_m) * dx_m + (at.z_m - a.z_m) * dz_m) / (dx_m * dx_m + dz_m * dz_m);
        share = fmin(fmax(share, 0.0), 1.0);
        double away_m = hypot(a.x_m + share * dx_m - at.x_m, a.z_m + share * dz_m - at.z_m);
        if (away_m <= nearest_m + usi_section_tolerance(section)) {
            best = (place){i, share};
            nearest_m = fmin(away_m, nearest_m);
        }
    }
    return best;
}

/* Nothing stands between two points of the path: what lies along it between them stays above
 * the straight line. */
static bool sees(const usi_creep_path *path, size_t from, size_t to, double slack_m)
{
    usi_point a = path->points[from].at;
    usi_point b = path->points[to].at;
    for (size_t k = from + 1; k < to; k++) {
        usi_point at = path->points[k].at;
        double line_m = a.z_m + (b.z_m - a.z_m) * (at.x_m - a.x_m) / (b.x_m - a.x_m);
        if (at.z_m < line_m - slack_m) {
            return false;
        }
    }
    return a.x_m != b.x_m;
}

us_status usi_creep_measure(us_context *context, const us_section *section,
                            const usi_creep_path *path, usi_creep_rule rule, usi_point end,
                            usi_creep_length *length)
{
    *length = (usi_creep_length){0.0, false};
    if (path->count < 2) {
        return US_OK;
    }
    double *best_m = usi_memory_array(context, path->count, sizeof *best_m);
    if (best_m == NULL) {
        return US_ERROR_MEMORY;
    }
    const double *along_m = path->along_m[rule];
    double slack_m = usi_section_tolerance(section);
    place at = find_place(section, path, end);
    double end_m = along_m[at.piece] + at.share * (along_m[at.piece + 1] - along_m[at.piece]);
    double shortest_m = end_m;
    for (size_t j = 0; j <= at.piece + (at.share == 1.0 ? 1 : 0); j++) {
        if (!path->points[j].tip) {
            continue;
        }
        best_m[j] = along_m[j];
        for (size_t i = 0; i < j; i++) {
            if (!path->points[i].tip) {
                continue;
            }
            usi_point a = path->points[i].at;
            usi_point b = path->points[j].at;
            double way_m = along_m[j] - along_m[i];
            double across_m = 2.0 * hypot(b.x_m - a.x_m, b.z_m - a.z_m);
            if (across_m < way_m - slack_m && sees(path, i, j, slack_m)) {
                way_m = across_m;
            }
            best_m[j] = fmin(best_m[j], best_m[i] + way_m);
        }
        shortest_m = fmin(shortest_m, best_m[j] + end_m - along_m[j]);
    }
    *length = (usi_creep_length){shortest_m, shortest_m < end_m - slack_m};
    free(best_m);
    return US_OK;
}

us_status usi_creep_soils(us_context *context, const us_section *section,
                          const usi_creep_path *path, bool *touched)
{
    us_status status = US_OK;
    for (size_t i = 0; status == US_OK && i + 1 < path->count; i++) {
        usi_point a = path->points[i].at;
        usi_point b = path->points[i + 1].at;
        /* Soil lies below the contact: to the left of a way down when water runs right. */
        bool down = b.z_m < a.z_m;
        usi_course_line line = {a, b, section->flows_left ? down : !down, false};
        usi_soil_runs runs;
        status = usi_soils_along(context, section, &line, &runs);
        for (size_t k = 0; k < runs.count; k++) {
            touched[runs.items[k].soil] = true;
        }
        usi_soil_runs_clear(&runs);
    }
    return status;
}
