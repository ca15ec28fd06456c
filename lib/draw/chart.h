/* Charts on two logarithmic axes: errors against unknowns.
 *
 * Fill a usi_chart and hand it to usi_chart_write(); nothing else is needed.
 * Series whose points are joined are named at their right end, in a margin where
 * the names keep clear of each other; the others stand in the key under the plot.
 * Marks tell the series apart, so that a print without colours will do. Both axes
 * take their range from the points; what is not above 0, or not finite, is left
 * out. Strings and points stay the caller's. */
#ifndef USI_DRAW_CHART_H
#define USI_DRAW_CHART_H

#include "draw/picture.h"
#include "undersill/draw.h"

typedef struct usi_chart_point {
    double x;
    double y;
} usi_chart_point;

/* Ink and mark go by the place of a series in the list; after eight they come again. */
typedef struct usi_chart_series {
    const char *name;
    size_t count;
    const usi_chart_point *points; /* where they are joined: in the order of x */
    bool joined;
    bool hollow; /* marks without filling, the line dashed */
} usi_chart_series;

/* A triangle that shows how steep y ~ x^power is, where there is room for it. */
typedef struct usi_chart_slope {
    double power;
    const char *words;
} usi_chart_slope;

/* A level line across the plot. */
typedef struct usi_chart_limit {
    double y;
    const char *words;
} usi_chart_limit;

typedef struct usi_chart {
    const char *title;
    const char *subtitle;
    const char *across; /* title of the x axis, whose numbers are counts */
    const char *up;     /* title of the y axis, whose numbers are shares, shown in per cent */
    size_t series_count;
    const usi_chart_series *series;
    size_t slope_count;
    const usi_chart_slope *slopes;
    size_t limit_count;
    const usi_chart_limit *limits;
    size_t remark_count;
    const char *const *remarks; /* lines of text under the plot */
    const char *digest;         /* of the input, hexadecimal, for the file's own words */
} usi_chart;

/* Takes the caller's options, NULL for the defaults, where there can be a picture of that
 * format and width: US_OK, or US_ERROR_ARGUMENT after saying why not. */
us_status usi_chart_take(us_context *context, const us_draw_options *given,
                         us_draw_options *options);

/* What fills a started scene with `of`. */
typedef us_status (*usi_composer)(const void *of, usi_scene *scene);

/* Paints what `compose` makes. `*picture` is the caller's on US_OK; else US_ERROR_MEMORY,
 * US_ERROR_INTERNAL or US_CANCELLED. */
us_status usi_chart_paint(us_context *context, usi_composer compose, const void *of,
                          const usi_words *words, const us_draw_options *options,
                          us_buffer **picture);

/* Draws a chart, likewise. */
us_status usi_chart_write(us_context *context, const usi_chart *chart,
                          const us_draw_options *options, us_buffer **picture);

/* The same up to the bytes: fills a started scene. */
us_status usi_chart_compose(const usi_chart *chart, usi_scene *scene);

#endif
