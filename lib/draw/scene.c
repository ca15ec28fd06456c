#include "draw/scene.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

us_status usi_scene_start(us_context *context, usi_scene *scene)
{
    memset(scene, 0, sizeof *scene);
    scene->context = context;
    scene->font = usi_font_create(context);
    scene->status = scene->font == NULL ? US_ERROR_MEMORY : US_OK;
    return scene->status;
}

void usi_scene_clear(usi_scene *scene)
{
    for (size_t i = 0; i < scene->text_count; i++) {
        free(scene->texts[i].words);
    }
    free(scene->points);
    free(scene->shapes);
    free(scene->texts);
    free(scene->guards);
    free(scene->labels);
    usi_clutter_clear(&scene->clutter);
    usi_font_free(scene->font);
    memset(scene, 0, sizeof *scene);
}

/* The list with room for `needed` elements; NULL, with the status set, when
 * memory is short or an earlier addition failed. */
static void *reserve(usi_scene *scene, void *list, size_t *room, size_t needed, size_t size)
{
    if (scene->status != US_OK) {
        return NULL;
    }
    if (needed <= *room) {
        return list;
    }
    size_t wanted = needed < 32 ? 64 : 2 * needed;
    void *grown = usi_memory_resize(scene->context, list, wanted, size);
    if (grown == NULL) {
        scene->status = US_ERROR_MEMORY;
        return NULL;
    }
    *room = wanted;
    return grown;
}

void usi_scene_shape(usi_scene *scene, usi_space space, const usi_point *points, size_t count,
                     usi_look look)
{
    if (count < 2) {
        return;
    }
    usi_point *pool = reserve(scene, scene->points, &scene->point_room, scene->point_count + count,
                              sizeof *scene->points);
    if (pool == NULL) {
        return;
    }
    scene->points = pool;
    usi_shape *shapes = reserve(scene, scene->shapes, &scene->shape_room, scene->shape_count + 1,
                                sizeof *scene->shapes);
    if (shapes == NULL) {
        return;
    }
    scene->shapes = shapes;
    memcpy(&scene->points[scene->point_count], points, count * sizeof *points);
    scene->shapes[scene->shape_count++] =
        (usi_shape){.space = space, .look = look, .first = scene->point_count, .count = count};
    scene->point_count += count;
}

usi_box usi_scene_measure(usi_scene *scene, const char *words, usi_type type, double x, double y)
{
    usi_box box = {x, y, x, y};
    if (scene->status != US_OK) {
        return box;
    }
    usi_font_request request = {words, type.size, type.bold, type.slanted, type.limit};
    double width = 0;
    double height = 0;
    usi_font_measure(scene->font, &request, &width, &height);
    double share = type.anchor == USI_ANCHOR_LEFT ? 0 : type.anchor == USI_ANCHOR_MIDDLE ? 0.5 : 1;
    box.left = x - share * width;
    box.right = box.left + width;
    box.top = y - 0.5 * height;
    box.bottom = y + 0.5 * height;
    return box;
}

static bool add_text(usi_scene *scene, const char *words, usi_type type, usi_box box)
{
    usi_text *texts = reserve(scene, scene->texts, &scene->text_room, scene->text_count + 1,
                              sizeof *scene->texts);
    if (texts == NULL) {
        return false;
    }
    scene->texts = texts;
    char *copy = usi_memory_text(scene->context, words, strlen(words));
    if (copy == NULL) {
        scene->status = US_ERROR_MEMORY;
        return false;
    }
    scene->texts[scene->text_count++] = (usi_text){.words = copy, .type = type, .box = box};
    return true;
}

void usi_scene_text(usi_scene *scene, const char *words, usi_type type, double x, double y)
{
    if (words[0] != '\0') {
        (void)add_text(scene, words, type, usi_scene_measure(scene, words, type, x, y));
    }
}

/* The raster is made when the first thing comes that it has to hold. */
static bool ready_clutter(usi_scene *scene)
{
    const usi_box *plot = &scene->view.plot;
    double bottom = fmax(plot->bottom, scene->view.page_height);
    if (scene->status == US_OK && scene->clutter.weights == NULL &&
        !usi_clutter_start(scene->context, &scene->clutter, plot->right, bottom)) {
        scene->status = US_ERROR_MEMORY;
    }
    return scene->status == US_OK;
}

void usi_scene_guard(usi_scene *scene, usi_box box, bool solid)
{
    if (!ready_clutter(scene)) {
        return;
    }
    usi_guard *guards = reserve(scene, scene->guards, &scene->guard_room, scene->guard_count + 1,
                                sizeof *scene->guards);
    if (guards != NULL) {
        scene->guards = guards;
        scene->guards[scene->guard_count++] = (usi_guard){box, solid};
        usi_clutter_bar(&scene->clutter, box,
                        solid ? USI_BARS_LABELS | USI_BARS_LEADERS : USI_BARS_LABELS);
    }
}

const usi_label *usi_scene_label(usi_scene *scene, const char *words, usi_type type, usi_box box,
                                 usi_label label)
{
    usi_label *labels = reserve(scene, scene->labels, &scene->label_room, scene->label_count + 1,
                                sizeof *scene->labels);
    if (labels == NULL) {
        return NULL;
    }
    scene->labels = labels;
    label.text = scene->text_count;
    if (!add_text(scene, words, type, box)) {
        return NULL;
    }
    scene->labels[scene->label_count++] = label;
    return &scene->labels[scene->label_count - 1];
}

bool usi_scene_is_free(const usi_scene *scene, usi_box box)
{
    for (size_t i = 0; i < scene->text_count; i++) {
        if (usi_box_meets(scene->texts[i].box, box)) {
            return false;
        }
    }
    for (size_t i = 0; i < scene->guard_count; i++) {
        if (usi_box_meets(scene->guards[i].box, box)) {
            return false;
        }
    }
    return true;
}

void usi_scene_shun_page(usi_scene *scene, const usi_point *points, size_t count, usi_shun how)
{
    static const unsigned char weights[] = {1, 4, 0};
    if (!ready_clutter(scene)) {
        return;
    }
    for (size_t i = 1; i < count; i++) {
        usi_point a = points[i - 1];
        usi_point b = points[i];
        usi_stroke stroke = {a.x_m, a.z_m,        b.x_m,
                             b.z_m, weights[how], how == USI_SHUN_EDGE ? USI_BARS_LABELS : 0};
        usi_clutter_mark(&scene->clutter, stroke);
    }
}

void usi_scene_shun(usi_scene *scene, const usi_point *points, size_t count, usi_shun how)
{
    for (size_t i = 1; i < count; i++) {
        usi_point ends[2] = {usi_view_page(&scene->view, points[i - 1].x_m, points[i - 1].z_m),
                             usi_view_page(&scene->view, points[i].x_m, points[i].z_m)};
        usi_scene_shun_page(scene, ends, 2, how);
    }
}

void usi_scene_open(usi_scene *scene, usi_box box)
{
    if (ready_clutter(scene)) {
        usi_clutter_wipe(&scene->clutter, box);
    }
}

usi_point usi_view_page(const usi_scene_view *view, double x_m, double z_m)
{
    double u = (x_m - view->low.x_m) / (view->high.x_m - view->low.x_m);
    double v = (z_m - view->low.z_m) / (view->high.z_m - view->low.z_m);
    return (usi_point){view->plot.left + u * (view->plot.right - view->plot.left),
                       view->plot.bottom - v * (view->plot.bottom - view->plot.top)};
}

double usi_view_unit_x(const usi_scene_view *view)
{
    return (view->high.x_m - view->low.x_m) / (view->plot.right - view->plot.left);
}

double usi_view_unit_z(const usi_scene_view *view)
{
    return (view->high.z_m - view->low.z_m) / (view->plot.bottom - view->plot.top);
}

bool usi_box_meets(usi_box a, usi_box b)
{
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

bool usi_box_holds(usi_box outer, usi_box inner)
{
    return outer.left <= inner.left && inner.right <= outer.right && outer.top <= inner.top &&
           inner.bottom <= outer.bottom;
}
