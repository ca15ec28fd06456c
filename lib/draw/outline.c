#include "draw/outline.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

void usi_outline_add(usi_scene *scene, usi_outline *outline, double x_m, double z_m)
{
    if (scene->status != US_OK) {
        return;
    }
    if (outline->count == outline->room) {
        size_t room = outline->room == 0 ? 32 : 2 * outline->room;
        usi_point *points =
            usi_memory_resize(scene->context, outline->points, room, sizeof *points);
        if (points == NULL) {
            scene->status = US_ERROR_MEMORY;
            return;
        }
        outline->points = points;
        outline->room = room;
    }
    outline->points[outline->count++] = (usi_point){x_m, z_m};
}

void usi_outline_follow(usi_scene *scene, usi_outline *outline, const usi_line *line, double from_m,
                        double to_m)
{
    if (from_m > to_m) {
        return;
    }
    usi_outline_add(scene, outline, from_m, usi_line_level(line, from_m, true));
    for (size_t i = 0; i < line->count; i++) {
        const usi_point *p = &line->points[i];
        if (p->x_m > from_m && p->x_m < to_m) {
            usi_outline_add(scene, outline, p->x_m, p->z_m);
        }
    }
    usi_outline_add(scene, outline, to_m, usi_line_level(line, to_m, false));
}

void usi_outline_reverse(usi_outline *outline, size_t first)
{
    for (size_t i = first, j = outline->count; i + 1 < j; i++) {
        j--;
        usi_point kept = outline->points[i];
        outline->points[i] = outline->points[j];
        outline->points[j] = kept;
    }
}

void usi_outline_clip(usi_scene *scene, usi_outline *outline, double level_m)
{
    usi_outline below = {0};
    for (size_t i = 0; i < outline->count; i++) {
        usi_point a = outline->points[i];
        usi_point b = outline->points[i + 1 < outline->count ? i + 1 : 0];
        if (a.z_m <= level_m) {
            usi_outline_add(scene, &below, a.x_m, a.z_m);
        }
        if ((a.z_m <= level_m) != (b.z_m <= level_m)) {
            double share = (level_m - a.z_m) / (b.z_m - a.z_m);
            usi_outline_add(scene, &below, a.x_m + share * (b.x_m - a.x_m), level_m);
        }
    }
    usi_outline_clear(outline);
    *outline = below;
}

void usi_outline_clear(usi_outline *outline)
{
    free(outline->points);
    memset(outline, 0, sizeof *outline);
}
