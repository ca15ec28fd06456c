#include "model/cut.h"

static bool same(usi_point a, usi_point b)
{
    return a.x_m == b.x_m && a.z_m == b.z_m;
}

static bool straight(usi_point a, usi_point b, usi_point c)
{
    return (a.x_m == b.x_m && b.x_m == c.x_m) || (a.z_m == b.z_m && b.z_m == c.z_m);
}

static void drop_idle_points(usi_line *line)
{
    size_t kept = 0;
    for (size_t i = 0; i < line->count; i++) {
        usi_point point = line->points[i];
        if (kept > 0 && same(line->points[kept - 1], point)) {
            continue;
        }
        if (kept > 1 && straight(line->points[kept - 2], line->points[kept - 1], point)) {
            kept--;
        }
        line->points[kept++] = point;
    }
    line->count = kept;
}

static void drop_first(usi_line *line)
{
    for (size_t i = 1; i < line->count; i++) {
        line->points[i - 1] = line->points[i];
    }
    line->count--;
}

void usi_line_cut(usi_line *line, double from_m, double to_m, double home_m)
{
    double level_m = usi_line_level(line, home_m, home_m <= from_m);
    size_t kept = 0;
    for (size_t i = 0; i < line->count; i++) {
        if (line->points[i].x_m > from_m && line->points[i].x_m < to_m) {
            line->points[kept++] = line->points[i];
        }
    }
    line->count = kept;
    drop_idle_points(line);
    /* Level beyond its ends, so a level first or last piece says nothing. */
    while (line->count > 1 && line->points[0].z_m == line->points[1].z_m) {
        drop_first(line);
    }
    while (line->count > 1 &&
           line->points[line->count - 1].z_m == line->points[line->count - 2].z_m) {
        line->count--;
    }
    if (line->count < 2) {
        line->points[0] = (usi_point){home_m, level_m};
        line->count = 1;
    }
}

void usi_line_trim(usi_line *line)
{
    drop_idle_points(line);
    while (line->count > 1 && line->points[0].x_m == line->points[1].x_m) {
        drop_first(line);
    }
    while (line->count > 1 &&
           line->points[line->count - 1].x_m == line->points[line->count - 2].x_m) {
        line->count--;
    }
}
