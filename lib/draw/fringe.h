/* What acts along the edges of the soil, drawn on them and explained in the caption. */
#ifndef USI_DRAW_FRINGE_H
#define USI_DRAW_FRINGE_H

#include "draw/caption.h"
#include "solve/field.h"

/* Takes note of where dry bed lets water out, before anything is drawn. US_OK or
 * US_ERROR_MEMORY. */
us_status usi_fringe_learn(usi_sheet *sheet, const usi_field *field);

/* Draws all stretches on beds and underside that are in the picture. */
void usi_fringe_draw(usi_sheet *sheet);

/* Says what those that were drawn mean. */
void usi_fringe_explain(usi_sheet *sheet, usi_column *at);

usi_look usi_fringe_look(usi_fringe_kind kind);

#endif
