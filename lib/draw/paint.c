#include "draw/paint.h"

#include <math.h>
#include <stdlib.h>

#include <pango/pangocairo.h>

#include "base/context.h"
#include "base/memory.h"

static void set_ink(cairo_t *pen, usi_ink ink)
{
    cairo_set_source_rgba(pen, ink.red, ink.green, ink.blue, ink.alpha);
}

/* A spline through the points: the tangent at each leans on its two
 * neighbours, shortened so that an uneven spacing cannot make it swing. */
static void trace_smooth(cairo_t *pen, const usi_point *p, size_t count)
{
    for (size_t i = 0; i + 1 < count; i++) {
        usi_point before = i > 0 ? p[i - 1] : p[i];
        usi_point after = i + 2 < count ? p[i + 2] : p[i + 1];
        double span = hypot(p[i + 1].x_m - p[i].x_m, p[i + 1].z_m - p[i].z_m);
        double reach_0 = hypot(p[i + 1].x_m - before.x_m, p[i + 1].z_m - before.z_m);
        double reach_1 = hypot(after.x_m - p[i].x_m, after.z_m - p[i].z_m);
        double share_0 = reach_0 > 0 ? span / (3 * reach_0) : 0;
        double share_1 = reach_1 > 0 ? span / (3 * reach_1) : 0;
        cairo_curve_to(pen, p[i].x_m + share_0 * (p[i + 1].x_m - before.x_m),
                       p[i].z_m + share_0 * (p[i + 1].z_m - before.z_m),
                       p[i + 1].x_m - share_1 * (after.x_m - p[i].x_m),
                       p[i + 1].z_m - share_1 * (after.z_m - p[i].z_m), p[i + 1].x_m, p[i + 1].z_m);
    }
}

/* Smooth between points that stand twice: there it bends. */
static void trace_curve(cairo_t *pen, const usi_point *p, size_t count)
{
    cairo_move_to(pen, p[0].x_m, p[0].z_m);
    size_t first = 0;
    for (size_t i = 1; i <= count; i++) {
        if (i == count || (p[i].x_m == p[i - 1].x_m && p[i].z_m == p[i - 1].z_m)) {
            trace_smooth(pen, p + first, i - first);
            first = i;
        }
    }
}

static void trace_shape(cairo_t *pen, const usi_shape *shape, const usi_point *page)
{
    if (shape->look.curved && shape->count > 2) {
        trace_curve(pen, page, shape->count);
    } else {
        for (size_t i = 0; i < shape->count; i++) {
            cairo_line_to(pen, page[i].x_m, page[i].z_m);
        }
    }
    if (shape->look.closed) {
        cairo_close_path(pen);
    }
}

static void paint_look(cairo_t *pen, const usi_look *look)
{
    if (look->fill.alpha > 0) {
        set_ink(pen, look->fill);
        cairo_fill_preserve(pen);
    }
    if (look->line.alpha > 0 && look->width > 0) {
        set_ink(pen, look->line);
        cairo_set_line_width(pen, look->width);
        cairo_set_line_join(pen, CAIRO_LINE_JOIN_MITER);
        double dashes[2] = {look->dash, look->gap};
        cairo_set_dash(pen, dashes, look->dash > 0 ? 2 : 0, 0);
        cairo_stroke_preserve(pen);
    }
    cairo_new_path(pen);
}

/* Whether no clip is needed; a curve runs past its points by less than the pad. */
static bool lies_inside(usi_box plot, const usi_shape *shape, const usi_point *page)
{
    double pad = shape->look.curved ? 10 : shape->look.width;
    usi_box inner = {plot.left + pad, plot.top + pad, plot.right - pad, plot.bottom - pad};
    for (size_t i = 0; i < shape->count; i++) {
        if (!usi_box_holds(inner, (usi_box){page[i].x_m, page[i].z_m, page[i].x_m, page[i].z_m})) {
            return false;
        }
    }
    return true;
}

static void paint_shape(cairo_t *pen, const usi_scene *scene, const usi_shape *shape,
                        usi_point *page)
{
    for (size_t i = 0; i < shape->count; i++) {
        usi_point p = scene->points[shape->first + i];
        page[i] = shape->space == USI_SPACE_SECTION ? usi_view_page(&scene->view, p.x_m, p.z_m) : p;
    }
    cairo_save(pen);
    usi_box plot = scene->view.plot;
    if (shape->space == USI_SPACE_SECTION && !lies_inside(plot, shape, page)) {
        cairo_rectangle(pen, plot.left, plot.top, plot.right - plot.left, plot.bottom - plot.top);
        cairo_clip(pen);
    }
    trace_shape(pen, shape, page);
    paint_look(pen, &shape->look);
    cairo_restore(pen);
}

static void paint_plate(cairo_t *pen, const usi_text *text)
{
    usi_box box = text->box;
    if (text->type.plate.alpha > 0) {
        set_ink(pen, text->type.plate);
        cairo_rectangle(pen, box.left - 3, box.top + 1, box.right - box.left + 6,
                        box.bottom - box.top - 2);
        cairo_fill(pen);
    }
}

/* Marks piled on a letter are cut where they leave the line. */
static void clip_towers(cairo_t *pen, usi_box box, PangoLayout *layout)
{
    PangoRectangle ink;
    PangoRectangle line;
    pango_layout_get_extents(layout, &ink, &line);
    if (ink.y < line.y || ink.y + ink.height > line.y + line.height) {
        double top = floor(box.top); /* a cut between pixels would be a matter of taste */
        cairo_rectangle(pen, floor(box.left) - 4, top, ceil(box.right - box.left) + 8,
                        ceil(box.bottom) - top);
        cairo_clip(pen);
    }
}

static void paint_text(cairo_t *pen, const usi_scene *scene, const usi_text *text,
                       usi_letters letters)
{
    usi_font_request request = {text->words, text->type.size, text->type.bold, text->type.slanted,
                                text->type.limit};
    PangoLayout *layout = usi_font_layout(scene->font, &request);
    paint_plate(pen, text);
    cairo_save(pen);
    clip_towers(pen, text->box, layout);
    cairo_move_to(pen, text->box.left, text->box.top);
    cairo_set_source_rgb(pen, 0.08, 0.08, 0.1);
    if (letters == USI_LETTERS_TEXT) {
        pango_cairo_show_layout(pen, layout);
    } else {
        pango_cairo_layout_path(pen, layout);
        cairo_fill(pen);
    }
    cairo_new_path(pen);
    cairo_restore(pen);
    g_object_unref(layout);
}

static us_status paint_all(const usi_scene *scene, cairo_t *pen, usi_letters letters)
{
    size_t most = 1;
    for (size_t i = 0; i < scene->shape_count; i++) {
        most = scene->shapes[i].count > most ? scene->shapes[i].count : most;
    }
    usi_point *page = usi_memory_array(scene->context, most, sizeof *page);
    if (page == NULL) {
        return US_ERROR_MEMORY;
    }
    cairo_set_source_rgb(pen, 1, 1, 1);
    cairo_paint(pen);
    for (size_t i = 0; i < scene->shape_count; i++) {
        paint_shape(pen, scene, &scene->shapes[i], page);
    }
    for (size_t i = 0; i < scene->text_count; i++) {
        paint_text(pen, scene, &scene->texts[i], letters);
    }
    free(page);
    return US_OK;
}

us_status usi_paint_outcome(us_context *context, cairo_status_t status)
{
    if (status == CAIRO_STATUS_SUCCESS) {
        return US_OK;
    }
    if (status == CAIRO_STATUS_WRITE_ERROR) {
        return US_ERROR_MEMORY; /* the buffer was full, and said so itself */
    }
    usi_context_report(context, US_ERROR, NULL, NULL, "the picture could not be painted: %s",
                       cairo_status_to_string(status));
    return status == CAIRO_STATUS_NO_MEMORY ? US_ERROR_MEMORY : US_ERROR_INTERNAL;
}

us_status usi_scene_paint(const usi_scene *scene, cairo_surface_t *surface, double scale,
                          usi_letters letters)
{
    cairo_t *pen = cairo_create(surface);
    cairo_scale(pen, scale, scale);
    us_status status = usi_paint_outcome(scene->context, cairo_status(pen));
    if (status == US_OK) {
        status = usi_memory_afford(scene->context, USI_ROOM_FOR_PAINT);
    }
    if (status == US_OK) {
        status = paint_all(scene, pen, letters);
    }
    if (status == US_OK) {
        status = usi_paint_outcome(scene->context, usi_font_is_sound(scene->font)
                                                       ? cairo_status(pen)
                                                       : CAIRO_STATUS_NO_MEMORY);
    }
    cairo_destroy(pen);
    return status;
}
