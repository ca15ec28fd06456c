/* The caption under a picture. */
#ifndef USI_DRAW_CAPTION_H
#define USI_DRAW_CAPTION_H

#include "draw/netting.h"

/* Writes the caption and sets the height of the page. */
void usi_sheet_caption(usi_sheet *sheet, const usi_netting *netting);

#endif
