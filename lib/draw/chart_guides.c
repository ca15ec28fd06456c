/* What a chart has besides its series: level lines and slopes. */
#include <math.h>

#include "draw/chart_page.h"

static usi_box grow(usi_box box, double by)
{
    return (usi_box){box.left - by, box.top - by, box.right + by, box.bottom + by};
}

/* Whether nothing lies in a box of the plot. */
static bool is_free(const usi_scene *scene, usi_box box)
{
    double weight = 0;
    return usi_box_holds(scene->view.plot, box) && usi_scene_is_free(scene, box) &&
           usi_clutter_weigh(&scene->clutter, box, &weight) && weight == 0;
}

/* Words over or under a level line, where a place is free. */
static void name_limit(usi_scene *scene, const char *words, double y)
{
    usi_box plot = scene->view.plot;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    usi_box size = usi_scene_measure(scene, words, type, 0, 0);
    const double step = 12;
    const double sides[] = {y - 10, y + 10};
    int across = (int)((plot.right - plot.left - size.right) / step);
    for (int i = 1; i <= across; i++) {
        double x = plot.left + i * step;
        for (size_t k = 0; k < 2; k++) {
            usi_box box = usi_scene_measure(scene, words, type, x, sides[k]);
            if (is_free(scene, box)) {
                usi_scene_text(scene, words, type, x, sides[k]);
                return;
            }
        }
    }
    type.plate = (usi_ink){1, 1, 1, 1};
    usi_scene_text(scene, words, type, plot.left + 8, sides[0]);
}

void usi_chart_draw_limits(const usi_chart *chart, usi_scene *scene)
{
    usi_look look = usi_look_line(usi_ink_dark, 1.2);
    look.dash = 3;
    look.gap = 3;
    usi_box plot = scene->view.plot;
    for (size_t i = 0; i < chart->limit_count; i++) {
        double power = log10(chart->limits[i].y);
        double y = usi_view_page(&scene->view, scene->view.low.x_m, power).z_m;
        usi_point ends[2] = {{plot.left, y}, {plot.right, y}};
        usi_scene_shape(scene, USI_SPACE_PAGE, ends, 2, look);
        name_limit(scene, chart->limits[i].words, y);
        usi_scene_guard(scene, (usi_box){plot.left, y - 1, plot.right, y + 1}, false);
    }
}

/* A triangle as wide as half a power of ten, its words beside the upright leg. */
typedef struct wedge {
    double width;
    double height;
    usi_box words;
} wedge;

static const double words_gap = 6;

static wedge wedge_of(usi_scene *scene, const usi_chart_slope *slope)
{
    const usi_scene_view *view = &scene->view;
    const double decades = 0.4;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    return (wedge){.width = decades / usi_view_unit_x(view),
                   .height = decades * fabs(slope->power) / usi_view_unit_z(view),
                   .words = usi_scene_measure(scene, slope->words, type, 0, 0)};
}

/* Box of the whole with the triangle's lower left corner at (x, y). */
static usi_box box_of(const wedge *size, double x, double y)
{
    double high = fmax(size->height, size->words.bottom - size->words.top);
    return (usi_box){x, y - high, x + size->width + words_gap + size->words.right, y};
}

/* Searches from the lower left, where errors that fall leave room. */
static bool find_room(const usi_scene *scene, const wedge *size, usi_point *at)
{
    const double step = 10;
    usi_box plot = grow(scene->view.plot, -10);
    int across = (int)((plot.right - plot.left) / step);
    int up = (int)((plot.bottom - plot.top) / step);
    for (int k = 0; k <= up; k++) {
        for (int i = 0; i <= across; i++) {
            *at = (usi_point){plot.left + i * step, plot.bottom - k * step};
            if (is_free(scene, grow(box_of(size, at->x_m, at->z_m), 8))) {
                return true;
            }
        }
    }
    return false;
}

void usi_chart_draw_slopes(const usi_chart *chart, usi_scene *scene)
{
    usi_look look = usi_look_line(usi_ink_dark, 1);
    look.closed = true;
    look.fill = (usi_ink){0.90, 0.90, 0.91, 1};
    for (size_t i = 0; i < chart->slope_count; i++) {
        wedge size = wedge_of(scene, &chart->slopes[i]);
        usi_point at;
        if (!find_room(scene, &size, &at)) {
            continue;
        }
        bool falls = chart->slopes[i].power < 0;
        double peak = falls ? at.x_m : at.x_m + size.width;
        usi_point corners[3] = {{peak, at.z_m - size.height}, {at.x_m + size.width, at.z_m}, at};
        usi_scene_shape(scene, USI_SPACE_PAGE, corners, 3, look);
        usi_scene_text(scene, chart->slopes[i].words, usi_type_plain(12, USI_ANCHOR_LEFT),
                       at.x_m + size.width + words_gap,
                       at.z_m - 0.5 * (size.words.bottom - size.words.top));
        usi_scene_guard(scene, box_of(&size, at.x_m, at.z_m), false);
    }
}
