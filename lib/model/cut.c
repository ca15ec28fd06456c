#include "model/cut.h"

#include <math.h>

static bool same(usi_point a, usi_point b)
{
    return a.x_m == b.x_m && a.z_m == b.z_m;
}

/* True when the points between two lie on the straight line from one to the other. */
static bool straight(const usi_point *points, size_t first, size_t last, double tolerance_m)
{
    usi_point a = points[first];
    double dx_m = points[last].x_m - a.x_m;
    double dz_m = points[last].z_m - a.z_m;
    double length_m = hypot(dx_m, dz_m);
    for (size_t i = first + 1; i < last; i++) {
        double off_m2 = (points[i].x_m - a.x_m) * dz_m - (points[i].z_m - a.z_m) * dx_m;
        if (fabs(off_m2) > tolerance_m * length_m) {
            return false;
        }
    }
    return true;
}

static void drop_twins(usi_line *line)
{
    size_t kept = 1;
    for (size_t i = 1; i < line->count; i++) {
        if (!same(line->points[kept - 1], line->points[i])) {
            line->points[kept++] = line->points[i];
        }
    }
    line->count = kept < line->count ? kept : line->count;
}

void usi_line_tidy(usi_line *line, double tolerance_m)
{
    drop_twins(line);
    size_t count = line->count;
    size_t kept = 1;
    size_t first = 0;
    for (size_t last = 2; last < count; last++) {
        if (!straight(line->points, first, last, tolerance_m)) {
            first = last - 1;
            line->points[kept++] = line->points[first];
        }
    }
    if (count > 1) {
        line->points[kept++] = line->points[count - 1];
        line->count = kept;
    }
}

static void drop_first(usi_line *line)
{
    for (size_t i = 1; i < line->count; i++) {
        line->points[i - 1] = line->points[i];
    }
    line->count--;
}

/* Keeps what lies between the two x. A point beyond makes room for one there. */
static void keep_between(usi_line *line, double from_m, double to_m)
{
    size_t count = line->count;
    size_t kept = 0;
    usi_point first = {from_m, usi_line_level(line, from_m, true)};
    usi_point last = {to_m, usi_line_level(line, to_m, false)};
    bool beyond = line->points[count - 1].x_m >= to_m;
    if (line->points[0].x_m <= from_m) {
        line->points[kept++] = first;
    }
    for (size_t i = 0; i < count; i++) {
        if (line->points[i].x_m > from_m && line->points[i].x_m < to_m) {
            line->points[kept++] = line->points[i];
        }
    }
    if (beyond && kept < count) {
        line->points[kept++] = last;
    }
    line->count = kept;
}

void usi_line_cut(usi_line *line, const usi_cut *cut)
{
    double level_m = usi_line_level(line, cut->home_m, cut->home_m <= cut->from_m);
    if (cut->from_m < cut->to_m) {
        keep_between(line, cut->from_m, cut->to_m);
        usi_line_tidy(line, cut->tolerance_m);
    } else {
        line->count = 1;
    }
    /* Level beyond its ends, so a level first or last piece says nothing. */
    while (line->count > 1 && line->points[0].z_m == line->points[1].z_m) {
        drop_first(line);
    }
    while (line->count > 1 &&
           line->points[line->count - 1].z_m == line->points[line->count - 2].z_m) {
        line->count--;
    }
    if (line->count < 2) {
        line->points[0] = (usi_point){cut->home_m, level_m};
        line->count = 1;
    }
}

void usi_line_trim(usi_line *line, double tolerance_m)
{
    usi_line_tidy(line, tolerance_m);
    while (line->count > 1 && line->points[0].x_m == line->points[1].x_m) {
        drop_first(line);
    }
    while (line->count > 1 &&
           line->points[line->count - 1].x_m == line->points[line->count - 2].x_m) {
        line->count--;
    }
}
