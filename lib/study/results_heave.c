/* Prisms of soil below the downstream bed, and the worst of them. */
#include <math.h>

#include "model/situation.h"
#include "study/estimate.h"
#include "study/results.h"

/* Where all prisms are alike in theory the first is taken, whatever rounding says. */
static const double TIE = 1e-6;

/* What a nest gives in one water case. */
typedef struct filler {
    const us_section *section;
    const usi_nest *nest;
    usi_datum datum;
    const usi_water *water;
} filler;

static bool readable(const usi_nest *nest, size_t prism)
{
    for (size_t k = 0; k < nest->count; k++) {
        const usi_prism_reading *reading = &nest->readings[k].prisms[prism];
        if (!reading->mean.present || !reading->corner.present) {
            return false;
        }
    }
    return true;
}

static us_value head_of(const filler *of, usi_pick pick, size_t prism)
{
    us_value share = usi_nest_head(of->nest, pick, prism);
    return (us_value){of->datum.zero_m + share.value * of->datum.unit_m,
                      share.error * of->datum.unit_m, true};
}

/* Seepage force over submerged weight on the finest grid: the larger, the worse. */
static double danger_of(const filler *of, size_t prism)
{
    const usi_prism *at = &of->nest->prisms[prism];
    double water_n_m3 = of->section->water_unit_weight_n_m3;
    double width_m = at->to_m - at->from_m;
    double head_m =
        of->datum.zero_m + of->datum.unit_m * usi_nest_finest(of->nest)->prisms[prism].mean.value;
    double force_n_m =
        water_n_m3 * width_m * (head_m - usi_prism_water(of->section, of->water, at));
    double buoyancy_n_m = water_n_m3 * width_m * (at->bed_mean_m - at->level_m);
    return force_n_m / (at->weight_n_m - buoyancy_n_m);
}

static us_value times(us_value value, double factor)
{
    return (us_value){value.value * factor, value.error * factor, value.present};
}

static us_prism_result describe(const filler *of, size_t prism, us_prism_kind kind)
{
    const usi_prism *at = &of->nest->prisms[prism];
    double water_n_m3 = of->section->water_unit_weight_n_m3;
    double width_m = at->to_m - at->from_m;
    double height_m = at->bed_mean_m - at->level_m;
    us_prism_result made = {.kind = kind,
                            .from_m = at->from_m,
                            .to_m = at->to_m,
                            .level_m = at->level_m,
                            .depth_m = at->depth_m,
                            .narrow = at->narrow,
                            .head_m = head_of(of, usi_pick_prism, prism),
                            .corner_m = head_of(of, usi_pick_prism_corner, prism),
                            .water_m = usi_prism_water(of->section, of->water, at)};
    made.water_n_m = water_n_m3 * width_m * (made.water_m - at->bed_mean_m);
    us_value excess_m = made.head_m;
    excess_m.value -= made.water_m;
    us_value above_m = made.head_m;
    above_m.value -= made.level_m;
    made.seepage_n_m = times(excess_m, water_n_m3 * width_m);
    made.pressure_n_m = times(above_m, water_n_m3 * width_m);
    if (at->unweighed >= 0) {
        made.unweighed = of->section->soils[at->unweighed].name;
        return made;
    }
    double submerged_n_m = at->weight_n_m - water_n_m3 * width_m * height_m;
    made.weight_n_m = (us_value){at->weight_n_m, 0.0, true};
    made.submerged_n_m = (us_value){submerged_n_m, 0.0, true};
    made.factor = usi_estimate_quotient(submerged_n_m, made.seepage_n_m);
    made.total_factor = usi_estimate_quotient(at->weight_n_m + made.water_n_m, made.pressure_n_m);
    return made;
}

/* The worst prism beside the toe, or `along` the bed; nest->prism_count where there is none. */
static size_t find_worst(const filler *of, bool along, us_heave_result *heave)
{
    const usi_nest *nest = of->nest;
    size_t worst = nest->prism_count;
    double largest = 0.0;
    for (size_t k = 0; k < nest->prism_count; k++) {
        const usi_prism *prism = &nest->prisms[k];
        if ((prism->kind == USI_PRISM_ALONG) != along || !readable(nest, k)) {
            continue;
        }
        if (prism->unweighed >= 0) {
            heave->unweighed = of->section->soils[prism->unweighed].name;
            continue;
        }
        double danger = danger_of(of, k);
        if (worst == nest->prism_count || danger > largest + TIE * fabs(largest)) {
            largest = danger;
            worst = k;
        }
    }
    return worst;
}

void usi_results_heave(const us_section *section, const usi_nest *nest, size_t index,
                       us_water_result *result)
{
    filler of = {section, nest, usi_datum_of(section, index), &section->waters[index]};
    us_heave_result *heave = &result->heave;
    us_prism_result *prisms = heave->prisms;
    if (nest->prism_count > 0 && nest->prisms[0].kind == USI_PRISM_TOE && readable(nest, 0)) {
        prisms[heave->prism_count++] = describe(&of, 0, US_PRISM_TOE);
    }
    for (int along = 0; along < 2; along++) {
        size_t worst = find_worst(&of, along == 1, heave);
        if (worst < nest->prism_count) {
            prisms[heave->prism_count++] =
                describe(&of, worst, along == 1 ? US_PRISM_BED : US_PRISM_DEPTH);
        }
    }
}
