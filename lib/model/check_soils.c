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

/* Extremes of how far one line lies above another, steps looked at from both sides. */
typedef struct lead {
    double most_m;
    double least_m;
} lead;

static void take_lead(lead *of, const usi_line *upper, const usi_line *lower, const usi_line *at)
{
    for (size_t i = 0; i < at->count; i++) {
        for (int right = 0; right < 2; right++) {
            double x_m = at->points[i].x_m;
            double lead_m =
                usi_line_level(upper, x_m, right == 1) - usi_line_level(lower, x_m, right == 1);
            of->most_m = fmax(of->most_m, lead_m);
            of->least_m = fmin(of->least_m, lead_m);
        }
    }
}

/* A later layer may rise above an earlier one, which is absent there, but not everywhere. */
static void check_order(usi_check *check, const usi_soil *upper, const usi_soil *soil,
                        const usi_raw_soil *raw)
{
    const us_section *section = check->section;
    lead of = {-HUGE_VAL, HUGE_VAL};
    take_lead(&of, &upper->top, &soil->top, &upper->top);
    take_lead(&of, &upper->top, &soil->top, &soil->top);
    if (of.most_m > 0.0) {
        if (of.least_m < -check->tolerance_m) {
            usi_check_note(check,
                           "Layer %s is absent where the top of layer %s lies above its own.",
                           upper->name, soil->name);
        }
        return;
    }
    if (upper->top.count == 1 && soil->top.count == 1) {
        usi_check_error(check, &raw->top.at, "list the soils from the top down",
                        "the layer begins at %s, not below the top of the layer before it, %s",
                        usi_words_length(section, soil->top.points[0].z_m).text,
                        usi_words_length(section, upper->top.points[0].z_m).text);
    } else {
        usi_check_error(check, &raw->top.at, "list the soils from the top down",
                        "the layer begins nowhere below the top of the layer before it");
    }
}

static void check_top(usi_check *check, size_t index, const usi_soil **above)
{
    const usi_soil *soil = &check->section->soils[index];
    const usi_raw_soil *raw = raw_soil(check, index);
    if (index == 0) {
        if (raw->top.at.line > 0) {
            usi_check_error(check, &raw->top.at, "leave `top` out here",
                            "the first soil begins at the bed and takes no top");
        }
        return;
    }
    if (soil->top.count == 0 || !check->layered) {
        return;
    }
    if (*above != NULL) {
        check_order(check, *above, soil, raw);
    }
    *above = soil;
}

void usi_check_soils(usi_check *check)
{
    us_section *section = check->section;
    const usi_soil *above = NULL;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_raw_soil *raw = raw_soil(check, i);
        usi_check_conductivity(check, i);
        check_weight(check, &section->soils[i], raw);
        check_top(check, i, &above);
    }
}
