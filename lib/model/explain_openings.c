/* What walls let through, told back in words. */
#include <math.h>

#include "base/units.h"
#include "model/check.h"
#include "model/explain.h"
#include "model/panes.h"

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

enum { FEW_DIGITS = 3 };

static void tell_interlock(us_buffer *text, const us_section *section,
                           const usi_interlock *interlock)
{
    char rate[USI_NUMBER_ROOM];
    usi_buffer_print(text, "    joints every %s let water through: inverse resistance %s",
                     LENGTH(interlock->spacing_m),
                     usi_words_conductivity(section, interlock->inverse_resistance_m_s).text);
    usi_buffer_print(text,
                     ", %s 1/s of drop and area,\n    in series with the soil's flow to joints %s "
                     "wide on both sides\n",
                     usi_number_write(rate,
                                      interlock->inverse_resistance_m_s / interlock->spacing_m,
                                      FEW_DIGITS),
                     LENGTH(interlock->joint_width_m));
}

/* The strip of a wall that stands for an opening; NULL where it is solved as drawn. */
static const usi_pane *strip_at(const usi_wall *wall, const usi_opening *opening)
{
    double middle_m = 0.5 * (opening->low_m + opening->high_m);
    for (size_t p = 0; p < wall->pane_count; p++) {
        const usi_pane *pane = &wall->panes[p];
        if (pane->kind == USI_PANE_STRIP && pane->low_m < middle_m && pane->high_m > middle_m) {
            return pane;
        }
    }
    return NULL;
}

/* What a row of holes is worth on either side. */
static void tell_worth(us_buffer *text, const us_section *section, const usi_wall *wall,
                       const usi_opening *holes)
{
    double middle_m = 0.5 * (holes->low_m + holes->high_m);
    usi_point at = {wall->x_m, middle_m};
    double width_m[2];
    char number[USI_NUMBER_ROOM];
    for (int side = 0; side < 2; side++) {
        size_t soil = usi_section_soil_at(section, at, side == 1, false);
        width_m[side] = usi_holes_slot(holes, &section->soils[soil]);
    }
    usi_buffer_print(text, ", worth from afar a slot of %s mm",
                     usi_number_write(number, 1e3 * width_m[0], FEW_DIGITS));
    if (fabs(width_m[1] - width_m[0]) > 1e-9 * width_m[0]) {
        usi_buffer_print(text, " on the left, %s mm on the right",
                         usi_number_write(number, 1e3 * width_m[1], FEW_DIGITS));
    }
}

static void tell_opening(us_buffer *text, const us_section *section, const usi_wall *wall,
                         const usi_opening *opening)
{
    if (opening->holes) {
        usi_buffer_print(text, "    holes of %s every %s",
                         usi_words_grain(opening->diameter_m).text, LENGTH(opening->spacing_m));
        usi_buffer_print(text, " at %s", LENGTH(0.5 * (opening->low_m + opening->high_m)));
        tell_worth(text, section, wall, opening);
    } else {
        usi_buffer_print(text, "    slot from %s to %s", LENGTH(opening->low_m),
                         LENGTH(opening->high_m));
        usi_buffer_add_text(text, strip_at(wall, opening) != NULL
                                      ? ", finer than a grid: solved as a strip of equal effect"
                                      : ", solved as drawn");
    }
    usi_buffer_add_text(text, "\n");
}

void usi_tell_passages(us_buffer *text, const us_section *section, const usi_wall *wall)
{
    if (wall->cap_gap.given) {
        usi_buffer_print(text, "    a gap of %s between it and the structure, %s\n",
                         LENGTH(wall->cap_gap.m),
                         wall->cap_void ? "open water" : "filled with soil");
    }
    if (wall->interlock.given) {
        tell_interlock(text, section, &wall->interlock);
    }
    for (size_t k = 0; k < wall->opening_count; k++) {
        tell_opening(text, section, wall, &wall->openings[k]);
    }
}

void usi_tell_as_built(us_buffer *text, const us_section *section)
{
    const usi_as_built *of = &section->as_built;
    if (!of->leaks && !of->split.given) {
        return;
    }
    usi_buffer_add_text(text, "\nWords of a driving log\n");
    if (of->leaks) {
        usi_buffer_print(text, "  leaking: an inverse resistance of %s\n",
                         usi_words_conductivity(section, of->leak_m_s).text);
    }
    if (of->split.given) {
        usi_buffer_print(text, "  split: open %s wide\n", usi_words_grain(of->split.m).text);
    }
}
