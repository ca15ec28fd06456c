/* The curve of exit gradients along the bed. */
#include <math.h>

#include "draw/diagram.h"
#include "draw/outline.h"

/* Values nearer to an unbounded point than this share of its depth say more of the
 * grid than of the soil. */
static const double aloof = 0.02;

static const usi_ink ink_seep = {0.84, 0.89, 0.93, 1};

/* One unbroken piece of the curve. */
typedef struct run {
    usi_sheet *sheet;
    const usi_panel *panel;
    usi_outline line; /* on the page */
    bool cut[2];      /* at its left and right end: there is more, but no number for it */
    usi_point broken; /* where that was last shown */
} run;

/* Two short strokes across the end of a curve that goes on unseen. */
static void draw_break(usi_sheet *sheet, usi_point at)
{
    for (int i = 0; i < 2; i++) {
        double y = at.z_m + 2 + 4 * i;
        usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){at.x_m - 5, y + 2},
                       (usi_point){at.x_m + 5, y - 2}, usi_look_line(usi_ink_shore, 1.2));
    }
}

static void add(run *to, double x_m, double value)
{
    usi_point at = usi_panel_at(to->sheet, to->panel, x_m, value);
    if (to->line.count > 0) {
        usi_point last = to->line.points[to->line.count - 1];
        if (hypot(at.x_m - last.x_m, at.z_m - last.z_m) < 0.25) {
            return;
        }
    }
    usi_outline_add(&to->sheet->scene, &to->line, at.x_m, at.z_m);
}

static void end(run *of)
{
    usi_scene *scene = &of->sheet->scene;
    usi_outline *line = &of->line;
    size_t count = line->count;
    if (count > 1) {
        double floor_y = usi_panel_at(of->sheet, of->panel, 0, 0).z_m;
        usi_outline_add(scene, line, line->points[count - 1].x_m, floor_y);
        usi_outline_add(scene, line, line->points[0].x_m, floor_y);
        usi_scene_shape(scene, USI_SPACE_PAGE, line->points, line->count, usi_look_area(ink_seep));
        usi_panel_line(of->sheet, line->points, count, usi_look_line(usi_ink_shore, 2));
        for (int i = 0; i < 2; i++) {
            usi_point at = line->points[i == 0 ? 0 : count - 1];
            if (of->cut[i] && hypot(at.x_m - of->broken.x_m, at.z_m - of->broken.z_m) > 12) {
                draw_break(of->sheet, at);
                of->broken = at;
            }
        }
    }
    line->count = 0;
    of->cut[0] = false;
    of->cut[1] = false;
}

/* Whether a place lies so near to an unbounded point, on its side of it. */
static bool is_aloof(const usi_course *course, double x_m, double level_m)
{
    for (size_t e = 0; e < course->exit_count; e++) {
        const usi_exit *exit = &course->exits[e];
        double away_m = (x_m - exit->at.x_m) * (exit->bed == USI_FACE_RIGHT ? 1 : -1);
        double reach_m = aloof * exit->mean_depth_m;
        if (away_m >= 0 && away_m < reach_m && fabs(level_m - exit->at.z_m) < reach_m) {
            return true;
        }
    }
    return false;
}

/* Whether a point lies in the panel and may be drawn. */
static bool is_drawn(const run *on, const usi_course *course, const usi_edge_point *point)
{
    const usi_scene_view *view = &on->sheet->scene.view;
    return point->x_m >= view->low.x_m && point->x_m <= view->high.x_m &&
           point->value <= on->panel->top && !is_aloof(course, point->x_m, point->level_m);
}

/* Adds the place where the curve leaves or enters the panel between a point that
 * is drawn and its neighbour. */
static void add_crossing(run *to, const usi_course *course, const usi_edge_point *in,
                         const usi_edge_point *out)
{
    const usi_scene_view *view = &to->sheet->scene.view;
    double share = 1;
    if (out->value > to->panel->top) {
        share = fmin(share, (to->panel->top - in->value) / (out->value - in->value));
    }
    if (out->x_m < view->low.x_m) {
        share = fmin(share, (view->low.x_m - in->x_m) / (out->x_m - in->x_m));
    }
    if (out->x_m > view->high.x_m) {
        share = fmin(share, (view->high.x_m - in->x_m) / (out->x_m - in->x_m));
    }
    double x_m = in->x_m + share * (out->x_m - in->x_m);
    if (share < 1 && !is_aloof(course, x_m, in->level_m)) {
        add(to, x_m, in->value + share * (out->value - in->value));
    }
}

void usi_exit_curve(usi_sheet *sheet, const usi_panel *panel, const usi_course *course)
{
    run piece = {.sheet = sheet, .panel = panel, .broken = {-100, -100}};
    for (size_t i = 0; i < course->count; i++) {
        const usi_edge_point *here = &course->points[i];
        const usi_edge_point *last = i > 0 ? here - 1 : here;
        bool drawn = is_drawn(&piece, course, here);
        bool before = i > 0 && is_drawn(&piece, course, last);
        if (i > 0 && here->x_m == last->x_m) { /* a wall or a step */
            end(&piece);
        } else if (drawn && !before && i > 0) {
            piece.cut[0] = is_aloof(course, last->x_m, last->level_m);
            add_crossing(&piece, course, here, last);
        } else if (!drawn && before) {
            piece.cut[1] = is_aloof(course, here->x_m, here->level_m);
            add_crossing(&piece, course, last, here);
            end(&piece);
        }
        if (drawn) {
            add(&piece, here->x_m, here->value);
        }
    }
    end(&piece);
    usi_outline_clear(&piece.line);
}
