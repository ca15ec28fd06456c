#include "draw/netting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "draw/contour.h"
#include "study/net.h"

enum {
    LINES_MOST = 60,
    CHANNELS_LEAST = 2,
    CHANNELS_MOST = 12,
    DROPS_MOST = 72,
    UNBOUNDED_DROPS = 12
};

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

/* Meshes this far from squares are none: density alone decides. */
static const double squares_forgone = 8;

/* Weighs how far meshes are from squares (a per cent counts for much) against
 * how far the numbers are from a readable density. */
static double mesh_cost(double shape, int drops, int channels)
{
    double off = log(channels / (drops * shape));
    double uneven = fmin(400 * off * off, squares_forgone);
    double dense = log(drops / 14.0);
    double wide = log(channels / 5.0);
    return uneven + dense * dense + wide * wide;
}

usi_mesh usi_mesh_choose(double shape, double *cost)
{
    usi_mesh best = {2, CHANNELS_LEAST};
    *cost = INFINITY;
    for (int channels = CHANNELS_LEAST; channels <= CHANNELS_MOST; channels++) {
        for (int drops = 2; drops <= DROPS_MOST; drops++) {
            double here = mesh_cost(shape, drops, channels);
            if (here < *cost) {
                *cost = here;
                best = (usi_mesh){drops, channels};
            }
        }
    }
    return best;
}

static bool is_isotropic(const usi_soil *soil)
{
    return fabs(soil->kh_m_s / soil->kv_m_s - 1) < 1e-6;
}

static size_t exit_soil(const us_section *section)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double toe_x_m = usi_section_toe_x(section);
    bool right = !section->flows_left;
    usi_point toe = {toe_x_m, usi_line_level(bed, toe_x_m, right)};
    return usi_section_soil_at(section, toe, right, false);
}

/* The soil whose meshes are made squares, and the mesh: the isotropic soil at
 * the exit if its net is readable, else the layer with the most readable net,
 * isotropic ones first. In an anisotropic one squares hold in the section
 * whose distances are transformed. */
static void choose_reference(const us_section *section, double flow_m_s, usi_netting *netting)
{
    size_t exit = exit_soil(section);
    double least = INFINITY;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        if (!soil->layer && i != exit) {
            continue;
        }
        double cost = 0;
        double shape = flow_m_s / sqrt(soil->kh_m_s * soil->kv_m_s);
        usi_mesh mesh = usi_mesh_choose(shape, &cost);
        cost += (is_isotropic(soil) ? 0 : 4) + (i == exit ? 0 : 1);
        if (cost < least) {
            least = cost;
            netting->reference = soil;
            netting->shape = shape;
            netting->mesh = mesh;
        }
    }
}

/* Without a base only the drops are chosen; channels follow from squares. */
static void choose_unbounded(const us_section *section, double flow_m_s, usi_netting *netting)
{
    netting->reference = &section->soils[exit_soil(section)];
    for (size_t i = 0; i < section->soil_count && !is_isotropic(netting->reference); i++) {
        if (section->soils[i].layer && is_isotropic(&section->soils[i])) {
            netting->reference = &section->soils[i];
        }
    }
    netting->shape = flow_m_s / sqrt(netting->reference->kh_m_s * netting->reference->kv_m_s);
    netting->mesh = (usi_mesh){UNBOUNDED_DROPS, 0};
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
static size_t thin_out(const usi_view *view, usi_point *points, size_t count)
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

static double page_length(const usi_view *view, const usi_point *points, size_t count)
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
static size_t leave_bend(const usi_view *view, const usi_point *points, size_t count, size_t middle)
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

/* Marks the middle of a flow line with the way the water goes. */
static void point_downstream(usi_sheet *sheet, const usi_point *points, size_t count)
{
    const usi_view *view = &sheet->scene.view;
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
    bool forward = (points[count - 1].x_m > points[0].x_m) == !sheet->section->flows_left;
    double scale = (forward ? 1 : -1) / chord;
    draw_arrowhead(sheet, middle, scale * (b.x_m - a.x_m), scale * (b.z_m - a.z_m));
}

/* Lines of equal head that were drawn, to see where the next would touch them. */
typedef struct pen {
    usi_sheet *sheet;
    const usi_contour_source *source;
    usi_clutter drawn;
} pen;

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
    const usi_view *view = &sheet->scene.view;
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
            point_downstream(sheet, points, count);
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
static us_status draw_drops(pen *with, int drops)
{
    us_status status = US_OK;
    int done = 0;
    for (int step = 64; step > 0; step /= 2) {
        for (int k = step; k < drops && status == US_OK; k += 2 * step) {
            status = draw_level(with, (double)k / drops, false);
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
    us_status status = draw_drops(&with, netting->mesh.drops);
    source.value = stream_value;
    source.part_value = stream_part;
    double step = netting->counted ? 1.0 / netting->mesh.channels
                                   : 1.0 / (netting->shape * netting->mesh.drops);
    for (int m = 1; m <= LINES_MOST && m * step < 1 - 1e-6 && status == US_OK; m++) {
        status = draw_level(&with, m * step, true);
        status = status == US_OK ? pulse(sheet, m * step) : status;
    }
    usi_clutter_clear(&with.drawn);
    return status;
}

static void choose_mesh(const usi_sheet *sheet, const usi_field *field, usi_netting *netting)
{
    const us_section *section = sheet->section;
    double head_m = sheet->water->upstream_m - sheet->water->downstream_m;
    netting->flows = head_m > 0 && field->stream != NULL;
    if (!netting->flows) {
        return;
    }
    netting->counted = section->has_base;
    if (netting->counted) {
        choose_reference(section, field->flow_m_s, netting);
        netting->channel_m2_s = field->flow_m_s * head_m / netting->mesh.channels;
    } else {
        choose_unbounded(section, field->upper_m_s, netting);
        netting->channel_m2_s = field->upper_m_s * head_m / (netting->shape * netting->mesh.drops);
    }
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
    choose_mesh(sheet, net.field, netting);
    if (netting->flows) {
        status = draw_lines(sheet, &net, netting);
    }
    usi_net_free(&net);
    return status;
}
