#include "model/reach.h"

#include <math.h>

/* An end that stands on the structure is lifted off it by this share of the length. */
static const double LIFTED = 1e-6;

static bool on_bed(const us_section *section, usi_point at, double slack_m)
{
    bool left = at.x_m <= section->left_end_m &&
                fabs(at.z_m - usi_line_level(&section->left_bed, at.x_m, false)) <= slack_m;
    bool right = at.x_m >= section->right_end_m &&
                 fabs(at.z_m - usi_line_level(&section->right_bed, at.x_m, true)) <= slack_m;
    return left || right;
}

usi_reach usi_reach_of(const us_section *section, const usi_contact *contact, usi_point at,
                       double slack_m)
{
    bool left = usi_section_spans(section, at.x_m, false);
    bool right = usi_section_spans(section, at.x_m, true);
    if (!left || !right) {
        return USI_REACH_OUTSIDE;
    }
    if (usi_contact_piece(contact, at, at, slack_m) < contact->count) {
        return USI_REACH_CONTACT;
    }
    if (on_bed(section, at, slack_m)) {
        return USI_REACH_BED;
    }
    double before_m = usi_section_surface(section, at.x_m, false);
    double behind_m = usi_section_surface(section, at.x_m, true);
    if (at.z_m > fmax(before_m, behind_m)) {
        bool under = section->has_structure && at.x_m >= section->left_end_m &&
                     at.x_m <= section->right_end_m;
        return under ? USI_REACH_STRUCTURE : USI_REACH_AIR;
    }
    if (at.z_m >= fmin(before_m, behind_m) - slack_m) {
        return USI_REACH_BED; /* on a step of it */
    }
    double base_m = section->has_base ? fmax(usi_section_base(section, at.x_m, false),
                                             usi_section_base(section, at.x_m, true))
                                      : -HUGE_VAL;
    return at.z_m <= base_m + slack_m ? USI_REACH_BASE : USI_REACH_SOIL;
}

static double turn(usi_point a, usi_point b, usi_point c)
{
    return (b.x_m - a.x_m) * (c.z_m - a.z_m) - (b.z_m - a.z_m) * (c.x_m - a.x_m);
}

/* True when two straight lines share a point, ends included. */
static bool meet(usi_point a, usi_point b, usi_point c, usi_point d)
{
    bool apart = fmax(a.x_m, b.x_m) < fmin(c.x_m, d.x_m) ||
                 fmax(c.x_m, d.x_m) < fmin(a.x_m, b.x_m) ||
                 fmax(a.z_m, b.z_m) < fmin(c.z_m, d.z_m) || fmax(c.z_m, d.z_m) < fmin(a.z_m, b.z_m);
    return !apart && turn(a, b, c) * turn(a, b, d) <= 0.0 && turn(c, d, a) * turn(c, d, b) <= 0.0;
}

/* Whether the line from a to b meets a line of the section, which goes on level. */
static bool meets_line(usi_point a, usi_point b, const usi_line *line, double from_m, double to_m)
{
    usi_point before = {from_m, usi_line_level(line, from_m, true)};
    for (size_t i = 0; i < line->count; i++) {
        if (line->points[i].x_m > from_m && line->points[i].x_m < to_m) {
            if (meet(a, b, before, line->points[i])) {
                return true;
            }
            before = line->points[i];
        }
    }
    usi_point last = {to_m, usi_line_level(line, to_m, false)};
    return from_m < to_m && meet(a, b, before, last);
}

static bool meets_surface(const us_section *section, usi_point a, usi_point b,
                          const usi_contact *contact)
{
    double size_m = usi_section_size(section);
    double least_m = fmin(a.x_m, section->left_end_m) - size_m;
    double most_m = fmax(b.x_m, section->right_end_m) + size_m;
    for (size_t i = 0; i + 1 < contact->count; i++) {
        if (meet(a, b, contact->points[i], contact->points[i + 1])) {
            return true;
        }
    }
    return meets_line(a, b, &section->left_bed, least_m, section->left_end_m) ||
           meets_line(a, b, &section->right_bed, section->right_end_m, most_m);
}

static bool meets_wall(const us_section *section, usi_point a, usi_point b)
{
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        usi_point top = {wall->x_m, wall->top_m};
        usi_point tip = {wall->x_m, wall->solved_tip_m};
        if (meet(a, b, tip, top)) {
            return true;
        }
    }
    return false;
}

usi_crossing usi_reach_crossing(const us_section *section, size_t index, const usi_reach ends[2],
                                const usi_contact *contact)
{
    const usi_drain *drain = &section->drains[index];
    usi_point a = drain->from;
    usi_point b = drain->to;
    double dx_m = LIFTED * (b.x_m - a.x_m);
    double dz_m = LIFTED * (b.z_m - a.z_m);
    usi_point start = ends[0] == USI_REACH_CONTACT ? (usi_point){a.x_m + dx_m, a.z_m + dz_m} : a;
    usi_point end = ends[1] == USI_REACH_CONTACT ? (usi_point){b.x_m - dx_m, b.z_m - dz_m} : b;
    if (meets_surface(section, start, end, contact)) {
        return (usi_crossing){"crosses the soil surface",
                              "give it a straight course below the surface"};
    }
    double size_m = usi_section_size(section);
    if (section->has_base &&
        meets_line(start, end, &section->base, a.x_m - size_m, b.x_m + size_m)) {
        return (usi_crossing){"crosses the base", "end it above the base"};
    }
    if (meets_wall(section, start, end)) {
        return (usi_crossing){"meets a wall", "keep it clear of walls on one side of them"};
    }
    for (size_t i = 0; i < index; i++) {
        const usi_drain *other = &section->drains[i];
        if (other->inside && meet(a, b, other->from, other->to)) {
            return (usi_crossing){"meets a drain before it in the list", "keep drains apart"};
        }
    }
    return (usi_crossing){NULL, NULL};
}
