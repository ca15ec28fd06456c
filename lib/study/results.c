#include "study/results.h"

#include <math.h>

#include "base/memory.h"
#include "model/situation.h"
#include "quantity/wall_flow.h"
#include "study/criterion.h"
#include "study/estimate.h"
#include "study/exit_places.h"
#include "study/judge.h"

static const us_value ABSENT = {0.0, 0.0, false};
/* Of the sums that the bounds are: a few million terms of one sign. */
static const double BOUND_ROUNDING = 1e-11;
/* Of the datum's unit over the depth of the mean. */
static const double GRADIENT_ROUNDING = 1e-11;

/* What a nest gives and how it becomes numbers of a water case. */
typedef struct filler {
    us_context *context;
    const us_section *section;
    const usi_nest *nest;
    usi_datum datum;
    us_water_result *result;
} filler;

/* A total head of the water case from a reduced one. */
static us_value head_value(const filler *of, usi_pick pick, size_t index)
{
    us_value share = usi_nest_head(of->nest, pick, index);
    if (of->section->situation == NULL) {
        /* Between both waters, whatever extrapolation and obtuse triangles make of it. */
        share.value = fmin(fmax(share.value, 0.0), 1.0);
    }
    return (us_value){of->datum.zero_m + share.value * of->datum.unit_m,
                      share.error * of->datum.unit_m, true};
}

static us_value times(us_value value, double factor)
{
    return (us_value){value.value * factor, value.error * fabs(factor), value.present};
}

static void fill_flow(const filler *of)
{
    const us_section *section = of->section;
    const usi_nest *nest = of->nest;
    us_flow_result *flow = &of->result->flow;
    const usi_reading *finest = usi_nest_finest(nest);
    flow->bounded = usi_criterion_flow_exists(section) || finest->sealed;
    if (!flow->bounded) {
        return;
    }
    double head_m = of->datum.unit_m;
    flow->rate_m2_s = times(usi_nest_flow(nest), head_m);
    /* One linear field each, and far sides open in one problem and closed in the other:
     * that makes them bounds, of what was solved and is not read between others. */
    flow->certified = (finest->bracketed && !nest->blended) || finest->sealed;
    flow->lower_m2_s =
        finest->lower_m_s * head_m - BOUND_ROUNDING * fabs(finest->lower_m_s * head_m);
    flow->upper_m2_s =
        finest->upper_m_s * head_m + BOUND_ROUNDING * fabs(finest->upper_m_s * head_m);
    usi_estimate_hold(flow->certified, &flow->rate_m2_s, &flow->lower_m2_s, &flow->upper_m2_s);
    if (!nest->converged) {
        /* Where refinement stalls, only the bracket can be relied on. */
        flow->rate_m2_s.error =
            fmax(flow->rate_m2_s.error, 0.5 * (flow->upper_m2_s - flow->lower_m2_s));
    }
    flow->accuracy = usi_criterion_judge(
        flow->rate_m2_s, head_m * usi_criterion_flow_scale(section), nest->accuracy);
    if (section->width_m > 0.0) {
        flow->total_m3_s = times(flow->rate_m2_s, section->width_m);
    }
}

usi_point usi_results_exit(const usi_nest *nest)
{
    return usi_governing_place(nest->governing, nest->exits, usi_nest_finest(nest));
}

/* Soil that lies right below the governing exit. */
static const usi_soil *exit_soil(const us_section *section, const usi_nest *nest)
{
    bool right = !section->flows_left;
    return &section->soils[usi_section_soil_at(section, usi_results_exit(nest), right, false)];
}

/* The profile starts at the exit, which is not what is reported where some other
 * place is steeper. */
static us_status fill_profile(const filler *of)
{
    const double half = 0.5;
    const usi_nest *nest = of->nest;
    us_exit_result *exit = &of->result->exit;
    if (!exit->present || exit->enters || usi_nest_finest(nest)->bed_closed) {
        return US_OK;
    }
    const usi_exit *place = &nest->exits[nest->governing.exit];
    const usi_exit_reading *fine = &usi_nest_finest(nest)->exits[nest->governing.exit];
    size_t count = usi_nest_profile_count(nest);
    us_profile_point *points = usi_memory_array(of->context, count, sizeof *points);
    if (points == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_line *bed = usi_section_downstream_bed(of->section);
    bool right = place->bed == USI_FACE_RIGHT;
    double rounding = GRADIENT_ROUNDING * of->datum.unit_m * usi_criterion_gradient_scale(nest);
    for (size_t k = 0; k < count; k++) {
        points[k].x_m = place->profile_x_m[k];
        points[k].gradient = times(usi_nest_profile(nest, k), of->datum.unit_m);
        if (of->section->situation != NULL && fabs(points[k].gradient.value) < rounding) {
            points[k].gradient.value = 0.0; /* closed bed */
        }
        usi_point at = {points[k].x_m, usi_line_level(bed, points[k].x_m, right)};
        points[k].factor = usi_exit_factor(of->section, at, right, points[k].gradient);
    }
    exit->profile = points;
    exit->profile_count = count;
    if (fine->bounded && !nest->governing.peak) {
        exit->fall_m = fabs(place->watch_x_m - place->at.x_m);
        exit->falls_fast =
            exit->fall_m > 0.0 && count > 0 && fine->watch_1_m < half * fine->gradient_1_m;
    }
    return US_OK;
}

/* The largest gradient of all is downwards: that is no exit, nor is what is unbounded
 * there. */
static void judge_direction(us_exit_result *exit)
{
    us_value steep = exit->bounded ? exit->gradient : exit->mean;
    if (steep.present && steep.value < -steep.error) {
        exit->enters = true;
        exit->bounded = true;
        exit->gradient = ABSENT;
        exit->mean = ABSENT;
    }
}

static void fill_exit(const filler *of)
{
    const us_section *section = of->section;
    const usi_nest *nest = of->nest;
    us_exit_result *exit = &of->result->exit;
    if (nest->exit_count == 0) {
        return;
    }
    double head_m = of->datum.unit_m;
    exit->present = true;
    exit->bounded =
        nest->governing.peak || usi_nest_finest(nest)->exits[nest->governing.exit].bounded;
    exit->x_m = usi_results_exit(nest).x_m;
    exit->level_m = usi_results_exit(nest).z_m;
    exit->mean_depth_m = usi_nest_mean_depth(nest);
    if (usi_nest_finest(nest)->sealed || usi_nest_finest(nest)->bed_closed) {
        us_value none = {0.0, 0.0, true};
        exit->bounded = true;
        exit->gradient = none;
        exit->mean = none;
    } else {
        exit->gradient = times(usi_nest_gradient(nest), head_m);
        exit->mean = times(usi_nest_mean(nest), head_m);
    }
    exit->accuracy =
        usi_criterion_judge(exit->gradient.present ? exit->gradient : exit->mean,
                            head_m * usi_criterion_gradient_scale(nest), nest->accuracy);
    judge_direction(exit);
    const usi_soil *soil = exit_soil(section, nest);
    exit->soil = soil->name;
    if (soil->weighs) {
        double water = section->water_unit_weight_n_m3;
        exit->critical = (us_value){(soil->unit_weight_n_m3 - water) / water, 0.0, true};
    }
}

/* From the tip up the downstream face. */
static us_value rise_along(const us_section *section, const usi_wall *wall,
                           const us_wall_result *heads)
{
    us_value tip = heads->tip_m;
    us_value top = heads->downstream_face_top_m;
    double surface_m = usi_section_surface(section, wall->x_m, !section->flows_left);
    double length_m = fmin(wall->top_m, surface_m) - wall->solved_tip_m;
    if (!tip.present || !top.present || !(length_m > 0.0)) {
        return ABSENT;
    }
    return (us_value){(tip.value - top.value) / length_m, (tip.error + top.error) / length_m, true};
}

static us_status fill_walls(const filler *of)
{
    const us_section *section = of->section;
    us_wall_result *walls = usi_memory_array(of->context, section->wall_count, sizeof *walls);
    if (walls == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall_reading *reading = &usi_nest_finest(of->nest)->walls[w];
        us_value left = ABSENT;
        us_value right = ABSENT;
        if (reading->left_face_top.present) {
            left = head_value(of, usi_pick_left_top, w);
        }
        if (reading->right_face_top.present) {
            right = head_value(of, usi_pick_right_top, w);
        }
        walls[w].name = section->walls[w].name;
        walls[w].upstream_face_top_m = section->flows_left ? right : left;
        walls[w].downstream_face_top_m = section->flows_left ? left : right;
        if (reading->tip.present) {
            walls[w].tip_m = head_value(of, usi_pick_tip, w);
        }
        walls[w].rise = rise_along(section, &section->walls[w], &walls[w]);
        walls[w].passes = usi_wall_passes(&section->walls[w]);
        if (reading->through_m_s.present) {
            walls[w].through_m2_s = times(usi_nest_through(of->nest, w), of->datum.unit_m);
        }
    }
    of->result->wall_count = section->wall_count;
    of->result->walls = walls;
    return US_OK;
}

static us_status fill_piezometers(const filler *of)
{
    const us_section *section = of->section;
    us_piezometer_result *list =
        usi_memory_array(of->context, section->piezometer_count, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t p = 0; p < section->piezometer_count; p++) {
        list[p].name = section->piezometers[p].name;
        if (usi_nest_finest(of->nest)->piezometers[p].present) {
            list[p].head_m = head_value(of, usi_pick_piezometer, p);
        }
    }
    of->result->piezometer_count = section->piezometer_count;
    of->result->piezometers = list;
    return US_OK;
}

void usi_results_name(const us_section *section, size_t index, us_water_result *result)
{
    const usi_water *water = &section->waters[index];
    const usi_flood *flood = &water->flood;
    result->name = water->name;
    result->upstream_m = water->upstream_m;
    result->downstream_m = water->downstream_m;
    result->at_bed = water->at_bed;
    result->head_difference_m = water->upstream_m - water->downstream_m;
    result->undermined = water->undermined;
    result->discharge_m3_s = (us_value){flood->discharge_m3_s, 0.0, flood->has_discharge};
    result->return_period_years =
        (us_value){flood->return_period_years, 0.0, flood->has_return_period};
}

us_status usi_results_fill(us_context *context, const us_section *section, const usi_nest *nest,
                           size_t index, us_water_result *result)
{
    filler of = {context, section, nest, usi_datum_of(section, index), result};
    usi_results_name(section, index, result);
    fill_flow(&of);
    fill_exit(&of);
    usi_results_heave(section, nest, index, result);
    usi_results_blow_up(section, nest, index, result);
    us_status status = usi_results_uplift(context, section, nest, index, result);
    if (status == US_OK) {
        status = fill_profile(&of);
    }
    if (status == US_OK) {
        status = fill_walls(&of);
    }
    if (status == US_OK) {
        status = fill_piezometers(&of);
    }
    if (status == US_OK) {
        status = usi_results_water(context, section, nest, result);
    }
    return status == US_OK ? usi_results_exits(context, section, nest, of.datum, result) : status;
}
