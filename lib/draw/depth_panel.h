/* One quantity against the level of a tip, a line for each water case. */
#ifndef USI_DRAW_DEPTH_PANEL_H
#define USI_DRAW_DEPTH_PANEL_H

#include "draw/phrase.h"
#include "draw/sheet.h"
#include "study/depth.h"
#include "study/depth_picks.h"
#include "study/depth_samples.h"

enum { USI_DEPTH_LINES = 6 }; /* water cases at most: more could not be told apart */

typedef struct usi_depth_panel {
    const char *title;
    const char *unit; /* "" for none */
    double size;      /* of the unit, in SI */
    usi_depth_quantity what;
    us_value limit; /* the least that is required; absent without */
    usi_box box;    /* on the page */
} usi_depth_panel;

/* How many water cases have a line. */
size_t usi_depth_lines(const us_depth *depth);

/* How the line of a water case is drawn: dashes tell them apart without colour. */
usi_look usi_depth_line_look(size_t water);

/* False where no level has a value in any water case that has a line. */
bool usi_depth_panel_has_values(const us_depth *depth, const usi_depth_panel *panel);

void usi_depth_panel_draw(const us_depth *depth, const usi_depth_panel *panel, usi_scene *scene);

#endif
