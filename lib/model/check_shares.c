/* What of the soils and zones shows in the section: notes on what does not. */
#include <math.h>

#include "base/context.h"
#include "model/check.h"
#include "model/survey.h"

static const double NOTHING = 1e-9; /* of an area: rounding */

static bool has_zone(const us_section *section, size_t soil)
{
    for (size_t i = 0; i < section->zone_count; i++) {
        if (section->zones[i].soil == soil) {
            return true;
        }
    }
    return false;
}

static double highest_surface(const us_section *section)
{
    double highest_m = fmax(usi_line_highest(&section->left_bed, -HUGE_VAL, section->left_end_m),
                            usi_line_highest(&section->right_bed, section->right_end_m, HUGE_VAL));
    if (section->has_structure) {
        highest_m = fmax(highest_m, usi_line_highest(&section->underside, -HUGE_VAL, HUGE_VAL));
    }
    return highest_m;
}

/* True when a later layer begins above all soil. */
static bool lies_above(const us_section *section, size_t index)
{
    double highest_m = highest_surface(section);
    for (size_t i = index + 1; i < section->soil_count; i++) {
        const usi_line *top = &section->soils[i].top;
        if (section->soils[i].layer && usi_line_lowest(top, -HUGE_VAL, HUGE_VAL) >= highest_m) {
            return true;
        }
    }
    return false;
}

static bool lies_below(const us_section *section, size_t index)
{
    const usi_line *top = &section->soils[index].top;
    return index > 0 && section->has_base &&
           usi_line_highest(top, -HUGE_VAL, HUGE_VAL) <=
               usi_line_lowest(&section->base, -HUGE_VAL, HUGE_VAL);
}

static void note_absent_soil(usi_check *check, size_t index)
{
    const us_section *section = check->section;
    const usi_soil *soil = &section->soils[index];
    bool used = has_zone(section, index);
    if (!soil->layer) {
        if (used) {
            usi_check_note(check, "Soil %s does not show: no zone of it holds soil.", soil->name);
        } else {
            usi_check_note(check, "Soil %s has no top, so it is no layer and does not count.",
                           soil->name);
        }
    } else if (lies_above(section, index)) {
        usi_check_note(check, "Layer %s lies above the soil surface and does not count.",
                       soil->name);
    } else if (lies_below(section, index)) {
        usi_check_note(check, "Layer %s lies below the base and does not count.", soil->name);
    } else {
        usi_check_note(check,
                       "Layer %s does not show: other layers or zones lie wherever it could.",
                       soil->name);
    }
}

static void note_zone(usi_check *check, size_t index, double held_m2)
{
    const usi_zone *zone = &check->section->zones[index];
    const char *soil = check->section->soils[zone->soil].name;
    double whole_m2 = usi_zone_area(zone);
    if (held_m2 <= NOTHING * whole_m2) {
        usi_check_note(check, "Zone %zu, of %s, lies outside the soil and does not count.",
                       index + 1, soil);
    } else if (held_m2 < (1.0 - NOTHING) * whole_m2) {
        usi_check_note(check, "Part of zone %zu, of %s, lies outside the soil and does not count.",
                       index + 1, soil);
    }
}

/* Of a case with beds of its own: the zones that its beds leave nothing of. */
static void note_zones_gone(usi_check *check, const usi_survey *survey)
{
    enum { NAMED = 3 };
    const us_section *section = check->section;
    size_t gone = 0;
    for (size_t i = 0; i < section->zone_count; i++) {
        gone += survey->zone_areas_m2[i] <= NOTHING * usi_zone_area(&section->zones[i]);
    }
    if (gone > NAMED) {
        usi_check_note(check, "%zu zones lie outside the soil and do not count.", gone);
        return;
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        if (survey->zone_areas_m2[i] <= NOTHING * usi_zone_area(&section->zones[i])) {
            note_zone(check, i, 0.0);
        }
    }
}

void usi_check_shares(usi_check *check)
{
    us_section *section = check->section;
    if (check->failed || (check->own != NULL && check->own->undermined != NULL) ||
        usi_context_error_count(check->context) > check->raw->errors_before) {
        return;
    }
    usi_plan_window window = usi_survey_around(section);
    usi_survey survey;
    us_status status = usi_survey_make(check->context, section, &window, &survey);
    if (status != US_OK) {
        check->failed = status == US_ERROR_MEMORY;
        return;
    }
    double whole_m2 = 0.0;
    for (size_t i = 0; i < section->soil_count; i++) {
        whole_m2 += survey.soil_areas_m2[i];
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        if (survey.soil_areas_m2[i] <= NOTHING * NOTHING * whole_m2) {
            note_absent_soil(check, i);
        }
    }
    if (check->own != NULL) {
        note_zones_gone(check, &survey);
    }
    for (size_t i = 0; i < section->zone_count && check->own == NULL; i++) {
        note_zone(check, i, survey.zone_areas_m2[i]);
    }
    usi_survey_clear(&survey);
}
