#include "draw/font.h"

#include <stdlib.h>

#include <pango/pangocairo.h>

#include "base/memory.h"

struct usi_font {
    PangoFontMap *map;
    PangoContext *pango;
    cairo_font_options_t *found; /* room for what is asked of a font */
    bool broken;
};

/* True when cairo has the letters, and unhinted as asked for. */
static bool has_letters(const usi_font *font, PangoFont *face)
{
    cairo_scaled_font_t *scaled = pango_cairo_font_get_scaled_font(PANGO_CAIRO_FONT(face));
    if (scaled == NULL || cairo_scaled_font_status(scaled) != CAIRO_STATUS_SUCCESS) {
        return false;
    }
    cairo_scaled_font_get_font_options(scaled, font->found);
    return cairo_font_options_get_hint_style(font->found) == CAIRO_HINT_STYLE_NONE &&
           cairo_font_options_get_hint_metrics(font->found) == CAIRO_HINT_METRICS_OFF;
}

static bool is_whole(const usi_font *font, PangoLayout *layout)
{
    bool whole = true;
    PangoLayoutIter *at = pango_layout_get_iter(layout);
    do {
        const PangoLayoutRun *run = pango_layout_iter_get_run_readonly(at);
        whole = whole && (run == NULL || has_letters(font, run->item->analysis.font));
    } while (pango_layout_iter_next_run(at));
    pango_layout_iter_free(at);
    return whole;
}

usi_font *usi_font_create(us_context *context)
{
    usi_font *font = usi_memory_array(context, 1, sizeof *font);
    if (font == NULL) {
        return NULL;
    }
    font->map = pango_cairo_font_map_new();
    font->pango = pango_font_map_create_context(font->map);
    /* Without hints a text has the same proportions at every size in pixels. */
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(font->pango, options);
    font->found = options;
    /* A name in letters that run to the left turns no line of ours round. */
    pango_context_set_base_dir(font->pango, PANGO_DIRECTION_LTR);
    pango_context_set_round_glyph_positions(font->pango, FALSE);
    return font;
}

void usi_font_free(usi_font *font)
{
    if (font == NULL) {
        return;
    }
    g_object_unref(font->pango);
    g_object_unref(font->map);
    cairo_font_options_destroy(font->found);
    free(font);
}

void *usi_font_layout(usi_font *font, const usi_font_request *request)
{
    PangoLayout *layout = pango_layout_new(font->pango);
    PangoFontDescription *face = pango_font_description_new();
    pango_font_description_set_family_static(face, "DejaVu Sans");
    pango_font_description_set_absolute_size(face, request->size * PANGO_SCALE);
    pango_font_description_set_weight(face,
                                      request->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(face,
                                     request->slanted ? PANGO_STYLE_OBLIQUE : PANGO_STYLE_NORMAL);
    pango_layout_set_font_description(layout, face);
    pango_font_description_free(face);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_auto_dir(layout, FALSE);
    pango_layout_set_text(layout, request->words, -1);
    if (request->limit > 0) {
        int width = 0;
        pango_layout_get_size(layout, &width, NULL);
        if (width > request->limit * PANGO_SCALE) {
            pango_layout_set_width(layout, (int)(request->limit * PANGO_SCALE));
            pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
        }
    }
    font->broken = font->broken || !is_whole(font, layout);
    return layout;
}

bool usi_font_is_sound(const usi_font *font)
{
    return !font->broken;
}

void usi_font_measure(usi_font *font, const usi_font_request *request, double *width,
                      double *height)
{
    PangoLayout *layout = usi_font_layout(font, request);
    PangoRectangle box;
    pango_layout_get_extents(layout, NULL, &box);
    *width = (double)box.width / PANGO_SCALE;
    *height = (double)box.height / PANGO_SCALE;
    g_object_unref(layout);
}
