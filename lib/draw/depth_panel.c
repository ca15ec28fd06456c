#include "draw/depth_panel.h"

#include <math.h>

#include "model/scale.h"

/* Of a factor, what is beyond this many times its limit is no matter, and cut off, but for
 * some room above the least. */
static const double LIMIT_TIMES = 3.0;
static const double LEAST_TIMES = 1.6;
static const double HEADROOM = 1.08;
static const usi_ink TINT = {0.86, 0.91, 0.86, 1.0};
static const usi_ink LIMIT_INK = {0.62, 0.22, 0.14, 1.0};
static const usi_ink GRID_INK = {0.85, 0.85, 0.84, 1.0};

/* The frame of a panel in numbers. */
typedef struct frame {
    const usi_depth_panel *panel;
    usi_scene *scene;
    double unit_m; /* of levels */
    double left;   /* the highest tip */
    double right;
    double low;
    double high;
} frame;

usi_look usi_depth_line_look(size_t water)
{
    static const usi_ink inks[USI_DEPTH_LINES] = {{0.07, 0.16, 0.30, 1.0}, {0.12, 0.42, 0.52, 1.0},
                                                  {0.45, 0.45, 0.43, 1.0}, {0.07, 0.16, 0.30, 1.0},
                                                  {0.12, 0.42, 0.52, 1.0}, {0.45, 0.45, 0.43, 1.0}};
    static const double dashes[USI_DEPTH_LINES] = {0, 9, 2, 14, 5, 7};
    static const double gaps[USI_DEPTH_LINES] = {0, 4, 3, 4, 6, 2};
    usi_look look = usi_look_line(inks[water % USI_DEPTH_LINES], water < 3 ? 2.0 : 1.3);
    look.dash = dashes[water % USI_DEPTH_LINES];
    look.gap = gaps[water % USI_DEPTH_LINES];
    return look;
}

static double page_x(const frame *of, double level)
{
    const usi_box *box = &of->panel->box;
    return box->left + (level - of->left) / (of->right - of->left) * (box->right - box->left);
}

static double page_y(const frame *of, double value)
{
    const usi_box *box = &of->panel->box;
    return box->bottom - (value - of->low) / (of->high - of->low) * (box->bottom - box->top);
}

static void line(usi_scene *scene, usi_point from, usi_point to, usi_look look)
{
    usi_point ends[2] = {from, to};
    usi_scene_shape(scene, USI_SPACE_PAGE, ends, 2, look);
}

static us_value value_of(const us_depth *depth, const usi_depth_panel *panel, size_t sample,
                         size_t water)
{
    const us_solution *level = depth->samples.points[sample].solution;
    us_value value = usi_depth_pick(depth, level, water, panel->what);
    value.value /= panel->size;
    value.present = value.present && isfinite(value.value);
    return value;
}

size_t usi_depth_lines(const us_depth *depth)
{
    size_t count = depth->section->water_count;
    return count < USI_DEPTH_LINES ? count : USI_DEPTH_LINES;
}

bool usi_depth_panel_has_values(const us_depth *depth, const usi_depth_panel *panel)
{
    bool any = false;
    for (size_t w = 0; !any && w < usi_depth_lines(depth); w++) {
        for (size_t k = 0; !any && k < depth->samples.count; k++) {
            any = value_of(depth, panel, k, w).present;
        }
    }
    return any;
}

/* From zero up. Some value is there. */
static void find_range(const us_depth *depth, frame *of)
{
    double high = 0.0;
    double low = 0.0;
    double least = HUGE_VAL;
    for (size_t w = 0; w < usi_depth_lines(depth); w++) {
        for (size_t k = 0; k < depth->samples.count; k++) {
            us_value value = value_of(depth, of->panel, k, w);
            high = value.present ? fmax(high, value.value) : high;
            low = value.present ? fmin(low, value.value) : low;
            least = value.present ? fmin(least, value.value) : least;
        }
    }
    if (of->panel->limit.present) {
        high = fmin(high, fmax(LEAST_TIMES * least, LIMIT_TIMES * of->panel->limit.value));
        high = fmax(high, HEADROOM * of->panel->limit.value);
    }
    of->low = HEADROOM * low;
    of->high = high > low ? HEADROOM * high : low + 1.0;
}

/* 1, 2 or 5 times a power of ten. */
static double round_step(double value)
{
    double power = pow(10.0, floor(log10(value)));
    double share = value / power;
    return power * (share <= 1.0 ? 1.0 : share <= 2.0 ? 2.0 : share <= 5.0 ? 5.0 : 10.0);
}

static int decimals_of(double step)
{
    int decimals = (int)ceil(-log10(step) - 1e-9);
    return decimals < 0 ? 0 : decimals > 6 ? 6 : decimals;
}

/* Small and large numbers of a scale share a power of ten, told beside the title. */
static int power_of(const frame *of)
{
    double most = fmax(fabs(of->high), fabs(of->low));
    int power = most > 0.0 ? (int)floor(log10(most)) : 0;
    return power < -3 || power > 5 ? power : 0;
}

static void draw_scales(const frame *of)
{
    enum { STEPS_UP = 5, STEPS_ACROSS = 7 };
    const usi_box *box = &of->panel->box;
    int power = power_of(of);
    double unit = pow(10.0, power);
    double up = round_step((of->high - of->low) / unit / STEPS_UP);
    for (double k = ceil(of->low / unit / up - 1e-9); k * up * unit <= of->high; k += 1.0) {
        double y = page_y(of, k * up * unit);
        line(of->scene, (usi_point){box->left, y}, (usi_point){box->right, y},
             usi_look_line(GRID_INK, 0.7));
        usi_scene_text(of->scene, usi_phrase_fixed(k * up, decimals_of(up)).text,
                       usi_type_plain(12, USI_ANCHOR_RIGHT), box->left - 6, y);
    }
    double across = round_step(fabs(of->right - of->left) / STEPS_ACROSS);
    for (double k = floor(of->left / across + 1e-9); k * across >= of->right; k -= 1.0) {
        double x = page_x(of, k * across);
        line(of->scene, (usi_point){x, box->bottom}, (usi_point){x, box->bottom + 5},
             usi_look_line(usi_ink_dark, 0.8));
        usi_scene_text(of->scene, usi_phrase_fixed(k * across, decimals_of(across)).text,
                       usi_type_plain(12, USI_ANCHOR_MIDDLE), x, box->bottom + 14);
    }
}

static void draw_title(const frame *of)
{
    const usi_box *box = &of->panel->box;
    int power = power_of(of);
    usi_phrase words = usi_phrase_print(
        "%s%s%s%s", of->panel->title, of->panel->unit[0] != '\0' || power != 0 ? ", in" : "",
        power != 0 ? usi_phrase_power(power).text : "",
        of->panel->unit[0] != '\0' ? usi_phrase_print(" %s", of->panel->unit).text : "");
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.bold = true;
    usi_scene_text(of->scene, words.text, type, box->left, box->top - 13);
}

static void draw_passing(const us_depth *depth, const frame *of)
{
    const usi_box *box = &of->panel->box;
    for (size_t k = 0; depth->requires_any && k < depth->passing.count; k++) {
        double from = page_x(of, depth->passing.list[k].high.tip_m / of->unit_m);
        double to = page_x(of, depth->passing.list[k].low.tip_m / of->unit_m);
        usi_point corners[4] = {
            {from, box->top}, {to, box->top}, {to, box->bottom}, {from, box->bottom}};
        usi_look look = usi_look_area(TINT);
        usi_scene_shape(of->scene, USI_SPACE_PAGE, corners, 4, look);
    }
}

/* The part of a straight piece that lies below the upper edge of the panel. */
static void draw_piece(const frame *of, usi_point a, usi_point b, usi_look look)
{
    if (a.z_m > of->high && b.z_m > of->high) {
        return;
    }
    usi_point *over = a.z_m > of->high ? &a : &b;
    const usi_point *under = over == &a ? &b : &a;
    if (over->z_m > of->high) {
        double share = (of->high - under->z_m) / (over->z_m - under->z_m);
        over->x_m = under->x_m + share * (over->x_m - under->x_m);
        over->z_m = of->high;
    }
    line(of->scene, (usi_point){page_x(of, a.x_m), page_y(of, a.z_m)},
         (usi_point){page_x(of, b.x_m), page_y(of, b.z_m)}, look);
}

/* Points in a row make one line, so that its dashes run on; what leaves the panel is cut. */
static void draw_line(const us_depth *depth, const frame *of, size_t water)
{
    usi_look look = usi_depth_line_look(water);
    usi_point run[USI_DEPTH_SAMPLES_MOST];
    size_t count = 0;
    us_value before = {0.0, 0.0, false};
    for (size_t k = 0; k <= depth->samples.count; k++) {
        us_value now = k < depth->samples.count ? value_of(depth, of->panel, k, water)
                                                : (us_value){0.0, 0.0, false};
        bool inside = now.present && now.value <= of->high;
        if (inside) {
            run[count++] = (usi_point){page_x(of, depth->samples.points[k].tip_m / of->unit_m),
                                       page_y(of, now.value)};
        }
        if (!inside && count > 1) {
            usi_scene_shape(of->scene, USI_SPACE_PAGE, run, count, look);
        }
        count = inside ? count : 0;
        bool crosses = now.present && before.present && inside != (before.value <= of->high);
        if (crosses) {
            draw_piece(of,
                       (usi_point){depth->samples.points[k - 1].tip_m / of->unit_m, before.value},
                       (usi_point){depth->samples.points[k].tip_m / of->unit_m, now.value}, look);
        }
        before = now;
    }
}

static void draw_marks(const us_depth *depth, const frame *of)
{
    const usi_box *box = &of->panel->box;
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    double drawn = wall->tip_m / of->unit_m;
    if (drawn <= of->left && drawn >= of->right) {
        usi_look look = usi_look_line(usi_ink_quiet, 1.0);
        look.dash = 2;
        look.gap = 3;
        double x = page_x(of, drawn);
        line(of->scene, (usi_point){x, box->top}, (usi_point){x, box->bottom}, look);
        usi_type type = usi_type_plain(11, USI_ANCHOR_MIDDLE);
        type.plate = (usi_ink){1.0, 1.0, 1.0, 0.75};
        usi_scene_text(of->scene, "as drawn", type, x, box->bottom - 9); /* where curves are rare */
    }
    if (of->panel->limit.present) {
        double y = page_y(of, of->panel->limit.value);
        usi_look look = usi_look_line(LIMIT_INK, 1.4);
        look.dash = 6;
        look.gap = 3;
        line(of->scene, (usi_point){box->left, y}, (usi_point){box->right, y}, look);
        usi_phrase words =
            usi_phrase_print("required %s", usi_phrase_number(of->panel->limit.value, 3).text);
        usi_type type = usi_type_plain(12, USI_ANCHOR_RIGHT);
        type.plate = (usi_ink){1.0, 1.0, 1.0, 0.75};
        usi_scene_text(of->scene, words.text, type, box->right - 4, y - 9);
    }
}

void usi_depth_panel_draw(const us_depth *depth, const usi_depth_panel *panel, usi_scene *scene)
{
    frame of = {.panel = panel,
                .scene = scene,
                .unit_m = usi_scale_of(depth->section).length_m,
                .left = depth->rows[0].tip_m,
                .right = depth->rows[depth->row_count - 1].tip_m};
    const usi_box *box = &panel->box;
    of.left /= of.unit_m;
    of.right /= of.unit_m;
    bool any = usi_depth_panel_has_values(depth, panel);
    if (any) {
        find_range(depth, &of);
    }
    draw_title(&of);
    if (!any) {
        usi_scene_text(scene, "no value here: see the notes of the table",
                       usi_type_plain(12, USI_ANCHOR_LEFT), box->left, box->top + 14);
        return;
    }
    draw_passing(depth, &of);
    draw_scales(&of);
    for (size_t w = usi_depth_lines(depth); w > 0; w--) {
        draw_line(depth, &of, w - 1);
    }
    draw_marks(depth, &of);
    usi_point frame_points[4] = {{box->left, box->top},
                                 {box->right, box->top},
                                 {box->right, box->bottom},
                                 {box->left, box->bottom}};
    usi_look look = usi_look_line(usi_ink_dark, 0.9);
    look.closed = true;
    usi_scene_shape(scene, USI_SPACE_PAGE, frame_points, 4, look);
}
