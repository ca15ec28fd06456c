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

/* A column, and room for any other of the section. */
typedef struct usi_column {
    size_t count;
    usi_slice *slices; /* from the top down, neighbours of different soil */
    double *levels_m;
} usi_column;

/* Makes room; the column is empty. US_ERROR_MEMORY; free with usi_column_close() whatever comes
 * back. */
us_status usi_column_open(us_context *context, const us_section *section, usi_column *column);
void usi_column_close(usi_column *column);

/* Fills it with what lies on the `right` or left side of x, from the surface to the base, or to
 * `floor_m` where there is none. */
void usi_column_take(const us_section *section, double x_m, bool right, double floor_m,
                     usi_column *column);

#endif
