/* Series of a chart: lines, marks, and their names. */
#include <math.h>
#include <string.h>

#include "draw/chart_page.h"

enum { KINDS = 8, NAMED_MOST = 24 };

static const double name_step = 17;
static const double name_room_most = 250;
static const double mark_radius = 4.6;

/* Told apart in greyscale by their marks. */
static usi_ink ink_of(size_t series)
{
    static const usi_ink inks[KINDS] = {
        {0.14, 0.29, 0.47, 1}, {0.66, 0.40, 0.12, 1}, {0.22, 0.46, 0.34, 1}, {0.52, 0.20, 0.30, 1},
        {0.38, 0.36, 0.56, 1}, {0.42, 0.42, 0.44, 1}, {0.16, 0.50, 0.56, 1}, {0.36, 0.28, 0.16, 1}};
    return inks[series % KINDS];
}

/* A mark as a regular figure; the star has every second corner drawn in. */
typedef struct figure {
    int corners; /* at most MOST_CORNERS */
    double turn; /* of the first corner, in full turns */
    double size;
    double drawn_in; /* radius of every second corner */
} figure;

enum { MOST_CORNERS = 20 };

static figure figure_of(size_t series)
{
    static const figure figures[KINDS] = {
        {20, 0, 1, 1},      {4, 0.125, 1.2, 1}, {3, 0.75, 1.25, 1}, {4, 0, 1.3, 1},
        {3, 0.25, 1.25, 1}, {8, 0, 1.45, 0.36}, {5, 0.75, 1.15, 1}, {8, 0.125, 1.45, 0.36},
    };
    return figures[series % KINDS];
}

void usi_chart_mark(const usi_chart *chart, usi_scene *scene, size_t series, usi_point at)
{
    usi_point points[MOST_CORNERS];
    figure shape = figure_of(series);
    for (int i = 0; i < shape.corners; i++) {
        double radius = mark_radius * shape.size * (i % 2 == 1 ? shape.drawn_in : 1);
        double angle = 2 * acos(-1) * (shape.turn + (double)i / shape.corners);
        points[i] = (usi_point){at.x_m + radius * cos(angle), at.z_m + radius * sin(angle)};
    }
    static const usi_ink white = {1, 1, 1, 1};
    usi_ink ink = ink_of(series);
    usi_look look = usi_look_area(chart->series[series].hollow ? white : ink);
    look.line = ink;
    look.width = 1.3;
    usi_scene_shape(scene, USI_SPACE_PAGE, points, (size_t)shape.corners, look);
}

/* A stretch between two neighbouring points; none where either cannot be shown. */
static void join(const usi_chart *chart, usi_scene *scene, size_t s)
{
    const usi_chart_series *series = &chart->series[s];
    usi_look look = usi_look_line(ink_of(s), 1.6);
    look.dash = series->hollow ? 7 : 0;
    look.gap = series->hollow ? 4 : 0;
    for (size_t i = 1; i < series->count; i++) {
        usi_chart_point a = series->points[i - 1];
        usi_chart_point b = series->points[i];
        if (usi_chart_shows(a) && usi_chart_shows(b)) {
            usi_point ends[2] = {{log10(a.x), log10(a.y)}, {log10(b.x), log10(b.y)}};
            usi_scene_shape(scene, USI_SPACE_SECTION, ends, 2, look);
            usi_scene_shun(scene, ends, 2, USI_SHUN_LINE);
        }
    }
}

void usi_chart_draw_series(const usi_chart *chart, usi_scene *scene)
{
    for (size_t s = 0; s < chart->series_count; s++) {
        if (chart->series[s].joined) {
            join(chart, scene, s);
        }
    }
    for (size_t s = 0; s < chart->series_count; s++) {
        for (size_t i = 0; i < chart->series[s].count; i++) {
            if (!usi_chart_shows(chart->series[s].points[i])) {
                continue;
            }
            usi_point at = usi_chart_at(scene, chart->series[s].points[i]);
            if (at.z_m <= scene->view.plot.bottom) {
                usi_chart_mark(chart, scene, s, at);
                usi_scene_guard(scene, (usi_box){at.x_m - 7, at.z_m - 7, at.x_m + 7, at.z_m + 7},
                                false);
            }
        }
    }
}

static usi_type name_type(void)
{
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.limit = name_room_most;
    return type;
}

static const double leader_room = 22;

static bool has_points(const usi_chart_series *series)
{
    for (size_t i = 0; i < series->count; i++) {
        if (usi_chart_shows(series->points[i])) {
            return true;
        }
    }
    return false;
}

double usi_chart_name_room(const usi_chart *chart, usi_scene *scene)
{
    double widest = 0;
    for (size_t s = 0; s < chart->series_count; s++) {
        if (chart->series[s].joined && has_points(&chart->series[s])) {
            usi_box box = usi_scene_measure(scene, chart->series[s].name, name_type(), 0, 0);
            widest = fmax(widest, box.right);
        }
    }
    return widest > 0 ? widest + leader_room : 0;
}

/* A name in the margin. */
typedef struct tag {
    size_t series;
    usi_point end; /* of its line, on the page */
    double y;      /* of the name */
} tag;

static bool find_end(const usi_chart *chart, const usi_scene *scene, size_t s, usi_point *end)
{
    const usi_chart_series *series = &chart->series[s];
    for (size_t i = series->count; i > 0; i--) {
        if (usi_chart_shows(series->points[i - 1])) {
            *end = usi_chart_at(scene, series->points[i - 1]);
            end->z_m = fmin(end->z_m, scene->view.plot.bottom);
            return true;
        }
    }
    return false;
}

/* From the top down, by where the lines end. */
static size_t gather(const usi_chart *chart, const usi_scene *scene, tag *tags)
{
    size_t count = 0;
    for (size_t s = 0; s < chart->series_count && count < NAMED_MOST; s++) {
        tag one = {.series = s};
        if (!chart->series[s].joined || !find_end(chart, scene, s, &one.end)) {
            continue;
        }
        one.y = one.end.z_m;
        size_t k = count++;
        for (; k > 0 && tags[k - 1].y > one.y; k--) {
            tags[k] = tags[k - 1];
        }
        tags[k] = one;
    }
    return count;
}

/* Moves names apart: down where they crowd, then up again from the foot. */
static void spread(tag *tags, size_t count, usi_box plot)
{
    double least = plot.top + 8;
    for (size_t k = 0; k < count; k++) {
        tags[k].y = fmax(tags[k].y, least);
        least = tags[k].y + name_step;
    }
    double most = plot.bottom - 8;
    for (size_t k = count; k > 0; k--) {
        tags[k - 1].y = fmin(tags[k - 1].y, most);
        most = tags[k - 1].y - name_step;
    }
}

void usi_chart_name_series(const usi_chart *chart, usi_scene *scene)
{
    tag tags[NAMED_MOST];
    size_t count = gather(chart, scene, tags);
    usi_box plot = scene->view.plot;
    spread(tags, count, plot);
    for (size_t k = 0; k < count; k++) {
        usi_point leader[2] = {{tags[k].end.x_m + 9, tags[k].end.z_m},
                               {plot.right + leader_room - 6, tags[k].y}};
        usi_scene_shape(scene, USI_SPACE_PAGE, leader, 2, usi_look_line(usi_ink_quiet, 0.8));
        usi_scene_text(scene, chart->series[tags[k].series].name, name_type(),
                       plot.right + leader_room, tags[k].y);
    }
}
