/* The lines of a section as strands. */
#include <math.h>

#include "model/situation.h"
#include "model/survey.h"

int usi_survey_surface_bit(const us_section *section)
{
    return (int)(section->soil_count + section->zone_count);
}

int usi_survey_base_bit(const us_section *section)
{
    return usi_survey_surface_bit(section) + 1;
}

/* How a line is laid out. */
typedef struct trace {
    usi_strands *strands;
    int toggle;
    unsigned role;
} trace;

/* Adds a line from one x to another; `*last` is its last point. */
static void add_line(const trace *to, const usi_line *line, double from_m, double to_m,
                     usi_point *last)
{
    usi_point before = {from_m, usi_line_level(line, from_m, true)};
    for (size_t i = 0; i < line->count; i++) {
        usi_point point = line->points[i];
        if (point.x_m > from_m && point.x_m < to_m) {
            usi_strands_add(to->strands, before, point, to->toggle, to->role);
            before = point;
        }
    }
    *last = (usi_point){to_m, usi_line_level(line, to_m, false)};
    usi_strands_add(to->strands, before, *last, to->toggle, to->role);
}

/* The soil surface: bed, end face, underside, end face, bed. */
static void add_surface(const us_section *section, const usi_plan_window *window,
                        usi_strands *strands)
{
    trace left = {strands, usi_survey_surface_bit(section), USI_ROLE_LEFT_BED};
    trace works = {strands, left.toggle, USI_ROLE_STRUCTURE};
    trace right = {strands, left.toggle, USI_ROLE_RIGHT_BED};
    double left_m = section->left_end_m;
    double right_m = section->right_end_m;
    usi_point last = {window->left_m, 0.0};
    bool begun = window->left_m < left_m;
    if (begun) {
        add_line(&left, &section->left_bed, window->left_m, left_m, &last);
    }
    if (right_m > left_m) {
        usi_point first = {left_m, usi_line_level(&section->underside, left_m, true)};
        usi_strands_add(strands, begun ? last : first, first, works.toggle, works.role);
        add_line(&works, &section->underside, left_m, right_m, &last);
        begun = true;
    }
    if (right_m < window->right_m) {
        usi_point first = {right_m, usi_line_level(&section->right_bed, right_m, true)};
        usi_strands_add(strands, begun ? last : first, first, works.toggle, works.role);
        add_line(&right, &section->right_bed, right_m, window->right_m, &last);
    }
}

static void add_side(const us_section *section, const usi_plan_window *window, usi_strands *strands,
                     bool right)
{
    double x_m = right ? window->right_m : window->left_m;
    double base_m = section->has_base ? usi_section_base(section, x_m, !right) : window->floor_m;
    usi_strands_add(strands, (usi_point){x_m, base_m},
                    (usi_point){x_m, usi_section_surface(section, x_m, !right)}, -1,
                    right ? USI_ROLE_RIGHT_SIDE : USI_ROLE_LEFT_SIDE);
}

static void add_zones(const us_section *section, usi_strands *strands)
{
    for (size_t k = 0; k < section->zone_count; k++) {
        const usi_zone *zone = &section->zones[k];
        usi_point before = zone->outline[zone->count - 1];
        for (size_t i = 0; i < zone->count; i++) {
            usi_strands_add(strands, before, zone->outline[i], (int)(section->soil_count + k),
                            USI_ROLE_GROUND);
            before = zone->outline[i];
        }
    }
}

static void hold_line(usi_strands *strands, const usi_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        usi_strands_hold(strands, line->points[i]);
    }
}

/* What the section says in so many words moves for nothing. */
static void hold_all(const us_section *section, usi_strands *strands)
{
    hold_line(strands, &section->left_bed);
    hold_line(strands, &section->right_bed);
    hold_line(strands, &section->base);
    hold_line(strands, &section->underside);
    for (size_t i = 0; i < section->soil_count; i++) {
        hold_line(strands, &section->soils[i].top);
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        usi_line outline = {section->zones[i].count, section->zones[i].outline};
        hold_line(strands, &outline);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        usi_strands_hold(strands, (usi_point){wall->x_m, wall->top_m});
        usi_strands_hold(strands, (usi_point){wall->x_m, wall->tip_m});
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        usi_strands_hold(strands, section->drains[i].from);
        usi_strands_hold(strands, section->drains[i].to);
    }
    usi_strands_hold(strands, (usi_point){section->left_end_m, section->right_bed.points[0].z_m});
    usi_strands_hold(strands, (usi_point){section->right_end_m, section->right_bed.points[0].z_m});
}

/* Drains inside the soil, as far as they are open. */
static void add_drains(const us_section *section, usi_strands *strands)
{
    const usi_situation *situation = section->situation;
    for (size_t t = 0; situation != NULL && t < situation->terminal_count; t++) {
        if (situation->terminals[t].inside) {
            const usi_drain *drain = &section->drains[situation->terminals[t].index];
            usi_strands_add(strands, drain->from, drain->to, -1, USI_ROLE_DRAIN);
        }
    }
}

void usi_survey_gather(const us_section *section, const usi_plan_window *window,
                       usi_strands *strands)
{
    usi_point last;
    hold_all(section, strands);
    add_surface(section, window, strands);
    trace base = {strands, usi_survey_base_bit(section), USI_ROLE_BASE};
    usi_line floor = {1, &(usi_point){window->left_m, window->floor_m}};
    add_line(&base, section->has_base ? &section->base : &floor, window->left_m, window->right_m,
             &last);
    add_side(section, window, strands, false);
    add_side(section, window, strands, true);
    for (size_t i = 1; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            trace top = {strands, (int)i, USI_ROLE_GROUND};
            add_line(&top, &section->soils[i].top, window->left_m, window->right_m, &last);
        }
    }
    add_zones(section, strands);
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        double from_m = wall->cap_void ? wall->cap_level_m : wall->top_m;
        usi_strands_add(strands, (usi_point){wall->x_m, from_m},
                        (usi_point){wall->x_m, wall->solved_tip_m}, -1, USI_ROLE_WALL);
    }
    add_drains(section, strands);
}

/* Widens the window to hold a line's points. */
static void hold_in(usi_plan_window *window, double *high_m, const usi_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        usi_point point = line->points[i];
        window->left_m = line->count > 1 ? fmin(window->left_m, point.x_m) : window->left_m;
        window->right_m = line->count > 1 ? fmax(window->right_m, point.x_m) : window->right_m;
        window->floor_m = fmin(window->floor_m, point.z_m);
        *high_m = fmax(*high_m, point.z_m);
    }
}

usi_plan_window usi_survey_around(const us_section *section)
{
    static const double MARGIN = 0.25; /* of the larger extent */
    usi_plan_window window = {section->left_end_m, section->right_end_m, HUGE_VAL};
    double high_m = -HUGE_VAL;
    hold_in(&window, &high_m, &section->left_bed);
    hold_in(&window, &high_m, &section->right_bed);
    hold_in(&window, &high_m, &section->base);
    hold_in(&window, &high_m, &section->underside);
    for (size_t i = 1; i < section->soil_count; i++) {
        hold_in(&window, &high_m, &section->soils[i].top);
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        usi_line outline = {section->zones[i].count, section->zones[i].outline};
        hold_in(&window, &high_m, &outline);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        usi_point ends[2] = {{section->walls[i].x_m, section->walls[i].top_m},
                             {section->walls[i].x_m, section->walls[i].tip_m}};
        usi_line wall = {2, ends};
        hold_in(&window, &high_m, &wall);
    }
    double margin_m = MARGIN * fmax(window.right_m - window.left_m, high_m - window.floor_m);
    window.left_m -= margin_m;
    window.right_m += margin_m;
    window.floor_m -= margin_m;
    if (section->left.kind != USI_SIDE_ENDLESS) {
        window.left_m = section->left.x_m;
    }
    if (section->right.kind != USI_SIDE_ENDLESS) {
        window.right_m = section->right.x_m;
    }
    return window;
}
