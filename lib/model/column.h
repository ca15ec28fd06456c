/* The soils below a place, from the surface down. */
#ifndef USI_MODEL_COLUMN_H
#define USI_MODEL_COLUMN_H

#include "model/section.h"
#include "undersill/context.h"

/* One soil between two levels. */
typedef struct usi_slice {
    double top_m;
    double bottom_m;
    size_t soil;
} usi_slice;

/* Free with free(column->slices). */
typedef struct usi_column {
    size_t count;
    usi_slice *slices; /* from the top down, neighbours of different soil */
} usi_column;

/* The column on the `right` or left side of x, from the surface to the base, or to `floor_m`
 * where there is none. US_ERROR_MEMORY. */
us_status usi_column_make(us_context *context, const us_section *section, double x_m, bool right,
                          double floor_m, usi_column *column);

#endif
