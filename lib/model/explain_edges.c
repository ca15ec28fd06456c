/* The edges of the soil told back in words. */
#include <math.h>

#include "model/check.h"
#include "model/explain.h"

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

enum { MOST_STRETCHES = 12 }; /* told one by one */

static void tell_side(us_buffer *text, const us_section *section, const usi_side *side,
                      const char *name)
{
    switch (side->kind) {
    case USI_SIDE_ENDLESS:
        usi_buffer_print(text, "  %s: the soil goes on without end\n", name);
        break;
    case USI_SIDE_CLOSED:
        usi_buffer_print(text, "  %s: the soil ends at x = %s, closed\n", name, LENGTH(side->x_m));
        break;
    case USI_SIDE_FIXED_HEAD:
        usi_buffer_print(text, "  %s: the soil ends at x = %s, at %s%s\n", name, LENGTH(side->x_m),
                         side->has_head ? "a head of " : "the water level of that side",
                         side->has_head ? LENGTH(side->head_m) : "");
        break;
    }
}

/* "12 days", as long as a metre of head needs to send a metre of water through. */
static void tell_resistance(us_buffer *text, double resistance_s)
{
    const double day_s = 86400.0;
    char number[USI_NUMBER_ROOM];
    usi_buffer_print(text, "a resistance of %s days",
                     usi_number_write(number, resistance_s / day_s, 4));
}

void usi_tell_regional(us_buffer *text, const us_section *section)
{
    if (section->artesian.acts) {
        usi_buffer_print(text, "  below the base: water under a head of %s, ",
                         LENGTH(section->artesian.head_m));
        if (section->artesian.resistance_s > 0.0) {
            usi_buffer_add_text(text, "through a layer with ");
            tell_resistance(text, section->artesian.resistance_s);
            usi_buffer_add_text(text, "\n");
        } else {
            usi_buffer_add_text(text, "which is that of the base itself\n");
        }
    }
    tell_side(text, section, &section->left, "left side");
    tell_side(text, section, &section->right, "right side");
}

/* "x = 1 m to 2 m, x = 4 m to 5 m" */
static void tell_stretches(us_buffer *text, const us_section *section, const usi_stretch *stretches,
                           size_t count)
{
    for (size_t i = 0; i < count && i < MOST_STRETCHES; i++) {
        usi_buffer_print(text, "%sx = %s to %s", i > 0 ? ", " : "", LENGTH(stretches[i].from_m),
                         LENGTH(stretches[i].to_m));
    }
    if (count > MOST_STRETCHES) {
        usi_buffer_print(text, " and %zu more", count - MOST_STRETCHES);
    }
}

void usi_tell_leaks(us_buffer *text, const us_section *section)
{
    if (section->permeable_count > 0) {
        usi_buffer_add_text(text, "  lets water up through: ");
        tell_stretches(text, section, section->permeable, section->permeable_count);
        usi_buffer_add_text(text, "\n");
    }
    if (section->void_count > 0) {
        usi_buffer_add_text(text, "  has lost contact with the soil: ");
        tell_stretches(text, section, section->voids, section->void_count);
        usi_buffer_add_text(text, "\n");
    }
}

static void tell_drain(us_buffer *text, const us_section *section, const usi_drain *drain)
{
    if (drain->weeps) {
        usi_buffer_print(text, "  %s: a row of weeps at x = %s, level %s, ", drain->name,
                         LENGTH(drain->from.x_m), LENGTH(drain->from.z_m));
        usi_buffer_print(text, "%s wide every %s", LENGTH(drain->diameter_m),
                         LENGTH(drain->spacing_m));
    } else {
        usi_buffer_print(text, "  %s: without gaps from x = %s, level %s, ", drain->name,
                         LENGTH(drain->from.x_m), LENGTH(drain->from.z_m));
        usi_buffer_print(text, "to x = %s, level %s, %s", LENGTH(drain->to.x_m),
                         LENGTH(drain->to.z_m),
                         drain->inside ? "in the soil" : "along the structure");
    }
    if (drain->tailwater) {
        usi_buffer_add_text(text, "; lets out at the downstream water");
    } else {
        usi_buffer_print(text, "; lets out at %s, or at the downstream water where that is higher",
                         LENGTH(drain->outlet_m));
    }
    if (drain->clogging_s > 0.0) {
        usi_buffer_add_text(text, "; clogged, with ");
        tell_resistance(text, drain->clogging_s);
    }
    usi_buffer_add_text(text, drain->shut ? "; shut\n" : "\n");
}

void usi_tell_drains(us_buffer *text, const us_section *section)
{
    if (section->drain_count > 0) {
        usi_buffer_add_text(text, "\nDrains\n");
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        tell_drain(text, section, &section->drains[i]);
    }
}

/* Drains that are shut in this case and not by themselves. */
static void tell_shut(us_buffer *text, const us_section *section, const usi_water *water)
{
    size_t told = 0;
    for (size_t i = 0; i < section->drain_count && water->shut != NULL; i++) {
        if (water->shut[i] && !section->drains[i].shut) {
            usi_buffer_print(text, "%s%s",
                             told++ > 0 ? ", " : "    shut: ", section->drains[i].name);
        }
    }
    if (told > 0) {
        usi_buffer_add_text(text, "\n");
    }
}

static void tell_own_beds(us_buffer *text, const us_section *section, const usi_water *water)
{
    if (water->undermined != NULL) {
        usi_buffer_print(text, "    undermined: %s Nothing can be solved for this case.\n",
                         water->undermined);
    }
    if (water->ground != NULL) {
        usi_buffer_add_text(text, "    beds of its own: upstream ");
        usi_tell_levels(text, section, usi_section_upstream_bed(water->ground));
        usi_buffer_add_text(text, "; downstream ");
        usi_tell_levels(text, section, usi_section_downstream_bed(water->ground));
        usi_buffer_add_text(text, "\n");
    }
}

/* "discharge 120 m^3/s, return period 100 years" */
static void tell_flood(us_buffer *text, const us_section *section, const usi_flood *flood)
{
    char number[USI_NUMBER_ROOM];
    const usi_unit *unit = usi_unit_of_discharge(section->units.length);
    if (flood->has_discharge) {
        usi_buffer_print(text, ", discharge %s %s",
                         usi_number_write(number, flood->discharge_m3_s / unit->factor, 7),
                         unit->name);
    }
    if (flood->has_return_period) {
        usi_buffer_print(text, ", return period %s years",
                         usi_number_write(number, flood->return_period_years, 7));
    }
}

void usi_tell_waters(us_buffer *text, const us_section *section)
{
    usi_buffer_add_text(text, "\nWater cases\n");
    for (size_t i = 0; i < section->water_count; i++) {
        const usi_water *water = &section->waters[i];
        usi_buffer_print(text, "  %s: upstream %s, downstream %s%s, head difference %s",
                         water->name, LENGTH(water->upstream_m), LENGTH(water->downstream_m),
                         water->at_bed ? " (at the bed)" : "",
                         LENGTH(water->upstream_m - water->downstream_m));
        tell_flood(text, section, &water->flood);
        usi_buffer_add_text(text, "\n");
        tell_own_beds(text, section, water);
        if (water->seal_count > 0) {
            usi_buffer_add_text(text, "    sealed bed: ");
            tell_stretches(text, section, water->seals, water->seal_count);
            usi_buffer_add_text(text, "\n");
        }
        tell_shut(text, section, water);
        usi_tell_lift(text, section, water);
    }
}
