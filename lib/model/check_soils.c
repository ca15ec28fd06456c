/* Soils: layers from the top down, sane conductivities and weights. */
#include <math.h>

#include "model/check.h"

static const usi_raw_soil *raw_soil(const usi_check *check, size_t index)
{
    return (const usi_raw_soil *)check->raw->soils.items + index;
}

static void check_weight(usi_check *check, const usi_soil *soil, const usi_raw_soil *raw)
{
    const us_section *section = check->section;
    if (raw->unit_weight.given && soil->unit_weight_n_m3 <= section->water_unit_weight_n_m3) {
        usi_check_error(check, &raw->unit_weight.at, "give the saturated unit weight of the soil",
                        "the soil, %s, is not heavier than water, %s",
                        usi_words_unit_weight(section, soil->unit_weight_n_m3).text,
                        usi_words_unit_weight(section, section->water_unit_weight_n_m3).text);
    }
}

/* A top given as points must still be level. */
static bool is_level(usi_check *check, const usi_raw_soil *raw)
{
    for (size_t i = 1; i < raw->top.count; i++) {
        if (fabs(raw->top.points[i].at.z_m - raw->top.points[0].at.z_m) > check->tolerance_m) {
            usi_check_error(check, &raw->top.points[i].mark, "give one level",
                            "not yet: this release reads level layers");
            return false;
        }
    }
    return true;
}

static void check_top(usi_check *check, size_t index, double *above_m)
{
    us_section *section = check->section;
    usi_soil *soil = &section->soils[index];
    const usi_raw_soil *raw = raw_soil(check, index);
    if (index == 0) {
        if (raw->top.at.line > 0) {
            usi_check_error(check, &raw->top.at, "leave `top` out here",
                            "the first soil begins at the bed and takes no top");
        }
        return;
    }
    if (raw->top.at.line == 0) {
        usi_check_note(check, "Soil %s has no top, so it is no layer and does not count.",
                       soil->name);
        return;
    }
    if (!raw->top.given || !is_level(check, raw)) {
        return;
    }
    if (soil->top_m >= *above_m) {
        usi_check_error(check, &raw->top.at, "list the soils from the top down",
                        "the layer begins at %s, not below the top of the layer before it, %s",
                        usi_words_length(section, soil->top_m).text,
                        usi_words_length(section, *above_m).text);
    }
    *above_m = soil->top_m;
}

/* Notes on layers that hold no soil. */
static void note_empty_layers(usi_check *check)
{
    const us_section *section = check->section;
    double highest_m = fmax(usi_line_highest(&section->left_bed, -HUGE_VAL, section->left_end_m),
                            usi_line_highest(&section->right_bed, section->right_end_m, HUGE_VAL));
    if (section->has_structure) {
        highest_m = fmax(highest_m, usi_line_highest(&section->underside, -HUGE_VAL, HUGE_VAL));
    }
    double lowest_m =
        section->has_base ? usi_line_lowest(&section->base, -HUGE_VAL, HUGE_VAL) : -HUGE_VAL;
    size_t above = 0;
    for (size_t i = 1; i < section->soil_count; i++) {
        if (!section->soils[i].layer) {
            continue;
        }
        if (section->soils[i].top_m >= highest_m) {
            usi_check_note(check, "Layer %s lies above the soil surface and does not count.",
                           section->soils[above].name);
        } else if (section->soils[i].top_m <= lowest_m) {
            usi_check_note(check, "Layer %s lies below the base and does not count.",
                           section->soils[i].name);
        }
        above = i;
    }
}

void usi_check_soils(usi_check *check)
{
    us_section *section = check->section;
    double above_m = HUGE_VAL;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_raw_soil *raw = raw_soil(check, i);
        usi_check_conductivity(check, i);
        check_weight(check, &section->soils[i], raw);
        check_top(check, i, &above_m);
    }
    if (check->ended) {
        note_empty_layers(check);
    }
}
