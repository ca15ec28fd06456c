/* Where the thickness of the floor is looked at. */
#include <stdlib.h>

#include "base/memory.h"
#include "quantity/underside.h"

enum {
    MOST_VERTICES = 100, /* of a rounder underside only ends, joints and even spacing count */
    PARTS = 4            /* of even spacing */
};
static const double NEAR = 0.01; /* of the width: too close to another place to be told apart */

typedef struct places {
    const us_section *section;
    size_t count;
    double *x_m;
} places;

static void add(places *to, double x_m)
{
    to->x_m[to->count++] = x_m;
}

/* Unless another place is near. */
static void add_apart(places *to, double x_m)
{
    double least_m = NEAR * (to->section->right_end_m - to->section->left_end_m);
    for (size_t k = 0; k < to->count; k++) {
        if (x_m > to->x_m[k] - least_m && x_m < to->x_m[k] + least_m) {
            return;
        }
    }
    add(to, x_m);
}

static int by_value(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;
    return (first > second) - (first < second);
}

static void gather(const us_section *section, places *to)
{
    const usi_line *underside = &section->underside;
    add(to, section->left_end_m);
    add(to, section->right_end_m);
    for (size_t i = 1; i + 1 < underside->count && underside->count <= MOST_VERTICES; i++) {
        add(to, underside->points[i].x_m);
    }
    for (size_t i = 0; i < section->joint_count; i++) {
        add(to, section->joints_m[i]);
    }
    double width_m = section->right_end_m - section->left_end_m;
    for (int part = 1; part < PARTS; part++) {
        add_apart(to, section->left_end_m + width_m * part / PARTS);
    }
    qsort(to->x_m, to->count, sizeof *to->x_m, by_value);
}

static usi_underside_point point_at(const us_section *section, double x_m, bool right)
{
    return (usi_underside_point){{x_m, usi_line_level(&section->underside, x_m, right)}, right};
}

/* Both sides of a step of the underside or of the top. */
static bool steps(const us_section *section, double x_m)
{
    const usi_line *top = &section->structure_top;
    bool under = usi_line_level(&section->underside, x_m, true) !=
                 usi_line_level(&section->underside, x_m, false);
    return under ||
           (top->count > 0 && usi_line_level(top, x_m, true) != usi_line_level(top, x_m, false));
}

us_status usi_underside_points(us_context *context, const us_section *section,
                               usi_underside_point **points, size_t *count)
{
    size_t vertices = section->underside.count <= MOST_VERTICES ? section->underside.count : 0;
    size_t most = 2 + vertices + section->joint_count + PARTS;
    places of = {section, 0, usi_memory_array(context, most, sizeof *of.x_m)};
    usi_underside_point *found = usi_memory_array(context, 2 * most, sizeof *found);
    if (of.x_m == NULL || found == NULL) {
        free(of.x_m);
        free(found);
        return US_ERROR_MEMORY;
    }
    gather(section, &of);
    *count = 0;
    for (size_t k = 0; k < of.count; k++) {
        double x_m = of.x_m[k];
        if (k > 0 && x_m == of.x_m[k - 1]) {
            continue;
        }
        bool ends = x_m == section->left_end_m || x_m == section->right_end_m;
        if (!ends && steps(section, x_m)) {
            found[(*count)++] = point_at(section, x_m, false);
        }
        found[(*count)++] = point_at(section, x_m, x_m < section->right_end_m);
    }
    free(of.x_m);
    *points = found;
    return US_OK;
}
