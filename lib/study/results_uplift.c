/* What lifts the structure and what holds it, as a whole and panel by panel. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "study/estimate.h"
#include "study/results.h"
#include "study/text.h"

static const us_value ABSENT = {0.0, 0.0, false};

typedef struct filler {
    us_context *context;
    const us_section *section;
    const usi_nest *nest;
    size_t index; /* of the water case in the section */
    usi_datum datum;
    us_uplift_result *uplift;
} filler;

static us_value exact(double value)
{
    return (us_value){value, 0.0, true};
}

/* The least error of a force on a width: cutting endless soil shifts heads by a share of the
 * head difference, and two grids may agree by chance. */
static double least_error(const filler *of, double width_m, bool extrapolated)
{
    double least = usi_nest_finest(of->nest)->truncation;
    if (!extrapolated) {
        least = fmax(least, usi_nest_head_least(of->nest));
    }
    return least * of->section->water_unit_weight_n_m3 * width_m * of->datum.unit_m;
}

static us_value force_of(const filler *of, usi_pick pick, size_t index, double width_m)
{
    us_value force = usi_nest_value(of->nest, pick, index);
    bool extrapolated = usi_nest_estimate(of->nest, pick, index).extrapolated;
    force.error = fmax(force.error, least_error(of, width_m, extrapolated));
    return force;
}

/* The line of action, wherever x counts from. */
static us_value line_of(const filler *of, usi_pick pick, size_t index, double width_m)
{
    usi_estimate x = usi_nest_estimate(of->nest, pick, index);
    double error_m = x.error + usi_nest_finest(of->nest)->truncation * width_m;
    return isfinite(x.value) && isfinite(error_m) ? (us_value){x.value, error_m, true} : ABSENT;
}

static void fill_whole(const filler *of)
{
    us_uplift_result *uplift = of->uplift;
    double width_m = of->section->right_end_m - of->section->left_end_m;
    uplift->present = true;
    uplift->suction = usi_nest_finest(of->nest)->uplift[of->index].suction;
    uplift->force_n_m = force_of(of, usi_pick_uplift, of->index, width_m);
    if (uplift->force_n_m.value > uplift->force_n_m.error) {
        uplift->x_m = line_of(of, usi_pick_uplift_x, of->index, width_m);
    }
}

/* Panels share what the nested grids add to the finest one: together they are the whole. */
static us_status fill_panels(const filler *of)
{
    size_t count = usi_uplift_panel_count(of->section);
    const usi_reading *finest = usi_nest_finest(of->nest);
    us_uplift_panel *panels = usi_memory_array(of->context, count, sizeof *panels);
    if (panels == NULL) {
        return US_ERROR_MEMORY;
    }
    double whole_n_m = finest->uplift[of->index].force_n_m;
    double share = whole_n_m > 0.0 ? of->uplift->force_n_m.value / whole_n_m : 1.0;
    for (size_t p = 0; p < count; p++) {
        size_t at = of->index * count + p;
        usi_stretch over = usi_uplift_panel(of->section, p);
        double width_m = over.to_m - over.from_m;
        us_value force = force_of(of, usi_pick_panel, at, width_m);
        double value_n_m = share * finest->panels[at].force_n_m;
        force.error += fabs(value_n_m - force.value);
        force.value = value_n_m;
        panels[p].from_m = over.from_m;
        panels[p].to_m = over.to_m;
        panels[p].suction = finest->panels[at].suction;
        panels[p].force_n_m = force;
        if (force.value > force.error) {
            panels[p].x_m = line_of(of, usi_pick_panel_x, at, width_m);
        }
    }
    of->uplift->panels = panels;
    of->uplift->panel_count = count;
    return US_OK;
}

static us_status fill_floor(const filler *of)
{
    usi_underside_point *points = NULL;
    size_t count = 0;
    us_status status = usi_underside_points(of->context, of->section, &points, &count);
    if (status != US_OK) {
        return status;
    }
    us_thickness *floor = usi_memory_array(of->context, count, sizeof *floor);
    for (size_t k = 0; floor != NULL && k < count; k++) {
        us_value share = usi_nest_head(of->nest, usi_pick_floor, k);
        floor[k].x_m = points[k].at.x_m;
        floor[k].level_m = points[k].at.z_m;
        floor[k].head_m = (us_value){of->datum.zero_m + share.value * of->datum.unit_m,
                                     share.error * of->datum.unit_m, true};
        if (of->section->structure_top.count > 0) {
            double top_m =
                usi_line_level(&of->section->structure_top, points[k].at.x_m, points[k].right);
            floor[k].provided_m = exact(top_m - points[k].at.z_m);
        }
    }
    free(points);
    of->uplift->thickness = floor;
    of->uplift->thickness_count = floor != NULL ? count : 0;
    return floor != NULL ? US_OK : US_ERROR_MEMORY;
}

/* What is left over of a head above a level, none below it. */
static us_value above(us_value head, double level_m)
{
    return (us_value){fmax(head.value - level_m, 0.0), head.error, head.present};
}

static us_value scaled(us_value value, double factor)
{
    return value.present ? (us_value){value.value * factor, value.error * factor, true} : ABSENT;
}

/* `right`: on which side of a step the place is. */
static void need_thickness(const us_section *section, const usi_line *surface, bool right,
                           us_thickness *floor)
{
    floor->pressure_m = above(floor->head_m, floor->level_m);
    floor->submerged_m = floor->allowed_m = floor->dry_m = ABSENT;
    if (!section->structure_weighs || !floor->head_m.present) {
        return;
    }
    double ratio = section->structure_unit_weight_n_m3 / section->water_unit_weight_n_m3;
    floor->dry_m = (us_value){usi_thickness_dry(floor->pressure_m.value, ratio),
                              floor->pressure_m.error / ratio, true};
    if (!floor->provided_m.present || !(ratio > 1.0)) {
        return;
    }
    double top_m = floor->level_m + floor->provided_m.value;
    if (surface->count > 0) {
        top_m = fmax(top_m, usi_line_level(surface, floor->x_m, right));
    }
    us_value head = above(floor->head_m, top_m);
    floor->submerged_m =
        (us_value){usi_thickness_submerged(head.value, ratio), head.error / (ratio - 1.0), true};
    floor->allowed_m = scaled(floor->submerged_m, usi_thickness_allowance);
}

/* What follows from a force that lifts and what holds. */
static void balance(us_value force, double holding_n_m, us_value *net, us_value *factor)
{
    *net = ABSENT;
    *factor = ABSENT;
    if (force.present) {
        *net = (us_value){force.value - holding_n_m, force.error, true};
        *factor = usi_estimate_quotient(holding_n_m, force);
    }
}

static void balance_moments(const us_section *section, usi_load weight, usi_load water,
                            us_uplift_result *uplift)
{
    double toe_m = usi_section_toe_x(section);
    double sign = section->flows_left ? -1.0 : 1.0;
    double force_n_m = weight.force_n_m + water.force_n_m;
    double holding_n = sign * (toe_m * force_n_m - weight.moment_n - water.moment_n);
    uplift->holding_n = exact(holding_n);
    uplift->moment_factor = ABSENT;
    if (uplift->overturning_n.present) {
        uplift->moment_factor = usi_estimate_quotient(holding_n, uplift->overturning_n);
    }
}

static void overturn(const us_section *section, us_uplift_result *uplift)
{
    us_value force = uplift->force_n_m;
    uplift->overturning_n = ABSENT;
    if (force.present && uplift->x_m.present) {
        double arm_m = fabs(usi_section_toe_x(section) - uplift->x_m.value);
        uplift->overturning_n =
            (us_value){force.value * arm_m,
                       force.error * arm_m + (force.value + force.error) * uplift->x_m.error, true};
    }
}

/* Sets what holds against the pore pressure that stands in `uplift`. */
static void weigh(const us_section *section, const usi_water *water, us_uplift_result *uplift)
{
    bool weighs = section->structure_weighs && section->structure_top.count > 0;
    const usi_line *surface = &water->surface;
    usi_load on_top = usi_surface_load(section, surface, usi_uplift_whole(section));
    uplift->water_on_top_n_m = exact(on_top.force_n_m);
    overturn(section, uplift);
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        us_thickness *floor = (us_thickness *)&uplift->thickness[k];
        bool left = k + 1 == uplift->thickness_count || floor[1].x_m == floor->x_m;
        need_thickness(section, surface, !left, floor);
    }
    if (weighs) {
        usi_load weight = usi_structure_load(section, usi_uplift_whole(section));
        uplift->weight_n_m = exact(weight.force_n_m);
        balance(uplift->force_n_m, weight.force_n_m + on_top.force_n_m, &uplift->net_n_m,
                &uplift->factor);
        balance_moments(section, weight, on_top, uplift);
    }
    for (size_t p = 0; p < uplift->panel_count; p++) {
        us_uplift_panel *panel = (us_uplift_panel *)&uplift->panels[p];
        usi_stretch over = usi_uplift_panel(section, p);
        panel->water_on_top_n_m = exact(usi_surface_load(section, surface, over).force_n_m);
        if (weighs) {
            panel->weight_n_m = exact(usi_structure_load(section, over).force_n_m);
            balance(panel->force_n_m, panel->weight_n_m.value + panel->water_on_top_n_m.value,
                    &panel->net_n_m, &panel->factor);
        }
    }
}

us_status usi_results_uplift(us_context *context, const us_section *section, const usi_nest *nest,
                             size_t index, us_water_result *result)
{
    if (usi_nest_finest(nest)->uplift == NULL) {
        return US_OK;
    }
    filler of = {context, section, nest, index, usi_datum_of(section, index), &result->uplift};
    fill_whole(&of);
    us_status status = fill_panels(&of);
    if (status == US_OK) {
        status = fill_floor(&of);
    }
    if (status == US_OK) {
        weigh(section, &section->waters[index], &result->uplift);
    }
    return status;
}

/* Pore pressure of another case in place of its own; none where that is not known. */
static void take_pressures(const us_uplift_result *from, us_uplift_result *to)
{
    bool known = from != NULL && from->present;
    to->force_n_m = known ? from->force_n_m : ABSENT;
    to->x_m = known ? from->x_m : ABSENT;
    to->suction = known && from->suction;
    for (size_t p = 0; p < to->panel_count; p++) {
        us_uplift_panel *panel = (us_uplift_panel *)&to->panels[p];
        panel->force_n_m = known ? from->panels[p].force_n_m : ABSENT;
        panel->x_m = known ? from->panels[p].x_m : ABSENT;
        panel->suction = known && from->panels[p].suction;
    }
    for (size_t k = 0; k < to->thickness_count; k++) {
        us_thickness *floor = (us_thickness *)&to->thickness[k];
        floor->head_m = known ? from->thickness[k].head_m : ABSENT;
    }
}

/* How long the ground takes to a new steady state, by the slowest soil along the underside. */
static void fill_time(const us_section *section, us_uplift_result *uplift)
{
    double deepest_m = 0.0;
    for (size_t i = 0; i < section->wall_count; i++) {
        double tip_m = section->walls[i].solved_tip_m;
        double x_m = fmin(fmax(section->walls[i].x_m, section->left_end_m), section->right_end_m);
        double under_m = usi_line_level(&section->underside, x_m, x_m < section->right_end_m);
        deepest_m = fmax(deepest_m, under_m - tip_m);
    }
    double length_m = section->right_end_m - section->left_end_m + 2.0 * deepest_m;
    uplift->steady_length_m = length_m;
    uplift->steady_s = ABSENT;
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        usi_point at = {uplift->thickness[k].x_m, uplift->thickness[k].level_m};
        bool right = at.x_m < section->right_end_m;
        const usi_soil *soil = &section->soils[usi_section_soil_at(section, at, right, false)];
        if (!soil->stores) {
            uplift->steady_s = ABSENT;
            uplift->steady_soil = soil->name;
            return;
        }
        double slowest_m_s = fmin(soil->kh_m_s, soil->kv_m_s);
        double time_s = length_m * length_m * soil->specific_storage_1_m / slowest_m_s;
        if (!uplift->steady_s.present || time_s > uplift->steady_s.value) {
            uplift->steady_s = exact(time_s);
            uplift->steady_soil = soil->name;
        }
    }
}

static const us_water_result *find_case(const us_solution *solution, const char *name)
{
    for (size_t w = 0; w < solution->water_count; w++) {
        if (strcmp(solution->section->waters[w].name, name) == 0) {
            return &solution->water[w];
        }
    }
    return NULL;
}

/* Into a case or a variant of it. */
static void share(const us_section *ground, const usi_water *water, const us_uplift_result *from,
                  us_uplift_result *into)
{
    if (into->present) {
        take_pressures(from, into);
        into->pressures_from = water->pressures_from;
        fill_time(ground, into);
        weigh(ground, water, into);
    }
}

/* Into a case and its variants, each from the same variant of the other one. */
static void share_all(const us_section *ground, const usi_water *water, const us_water_result *from,
                      us_water_result *into)
{
    us_water_result *shut = (us_water_result *)into->drains_shut;
    us_water_result *bare = (us_water_result *)into->without_apron;
    bool solved = from != NULL && from->undermined == NULL;
    const us_uplift_result *as_it_is = solved ? &from->uplift : NULL;
    share(ground, water, as_it_is, &into->uplift);
    if (shut != NULL) {
        /* Where no drain is open in the other case, it is the same with all of them shut. */
        bool drained = solved && from->drains_shut != NULL;
        share(ground, water, drained ? &from->drains_shut->uplift : as_it_is, &shut->uplift);
    }
    if (bare != NULL) {
        bool open = solved && from->without_apron != NULL;
        share(ground, water, open ? &from->without_apron->uplift : NULL, &bare->uplift);
    }
}

void usi_results_share_pressures(us_solution *solution)
{
    for (size_t w = 0; w < solution->water_count; w++) {
        const usi_water *water = &solution->section->waters[w];
        const us_section *ground = water->ground != NULL ? water->ground : solution->section;
        if (water->pressures_from != NULL && water->undermined == NULL) {
            share_all(ground, water, find_case(solution, water->pressures_from),
                      &solution->water[w]);
        }
    }
}
