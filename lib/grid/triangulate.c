#include "grid/triangulate.h"

#include <math.h>

/* Sine of an angle below which three places count as lying on one line. */
static const double FLAT = 1e-12;

void usi_facet_add(usi_facet *outline, int32_t place)
{
    if (outline->count < USI_FACET_MOST) {
        outline->places[outline->count++] = place;
    }
}

static size_t find(const usi_facet *outline, int32_t place)
{
    size_t k = 0;
    while (k < outline->count && outline->places[k] != place) {
        k++;
    }
    return k;
}

bool usi_facet_split(usi_facet *outline, int32_t a, int32_t b, usi_facet *part)
{
    size_t first = find(outline, a);
    size_t last = find(outline, b);
    if (first > last) {
        size_t swap = first;
        first = last;
        last = swap;
    }
    if (last >= outline->count || last - first < 2 || last - first > outline->count - 2) {
        return false;
    }
    part->count = 0;
    for (size_t k = first; k <= last; k++) {
        usi_facet_add(part, outline->places[k]);
    }
    size_t kept = first + 1;
    for (size_t k = last; k < outline->count; k++) {
        outline->places[kept++] = outline->places[k];
    }
    outline->count = kept;
    return true;
}

/* Sine of the largest angle of a triangle, negative when clockwise: small for flat ones. A
 * needle with one short side is harmless. */
static double flatness(usi_point a, usi_point b, usi_point c)
{
    double twice = (b.x_m - a.x_m) * (c.z_m - a.z_m) - (c.x_m - a.x_m) * (b.z_m - a.z_m);
    double ab = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    double bc = hypot(c.x_m - b.x_m, c.z_m - b.z_m);
    double ca = hypot(a.x_m - c.x_m, a.z_m - c.z_m);
    double product = fmin(ab * bc, fmin(bc * ca, ca * ab));
    return product > 0.0 ? twice / product : 0.0;
}

static double angle_cosine(usi_point at, usi_point b, usi_point c, double stretch)
{
    double bx = b.x_m - at.x_m;
    double bz = stretch * (b.z_m - at.z_m);
    double cx = c.x_m - at.x_m;
    double cz = stretch * (c.z_m - at.z_m);
    double size = hypot(bx, bz) * hypot(cx, cz);
    return size > 0.0 ? (bx * cx + bz * cz) / size : -1.0;
}

/* Cosine of the largest angle, levels stretched as the soil's anisotropy asks: there negative
 * ones make links of negative conductance. */
static double shape(usi_point a, usi_point b, usi_point c, double stretch)
{
    double at_a = angle_cosine(a, b, c, stretch);
    double at_b = angle_cosine(b, c, a, stretch);
    double at_c = angle_cosine(c, a, b, stretch);
    return fmin(at_a, fmin(at_b, at_c));
}

/* True where what is left without place k is no line. */
static bool leaves_area(const usi_grid *grid, const usi_facet *outline, size_t k)
{
    if (outline->count == 3) {
        return true;
    }
    size_t first = (k + 1) % outline->count;
    usi_point a = usi_grid_place(grid, outline->places[first]);
    for (size_t m = 1; m + 2 < outline->count; m++) {
        usi_point b = usi_grid_place(grid, outline->places[(first + m) % outline->count]);
        usi_point c = usi_grid_place(grid, outline->places[(first + m + 1) % outline->count]);
        if (flatness(a, b, c) > FLAT) {
            return true;
        }
    }
    return false;
}

bool usi_facet_next(const usi_grid *grid, double stretch, usi_facet *outline, int32_t places[3])
{
    size_t best = outline->count;
    double best_shape = -2.0;
    for (size_t k = 0; k < outline->count && outline->count >= 3; k++) {
        int32_t before = outline->places[(k + outline->count - 1) % outline->count];
        int32_t at = outline->places[k];
        int32_t after = outline->places[(k + 1) % outline->count];
        usi_point a = usi_grid_place(grid, before);
        usi_point b = usi_grid_place(grid, at);
        usi_point c = usi_grid_place(grid, after);
        double here = shape(a, b, c, stretch);
        if (here > best_shape && flatness(a, b, c) > FLAT && leaves_area(grid, outline, k)) {
            best = k;
            best_shape = here;
            places[0] = before;
            places[1] = at;
            places[2] = after;
        }
    }
    if (best == outline->count) {
        outline->count = 0;
        return false;
    }
    for (size_t k = best; k + 1 < outline->count; k++) {
        outline->places[k] = outline->places[k + 1];
    }
    outline->count--;
    return true;
}
