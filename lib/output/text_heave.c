/* Prisms of soil and tight layers that water might lift, in text. */
#include <stdio.h>

#include "output/text_page.h"

enum { X_WIDTH = 9, NUMBER_WIDTH = 10, FACTOR_WIDTH = 9, ROOM = 512 };

/* Lengths of a prism are shown to a share of its depth. */
static const double SHOWN_SHARE = 0.005;

static void add_head(const usi_page *to)
{
    static const char *const names[] = {"from x", "to x", "level", "W'", "S", "W' / S"};
    const char *units[] = {to->scale->length, to->scale->length, to->scale->length,
                           to->scale->force,  to->scale->force,  ""};
    static const size_t widths[] = {X_WIDTH,      X_WIDTH,      NUMBER_WIDTH,
                                    NUMBER_WIDTH, NUMBER_WIDTH, FACTOR_WIDTH};
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "Prisms of soil", USI_NAME_WIDTH, 0);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        usi_words_pad(to->out, names[i], widths[i], 1);
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "", USI_NAME_WIDTH, 0);
    for (size_t i = 0; i + 1 < sizeof names / sizeof names[0]; i++) {
        usi_words_pad(to->out, units[i], widths[i], 1);
    }
    usi_buffer_add_text(to->out, "\n");
}

static void add_length(const usi_page *to, double length_m, double depth_m, size_t width)
{
    double unit = to->scale->length_m;
    us_value shown = {length_m / unit, SHOWN_SHARE * depth_m / unit, true};
    usi_words_pad(to->out, usi_figure_of(shown, 0.0, "-").value, width, 1);
}

static void add_prism(const usi_page *to, const us_prism_result *prism)
{
    static const char *const names[] = {[US_PRISM_TOE] = "to the toe's tip",
                                        [US_PRISM_DEPTH] = "worst at the toe",
                                        [US_PRISM_BED] = "worst along the bed"};
    double force = to->scale->force_n_m;
    us_value submerged = usi_scale_value(prism->submerged_n_m, force);
    us_value seepage = usi_scale_value(prism->seepage_n_m, force);
    usi_page_name(to, names[prism->kind]);
    add_length(to, prism->from_m, prism->depth_m, X_WIDTH);
    add_length(to, prism->to_m, prism->depth_m, X_WIDTH);
    add_length(to, prism->level_m, prism->depth_m, NUMBER_WIDTH);
    usi_words_pad(to->out,
                  usi_figure_of(submerged, usi_page_finest(to, submerged.value), "not known").value,
                  NUMBER_WIDTH, 1);
    usi_words_pad(to->out, usi_figure_of(seepage, usi_page_finest(to, seepage.value), "-").value,
                  NUMBER_WIDTH, 1);
    usi_words_pad(to->out,
                  usi_figure_of(prism->factor, usi_page_finest(to, prism->factor.value), "-").value,
                  FACTOR_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
}

static void add_blow_up(const usi_page *to, const us_blow_up_result *blow_up)
{
    if (!blow_up->stress_n_m2.present) {
        return;
    }
    char x[USI_NUMBER_ROOM];
    char level[USI_NUMBER_ROOM];
    char text[ROOM];
    double unit = to->scale->length_m;
    (void)snprintf(text, sizeof text, "%.150s over %.150s, at x = %s %s, level %s %s",
                   blow_up->upper, blow_up->lower != NULL ? blow_up->lower : "water below the base",
                   usi_page_plain(x, blow_up->x_m, unit), to->scale->length,
                   usi_page_plain(level, blow_up->level_m, unit), to->scale->length);
    usi_buffer_add_text(to->out, "\n");
    usi_words_wrap(to->out, "Tight layer: ", text);
    usi_page_row(to, "  total stress above",
                 usi_scale_value(blow_up->stress_n_m2, to->scale->pressure_pa), to->scale->pressure,
                 "-");
    usi_page_row(to, "  pore pressure",
                 usi_scale_value(blow_up->pressure_n_m2, to->scale->pressure_pa),
                 to->scale->pressure, "-");
}

void usi_page_heave(const usi_page *to, const us_water_result *water)
{
    if (water->heave.prism_count > 0) {
        add_head(to);
    }
    for (size_t k = 0; k < water->heave.prism_count; k++) {
        add_prism(to, &water->heave.prisms[k]);
    }
    if (water->heave.prism_count > 0) {
        usi_words_wrap(to->out, "  ",
                       "W' submerged weight, S upward seepage force, both of the prism from its "
                       "level up to the bed; half as wide as deep unless something stands in the "
                       "way");
    }
    add_blow_up(to, &water->blow_up);
}
