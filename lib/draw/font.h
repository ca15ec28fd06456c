/* Letters: measuring and setting text with Pango. */
#ifndef USI_DRAW_FONT_H
#define USI_DRAW_FONT_H

#include <stdbool.h>

#include "undersill/context.h"

/* A rectangle of the page: y grows downwards. */
typedef struct usi_box {
    double left;
    double top;
    double right;
    double bottom;
} usi_box;

typedef struct usi_font usi_font;

/* What Pango needs to know about a text; sizes in page units. */
typedef struct usi_font_request {
    const char *words; /* plain text, never read as markup */
    double size;
    bool bold;
    bool slanted;
    double limit; /* longest width, 0 for none */
} usi_font_request;

/* A font of its own for one picture: nothing is shared between threads. */
usi_font *usi_font_create(us_context *context);
void usi_font_free(usi_font *font);

/* Width and height of the text, in page units. */
void usi_font_measure(usi_font *font, const usi_font_request *request, double *width,
                      double *height);

/* The laid-out text, a new reference to a PangoLayout; opaque here so that only
 * two files see Pango. */
void *usi_font_layout(usi_font *font, const usi_font_request *request);

/* False once a text could not have its letters for want of memory: Pango goes on
 * without them, and the picture would lack words. */
bool usi_font_is_sound(const usi_font *font);

#endif
