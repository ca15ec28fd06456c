/* Drains: where they lie, and what each form of them needs. */
#include <math.h>

#include "base/context.h"
#include "model/check.h"
#include "model/contact.h"
#include "model/reach.h"

static const double SLACK = 1e-6;         /* of the section's size: typed with six decimals */
static const double MOST_DIAMETER = 0.25; /* of the spacing: up to there the formula holds */

static const usi_raw_drain *raw_drain(const usi_check *check, size_t index)
{
    return (const usi_raw_drain *)check->raw->drains.items + index;
}

static bool stands(const usi_raw_point *point)
{
    return point->mark.line > 0;
}

/* Whether it is a row of weeps or goes from point to point. */
static bool check_kind(usi_check *check, const usi_raw_drain *raw)
{
    bool strip = stands(&raw->from) || stands(&raw->to);
    if (stands(&raw->point) && strip) {
        usi_check_error(check, stands(&raw->from) ? &raw->from.mark : &raw->to.mark,
                        "list the row of weeps and the drain as two",
                        "a drain lies `at` a point, as a row of weeps, or goes `from` one point "
                        "`to` another, not both");
        return false;
    }
    if (!stands(&raw->point) && !(stands(&raw->from) && stands(&raw->to))) {
        usi_check_error(check, &raw->at,
                        "give `at` for a row of weeps, `from` and `to` for a drain without gaps",
                        strip ? "the drain has one end only" : "nothing says where the drain lies");
        return false;
    }
    return strip ? raw->from.given && raw->to.given : raw->point.given;
}

static bool check_holes(usi_check *check, const usi_raw_drain *raw, const usi_drain *drain)
{
    bool wide = raw->diameter.at.line > 0;
    bool spaced = raw->spacing.at.line > 0;
    if (!drain->weeps && (wide || spaced)) {
        usi_check_error(check, wide ? &raw->diameter.at : &raw->spacing.at,
                        "leave `diameter` and `spacing` out, or give the place of a row as `at`",
                        "a drain without gaps has no holes");
        return false;
    }
    if (drain->weeps && !(wide && spaced)) {
        usi_check_error(check, &raw->at, "for a drain without gaps give `from` and `to`",
                        "a row of weeps needs the `diameter` of its holes and their `spacing` "
                        "across the flow");
        return false;
    }
    bool given = raw->diameter.given && raw->spacing.given;
    if (given && drain->diameter_m > MOST_DIAMETER * drain->spacing_m) {
        usi_check_error(check, &raw->diameter.at,
                        "give holes so close as a drain without gaps, by `from` and `to`",
                        "holes of %s every %s stand too close for a row of weeps: the diameter is "
                        "at most a quarter of the spacing",
                        usi_words_length(check->section, drain->diameter_m).text,
                        usi_words_length(check->section, drain->spacing_m).text);
        return false;
    }
    return given || !drain->weeps;
}

static bool refuse_place(usi_check *check, const usi_raw_point *raw, usi_point at, usi_reach place)
{
    const us_section *section = check->section;
    static const char *const where[] = {
        [USI_REACH_BED] = "on the open bed, where it has no effect",
        [USI_REACH_AIR] = "above the bed",
        [USI_REACH_STRUCTURE] = "in the structure, not on its underside",
        [USI_REACH_BASE] = "on the base or below it",
        [USI_REACH_OUTSIDE] = "outside the soil, which ends at the side",
    };
    usi_check_error(
        check, &raw->mark, "a drain lies on the underside, on an end face, or in the soil",
        "the drain at x = %s, level %s, lies %s", usi_words_length(section, at.x_m).text,
        usi_words_length(section, at.z_m).text, where[place]);
    return false;
}

/* The wall that stands before an upright face at a level, or NULL. */
static const usi_wall *find_cover(const us_section *section, usi_point at)
{
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (wall->x_m == at.x_m && wall->top_m > at.z_m && wall->tip_m < at.z_m) {
            return wall;
        }
    }
    return NULL;
}

/* What lies on a face: walls may stand before it, and a hole needs room on it. */
static bool check_on_face(usi_check *check, const usi_raw_drain *raw, const usi_drain *drain,
                          const usi_contact *contact, size_t piece)
{
    const us_section *section = check->section;
    const usi_mark *mark = drain->weeps ? &raw->point.mark : &raw->from.mark;
    usi_point a = contact->points[piece];
    usi_point b = contact->points[piece + 1];
    bool upright = a.x_m == b.x_m;
    const usi_wall *cover = upright ? find_cover(section, drain->from) : NULL;
    if (cover != NULL) {
        usi_check_error(check, mark, "move the drain, or end the wall below it",
                        "the wall `%s` stands before the drain", cover->name);
        return false;
    }
    double room_m = fmin(hypot(drain->from.x_m - a.x_m, drain->from.z_m - a.z_m),
                         hypot(b.x_m - drain->from.x_m, b.z_m - drain->from.z_m));
    for (size_t i = 0; i < section->wall_count && !upright; i++) {
        const usi_wall *wall = &section->walls[i];
        if (usi_check_parts(section, wall->x_m,
                            usi_line_level(&section->underside, wall->x_m, false))) {
            room_m = fmin(room_m, fabs(wall->x_m - drain->from.x_m));
        }
    }
    if (drain->weeps && room_m < 0.5 * drain->diameter_m) {
        usi_check_error(check, mark, "move the row along the underside",
                        "the holes, %s wide, have no room here: a corner or a wall is %s away",
                        usi_words_length(section, drain->diameter_m).text,
                        usi_words_length(section, room_m).text);
        return false;
    }
    return true;
}

static bool check_in_soil(usi_check *check, size_t index, const usi_reach ends[2],
                          const usi_contact *contact)
{
    const us_section *section = check->section;
    const usi_drain *drain = &section->drains[index];
    const usi_raw_drain *raw = raw_drain(check, index);
    if (drain->weeps) {
        usi_check_error(check, &raw->point.mark,
                        section->has_structure ? "give the level of the underside there"
                                               : "a drain in the soil goes `from` one point `to` "
                                                 "another",
                        "the weeps lie in the soil: they pass through the underside or an end face "
                        "of the structure");
        return false;
    }
    if (ends[0] == USI_REACH_CONTACT && ends[1] == USI_REACH_CONTACT) {
        usi_check_error(check, &raw->from.mark, "give a drain for each piece of the underside",
                        "the drain begins and ends on the structure, but not on one straight piece "
                        "of it");
        return false;
    }
    usi_crossing found = usi_reach_crossing(section, index, ends, contact);
    if (found.what != NULL) {
        usi_check_error(check, &raw->from.mark, found.hint, "the drain %s", found.what);
        return false;
    }
    return true;
}

static bool check_place(usi_check *check, size_t index, const usi_contact *contact)
{
    const us_section *section = check->section;
    usi_drain *drain = &section->drains[index];
    const usi_raw_drain *raw = raw_drain(check, index);
    double slack_m = SLACK * usi_section_size(section);
    bool turned =
        raw->from.given && (raw->from.at.x_m != raw->to.at.x_m ? raw->from.at.x_m > raw->to.at.x_m
                                                               : raw->from.at.z_m > raw->to.at.z_m);
    const usi_raw_point *first = drain->weeps ? &raw->point : turned ? &raw->to : &raw->from;
    const usi_raw_point *second = drain->weeps ? &raw->point : turned ? &raw->from : &raw->to;
    usi_reach ends[2] = {usi_reach_of(section, contact, drain->from, slack_m),
                         usi_reach_of(section, contact, drain->to, slack_m)};
    for (int i = 0; i < 2; i++) {
        if (ends[i] != USI_REACH_CONTACT && ends[i] != USI_REACH_SOIL) {
            return refuse_place(check, i == 0 ? first : second, i == 0 ? drain->from : drain->to,
                                ends[i]);
        }
    }
    size_t piece = usi_contact_piece(contact, drain->from, drain->to, slack_m);
    drain->inside = piece >= contact->count;
    if (drain->inside) {
        return check_in_soil(check, index, ends, contact);
    }
    drain->from = usi_contact_foot(contact, piece, drain->from);
    drain->to = usi_contact_foot(contact, piece, drain->to);
    return check_on_face(check, raw, drain, contact, piece);
}

/* Whether a drain that is sound as drawn still lies in soil under the case's own bed. */
static bool has_ground(const us_section *section, size_t index, const usi_contact *contact)
{
    const usi_drain *drain = &section->drains[index];
    double slack_m = SLACK * usi_section_size(section);
    usi_reach ends[2] = {usi_reach_of(section, contact, drain->from, slack_m),
                         usi_reach_of(section, contact, drain->to, slack_m)};
    for (int i = 0; i < 2; i++) {
        if (ends[i] != USI_REACH_CONTACT && ends[i] != USI_REACH_SOIL) {
            return false;
        }
    }
    return !drain->inside || usi_reach_crossing(section, index, ends, contact).what == NULL;
}

/* A drain that lies bare in a case is shut in it. */
static void shut_bare(usi_check *check, size_t index, const usi_contact *contact)
{
    us_section *section = check->section;
    usi_drain *drain = &section->drains[index];
    const usi_drain *drawn = &check->own->whole->drains[index];
    drain->inside = drawn->inside;
    drain->from = drawn->from;
    drain->to = drawn->to;
    if (!check->ended || has_ground(section, index, contact)) {
        return;
    }
    usi_check_note(check, "Drain %s lies bare and is shut.", drain->name);
    drain->shut = true;
    for (size_t i = 0; i < section->water_count; i++) {
        if (section->waters[i].shut != NULL) {
            section->waters[i].shut[index] = true;
        }
    }
}

static bool check_drain(usi_check *check, size_t index, const usi_contact *contact)
{
    const us_section *section = check->section;
    const usi_drain *drain = &section->drains[index];
    const usi_raw_drain *raw = raw_drain(check, index);
    if (!check_kind(check, raw) || !check_holes(check, raw, drain)) {
        return false;
    }
    if (!drain->weeps && hypot(drain->to.x_m - drain->from.x_m, drain->to.z_m - drain->from.z_m) <=
                             check->tolerance_m) {
        usi_check_error(check, &raw->to.mark, "give the place of a row of weeps as `at`",
                        "the drain has no length");
        return false;
    }
    return !check->ended || !check->walled || check_place(check, index, contact);
}

void usi_check_drains(usi_check *check)
{
    const usi_raw_list *raw = &check->raw->drains;
    usi_contact contact = {0, NULL, NULL};
    check->drained = raw->given || raw->at.line == 0;
    if (check->ended && usi_contact_make(check->context, check->section, &contact) != US_OK) {
        check->failed = true;
    }
    for (size_t i = 0; i < check->section->drain_count && !check->failed; i++) {
        if (check->own != NULL) {
            shut_bare(check, i, &contact);
        } else {
            check->drained = check_drain(check, i, &contact) && check->drained;
        }
    }
    usi_contact_clear(&contact);
}
