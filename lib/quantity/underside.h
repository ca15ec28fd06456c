/* The underside of the structure piece by piece, with the head that presses on it. */
#ifndef USI_QUANTITY_UNDERSIDE_H
#define USI_QUANTITY_UNDERSIDE_H

#include "solve/field.h"

/* A straight piece by growing x; head is linear along it. */
typedef struct usi_underside_piece {
    usi_point ends[2];
    double reduced[2];
} usi_underside_piece;

typedef struct usi_underside {
    const us_section *section;
    size_t count;
    usi_underside_piece *pieces; /* from left to right, upright faces left out */
} usi_underside;

/* Below a clogged drain it is the head in the drain that presses. US_ERROR_MEMORY; free with
 * usi_underside_free(). */
us_status usi_underside_read(us_context *context, const usi_field *field, usi_underside *underside);
void usi_underside_free(usi_underside *underside);

/* Reduced head at x, on the `right` or left side of a step. */
double usi_underside_head(const usi_underside *underside, double x_m, bool right);

/* A place where the thickness of the floor is looked at. */
typedef struct usi_underside_point {
    usi_point at;
    bool right; /* which side of x it is on: they differ at steps */
} usi_underside_point;

/* The ends, the vertices (of up to 100), the joints, and three places spaced evenly between the
 * ends. `*points` is the caller's, freed with free(). US_ERROR_MEMORY. */
us_status usi_underside_points(us_context *context, const us_section *section,
                               usi_underside_point **points, size_t *count);

#endif
