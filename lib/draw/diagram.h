/* Diagrams: the section with what the water does along one of its edges. */
#ifndef USI_DRAW_DIAGRAM_H
#define USI_DRAW_DIAGRAM_H

#include "draw/panel.h"
#include "model/exits.h"
#include "quantity/edge.h"

/* A quantity along an edge of the section, and where it has no limit. */
typedef struct usi_course {
    size_t count;
    usi_edge_point *points; /* from left to right */
    size_t exit_count;
    usi_exit *exits; /* the unbounded ones */
} usi_course;

void usi_course_clear(usi_course *course);

/* Gradients along the downstream bed in the water case of the sheet. */
us_status usi_course_exit(usi_sheet *sheet, const usi_window *window, usi_course *course);

/* Pressures on the underside, in pascals, below zero where there is suction. */
us_status usi_course_uplift(usi_sheet *sheet, const usi_window *window, usi_course *course);

/* The curve of exit gradients, cut off where they leave the panel or come near to an
 * unbounded point. */
void usi_exit_curve(usi_sheet *sheet, const usi_panel *panel, const usi_course *course);

/* Where the bed ends, or leaves the picture: x on the page. */
double usi_exit_far_x(const usi_sheet *sheet);

/* The gradient that governs: that of the point, or the mean; 0 where nothing flows. */
double usi_exit_governing(const usi_sheet *sheet);

/* The critical gradient where it governs, in words. */
usi_phrase usi_exit_say_critical(const usi_sheet *sheet);

/* Marks what governs, and names it, the unbounded points and the critical gradient. */
void usi_exit_names(usi_sheet *sheet, const usi_panel *panel, const usi_course *course);

/* Each puts a whole picture together: US_OK, or as usi_net_solve(). */
us_status usi_diagram_uplift(usi_sheet *sheet);
us_status usi_diagram_exit(usi_sheet *sheet);

#endif
