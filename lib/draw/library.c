#include "draw/library.h"

#include <pango/pangocairo.h>
#include <png.h>

#include "base/library.h"

void usi_draw_library_cairo(us_library *library)
{
    usi_library_set(library, "cairo", cairo_version_string());
}

void usi_draw_library_pango(us_library *library)
{
    usi_library_set(library, "pango", pango_version_string());
}

void usi_draw_library_png(us_library *library)
{
    usi_library_set(library, "libpng", png_get_libpng_ver(NULL));
}
