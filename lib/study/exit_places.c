#include "study/exit_places.h"

#include <math.h>

#include "study/estimate.h"

static const us_value ABSENT = {0.0, 0.0, false};
/* Of the critical gradient on level bed: seepage below this has no say in whether a slope under
 * water stands. */
static const double IDLE = 0.01;
/* Elsewhere on the bed has to be worse by more than rounding. */
static const double WORSE = 1e-9;
/* Of the datum's unit over the depth of the mean. */
static const double ROUNDING = 1e-11;

us_value usi_exit_place_steep(const us_exit_place *place)
{
    return place->gradient.present ? place->gradient : place->mean;
}

double usi_exit_place_least(const us_exit_place *place)
{
    us_value steep = usi_exit_place_steep(place);
    double most = steep.value + steep.error;
    bool leaves = steep.present && place->critical.present && most > 0.0;
    return leaves ? place->critical.value / most : HUGE_VAL;
}

void usi_exit_place_judge(us_exit_place *place, const usi_critical *critical)
{
    static const char *const keys[] = {[USI_LACK_NOTHING] = NULL,
                                       [USI_LACK_UNIT_WEIGHT] = "unit_weight",
                                       [USI_LACK_FRICTION_ANGLE] = "friction_angle"};
    place->slope_rad = critical->slope_rad;
    place->emerges = critical->emerges;
    place->lacks = keys[critical->lacks];
    if (critical->lacks != USI_LACK_NOTHING) {
        return;
    }
    place->critical = (us_value){critical->gradient, 0.0, true};
    us_value steep = usi_exit_place_steep(place);
    place->factor = usi_estimate_quotient(critical->gradient, steep);
    if (critical->gradient <= 0.0 && steep.value > steep.error) {
        place->factor = (us_value){0.0, 0.0, true};
    }
}

/* Nothing that moves a grain: water that goes in, or seepage too slow to weigh on a slope that
 * lies under water. Whether the slope stands without it is no matter of piping. */
static bool is_idle(const us_exit_place *place, const usi_critical *critical)
{
    us_value steep = usi_exit_place_steep(place);
    if (steep.value < -steep.error) {
        return true;
    }
    bool slides = critical->lacks == USI_LACK_FRICTION_ANGLE ||
                  (critical->lacks == USI_LACK_NOTHING && critical->gradient <= 0.0);
    bool still = critical->emerges ? steep.value <= steep.error
                                   : steep.value + steep.error < IDLE * critical->level;
    return slides && still;
}

/* What flows along the bed is no gradient square to it. Where the bed slides without any, or may,
 * all that flows out tells that it does. */
static us_value square_to_bed(const us_section *section, us_value gradient,
                              const usi_critical *critical)
{
    bool inner = section->situation != NULL && section->situation->inner;
    if (gradient.present && gradient.value != 0.0 && critical->gradient > 0.0 && !inner) {
        gradient.value -= critical->aside;
    }
    return gradient;
}

us_value usi_exit_factor(const us_section *section, usi_point at, bool right, us_value gradient)
{
    usi_critical critical = usi_critical_at(section, at, right);
    us_exit_place place = {.gradient = square_to_bed(section, gradient, &critical)};
    if (!gradient.present || is_idle(&place, &critical)) {
        return ABSENT;
    }
    usi_exit_place_judge(&place, &critical);
    return place.factor;
}

/* Takes a place on the bed in; false where it is left out. */
static bool add_bed(usi_exit_list *list, us_exit_place place, const usi_critical *critical)
{
    double unit_m = list->datum.unit_m;
    double rounding = ROUNDING * unit_m / list->nest->exits[0].mean_depth_m;
    place.gradient.value *= unit_m;
    place.gradient.error *= unit_m;
    place.mean.value *= unit_m;
    place.mean.error *= unit_m;
    if (place.gradient.present && fabs(place.gradient.value) < rounding) {
        place.gradient.value = 0.0; /* closed */
    }
    place.gradient = square_to_bed(list->section, place.gradient, critical);
    if (is_idle(&place, critical)) {
        return false;
    }
    usi_exit_place_judge(&place, critical);
    list->places[list->count++] = place;
    return true;
}

static const char *kind_of(usi_exit_kind kind)
{
    static const char *const kinds[] = {[USI_EXIT_TOE] = "toe",
                                        [USI_EXIT_WALL] = "wall",
                                        [USI_EXIT_STEP] = "step",
                                        [USI_EXIT_SEAL] = "seal",
                                        [USI_EXIT_WATERLINE] = "waterline"};
    return kinds[kind];
}

/* The wall that an exit stands beside; NULL for none. */
static const char *wall_at(const us_section *section, const usi_exit *exit)
{
    for (size_t w = 0; exit->kind == USI_EXIT_WALL && w < section->wall_count; w++) {
        if (fabs(section->walls[w].x_m - exit->at.x_m) <= usi_section_tolerance(section)) {
            return section->walls[w].name;
        }
    }
    return NULL;
}

/* An exit that the section names. */
static bool add_exit(usi_exit_list *list, size_t index)
{
    const us_section *section = list->section;
    const usi_exit *exit = &list->nest->exits[index];
    bool right = exit->bed == USI_FACE_RIGHT;
    size_t soil = usi_section_soil_at(section, exit->at, right, false);
    usi_critical critical = usi_critical_at(section, exit->at, right);
    if (exit->kind == USI_EXIT_WATERLINE) {
        /* Of both sides the one above the water is worse. */
        double rise = tan(critical.slope_rad);
        critical = usi_critical_of(section, &section->soils[soil], rise, true);
    }
    us_exit_place place = {.kind = kind_of(exit->kind),
                           .name = wall_at(section, exit),
                           .x_m = exit->at.x_m,
                           .level_m = exit->at.z_m,
                           .gradient = usi_nest_exit_gradient(list->nest, index),
                           .mean = usi_nest_exit_mean(list->nest, index),
                           .mean_depth_m = exit->mean_depth_m,
                           .soil = section->soils[soil].name};
    return add_bed(list, place, &critical);
}

/* Of both sides of a place the one with the lower critical gradient. */
static usi_critical lower_of(const us_section *section, usi_point at)
{
    usi_critical left = usi_critical_at(section, at, false);
    usi_critical right = usi_critical_at(section, at, true);
    bool less = left.lacks == right.lacks && left.gradient < right.gradient;
    return left.lacks > right.lacks || less ? left : right;
}

/* The steepest place, where it is none of the exits. */
static bool add_peak(usi_exit_list *list)
{
    const us_section *section = list->section;
    const usi_bed_peak *peak = &usi_nest_finest(list->nest)->peak;
    usi_point at = {peak->x_m, peak->level_m};
    usi_critical critical = lower_of(section, at);
    size_t soil = usi_section_soil_at(section, at, !section->flows_left, false);
    us_exit_place place = {.kind = "bed",
                           .x_m = at.x_m,
                           .level_m = at.z_m,
                           .gradient = usi_nest_gradient(list->nest),
                           .mean = usi_nest_mean(list->nest),
                           .mean_depth_m = usi_nest_mean_depth(list->nest),
                           .soil = section->soils[soil].name};
    return add_bed(list, place, &critical);
}

/* True where a place of the list says as much as `place`: it stands there, or is as bad. */
static bool is_told(const usi_exit_list *list, usi_bed_worst_kind kind, const us_exit_place *place)
{
    for (size_t k = 0; k < list->count; k++) {
        const us_exit_place *other = &list->places[k];
        double slack = 1.0 + WORSE;
        bool unknown = kind == USI_BED_WORST_UNKNOWN && place->lacks == other->lacks &&
                       place->soil == other->soil &&
                       usi_exit_place_steep(place).value <= usi_exit_place_steep(other).value;
        bool worse = kind != USI_BED_WORST_UNKNOWN && other->lacks == NULL &&
                     usi_exit_place_least(other) <= usi_exit_place_least(place) * slack;
        if (worse || unknown) {
            return true;
        }
    }
    return false;
}

/* A worst place of the bed, where nothing in the list is as bad. */
static void add_worst(usi_exit_list *list, usi_bed_worst_kind kind)
{
    const usi_bed_worst *worst = &usi_nest_finest(list->nest)->worst[kind];
    us_value gradient = usi_nest_worst(list->nest, kind);
    if (!gradient.present) {
        return;
    }
    us_exit_place place = {.kind = "bed",
                           .x_m = worst->at.x_m,
                           .level_m = worst->at.z_m,
                           .gradient = gradient,
                           .soil = list->section->soils[worst->soil].name};
    if (add_bed(list, place, &worst->critical)) {
        list->count--;
        place = list->places[list->count];
        list->count += is_told(list, kind, &place) ? 0 : 1;
    }
}

size_t usi_exit_places_most(const us_section *section, const usi_nest *nest)
{
    size_t terminals = section->situation != NULL ? section->situation->terminal_count : 0;
    return nest->exit_count + 1 + USI_BED_WORST_COUNT + terminals;
}

void usi_exit_places_bed(usi_exit_list *list)
{
    const usi_nest *nest = list->nest;
    const usi_reading *finest = usi_nest_finest(nest);
    list->main = SIZE_MAX;
    if (nest->exit_count == 0 || finest->sealed || finest->bed_closed ||
        !(list->datum.unit_m > 0.0)) {
        return;
    }
    for (size_t e = 0; e < nest->exit_count; e++) {
        size_t place = list->count;
        if (add_exit(list, e) && !nest->governing.peak && e == nest->governing.exit) {
            list->main = place;
        }
    }
    if (nest->governing.peak) {
        size_t place = list->count;
        list->main = add_peak(list) ? place : SIZE_MAX;
    }
    for (int kind = 0; kind < USI_BED_WORST_COUNT; kind++) {
        add_worst(list, (usi_bed_worst_kind)kind);
    }
}
