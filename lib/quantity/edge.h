/* An edge of the soil side by side: the downstream bed, the underside. */
#ifndef USI_QUANTITY_EDGE_H
#define USI_QUANTITY_EDGE_H

#include "solve/field.h"

/* A side of a cell or of a triangle that lies on the edge. */
typedef struct usi_edge_side {
    usi_point ends[2]; /* the left one first: never upright */
    int32_t places[2];
    int32_t unknowns[2];
    int soil;   /* right below */
    bool whole; /* the upper side of a whole cell, (column, row) */
    size_t column;
    size_t row;
} usi_edge_side;

typedef struct usi_edge_sides {
    size_t count;
    usi_edge_side *list; /* from left to right, without a gap in x where soil goes on */
} usi_edge_sides;

/* Lists the sides that border on `border` from below, dry bed with bed, and all that lies
 * under the structure with it. `*sides` is the caller's, freed
 * with free(sides->list). US_ERROR_MEMORY. */
us_status usi_edge_list(us_context *context, const usi_grid *grid, usi_border border,
                        usi_edge_sides *sides);

/* Length of a side. */
double usi_edge_length(const usi_edge_side *side);

typedef struct usi_edge_point {
    double x_m;
    double level_m;
    double value;
    int soil; /* right below */
} usi_edge_point;

/* Points from left to right. Where value, level or soil jump (at a wall, at a step)
 * two of them lie at one x. */
typedef struct usi_edge_course {
    size_t count;
    usi_edge_point *points;
} usi_edge_course;

/* Room for two points a side; free with free(course->points). US_ERROR_MEMORY. */
us_status usi_edge_begin(us_context *context, const usi_edge_sides *sides, usi_edge_course *course);

/* Appends the ends of a side, with a value at each; what is the last point over again
 * is left out. */
void usi_edge_add(usi_edge_course *course, const usi_edge_side *side, const double values[2]);

/* Reduced head along the underside. `*course` is the caller's. US_ERROR_MEMORY. */
us_status usi_edge_underside(us_context *context, const usi_field *field, usi_edge_course *course);

#endif
