/* What the works are made of, and their limits, told back in words. */
#include "model/check.h"
#include "model/explain.h"
#include "model/works.h"

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

enum { DIGITS = 7 };

/* "retained by NAME, which lets 0.2 mm through" */
static void tell_retained(us_buffer *text, const usi_retained *retained)
{
    usi_buffer_print(text, "; the soil there is said to be retained by %s", retained->by);
    if (retained->opening.given) {
        usi_buffer_print(text, ", which lets %s through",
                         usi_words_grain(retained->opening.m).text);
    }
}

static void tell_sheet(us_buffer *text, const us_section *section, const usi_sheeting *sheet)
{
    static const char *const treatments[] = {"open", "grouted", "plated"};
    char number[USI_NUMBER_ROOM];
    usi_buffer_print(text, "; sheets %s thick", usi_words_grain(sheet->thickness_m).text);
    if (sheet->width_m > 0.0) {
        usi_buffer_print(text, ", %s wide", LENGTH(sheet->width_m));
    }
    if (sheet->perimeter_m > 0.0) {
        usi_buffer_print(text, ", %s round both faces", LENGTH(sheet->perimeter_m));
    }
    if (sheet->mass_kg_m2 > 0.0) {
        const usi_unit *unit =
            section->units.pounds ? usi_unit_find("lb/ft^2", 7) : usi_unit_find("kg/m^2", 6);
        usi_buffer_print(text, ", %s %s",
                         usi_number_write(number, sheet->mass_kg_m2 / unit->factor, DIGITS),
                         unit->name);
    }
    if (sheet->hole_m > 0.0) {
        usi_buffer_print(text, ", a hole of %s at %s below the top, %s",
                         usi_words_grain(sheet->hole_m).text, LENGTH(sheet->hole_below_top_m),
                         treatments[sheet->treatment]);
    }
}

static void tell_corrosion(us_buffer *text, const usi_corrosion *corrosion)
{
    char years[USI_NUMBER_ROOM];
    usi_buffer_print(text, "; rust takes %s on each side", usi_words_grain(corrosion->loss_m).text);
    if (corrosion->by_table) {
        usi_buffer_print(text, " in %s years (%s)",
                         usi_number_write(years, corrosion->life_years, DIGITS),
                         usi_environments[corrosion->environment]);
    }
}

static bool has_works(const usi_wall *wall)
{
    return wall->sheet.given || wall->corrosion.given || wall->loaded;
}

static void tell_walls(us_buffer *text, const us_section *section)
{
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (!has_works(wall)) {
            continue;
        }
        usi_buffer_print(text, "  wall %s", wall->name);
        if (wall->sheet.given) {
            tell_sheet(text, section, &wall->sheet);
        }
        if (wall->corrosion.given) {
            tell_corrosion(text, &wall->corrosion);
        }
        if (wall->loaded) {
            usi_buffer_print(text, "; carries %s", usi_words_force(section, wall->load_n_m).text);
        }
        usi_buffer_add_text(text, "\n");
    }
}

static bool has_ground(const usi_soil *soil)
{
    return soil->d85.given || soil->has_creep_class || soil->shaft.by_beta ||
           soil->shaft.by_strength;
}

static void tell_ground(us_buffer *text, const us_section *section)
{
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        char number[USI_NUMBER_ROOM];
        if (!has_ground(soil)) {
            continue;
        }
        usi_buffer_print(text, "  soil %s", soil->name);
        if (soil->d85.given) {
            usi_buffer_print(text, "; d85 %s", usi_words_grain(soil->d85.m).text);
        }
        if (soil->has_creep_class) {
            usi_buffer_print(text, "; creep class %s", usi_creep_classes[soil->creep_class]);
        }
        if (soil->shaft.by_beta) {
            usi_buffer_print(text, "; friction on walls: beta %s",
                             usi_number_write(number, soil->shaft.beta, DIGITS));
        }
        if (soil->shaft.by_strength) {
            usi_buffer_print(text, "; friction on walls: undrained strength %s",
                             usi_words_strength(section, soil->shaft.strength_pa).text);
        }
        usi_buffer_add_text(text, "\n");
    }
}

static void tell_openings(us_buffer *text, const us_section *section)
{
    if (section->permeable_opening.given || section->permeable_retained.by != NULL) {
        usi_buffer_add_text(text, "  permeable stretches");
        if (section->permeable_opening.given) {
            usi_buffer_print(text, "; joints %s wide",
                             usi_words_grain(section->permeable_opening.m).text);
        }
        if (section->permeable_retained.by != NULL) {
            tell_retained(text, &section->permeable_retained);
        }
        usi_buffer_add_text(text, "\n");
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        if (section->drains[i].retained.by != NULL) {
            usi_buffer_print(text, "  drain %s", section->drains[i].name);
            tell_retained(text, &section->drains[i].retained);
            usi_buffer_add_text(text, "\n");
        }
    }
}

static void tell_distance(us_buffer *text, const us_section *section, const char *what,
                          const usi_length *length)
{
    if (length->given) {
        usi_buffer_print(text, "  %s: %s\n", what, LENGTH(length->m));
    }
}

/* What can be ordered. */
static void tell_lengths(us_buffer *text, const us_section *section)
{
    for (size_t i = 0; i < section->length_count; i++) {
        usi_buffer_print(text, "%s%s", i == 0 ? "  walls can be ordered in lengths of " : ", ",
                         LENGTH(section->lengths_m[i]));
    }
    if (section->length_count > 0) {
        usi_buffer_add_text(text, "\n");
    }
}

void usi_tell_works(us_buffer *text, const us_section *section)
{
    const usi_retained *permeable = &section->permeable_retained;
    bool any = section->permeable_opening.given || permeable->by != NULL || section->banks.given ||
               section->next_drop.upstream.given || section->next_drop.downstream.given;
    for (size_t i = 0; i < section->wall_count; i++) {
        any = any || has_works(&section->walls[i]);
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        any = any || has_ground(&section->soils[i]);
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        any = any || section->drains[i].retained.by != NULL;
    }
    any = any || section->length_count > 0;
    if (!any) {
        return;
    }
    usi_buffer_add_text(text, "\nFor the checks\n");
    tell_walls(text, section);
    tell_ground(text, section);
    tell_openings(text, section);
    tell_lengths(text, section);
    tell_distance(text, section, "key-in at the left bank", &section->banks.left);
    tell_distance(text, section, "key-in at the right bank", &section->banks.right);
    tell_distance(text, section, "next drop upstream, from the upstream end",
                  &section->next_drop.upstream);
    tell_distance(text, section, "next drop downstream, from the toe",
                  &section->next_drop.downstream);
}

static bool tell_limit(us_buffer *text, const usi_requirement *limit, const char *what)
{
    char number[USI_NUMBER_ROOM];
    if (limit->given) {
        usi_buffer_print(text, "  %s %s\n", what, usi_number_write(number, limit->value, DIGITS));
    }
    return limit->given;
}

bool usi_tell_work_limits(us_buffer *text, const us_section *section)
{
    const usi_requirements *require = &section->require;
    bool any = require->creep.given;
    if (any) {
        const char *rule = require->creep.rule == USI_CREEP_LANE ? "Lane" : "Bligh";
        char number[USI_NUMBER_ROOM];
        const usi_requirement *ratio = &require->creep.ratio;
        usi_buffer_print(text, "  creep: %s's length over the head difference at least %s\n", rule,
                         ratio->given ? usi_number_write(number, ratio->value, DIGITS)
                                      : "what the list has for the classes of the soils");
    }
    any = tell_limit(text, &require->retention, "retention: an opening over d85 of at most") || any;
    any = tell_limit(text, &require->banks, "banks: a key-in over the walls' depth of at least") ||
          any;
    any = tell_limit(text, &require->wall_embedment,
                     "wall_embedment: a share of the cap of at least") ||
          any;
    any = tell_limit(text, &require->corrosion, "corrosion: a share of steel left of at least") ||
          any;
    any = tell_limit(text, &require->wall_load, "wall_load: a factor of at least") || any;
    return any;
}
