/* The libraries behind the pictures. */
#ifndef USI_DRAW_LIBRARY_H
#define USI_DRAW_LIBRARY_H

#include "undersill/version.h"

void usi_draw_library_cairo(us_library *library);
void usi_draw_library_pango(us_library *library);
void usi_draw_library_png(us_library *library);

#endif
