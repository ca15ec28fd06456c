#include "study/results.h"

#include <math.h>

#include "base/memory.h"

static const us_value ABSENT = {0.0, 0.0, false};

/* A head from reduced values. */
static us_value head_value(const usi_pair *pair, usi_reduced coarse, usi_reduced fine,
                           const us_water_result *result)
{
    if (!fine.present || !coarse.present) {
        return ABSENT;
    }
    us_value share = usi_pair_head(pair, coarse.value, fine.value);
    return (us_value){result->downstream_m + share.value * result->head_difference_m,
                      share.error * result->head_difference_m, true};
}

static us_value times(us_value value, double factor)
{
    return (us_value){value.value * factor, value.error * fabs(factor), value.present};
}

static void fill_flow(const us_section *section, const usi_pair *pair, us_water_result *result)
{
    us_flow_result *flow = &result->flow;
    flow->bounded = section->has_base || pair->fine.sealed;
    if (!flow->bounded) {
        return;
    }
    double head_m = result->head_difference_m;
    flow->rate_m2_s =
        times(usi_pair_value(pair, pair->coarse.flow_m_s, pair->fine.flow_m_s), head_m);
    flow->lower_m2_s = pair->fine.lower_m_s * head_m;
    flow->upper_m2_s = pair->fine.upper_m_s * head_m;
    if (!pair->converged) {
        /* Where refinement stalls, only the bracket can be relied on. */
        flow->rate_m2_s.error =
            fmax(flow->rate_m2_s.error, 0.5 * (flow->upper_m2_s - flow->lower_m2_s));
    }
    if (section->width_m > 0.0) {
        flow->total_m3_s = times(flow->rate_m2_s, section->width_m);
    }
}

usi_point usi_results_exit(const usi_pair *pair)
{
    if (pair->peak_governs) {
        return (usi_point){pair->fine.peak.x_m, pair->fine.peak.level_m};
    }
    return pair->exits[pair->governing].at;
}

/* Soil that lies right below the governing exit. */
static const usi_soil *exit_soil(const us_section *section, const usi_pair *pair)
{
    return &section->soils[usi_section_layer(section, usi_results_exit(pair).z_m, false)];
}

static us_value piping_factor(const us_exit_result *exit)
{
    us_value steep = exit->bounded ? exit->gradient : exit->mean;
    if (!exit->critical.present || !steep.present || steep.value <= 0.0) {
        return ABSENT;
    }
    double factor = exit->critical.value / steep.value;
    return (us_value){factor, factor * steep.error / steep.value, true};
}

static void fill_exit(const us_section *section, const usi_pair *pair, us_water_result *result)
{
    us_exit_result *exit = &result->exit;
    if (pair->exit_count == 0) {
        return;
    }
    double head_m = result->head_difference_m;
    const usi_exit *place = &pair->exits[pair->governing];
    exit->present = true;
    exit->bounded = pair->peak_governs || pair->fine.exits[pair->governing].bounded;
    exit->x_m = usi_results_exit(pair).x_m;
    exit->level_m = usi_results_exit(pair).z_m;
    exit->mean_depth_m = place->mean_depth_m;
    if (pair->fine.sealed) {
        us_value none = {0.0, 0.0, true};
        exit->bounded = true;
        exit->gradient = none;
        exit->mean = none;
    } else {
        exit->gradient = times(usi_pair_gradient(pair), head_m);
        exit->mean = times(usi_pair_mean(pair), head_m);
    }
    const usi_soil *soil = exit_soil(section, pair);
    exit->soil = soil->name;
    if (soil->weighs) {
        double water = section->water_unit_weight_n_m3;
        exit->critical = (us_value){(soil->unit_weight_n_m3 - water) / water, 0.0, true};
    }
    exit->piping_factor = piping_factor(exit);
}

static void fill_uplift(const us_section *section, const usi_pair *pair, size_t index,
                        us_water_result *result)
{
    us_uplift_result *uplift = &result->uplift;
    if (pair->fine.uplift == NULL) {
        return;
    }
    const usi_uplift_reading *coarse = &pair->coarse.uplift[index];
    const usi_uplift_reading *fine = &pair->fine.uplift[index];
    uplift->present = true;
    uplift->suction = fine->suction;
    uplift->force_n_m = usi_pair_value(pair, coarse->force_n_m, fine->force_n_m);
    if (fine->force_n_m > 0.0 && coarse->force_n_m > 0.0) {
        uplift->x_m = usi_pair_value(pair, coarse->moment_n / coarse->force_n_m,
                                     fine->moment_n / fine->force_n_m);
    }
    if (!section->structure_weighs || section->structure_top.count == 0) {
        return;
    }
    double weight_n_m = usi_structure_weight(section);
    uplift->weight_n_m = (us_value){weight_n_m, 0.0, true};
    uplift->net_n_m = (us_value){fine->force_n_m - weight_n_m, uplift->force_n_m.error, true};
    if (fine->force_n_m > 0.0) {
        double factor = weight_n_m / fine->force_n_m;
        uplift->factor =
            (us_value){factor, factor * uplift->force_n_m.error / fine->force_n_m, true};
    }
}

static us_status fill_walls(us_context *context, const us_section *section, const usi_pair *pair,
                            us_water_result *result)
{
    us_wall_result *walls = usi_memory_array(context, section->wall_count, sizeof *walls);
    if (walls == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall_reading *a = &pair->coarse.walls[w];
        const usi_wall_reading *b = &pair->fine.walls[w];
        us_value left = head_value(pair, a->left_face_top, b->left_face_top, result);
        us_value right = head_value(pair, a->right_face_top, b->right_face_top, result);
        walls[w].name = section->walls[w].name;
        walls[w].upstream_face_top_m = section->flows_left ? right : left;
        walls[w].downstream_face_top_m = section->flows_left ? left : right;
        walls[w].tip_m = head_value(pair, a->tip, b->tip, result);
    }
    result->wall_count = section->wall_count;
    result->walls = walls;
    return US_OK;
}

static us_status fill_piezometers(us_context *context, const us_section *section,
                                  const usi_pair *pair, us_water_result *result)
{
    us_piezometer_result *list = usi_memory_array(context, section->piezometer_count, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t p = 0; p < section->piezometer_count; p++) {
        list[p].name = section->piezometers[p].name;
        list[p].head_m =
            head_value(pair, pair->coarse.piezometers[p], pair->fine.piezometers[p], result);
    }
    result->piezometer_count = section->piezometer_count;
    result->piezometers = list;
    return US_OK;
}

us_status usi_results_fill(us_context *context, const us_section *section, const usi_pair *pair,
                           size_t index, us_water_result *result)
{
    const usi_water *water = &section->waters[index];
    result->name = water->name;
    result->upstream_m = water->upstream_m;
    result->downstream_m = water->downstream_m;
    result->at_bed = water->at_bed;
    result->head_difference_m = water->upstream_m - water->downstream_m;
    fill_flow(section, pair, result);
    fill_exit(section, pair, result);
    fill_uplift(section, pair, index, result);
    us_status status = fill_walls(context, section, pair, result);
    return status == US_OK ? fill_piezometers(context, section, pair, result) : status;
}
