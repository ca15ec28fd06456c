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

/* Twice the area of a triangle over the square of its longest side: small for
 * needles, negative when clockwise. */
static double shape(usi_point a, usi_point b, usi_point c)
{
    double twice = (b.x_m - a.x_m) * (c.z_m - a.z_m) - (c.x_m - a.x_m) * (b.z_m - a.z_m);
    double ab = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    double bc = hypot(c.x_m - b.x_m, c.z_m - b.z_m);
    double ca = hypot(a.x_m - c.x_m, a.z_m - c.z_m);
    double longest = fmax(ab, fmax(bc, ca));
    /* A needle with one short side is harmless, a flat one is not: judge by the
     * sine of the largest angle. */
    double product = fmin(ab * bc, fmin(bc * ca, ca * ab));
    return longest > 0.0 && product > 0.0 ? twice / product : 0.0;
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
        if (shape(a, b, c) > FLAT) {
            return true;
        }
    }
    return false;
}

bool usi_facet_next(const usi_grid *grid, usi_facet *outline, int32_t places[3])
{
    size_t best = outline->count;
    double best_shape = FLAT;
    for (size_t k = 0; k < outline->count && outline->count >= 3; k++) {
        int32_t before = outline->places[(k + outline->count - 1) % outline->count];
        int32_t at = outline->places[k];
        int32_t after = outline->places[(k + 1) % outline->count];
        double here = shape(usi_grid_place(grid, before), usi_grid_place(grid, at),
                            usi_grid_place(grid, after));
        if (here > best_shape && leaves_area(grid, outline, k)) {
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
