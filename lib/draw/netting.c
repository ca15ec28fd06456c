#include "draw/netting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "draw/contour.h"
#include "study/net.h"

enum { LINES_MOST = 60, UNBOUNDED_DROPS = 12 };

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

/* Weighs how far meshes are from squares (a per cent counts for much) against
 * how far the numbers are from a readable density. */
static double mesh_cost(double shape, int drops, int channels)
{
    double off = log(channels / (drops * shape));
    double dense = log(drops / 14.0);
    double wide = log(channels / 5.0);
    return 400 * off * off + dense * dense + wide * wide;
}

usi_mesh usi_mesh_choose(double shape)
{
    usi_mesh best = {1, 1};
    double least = INFINITY;
    for (int channels = 1; channels <= 40; channels++) {
        for (int drops = 2; drops <= LINES_MOST; drops++) {
            double cost = mesh_cost(shape, drops, channels);
            if (cost < least) {
                least = cost;
                best = (usi_mesh){drops, channels};
            }
        }
    }
    return best;
}

static double isotropic_share(const usi_soil *soil)
{
    return fabs(soil->kh_m_s / soil->kv_m_s - 1);
}

/* The soil in which meshes are squares: the isotropic one at the exit, else the
 * first isotropic layer, else the top layer (in its stretched section). */
static const usi_soil *find_reference(const us_section *section)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double toe_m = usi_line_level(bed, usi_section_toe_x(section), !section->flows_left);
    const usi_soil *exit = &section->soils[usi_section_layer(section, toe_m, false)];
    if (isotropic_share(exit) < 1e-6) {
        return exit;
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        if (section->soils[i].layer && isotropic_share(&section->soils[i]) < 1e-6) {
            return &section->soils[i];
        }
    }
    return &section->soils[0];
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

/* Leaves out points that crowd: near hard points cells are far smaller than a
 * pixel, and a spline through crowded points is no smoother than they are. */
static size_t thin_out(const usi_view *view, usi_point *points, size_t count)
{
    size_t kept = 1;
    usi_point last = usi_view_page(view, points[0].x_m, points[0].z_m);
    for (size_t i = 1; i < count; i++) {
        usi_point here = usi_view_page(view, points[i].x_m, points[i].z_m);
        bool far = hypot(here.x_m - last.x_m, here.z_m - last.z_m) >= 1.5;
        if (!far && i + 1 == count && kept > 1) {
            kept--; /* the end itself stays, its neighbour goes */
        }
        if (far || i + 1 == count) {
            points[kept++] = points[i];
            last = here;
        }
    }
    return kept;
}

/* An arrowhead half way along a flow line, pointing downstream. */
static void point_downstream(usi_sheet *sheet, const usi_point *points, size_t count)
{
    const usi_view *view = &sheet->scene.view;
    double length = 0;
    for (int pass = 0; pass < 2; pass++) {
        double half = 0.5 * length;
        length = 0;
        for (size_t i = 1; i < count; i++) {
            usi_point a = usi_view_page(view, points[i - 1].x_m, points[i - 1].z_m);
            usi_point b = usi_view_page(view, points[i].x_m, points[i].z_m);
            double piece = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
            length += piece;
            if (pass == 0 || length < half || piece == 0) {
                continue;
            }
            double way = (points[count - 1].x_m > points[0].x_m) == !sheet->section->flows_left;
            double along = (way > 0 ? 1 : -1) / piece;
            double dx = along * (b.x_m - a.x_m);
            double dy = along * (b.z_m - a.z_m);
            usi_point head[3] = {{b.x_m + 5 * dx, b.z_m + 5 * dy},
                                 {b.x_m - 5 * dx - 3.2 * dy, b.z_m - 5 * dy + 3.2 * dx},
                                 {b.x_m - 5 * dx + 3.2 * dy, b.z_m - 5 * dy - 3.2 * dx}};
            usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, head, 3,
                            usi_look_area(usi_netting_flow_look().line));
            return;
        }
    }
}

static us_status draw_level(usi_sheet *sheet, const usi_contour_source *source, double level,
                            bool flow)
{
    usi_curves curves = {0};
    us_status status = usi_contour_trace(sheet->context, source, level, &curves);
    if (status != US_OK) {
        return status;
    }
    for (size_t k = 0; k < curves.count; k++) {
        usi_point *points = curves.points + curves.starts[k];
        size_t count =
            thin_out(&sheet->scene.view, points, curves.starts[k + 1] - curves.starts[k]);
        usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, points, count,
                        flow ? usi_netting_flow_look() : usi_netting_drop_look());
        usi_scene_shun(&sheet->scene, points, count);
        if (flow) {
            point_downstream(sheet, points, count);
        }
    }
    usi_curves_clear(&curves);
    return sheet->scene.status;
}

static us_status draw_lines(usi_sheet *sheet, const usi_net *net, const usi_netting *netting)
{
    const usi_window *window = &sheet->window;
    usi_contour_source source = {.grid = net->grid,
                                 .value = head_value,
                                 .data = net->field,
                                 .low = window->low,
                                 .high = window->high};
    us_status status = US_OK;
    for (int k = 1; k < netting->mesh.drops && status == US_OK; k++) {
        status = draw_level(sheet, &source, (double)k / netting->mesh.drops, false);
    }
    source.value = stream_value;
    double step = netting->counted ? 1.0 / netting->mesh.channels
                                   : 1.0 / (netting->shape * netting->mesh.drops);
    for (int m = 1; m <= LINES_MOST && m * step < 1 - 1e-6 && status == US_OK; m++) {
        status = draw_level(sheet, &source, m * step, true);
    }
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
    netting->reference = find_reference(section);
    double k_m_s = sqrt(netting->reference->kh_m_s * netting->reference->kv_m_s);
    netting->counted = section->has_base;
    if (netting->counted) {
        netting->shape = usi_field_flow(field) / k_m_s;
        netting->mesh = usi_mesh_choose(netting->shape);
        netting->channel_m2_s = usi_field_flow(field) * head_m / netting->mesh.channels;
    } else {
        netting->shape = field->upper_m_s / k_m_s;
        netting->mesh = (usi_mesh){UNBOUNDED_DROPS, 0};
        netting->channel_m2_s = k_m_s * head_m / UNBOUNDED_DROPS;
    }
}

us_status usi_netting_draw(usi_sheet *sheet, usi_netting *netting)
{
    const usi_window *window = &sheet->window;
    double step_m = (window->high.x_m - window->low.x_m) / 250 / sqrt(window->exaggeration);
    usi_net net = {0};
    us_status status =
        usi_net_solve(sheet->context, sheet->section, window->low, window->high, step_m, &net);
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
