/* A panel: a diagram above or below the section that shares its distances. */
#ifndef USI_DRAW_PANEL_H
#define USI_DRAW_PANEL_H

#include "draw/sheet.h"

typedef struct usi_panel {
    usi_box box;   /* on the page, as wide as the plot */
    double top;    /* value at its upper edge */
    double bottom; /* value at its lower edge */
} usi_panel;

/* Where a value at a distance stands on the page. */
usi_point usi_panel_at(const usi_sheet *sheet, const usi_panel *panel, double x_m, double value);

/* The frame, and pale lines and numbers at round values from `low` to `high`. Values too
 * small or too large to write out are given in a power of ten, which the title says. */
void usi_panel_frame(usi_sheet *sheet, const usi_panel *panel, double low, double high);

/* `words` with the power of ten for values up to `high`. */
usi_phrase usi_panel_title(const char *words, double high);

/* A line on the page, which labels do not cover. */
void usi_panel_line(usi_sheet *sheet, const usi_point *points, size_t count, usi_look look);

/* An arrow on the page, as thick as a beam or thin, that labels do not cover. */
void usi_panel_arrow(usi_sheet *sheet, usi_point tail, usi_point tip, double width);

/* Places a label on a plate; false when there is no room. */
bool usi_panel_label(usi_sheet *sheet, usi_wish *wish, const usi_spots *spots);

/* A label of plain size for a panel. */
usi_wish usi_panel_wish(const usi_panel *panel, usi_thing thing, size_t index, const char *words);

#endif
