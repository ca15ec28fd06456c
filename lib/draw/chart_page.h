/* What the parts of a chart share. */
#ifndef USI_DRAW_CHART_PAGE_H
#define USI_DRAW_CHART_PAGE_H

#include "draw/chart.h"
#include "draw/sheet.h"

/* Whether a point can be shown on logarithmic axes. */
bool usi_chart_shows(usi_chart_point point);

/* Where a point stands on the page. */
usi_point usi_chart_at(const usi_scene *scene, usi_chart_point point);

/* Room that the names of joined series take to the right of the plot; 0 where
 * there are none. */
double usi_chart_name_room(const usi_chart *chart, usi_scene *scene);

/* Lines and marks of the series. */
void usi_chart_draw_series(const usi_chart *chart, usi_scene *scene);

/* Names of joined series at their right ends. */
void usi_chart_name_series(const usi_chart *chart, usi_scene *scene);

/* One mark of a series. */
void usi_chart_mark(const usi_chart *chart, usi_scene *scene, size_t series, usi_point at);

/* Level lines with their words, and slope triangles; after the series. */
void usi_chart_draw_limits(const usi_chart *chart, usi_scene *scene);
void usi_chart_draw_slopes(const usi_chart *chart, usi_scene *scene);

#endif
