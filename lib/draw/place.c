#include "draw/place.h"

#include <math.h>

/* Costs, in cells of a net line covered. */
static const double cost_of_leader = 7;
static const double cost_of_unit = 0.16; /* length of a leader */
static const double cost_of_crossing = 20;
static const double cost_of_upright =
    200; /* a leader that looks like more of its wall or of a pool's end */

/* Room that a label keeps to its sides, and over and under it. */
static const double room_beside = 4;
static const double room_over = 1;

usi_point usi_wish_half(usi_scene *scene, const usi_wish *wish)
{
    usi_box box = usi_scene_measure(scene, wish->words, wish->type, 0, 0);
    return (usi_point){0.5 * (box.right - box.left), 0.5 * (box.bottom - box.top)};
}

static void add_spot(usi_spots *spots, usi_spot spot)
{
    if (spots->count < USI_SPOTS_MOST) {
        spots->list[spots->count++] = spot;
    }
}

void usi_spots_add(usi_spots *spots, double x, double y, double cost)
{
    add_spot(spots, (usi_spot){.at = {x, y}, .cost = cost});
}

void usi_spots_lead(usi_spots *spots, usi_point at, usi_point from, double cost)
{
    add_spot(spots, (usi_spot){at, true, from, cost});
}

void usi_spots_along(usi_spots *spots, usi_point half, usi_point from, double to_x, double cost)
{
    enum { TRIES = 24 };
    double toward = from.x_m < to_x ? 1 : -1;
    double start = from.x_m + toward * (half.x_m + 6);
    double end = to_x - toward * (half.x_m + 6);
    if ((end - start) * toward < 0) {
        return;
    }
    for (int i = 0; i < TRIES; i++) {
        usi_spots_add(spots, start + (end - start) * i / (TRIES - 1), from.z_m, cost + 0.5 * i);
    }
}

void usi_spots_ring(usi_spots *spots, usi_point from, usi_point half, double cost)
{
    static const double radii[] = {16, 26, 38, 54, 74, 100, 130};
    enum { RADII = sizeof radii / sizeof radii[0], TURNS = 16 };
    for (size_t k = 0; k < RADII; k++) {
        for (int i = 0; i < TURNS; i++) {
            double angle = 2 * acos(-1) * i / TURNS;
            double dx = cos(angle);
            double dy = sin(angle);
            /* The label's nearest side or corner stands at the radius. */
            double shift_x = half.x_m * fmax(-1, fmin(1, 1.6 * dx));
            double shift_y = half.z_m * fmax(-1, fmin(1, 1.6 * dy));
            usi_point at = {from.x_m + radii[k] * dx + shift_x, from.z_m + radii[k] * dy + shift_y};
            usi_spots_lead(spots, at, from, cost);
        }
    }
}

/* The line from a thing to the nearest point of its label; false where they are
 * so near that none is needed. */
static bool find_leader(usi_point from, double gap, usi_box box, usi_point ends[2])
{
    usi_point to = {fmin(fmax(from.x_m, box.left), box.right),
                    fmin(fmax(from.z_m, box.top + 2), box.bottom - 2)};
    double length = hypot(to.x_m - from.x_m, to.z_m - from.z_m);
    if (length < gap + 5) {
        return false;
    }
    double share = gap / length;
    ends[0] =
        (usi_point){from.x_m + share * (to.x_m - from.x_m), from.z_m + share * (to.z_m - from.z_m)};
    ends[1] = to;
    return true;
}

/* Cuts the stretch from `low` to `high` of a line to where it lies between two
 * bounds. */
static bool clip_to(double start, double step, double least, double most, double stretch[2])
{
    if (step == 0) {
        return start > least && start < most;
    }
    double a = (least - start) / step;
    double b = (most - start) / step;
    stretch[0] = fmax(stretch[0], fmin(a, b));
    stretch[1] = fmin(stretch[1], fmax(a, b));
    return stretch[0] < stretch[1];
}

bool usi_segment_meets(usi_point a, usi_point b, usi_box box)
{
    double stretch[2] = {0, 1};
    return clip_to(a.x_m, b.x_m - a.x_m, box.left, box.right, stretch) &&
           clip_to(a.z_m, b.z_m - a.z_m, box.top, box.bottom, stretch);
}

static double side_of(usi_point a, usi_point b, usi_point p)
{
    return (b.x_m - a.x_m) * (p.z_m - a.z_m) - (b.z_m - a.z_m) * (p.x_m - a.x_m);
}

static bool lines_cross(const usi_point a[2], const usi_point b[2])
{
    return side_of(a[0], a[1], b[0]) * side_of(a[0], a[1], b[1]) <= 0 &&
           side_of(b[0], b[1], a[0]) * side_of(b[0], b[1], a[1]) <= 0;
}

/* Whether a leader from `p` starts at the thing that a guard keeps: in its middle
 * line, for those of near neighbours may hold the point as well. */
static bool is_own(usi_box box, usi_point p)
{
    return fabs(0.5 * (box.left + box.right) - p.x_m) < 0.5 && p.z_m >= box.top &&
           p.z_m <= box.bottom;
}

/* Whether a leader is clear of texts, leaders, and all guards but its own. */
static bool leader_is_clear(const usi_scene *scene, usi_point from, const usi_point ends[2])
{
    for (size_t i = 0; i < scene->text_count; i++) {
        if (usi_segment_meets(ends[0], ends[1], scene->texts[i].box)) {
            return false;
        }
    }
    for (size_t i = 0; i < scene->label_count; i++) {
        if (scene->labels[i].led && lines_cross(ends, scene->labels[i].leader)) {
            return false;
        }
    }
    for (size_t i = 0; i < scene->guard_count; i++) {
        const usi_guard *guard = &scene->guards[i];
        if (guard->solid && !is_own(guard->box, from) &&
            usi_segment_meets(ends[0], ends[1], guard->box)) {
            return false;
        }
    }
    return true;
}

static bool box_is_clear(const usi_scene *scene, usi_box box)
{
    for (size_t i = 0; i < scene->label_count; i++) {
        const usi_label *label = &scene->labels[i];
        if (label->led && usi_segment_meets(label->leader[0], label->leader[1], box)) {
            return false;
        }
    }
    return usi_scene_is_free(scene, box);
}

/* A label at a spot, and what that costs. */
typedef struct trial {
    usi_box box;
    double cost; /* infinite where it cannot stand */
    bool led;
    usi_point leader[2];
} trial;

static usi_box grow(usi_box box, double beside, double over)
{
    return (usi_box){box.left - beside, box.top - over, box.right + beside, box.bottom + over};
}

/* Tries a spot; gives up as soon as it is dearer than `least`. */
static trial try_spot(const usi_scene *scene, const usi_wish *wish, const usi_spot *spot,
                      usi_point half, double least)
{
    trial made = {.cost = HUGE_VAL};
    made.box =
        grow((usi_box){spot->at.x_m, spot->at.z_m, spot->at.x_m, spot->at.z_m}, half.x_m, half.z_m);
    usi_box roomy = grow(made.box, room_beside, room_over);
    double weight = 0;
    if (spot->cost >= least || !usi_box_holds(wish->area, made.box) ||
        !usi_clutter_weigh(&scene->clutter, roomy, &weight)) {
        return made;
    }
    double cost = spot->cost + weight;
    made.led = spot->led && find_leader(spot->from, wish->gap, made.box, made.leader);
    if (made.led) {
        usi_stroke line = {
            made.leader[0].x_m, made.leader[0].z_m, made.leader[1].x_m, made.leader[1].z_m, 0, 0};
        int crossed = 0;
        if (!usi_clutter_cross(&scene->clutter, line, 9, &crossed)) {
            return made;
        }
        bool upright = fabs(line.x1 - line.x0) < 0.5 * fabs(line.y1 - line.y0);
        cost += wish->aslant && upright ? cost_of_upright : 0;
        cost += cost_of_leader + cost_of_crossing * crossed +
                cost_of_unit * hypot(line.x1 - line.x0, line.y1 - line.y0);
    }
    if (cost < least && box_is_clear(scene, roomy) &&
        (!made.led || leader_is_clear(scene, spot->from, made.leader))) {
        made.cost = cost;
    }
    return made;
}

static void draw_leader(usi_scene *scene, const usi_wish *wish, const trial *best)
{
    enum { CORNERS = 12 };
    usi_look look = {.line = {0.12, 0.12, 0.14, 1}, .width = 0.9};
    usi_scene_shape(scene, USI_SPACE_PAGE, best->leader, 2, look);
    usi_stroke line = {best->leader[0].x_m,
                       best->leader[0].z_m,
                       best->leader[1].x_m,
                       best->leader[1].z_m,
                       0,
                       USI_BARS_LABELS | USI_BARS_LEADERS};
    usi_clutter_mark(&scene->clutter, line);
    if (wish->dot) {
        usi_point dot[CORNERS];
        for (int i = 0; i < CORNERS; i++) {
            double turn = 2 * acos(-1) * i / CORNERS;
            dot[i] = (usi_point){best->leader[0].x_m + 2.2 * cos(turn),
                                 best->leader[0].z_m + 2.2 * sin(turn)};
        }
        look = (usi_look){.fill = {0.12, 0.12, 0.14, 1}, .closed = true};
        usi_scene_shape(scene, USI_SPACE_PAGE, dot, CORNERS, look);
    }
}

const usi_label *usi_scene_place(usi_scene *scene, const usi_wish *wish, const usi_spots *spots)
{
    usi_point half = usi_wish_half(scene, wish);
    trial best = {.cost = wish->most > 0 ? wish->most : HUGE_VAL};
    bool found = false;
    for (size_t i = 0; i < spots->count && scene->status == US_OK; i++) {
        trial here = try_spot(scene, wish, &spots->list[i], half, best.cost);
        if (here.cost < best.cost) {
            best = here;
            found = true;
        }
    }
    if (!found) {
        return NULL;
    }
    if (best.led) {
        draw_leader(scene, wish, &best);
    }
    usi_clutter_bar(&scene->clutter, best.box, USI_BARS_LABELS | USI_BARS_LEADERS);
    usi_label label = {.thing = wish->thing,
                       .index = wish->index,
                       .cut = wish->cut,
                       .led = best.led,
                       .leader = {best.leader[0], best.leader[1]}};
    return usi_scene_label(scene, wish->words, wish->type, best.box, label);
}
