#include "model/panes.h"

#include <math.h>

#include "base/memory.h"
#include "model/clearance.h"

static const double EULER = 0.57721566490153286;
static const double PI = 3.14159265358979324;
/* Of the distance to what is next to an opening: one that is narrower is solved as a strip
 * of this width. What a strip of width W changes further out falls with
 * (W / distance)^2. */
static const double STRIP_SHARE = 0.02;
/* Of a strip over what it stands for: below, the resistance between its faces would be too
 * small to tell from rounding. */
static const double LEAST_RATIO = 2.0;

double usi_interlock_conductance(const usi_interlock *interlock, const usi_soil *left,
                                 const usi_soil *right)
{
    double spacing_m = interlock->spacing_m;
    double share = fmin(interlock->joint_width_m / spacing_m, 1.0);
    double turns_m = spacing_m / PI * log(1.0 / sin(0.5 * PI * share));
    return 1.0 / (spacing_m / interlock->inverse_resistance_m_s +
                  turns_m * (1.0 / left->kh_m_s + 1.0 / right->kh_m_s));
}

/* Arithmetic-geometric mean. */
static double agm(double a, double b)
{
    while (fabs(a - b) > 1e-15 * a) {
        double mean = 0.5 * (a + b);
        b = sqrt(a * b);
        a = mean;
    }
    return a;
}

static double breadth(const usi_opening *holes, const usi_soil *soil)
{
    return holes->diameter_m * agm(1.0, sqrt(soil->kh_m_s / soil->kv_m_s));
}

double usi_holes_slot(const usi_opening *holes, const usi_soil *soil)
{
    double stretch = sqrt(soil->kh_m_s / soil->kv_m_s);
    return 8.0 * holes->spacing_m / stretch *
           exp(-EULER - PI * holes->spacing_m / (2.0 * breadth(holes, soil)));
}

double usi_holes_breadth(const us_section *section, const usi_wall *wall, const usi_opening *holes)
{
    usi_point at = {wall->x_m, 0.5 * (holes->low_m + holes->high_m)};
    double most_m = 0.0;
    for (int side = 0; side < 2; side++) {
        size_t soil = usi_section_soil_at(section, at, side == 1, false);
        most_m = fmax(most_m, breadth(holes, &section->soils[soil]));
    }
    return most_m;
}

static double lower_surface(const us_section *section, double x_m)
{
    return fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
}

double usi_opening_room(const us_section *section, const usi_wall *wall, size_t opening)
{
    const usi_opening *of = &wall->openings[opening];
    double middle_m = 0.5 * (of->low_m + of->high_m);
    double room_m = fmin(wall->top_m, lower_surface(section, wall->x_m)) - middle_m;
    room_m = fmin(room_m, middle_m - wall->solved_tip_m);
    for (size_t k = 0; k < wall->opening_count; k++) {
        const usi_opening *other = &wall->openings[k];
        if (k != opening) {
            room_m = fmin(room_m, middle_m < other->low_m ? other->low_m - middle_m
                                                          : middle_m - other->high_m);
        }
    }
    return room_m;
}

/* Distance to whatever else may bend the flow around an opening. */
static double free_distance(const us_section *section, const usi_wall *wall, size_t index,
                            const usi_soil *soils[2])
{
    const usi_opening *opening = &wall->openings[index];
    double ratio = fmin(soils[0]->kv_m_s / soils[0]->kh_m_s, soils[1]->kv_m_s / soils[1]->kh_m_s);
    usi_clearance of = {.at = {wall->x_m, 0.5 * (opening->low_m + opening->high_m)},
                        .stretch = fmin(sqrt(ratio), 1.0),
                        .wall = wall};
    double nearest_m = fmin(usi_opening_room(section, wall, index), usi_clearance_of(section, &of));
    const usi_line *beds[2] = {&section->left_bed, &section->right_bed};
    for (size_t b = 0; b < 2; b++) {
        for (size_t k = 0; k + 1 < beds[b]->count; k++) {
            nearest_m =
                fmin(nearest_m, usi_clearance_to(&of, beds[b]->points[k], beds[b]->points[k + 1]));
        }
    }
    return opening->holes ? fmin(nearest_m, opening->spacing_m) : nearest_m;
}

/* A pane for an opening that is too narrow for a grid; false where it is not. */
static bool make_strip(const us_section *section, const usi_wall *wall, size_t index,
                       usi_pane *pane)
{
    const usi_opening *opening = &wall->openings[index];
    double middle_m = 0.5 * (opening->low_m + opening->high_m);
    usi_point at = {wall->x_m, middle_m};
    const usi_soil *soils[2];
    double widths_m[2];
    for (int side = 0; side < 2; side++) {
        soils[side] = &section->soils[usi_section_soil_at(section, at, side == 1, false)];
        widths_m[side] = opening->holes ? usi_holes_slot(opening, soils[side])
                                        : opening->high_m - opening->low_m;
    }
    double strip_m = STRIP_SHARE * free_distance(section, wall, index, soils);
    double widest_m = fmax(widths_m[0], widths_m[1]);
    bool wide = widest_m * LEAST_RATIO > strip_m;
    if (!opening->holes && wide) {
        return false;
    }
    strip_m = wide ? widest_m : strip_m;
    *pane = (usi_pane){.kind = USI_PANE_STRIP,
                       .low_m = middle_m - 0.5 * strip_m,
                       .high_m = middle_m + 0.5 * strip_m,
                       .stands_in = true};
    for (int side = 0; side < 2 && !wide; side++) {
        pane->series_s_m +=
            log(strip_m / widths_m[side]) / (PI * sqrt(soils[side]->kh_m_s * soils[side]->kv_m_s));
    }
    return true;
}

static void add(usi_wall *wall, usi_pane pane)
{
    if (pane.high_m > pane.low_m) {
        wall->panes[wall->pane_count++] = pane;
    }
}

static us_status lay(us_context *context, const us_section *section, usi_wall *wall)
{
    wall->panes = usi_memory_array(context, 2 * wall->opening_count + 2, sizeof *wall->panes);
    if (wall->panes == NULL) {
        return US_ERROR_MEMORY;
    }
    if (wall->cap_void) {
        add(wall, (usi_pane){USI_PANE_STRIP, wall->top_m, wall->cap_level_m, 0.0, false});
    }
    usi_pane_kind kind = wall->interlock.given ? USI_PANE_LEAKY : USI_PANE_TIGHT;
    double top_m = wall->top_m;
    for (size_t k = 0; k < wall->opening_count; k++) {
        usi_pane strip;
        bool narrow = make_strip(section, wall, k, &strip);
        double edge_m = narrow ? strip.high_m : wall->openings[k].high_m;
        add(wall, (usi_pane){kind, edge_m, top_m, 0.0, false});
        if (narrow) {
            add(wall, strip);
        }
        top_m = narrow ? strip.low_m : wall->openings[k].low_m;
    }
    add(wall, (usi_pane){kind, wall->solved_tip_m, top_m, 0.0, false});
    return US_OK;
}

us_status usi_panes_lay(us_context *context, us_section *section)
{
    us_status status = US_OK;
    for (size_t w = 0; w < section->wall_count && status == US_OK; w++) {
        usi_wall *wall = &section->walls[w];
        if (wall->interlock.given || wall->opening_count > 0 || wall->cap_void) {
            status = lay(context, section, wall);
        }
    }
    return status;
}

const usi_pane *usi_panes_of(const usi_wall *wall, usi_pane *whole, size_t *count)
{
    if (wall->pane_count > 0) {
        *count = wall->pane_count;
        return wall->panes;
    }
    *whole = (usi_pane){USI_PANE_TIGHT, wall->solved_tip_m, wall->top_m, 0.0, false};
    *count = 1;
    return whole;
}

bool usi_panes_pass(const usi_wall *wall)
{
    return wall->pane_count > 0;
}

bool usi_panes_stand_in(const us_section *section)
{
    for (size_t w = 0; w < section->wall_count; w++) {
        for (size_t k = 0; k < section->walls[w].pane_count; k++) {
            if (section->walls[w].panes[k].stands_in) {
                return true;
            }
        }
    }
    return false;
}
