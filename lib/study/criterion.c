#include "study/criterion.h"

#include <math.h>

#include "model/situation.h"

/* Heads are asked for at half the accuracy's share of the head difference, but
 * beside a flow or a gradient at no less than this: where those are wanted to
 * many digits, a head at a wall tip, of low order, would be all that costs. */
static const double HEAD_SHARE = 0.5;
static const double HEAD_LEAST = 5e-4;
/* Of its scale: what is below tends to zero. */
static const double SMALL = 1e-3;
/* Between two ways to compare the same numbers. */
static const double ROUNDING = 1e-9;

static double conductivity(const usi_soil *soil)
{
    return sqrt(soil->kh_m_s * soil->kv_m_s);
}

double usi_criterion_flow_scale(const us_section *section)
{
    double least_m_s = HUGE_VAL;
    for (size_t s = 0; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            least_m_s = fmin(least_m_s, conductivity(&section->soils[s]));
        }
    }
    for (size_t k = 0; k < section->zone_count; k++) {
        least_m_s = fmin(least_m_s, conductivity(&section->soils[section->zones[k].soil]));
    }
    return least_m_s;
}

double usi_criterion_gradient_scale(const usi_nest *nest)
{
    return 1.0 / nest->exits[nest->governing.exit].mean_depth_m;
}

us_accuracy usi_criterion_judge(us_value value, double scale, double accuracy)
{
    double small = SMALL * scale;
    double size = fabs(value.value);
    double allowed = accuracy * (1.0 + ROUNDING);
    if (!value.present || value.error <= allowed * size) {
        return US_ACCURACY_REACHED;
    }
    return size < small && value.error <= allowed * small ? US_ACCURACY_ON_SCALE
                                                          : US_ACCURACY_MISSED;
}

static usi_target relative(usi_driver driver, us_value value, double scale, double accuracy)
{
    double small = SMALL * scale;
    double size = fabs(value.value);
    usi_target target = {.driver = driver, .allowed = accuracy};
    target.on_scale = value.error > accuracy * size && size < small;
    size = target.on_scale ? small : size;
    target.error = size > 0.0 ? value.error / size : 0.0;
    return target;
}

/* The worst head at a wall, as a share of the head difference. */
static usi_target wall_heads(const us_section *section, const usi_nest *nest)
{
    static const usi_pick picks[] = {usi_pick_tip, usi_pick_left_top, usi_pick_right_top};
    usi_target target = {.driver = USI_DRIVER_HEADS};
    for (size_t w = 0; w < section->wall_count; w++) {
        for (size_t p = 0; p < sizeof picks / sizeof picks[0]; p++) {
            double error = usi_nest_estimate(nest, picks[p], w).error;
            if (error > target.error) {
                target.error = error;
                target.index = w;
            }
        }
    }
    return target;
}

/* The worst uplift, as a share of what the full head difference would give. */
static usi_target uplift(const us_section *section, const usi_nest *nest)
{
    double width_m = section->right_end_m - section->left_end_m;
    usi_target target = {.driver = USI_DRIVER_UPLIFT};
    for (size_t w = 0; section->has_structure && w < section->water_count; w++) {
        double full_n_m =
            section->water_unit_weight_n_m3 * width_m * usi_datum_of(section, w).unit_m;
        if (full_n_m <= 0.0) {
            continue;
        }
        double error = usi_nest_estimate(nest, usi_pick_uplift, w).error / full_n_m;
        if (error > target.error) {
            target.error = error;
            target.index = w;
        }
    }
    return target;
}

bool usi_criterion_flow_exists(const us_section *section)
{
    const usi_situation *situation = section->situation;
    return section->has_base &&
           (situation == NULL || !(situation->endless_base || situation->endless_foot));
}

/* False when all water levels are equal: then every value is exact. */
static bool anything_flows(const us_section *section)
{
    if (section->situation != NULL) {
        return true;
    }
    for (size_t w = 0; w < section->water_count; w++) {
        if (section->waters[w].upstream_m > section->waters[w].downstream_m) {
            return true;
        }
    }
    return false;
}

size_t usi_criterion_targets(const us_section *section, const usi_nest *nest, usi_target *targets)
{
    size_t count = 0;
    if (!anything_flows(section)) {
        return 0;
    }
    bool sealed = usi_nest_finest(nest)->sealed;
    if (usi_criterion_flow_exists(section) && !sealed && !nest->gradient_alone) {
        targets[count++] = relative(USI_DRIVER_FLOW, usi_nest_flow(nest),
                                    usi_criterion_flow_scale(section), nest->accuracy);
    }
    if (nest->exit_count > 0 && !sealed && !usi_nest_finest(nest)->bed_closed) {
        us_value gradient = usi_nest_gradient(nest);
        us_value judged = gradient.present ? gradient : usi_nest_mean(nest);
        if (gradient.present || !nest->gradient_alone) {
            targets[count++] = relative(USI_DRIVER_GRADIENT, judged,
                                        usi_criterion_gradient_scale(nest), nest->accuracy);
        }
    }
    if (nest->gradient_alone) {
        return count;
    }
    bool beside = usi_criterion_flow_exists(section) || nest->exit_count > 0;
    double allowed = HEAD_SHARE * nest->accuracy;
    targets[count] = wall_heads(section, nest);
    targets[count++].allowed = beside ? fmax(allowed, HEAD_LEAST) : allowed;
    if (!beside) {
        targets[count] = uplift(section, nest);
        targets[count++].allowed = allowed;
    }
    return count;
}

double usi_criterion_excess(const us_section *section, const usi_nest *nest)
{
    usi_target targets[USI_TARGET_MOST];
    size_t count = usi_criterion_targets(section, nest, targets);
    /* What no grid resolves does not show in the differences of grids. */
    double worst = count > 0 && usi_nest_finest(nest)->leaky ? HUGE_VAL : 0.0;
    for (size_t k = 0; k < count; k++) {
        worst = fmax(worst, targets[k].error / targets[k].allowed);
    }
    return worst;
}
