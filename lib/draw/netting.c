#include "draw/netting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "draw/contour.h"
#include "draw/fringe.h"
#include "quantity/piezometer.h"
#include "study/net.h"

enum { LINES_MOST = 60 };

usi_look usi_netting_drop_look(void)
{
    usi_look look = usi_look_line((usi_ink){0.25, 0.25, 0.28, 1}, 1.0);
    look.dash = 5;
    look.gap = 2.6;
    look.curved = true;
    return look;
}

usi_look usi_netting_flow_look(void)
{
    usi_look look = usi_look_line((usi_ink){0.10, 0.10, 0.12, 1}, 1.4);
    look.curved = true;
    return look;
}

static double head_value(const void *data, size_t i, size_t j, usi_corner corner)
{
    return usi_field_head(data, i, j, corner);
}

static double stream_value(const void *data, size_t i, size_t j, usi_corner corner)
{
    const usi_field *field = data;
    size_t column = corner == USI_LOWER_RIGHT || corner == USI_UPPER_RIGHT ? i + 1 : i;
    size_t row = corner == USI_UPPER_LEFT || corner == USI_UPPER_RIGHT ? j + 1 : j;
    return field->stream[row * (field->grid->columns + 1) + column];
}

static double head_part(const void *data, const usi_triangle *part, int corner)
{
    const usi_field *field = data;
    return field->reduced[part->unknown[corner]];
}

static double stream_part(const void *data, const usi_triangle *part, int corner)
{
    const usi_field *field = data;
    return field->stream[part->place[corner]];
}

static bool is_same(usi_point a, usi_point b)
{
    return a.x_m == b.x_m && a.z_m == b.z_m;
}

/* Leaves out points that crowd: near hard points cells are far smaller than a
 * pixel, and a spline through crowded points is no smoother than they are. */
static size_t thin_out(const usi_scene_view *view, usi_point *points, size_t count)
{
    size_t kept = 1;
    size_t fixed = 1; /* points kept that stay: the first, and bends */
    usi_point last = usi_view_page(view, points[0].x_m, points[0].z_m);
    for (size_t i = 1; i < count; i++) {
        usi_point here = usi_view_page(view, points[i].x_m, points[i].z_m);
        bool far = hypot(here.x_m - last.x_m, here.z_m - last.z_m) >= 1.5;
        bool bend = i + 1 < count && is_same(points[i], points[i + 1]);
        bool stays = bend || i + 1 == count;
        if (!far && stays && kept > fixed) {
            kept--; /* its neighbour goes */
        }
        if (far || stays) {
            points[kept++] = points[i];
            last = here;
        }
        if (bend) {
            points[kept++] = points[i++];
            fixed = kept;
        }
    }
    return kept;
}

/* An arrowhead at `at`, along (dx, dy): left out at the edge of the plot and
 * where it would touch another. */
static void draw_arrowhead(usi_sheet *sheet, usi_point at, double dx, double dy)
{
    usi_box plot = sheet->scene.view.plot;
    usi_box inner = {plot.left + 8, plot.top + 8, plot.right - 8, plot.bottom - 8};
    usi_box box = {at.x_m - 5, at.z_m - 5, at.x_m + 5, at.z_m + 5};
    if (!usi_box_holds(inner, box) || !usi_scene_is_free(&sheet->scene, box)) {
        return;
    }
    usi_point head[3] = {{at.x_m + 5 * dx, at.z_m + 5 * dy},
                         {at.x_m - 5 * dx - 3.2 * dy, at.z_m - 5 * dy + 3.2 * dx},
                         {at.x_m - 5 * dx + 3.2 * dy, at.z_m - 5 * dy - 3.2 * dx}};
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, head, 3,
                    usi_look_area(usi_netting_flow_look().line));
    usi_scene_guard(&sheet->scene, box, false);
}

static double page_length(const usi_scene_view *view, const usi_point *points, size_t count)
{
    double length = 0;
    for (size_t i = 1; i < count; i++) {
        length += hypot((points[i].x_m - points[i - 1].x_m) / usi_view_unit_x(view),
                        (points[i].z_m - points[i - 1].z_m) / usi_view_unit_z(view));
    }
    return length;
}

/* The point nearest to a given one around which the line does not bend sharply, as it
 * does where soils meet; that one itself where there is none. */
static size_t leave_bend(const usi_scene_view *view, const usi_point *points, size_t count,
                         size_t middle)
{
    static const double straight = 0.96;
    enum { NEAR = 3 };
    for (size_t k = 0; k < count / 2; k++) {
        size_t i = k % 2 == 0 ? middle + k / 2 : middle - k / 2 - 1;
        if (i < NEAR || i + NEAR >= count) {
            continue;
        }
        usi_point ends[2] = {points[i - NEAR], points[i + NEAR]};
        if (page_length(view, ends, 2) >
            straight * page_length(view, points + i - NEAR, 2 * NEAR + 1)) {
            return i;
        }
    }
    return middle;
}

/* Lines of equal head that were drawn, to see where the next would touch them. */
typedef struct pen {
    usi_sheet *sheet;
    const usi_contour_source *source;
    usi_clutter drawn;
} pen;

/* Whether water goes along a line as its points do: towards lower heads or, where only the
 * two waters act, downstream. */
static bool runs_on(const pen *with, const usi_point *points, size_t count)
{
    const us_section *section = with->sheet->section;
    const usi_field *field = with->source->data;
    if (section->situation != NULL) {
        usi_reduced first = usi_head_at(field, points[count / 4], USI_FACE_NONE);
        usi_reduced last = usi_head_at(field, points[count - 1 - count / 4], USI_FACE_NONE);
        if (first.present && last.present && first.value != last.value) {
            return first.value > last.value;
        }
    }
    return (points[count - 1].x_m > points[0].x_m) == !section->flows_left;
}

/* Marks the middle of a flow line with the way the water goes. */
static void point_downstream(pen *with, const usi_point *points, size_t count)
{
    usi_sheet *sheet = with->sheet;
    const usi_scene_view *view = &sheet->scene.view;
    double length = page_length(view, points, count);
    double gone = 0;
    size_t i = 0;
    while (i + 1 < count && gone < 0.5 * length) {
        i++;
        gone += page_length(view, points + i - 1, 2);
    }
    if (i == 0 || length < 60) {
        return;
    }
    i = leave_bend(view, points, count, i);
    /* A chord of a few points has the direction of the line around its middle. */
    size_t before = i > 3 ? i - 3 : 0;
    size_t behind = i + 3 < count ? i + 3 : count - 1;
    usi_point a = usi_view_page(view, points[before].x_m, points[before].z_m);
    usi_point b = usi_view_page(view, points[behind].x_m, points[behind].z_m);
    usi_point middle = usi_view_page(view, points[i].x_m, points[i].z_m);
    double chord = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    if (!(chord > 0)) {
        return;
    }
    bool forward = runs_on(with, points, count);
    double scale = (forward ? 1 : -1) / chord;
    draw_arrowhead(sheet, middle, scale * (b.x_m - a.x_m), scale * (b.z_m - a.z_m));
}

static bool touches_drawn(const pen *with, usi_point p)
{
    static const double reach = 2.4;
    usi_point at = usi_view_page(&with->sheet->scene.view, p.x_m, p.z_m);
    usi_box box = {at.x_m - reach, at.z_m - reach, at.x_m + reach, at.z_m + reach};
    double weight = 0;
    return usi_clutter_weigh(&with->drawn, box, &weight) && weight > 0;
}

static void draw_piece(usi_sheet *sheet, const usi_point *points, size_t count, usi_look look)
{
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, points, count, look);
    usi_scene_shun(&sheet->scene, points, count, USI_SHUN_LINE);
}

/* Draws a line of equal head where it is clear of those drawn before. */
static void draw_drop(pen *with, const usi_point *points, size_t count)
{
    static const double shortest = 24;
    usi_sheet *sheet = with->sheet;
    const usi_scene_view *view = &sheet->scene.view;
    size_t first = 0;
    for (size_t i = 0; i <= count; i++) {
        if (i < count && !touches_drawn(with, points[i])) {
            continue;
        }
        if (i > first + 1) {
            double length = page_length(view, points + first, i - first);
            bool drawn = i - first == count || length > shortest;
            if (drawn) {
                draw_piece(sheet, points + first, i - first, usi_netting_drop_look());
            }
            sheet->left_out += drawn ? 0 : length;
        }
        sheet->left_out += first > 0 ? page_length(view, points + first - 1, 2) : 0;
        first = i + 1;
    }
}

/* Remembers what was drawn of equal heads, once a level is done: a line may
 * touch itself. */
static void remember_drops(pen *with, size_t first)
{
    const usi_scene *scene = &with->sheet->scene;
    for (; first < scene->shape_count; first++) {
        const usi_point *points = scene->points + scene->shapes[first].first;
        for (size_t i = 1; i < scene->shapes[first].count; i++) {
            usi_point a = usi_view_page(&scene->view, points[i - 1].x_m, points[i - 1].z_m);
            usi_point b = usi_view_page(&scene->view, points[i].x_m, points[i].z_m);
            usi_clutter_mark(&with->drawn, (usi_stroke){a.x_m, a.z_m, b.x_m, b.z_m, 1, 0});
        }
    }
}

static us_status draw_level(pen *with, double level, bool flow)
{
    usi_sheet *sheet = with->sheet;
    size_t before = sheet->scene.shape_count;
    usi_curves curves = {0};
    us_status status = usi_contour_trace(sheet->context, with->source, level, &curves);
    if (status != US_OK) {
        return status;
    }
    for (size_t k = 0; k < curves.count; k++) {
        usi_point *points = curves.points + curves.starts[k];
        size_t count =
            thin_out(&sheet->scene.view, points, curves.starts[k + 1] - curves.starts[k]);
        if (flow) {
            draw_piece(sheet, points, count, usi_netting_flow_look());
            point_downstream(with, points, count);
        } else {
            draw_drop(with, points, count);
        }
    }
    usi_curves_clear(&curves);
    if (!flow) {
        remember_drops(with, before);
    }
    return sheet->scene.status;
}

static us_status pulse(const usi_sheet *sheet, double fraction)
{
    return usi_context_pulse(sheet->context, "tracing lines", 0, fraction);
}

/* Every second line first, then those between, and so on: where not all find
 * room, those that do are evenly spaced. */
static us_status draw_drops(pen *with, const usi_netting *netting)
{
    int drops = netting->mesh.drops;
    us_status status = US_OK;
    int done = 0;
    for (int step = 64; step > 0; step /= 2) {
        for (int k = step; k < drops && status == US_OK; k += 2 * step) {
            double share = (double)k / drops;
            double level = netting->low + share * (netting->high - netting->low);
            status = draw_level(with, level, false);
            done++;
            status = status == US_OK ? pulse(with->sheet, (double)done / drops) : status;
        }
    }
    return status;
}

static us_status draw_lines(usi_sheet *sheet, const usi_net *net, const usi_netting *netting)
{
    const usi_window *window = &sheet->window;
    usi_box plot = sheet->scene.view.plot;
    usi_contour_source source = {.grid = net->grid,
                                 .value = head_value,
                                 .part_value = head_part,
                                 .data = net->field,
                                 .low = window->low,
                                 .high = window->high};
    pen with = {.sheet = sheet, .source = &source};
    if (!usi_clutter_start(sheet->context, &with.drawn, plot.right, plot.bottom)) {
        return US_ERROR_MEMORY;
    }
    us_status status = draw_drops(&with, netting);
    source.value = stream_value;
    source.part_value = stream_part;
    double range = netting->most - netting->least;
    double step = netting->counted ? range / netting->mesh.channels
                                   : range / (netting->shape * netting->mesh.drops);
    for (int m = 1;
         netting->flows && m <= LINES_MOST && m * step < range * (1 - 1e-6) && status == US_OK;
         m++) {
        status = draw_level(&with, netting->least + m * step, true);
        status = status == US_OK ? pulse(sheet, m * step / range) : status;
    }
    usi_clutter_clear(&with.drawn);
    return status;
}

us_status usi_netting_draw(usi_sheet *sheet, usi_netting *netting)
{
    const usi_window *window = &sheet->window;
    usi_net_request request = {.low = window->low,
                               .high = window->high,
                               .step_m = (window->high.x_m - window->low.x_m) / 250 /
                                         sqrt(window->exaggeration)};
    usi_net net = {0};
    us_status status = usi_net_solve(sheet->context, sheet->section, &request, &net);
    if (status != US_OK) {
        return status;
    }
    usi_netting_choose(sheet, net.field, netting);
    status = usi_fringe_learn(sheet, net.field);
    if (status == US_OK && netting->heads) {
        status = draw_lines(sheet, &net, netting);
    }
    usi_net_free(&net);
    return status;
}
