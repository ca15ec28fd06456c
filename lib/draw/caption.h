/* The caption under a picture. */
#ifndef USI_DRAW_CAPTION_H
#define USI_DRAW_CAPTION_H

#include "draw/netting.h"

/* Where the next line of a caption goes. */
typedef struct usi_column {
    double left;
    double right;
    double y;
} usi_column;

/* The two columns of a caption, under the distance scale. */
usi_column usi_caption_left(const usi_sheet *sheet);
usi_column usi_caption_right(const usi_sheet *sheet);

/* Adds a line. */
void usi_caption_say(usi_sheet *sheet, usi_column *at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Adds a line that says what a look means. */
void usi_caption_line(usi_sheet *sheet, usi_column *at, usi_look look, const char *words);

/* Largest exit gradient, or why there is none. */
void usi_caption_exit(usi_sheet *sheet, usi_column *at);

/* Scale, and what lies outside the picture. */
void usi_caption_window(usi_sheet *sheet, usi_column *at);

/* Key and closing words below both columns; sets the height of the page. */
void usi_caption_end(usi_sheet *sheet, double y);

/* Writes the caption of a net or a section. */
void usi_sheet_caption(usi_sheet *sheet, const usi_netting *netting);

#endif
