/* Contours: lines of equal value through the soil cells of a grid. */
#ifndef USI_DRAW_CONTOUR_H
#define USI_DRAW_CONTOUR_H

#include "grid/grid.h"

/* Value at a corner of a soil cell. */
typedef double usi_corner_value(const void *data, size_t i, size_t j, usi_corner corner);

/* Value at a corner of a triangle, a piece of a cell that is cut. */
typedef double usi_part_value(const void *data, const usi_triangle *part, int corner);

typedef struct usi_contour_source {
    const usi_grid *grid;
    usi_corner_value *value;
    usi_part_value *part_value;
    const void *data;
    usi_point low; /* only cells that meet this window are visited */
    usi_point high;
} usi_contour_source;

/* Lines one after another: line k has the points from starts[k] to
 * starts[k + 1]. A closed line repeats its first point. Where a line passes from one
 * soil into another it bends: that point stands twice. */
typedef struct usi_curves {
    size_t count;
    size_t *starts; /* count + 1 */
    usi_point *points;
} usi_curves;

/* Traces the lines of one level. No line crosses a wall, and each ends on the
 * border of the soil or of the window. `*curves` is the caller's on US_OK
 * (usi_curves_clear()); else US_ERROR_MEMORY. */
us_status usi_contour_trace(us_context *context, const usi_contour_source *source, double level,
                            usi_curves *curves);
void usi_curves_clear(usi_curves *curves);

#endif
