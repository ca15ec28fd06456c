/* The one way from a scene to a Cairo surface, whatever the surface makes of it. */
#ifndef USI_DRAW_PAINT_H
#define USI_DRAW_PAINT_H

#include <cairo.h>

#include "draw/scene.h"

/* Cairo, Pango and what they stand on lose words, crash or end the process when
 * memory runs short. What they may take is asked for beforehand and given back: a
 * shortage then shows where it does no harm. Bytes; those for letters are mostly the
 * stacks and arenas of threads that Pango starts to look for fonts. */
enum { USI_ROOM_FOR_LETTERS = 256 << 20, USI_ROOM_FOR_PAINT = 16 << 20 };

/* How letters reach the surface. */
typedef enum usi_letters {
    USI_LETTERS_FILLED, /* as areas, exact to a fraction of a pixel */
    USI_LETTERS_TEXT    /* as text, which a PDF keeps as such */
} usi_letters;

/* Paints a scene, one page unit being `scale` units of the surface. US_OK,
 * US_ERROR_MEMORY, or US_ERROR_INTERNAL when Cairo refuses. */
us_status usi_scene_paint(const usi_scene *scene, cairo_surface_t *surface, double scale,
                          usi_letters letters);

/* What a status of Cairo means to us; anything but success is reported. */
us_status usi_paint_outcome(us_context *context, cairo_status_t status);

#endif
