/* Uplift in text: the structure, its panels, the thickness that a floor needs. */
#include <math.h>
#include <stdio.h>

#include "output/text_page.h"

enum { LABEL_ROOM = 400 };

static void add_moments(const usi_page *to, const us_uplift_result *uplift)
{
    double unit = to->scale->moment_n;
    const char *name = to->scale->moment;
    usi_page_row(to, "  moment of uplift about the toe",
                 usi_scale_value(uplift->overturning_n, unit), name, "-");
    usi_page_row(to, "  moment of what holds", usi_scale_value(uplift->holding_n, unit), name, "-");
    usi_page_row(to, "  holding / uplift, of moments", uplift->moment_factor, "", "none");
}

/* "3.2 hours": in the largest unit that leaves at least 2. */
static void tell_time(double time_s, char *text)
{
    static const struct {
        const char *name;
        double unit_s;
    } units[] = {
        {"years", 365.25 * 86400.0}, {"days", 86400.0}, {"hours", 3600.0}, {"minutes", 60.0}};
    enum { COUNT = sizeof units / sizeof units[0], DIGITS = 2 };
    char number[USI_NUMBER_ROOM];
    size_t k = 0;
    while (k < COUNT && time_s < 2.0 * units[k].unit_s) {
        k++;
    }
    (void)snprintf(text, USI_NUMBER_ROOM + 16, "%s %s",
                   usi_number_write(number, time_s / (k < COUNT ? units[k].unit_s : 1.0), DIGITS),
                   k < COUNT ? units[k].name : "seconds");
}

static void add_source(const usi_page *to, const us_uplift_result *uplift)
{
    char text[LABEL_ROOM];
    char time[USI_NUMBER_ROOM + 16];
    char length[USI_NUMBER_ROOM];
    if (uplift->pressures_from == NULL) {
        return;
    }
    (void)snprintf(text, sizeof text, "pore pressure is that of %.150s, %s", uplift->pressures_from,
                   uplift->force_n_m.present ? "water on the structure that of this case"
                                             : "which is undermined: it is not known");
    usi_words_wrap(to->out, "  ", text);
    if (uplift->steady_s.present) {
        tell_time(uplift->steady_s.value, time);
        (void)snprintf(text, sizeof text,
                       "about %s to a new steady state: L^2 Ss / k with L = %s %s in %.150s", time,
                       usi_page_plain(length, uplift->steady_length_m, to->scale->length_m),
                       to->scale->length, uplift->steady_soil);
    } else {
        (void)snprintf(text, sizeof text,
                       "time to a new steady state: not known, as %.150s has no specific_storage",
                       uplift->steady_soil != NULL ? uplift->steady_soil : "the soil");
    }
    usi_words_wrap(to->out, "  ", text);
}

static void add_whole(const usi_page *to, const us_uplift_result *uplift)
{
    double force = to->scale->force_n_m;
    const char *unit = to->scale->force;
    usi_page_row(to, "Uplift on the underside", usi_scale_value(uplift->force_n_m, force), unit,
                 "not known");
    us_value x = usi_scale_value(uplift->x_m, to->scale->length_m);
    usi_figure figure = usi_figure_of(x, to->head_step, "-");
    usi_page_figure(to, "  acts at x =", &figure, x.present ? to->scale->length : "");
    usi_page_row(to, "  weight of the structure", usi_scale_value(uplift->weight_n_m, force), unit,
                 "not given");
    if (uplift->water_on_top_n_m.value > 0.0) {
        usi_page_row(to, "  weight of the water on it",
                     usi_scale_value(uplift->water_on_top_n_m, force), unit, "-");
    }
    if (uplift->weight_n_m.present) {
        usi_page_row(to, "  uplift less weight", usi_scale_value(uplift->net_n_m, force), unit,
                     "-");
        usi_page_row(to, "  weight / uplift", uplift->factor, "", "none");
        add_moments(to, uplift);
    }
    if (uplift->weight_n_m.present && !(uplift->water_on_top_n_m.value > 0.0)) {
        usi_words_wrap(to->out, "  ", "water standing on the structure is not counted as weight");
    }
    if (uplift->suction) {
        usi_words_wrap(to->out, "  ", "suction under a part of it was taken as zero");
    }
}

static void add_heads(const usi_page *to, const char *const *heads, const size_t *widths,
                      size_t count)
{
    for (size_t k = 0; k < count; k++) {
        usi_words_pad(to->out, heads[k], widths[k], 1);
    }
    usi_buffer_add_text(to->out, "\n");
}

static void add_panels(const usi_page *to, const us_uplift_result *uplift)
{
    static const char *const heads[] = {"from x", "to x",        "uplift", "+/-",
                                        "weight", "water on it", "net",    "factor"};
    static const size_t widths[] = {9, 9, 10, 9, 10, 12, 11, 9};
    double force = to->scale->force_n_m;
    if (uplift->panel_count < 2) {
        return;
    }
    usi_buffer_print(to->out, "\nPanels: x in %s, forces in %s\n", to->scale->length,
                     to->scale->force);
    add_heads(to, heads, widths, sizeof widths / sizeof widths[0]);
    for (size_t p = 0; p < uplift->panel_count; p++) {
        const us_uplift_panel *panel = &uplift->panels[p];
        char x[USI_NUMBER_ROOM];
        usi_words_pad(to->out, usi_page_plain(x, panel->from_m, to->scale->length_m), widths[0], 1);
        usi_words_pad(to->out, usi_page_plain(x, panel->to_m, to->scale->length_m), widths[1], 1);
        usi_page_cell(to, panel->force_n_m, force, widths[2]);
        usi_page_cell_error(to, panel->force_n_m, force, widths[3]);
        usi_page_cell(to, panel->weight_n_m, force, widths[4]);
        usi_page_cell(to, panel->water_on_top_n_m, force, widths[5]);
        usi_page_cell(to, panel->net_n_m, force, widths[6]);
        usi_page_cell(to, panel->factor, 1.0, widths[7]);
        usi_buffer_add_text(to->out, "\n");
    }
}

static bool has_thickness(const us_uplift_result *uplift)
{
    return uplift->thickness_count > 0 && uplift->thickness[0].dry_m.present;
}

static void add_thickness(const usi_page *to, const us_uplift_result *uplift)
{
    static const char *const heads[] = {"x",     "underside", "pressure", "+/-",
                                        "built", "submerged", "x 4/3",    "dry"};
    static const size_t widths[] = {10, 11, 11, 9, 10, 11, 9, 9};
    double length = to->scale->length_m;
    if (!has_thickness(uplift)) {
        return;
    }
    usi_buffer_print(to->out, "\nThickness of the floor that just holds, %s\n", to->scale->length);
    add_heads(to, heads, widths, sizeof widths / sizeof widths[0]);
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        const us_thickness *floor = &uplift->thickness[k];
        char number[USI_NUMBER_ROOM];
        usi_words_pad(to->out, usi_page_plain(number, floor->x_m, length), widths[0], 1);
        usi_words_pad(to->out, usi_page_plain(number, floor->level_m, length), widths[1], 1);
        usi_page_cell(to, floor->pressure_m, length, widths[2]);
        usi_page_cell_error(to, floor->pressure_m, length, widths[3]);
        usi_page_cell(to, floor->provided_m, length, widths[4]);
        usi_page_cell(to, floor->submerged_m, length, widths[5]);
        usi_page_cell(to, floor->allowed_m, length, widths[6]);
        usi_page_cell(to, floor->dry_m, length, widths[7]);
        usi_buffer_add_text(to->out, "\n");
    }
    usi_words_wrap(to->out, "  pressure: ", "as head above the underside");
    usi_words_wrap(to->out, "  submerged: ",
                   "h / (G - 1), h the head above the top or the surface of water on it");
    usi_words_wrap(to->out, "  x 4/3: ", "the same by the practice of Indian weir design");
    usi_words_wrap(to->out, "  dry: ", "pressure / G, nothing on top; G = unit weight / water's");
}

void usi_page_uplift(const usi_page *to, const us_uplift_result *uplift)
{
    if (!uplift->present) {
        return;
    }
    add_whole(to, uplift);
    add_source(to, uplift);
    if (uplift->weight_n_m.present) {
        usi_words_wrap(to->out, "  ",
                       "not included: trough of a hydraulic jump, pressure fluctuation, stagnation "
                       "pressure at open joints");
    }
    add_panels(to, uplift);
    add_thickness(to, uplift);
}
