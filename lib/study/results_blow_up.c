/* Tight layers over pervious ones, and where water is nearest to lifting them. */
#include <math.h>

#include "model/situation.h"
#include "study/estimate.h"
#include "study/results.h"

/* Where all places are alike in theory the first is taken, whatever rounding says. */
static const double TIE = 1e-6;

static bool readable(const usi_nest *nest, size_t tight)
{
    for (size_t k = 0; k < nest->count; k++) {
        if (!nest->readings[k].tights[tight].present) {
            return false;
        }
    }
    return true;
}

/* Of saturated soil and of the water that stands on it. */
static double stress_on(const us_section *section, const usi_water *water, const usi_tight *at)
{
    double deep_m = water->at_bed ? 0.0 : fmax(water->downstream_m - at->bed_m, 0.0);
    return at->stress_n_m2 + section->water_unit_weight_n_m3 * deep_m;
}

/* The place with the most pore pressure for its stress on the finest grid; nest->tight_count
 * where there is none. */
static size_t find_worst(const us_section *section, const usi_nest *nest, size_t index,
                         us_blow_up_result *blow_up)
{
    usi_datum datum = usi_datum_of(section, index);
    size_t worst = nest->tight_count;
    double largest = 0.0;
    for (size_t k = 0; k < nest->tight_count; k++) {
        const usi_tight *at = &nest->tights[k];
        if (!readable(nest, k)) {
            continue;
        }
        blow_up->present = true;
        if (at->unweighed >= 0) {
            blow_up->unweighed = section->soils[at->unweighed].name;
            continue;
        }
        double head_m = datum.zero_m + datum.unit_m * usi_nest_finest(nest)->tights[k].value;
        double danger = (head_m - at->level_m) / stress_on(section, &section->waters[index], at);
        if (worst == nest->tight_count || danger > largest + TIE * fabs(largest)) {
            largest = danger;
            worst = k;
        }
    }
    return worst;
}

void usi_results_blow_up(const us_section *section, const usi_nest *nest, size_t index,
                         us_water_result *result)
{
    us_blow_up_result *blow_up = &result->blow_up;
    size_t worst = find_worst(section, nest, index, blow_up);
    if (worst == nest->tight_count) {
        return;
    }
    const usi_tight *at = &nest->tights[worst];
    usi_datum datum = usi_datum_of(section, index);
    us_value share = usi_nest_head(nest, usi_pick_tight, worst);
    double water_n_m3 = section->water_unit_weight_n_m3;
    double stress_n_m2 = stress_on(section, &section->waters[index], at);
    blow_up->x_m = at->x_m;
    blow_up->level_m = at->level_m;
    blow_up->upper = section->soils[at->upper].name;
    blow_up->lower = at->lower == USI_TIGHT_WATER ? NULL : section->soils[at->lower].name;
    blow_up->head_m =
        (us_value){datum.zero_m + share.value * datum.unit_m, share.error * datum.unit_m, true};
    blow_up->stress_n_m2 = (us_value){stress_n_m2, 0.0, true};
    blow_up->pressure_n_m2 = (us_value){water_n_m3 * (blow_up->head_m.value - at->level_m),
                                        water_n_m3 * blow_up->head_m.error, true};
    blow_up->factor = usi_estimate_quotient(stress_n_m2, blow_up->pressure_n_m2);
}
