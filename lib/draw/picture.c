#include "draw/picture.h"

us_status usi_picture_write(const usi_scene *scene, const usi_words *words, us_draw_format format,
                            int width_px, us_buffer **result)
{
    switch (format) {
    case US_DRAW_SVG:
        return usi_svg_write(scene, words, result);
    case US_DRAW_PDF:
        return usi_pdf_write(scene, words, result);
    case US_DRAW_PNG:
        break;
    }
    return usi_png_write(scene, words, width_px, result);
}
