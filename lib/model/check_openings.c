/* What walls let through: leaky interlocks, openings, a gap under the cap. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "model/check.h"
#include "model/fill.h"
#include "model/panes.h"

static const double JOINT_M = 0.01; /* width of a joint where none is given */
/* What a row of holes is worth holds for diameters up to this share of their spacing, */
static const double HOLE_SHARE = 0.25;
/* and this far from what is next to it, in diameters. */
static const double HOLE_CLEAR = 2.0;
static const double DEEPEST_GAP = 0.9; /* of a cap over the length of the wall */

#define LENGTH(value_m) (usi_words_length(check->section, (value_m)).text)

static const usi_raw_wall *raw_wall(const usi_check *check, size_t index)
{
    return (const usi_raw_wall *)check->raw->walls.items + index;
}

static void fill_opening(const usi_raw_opening *raw, usi_opening *opening)
{
    opening->holes = raw->hole.at.line > 0;
    opening->diameter_m = raw->hole.si;
    opening->spacing_m = raw->spacing.si;
    opening->low_m = opening->holes ? raw->level.si - 0.5 * raw->hole.si : raw->slot_from.si;
    opening->high_m = opening->holes ? raw->level.si + 0.5 * raw->hole.si : raw->slot_to.si;
}

void usi_fill_openings(usi_check *check)
{
    us_section *section = check->section;
    for (size_t i = 0; i < section->wall_count && !check->failed; i++) {
        const usi_raw_wall *raw = raw_wall(check, i);
        usi_wall *wall = &section->walls[i];
        wall->interlock = (usi_interlock){
            .given = raw->interlock.at.line > 0,
            .inverse_resistance_m_s = raw->interlock.inverse_resistance.si,
            .spacing_m = raw->interlock.spacing.si,
            .joint_width_m =
                raw->interlock.joint_width.given ? raw->interlock.joint_width.si : JOINT_M};
        wall->cap_gap = (usi_length){raw->cap_gap.given, raw->cap_gap.si};
        const usi_raw_opening *openings = raw->openings.items;
        wall->openings = usi_fill_array(check, raw->openings.count, sizeof *wall->openings);
        for (size_t k = 0; k < raw->openings.count && wall->openings != NULL; k++) {
            fill_opening(&openings[k], &wall->openings[wall->opening_count++]);
        }
    }
    const usi_raw_as_built *raw = &check->raw->as_built;
    section->as_built = (usi_as_built){.split = {raw->split.width.given, raw->split.width.si},
                                       .leaks = raw->leaking.inverse_resistance.given,
                                       .leak_m_s = raw->leaking.inverse_resistance.si};
}

/* The lowest level of the structure at x, HUGE_VAL where it does not reach there. */
static double cap_level(const us_section *section, double x_m)
{
    const usi_line *underside = &section->underside;
    double level_m = HUGE_VAL;
    if (underside->count == 0) {
        return level_m;
    }
    if (x_m > underside->points[0].x_m && x_m <= underside->points[underside->count - 1].x_m) {
        level_m = usi_line_level(underside, x_m, false);
    }
    if (x_m >= underside->points[0].x_m && x_m < underside->points[underside->count - 1].x_m) {
        level_m = fmin(level_m, usi_line_level(underside, x_m, true));
    }
    return level_m;
}

/* Lowers the top of a wall by its gap. */
static void open_cap(usi_check *check, usi_wall *wall, const usi_raw_wall *raw)
{
    const us_section *section = check->section;
    double level_m = section->has_structure ? cap_level(section, wall->x_m) : HUGE_VAL;
    if (!isfinite(level_m)) {
        usi_check_error(check, &raw->cap_gap.at, "leave `cap_gap` out, or give `top` its level",
                        "there is no structure over the wall that could leave a gap");
        return;
    }
    double length_m = fmin(wall->top_m, level_m) - wall->tip_m;
    if (length_m > 0.0 && wall->cap_gap.m > DEEPEST_GAP * length_m) {
        usi_check_error(check, &raw->cap_gap.at, "a gap is a few centimetres: check its unit",
                        "a gap of %s leaves nothing to speak of of the wall",
                        LENGTH(wall->cap_gap.m));
        return;
    }
    bool embedded = wall->top_m > level_m + check->tolerance_m;
    wall->top_m = fmin(wall->top_m, level_m) - wall->cap_gap.m;
    wall->cap_level_m = level_m;
    wall->cap_void = embedded && (!raw->cap_fill.given || raw->cap_fill.index == USI_CAP_OPEN);
    if (embedded && raw->cap_fill.at.line == 0) {
        usi_check_note(check,
                       "The gap over wall `%s` is taken as open water, since no `cap_fill` is "
                       "given.",
                       wall->name);
    }
}

void usi_check_cap_gaps(usi_check *check)
{
    us_section *section = check->section;
    for (size_t i = 0; i < section->wall_count && check->shaped; i++) {
        const usi_raw_wall *raw = raw_wall(check, i);
        if (raw->cap_gap.at.line == 0 && raw->cap_fill.at.line > 0) {
            usi_check_error(check, &raw->cap_fill.at, "give a `cap_gap`, or leave this out",
                            "there is no gap to fill");
        }
        if (section->walls[i].cap_gap.given && usi_check_has_wall(check, i)) {
            open_cap(check, &section->walls[i], raw);
        }
    }
}

static bool stands(const usi_raw_number *raw)
{
    return raw->at.line > 0;
}

/* Keys that go together; true when all numbers are there. */
static bool check_keys(usi_check *check, const usi_raw_opening *raw)
{
    if (stands(&raw->hole)) {
        if (stands(&raw->slot_from) || stands(&raw->slot_to)) {
            usi_check_error(check, &raw->hole.at, "give each an entry of its own",
                            "an opening is a slot or a row of holes, not both");
            return false;
        }
        if (!stands(&raw->level) || !stands(&raw->spacing)) {
            usi_check_error(check, &raw->hole.at, "give both beside `hole`",
                            "a row of holes needs the `level` of their middle and their `spacing` "
                            "along the wall");
            return false;
        }
        return raw->hole.given && raw->level.given && raw->spacing.given;
    }
    if (!stands(&raw->slot_from)) {
        return false; /* was reported */
    }
    if (stands(&raw->level) || stands(&raw->spacing)) {
        usi_check_error(check, stands(&raw->level) ? &raw->level.at : &raw->spacing.at,
                        "leave it out, or give a `hole`", "a slot has no level or spacing");
        return false;
    }
    if (!stands(&raw->slot_to)) {
        usi_check_error(check, &raw->slot_from.at,
                        "give the levels of its lower and of its upper edge",
                        "a slot needs `slot_from` and `slot_to`");
        return false;
    }
    return raw->slot_from.given && raw->slot_to.given;
}

static bool check_size(usi_check *check, const usi_opening *opening, const usi_raw_opening *raw)
{
    if (!opening->holes && opening->high_m - opening->low_m <= check->tolerance_m) {
        usi_check_error(check, &raw->slot_to.at, "give the lower level first",
                        "the slot from %s to %s has no height", LENGTH(opening->low_m),
                        LENGTH(opening->high_m));
        return false;
    }
    if (opening->holes && opening->spacing_m <= opening->diameter_m) {
        usi_check_error(check, &raw->spacing.at, "give a slot where holes run into each other",
                        "holes of %s, %s apart, leave nothing between them",
                        LENGTH(opening->diameter_m), LENGTH(opening->spacing_m));
        return false;
    }
    return true;
}

static double lower_surface(const us_section *section, double x_m)
{
    return fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
}

/* Openings lie in the wall, with soil on both sides and closed wall above and below. */
static bool check_within(usi_check *check, const usi_wall *wall, const usi_opening *opening,
                         const usi_raw_opening *raw)
{
    const us_section *section = check->section;
    double surface_m = lower_surface(section, wall->x_m);
    bool under = section->has_structure && wall->x_m >= section->left_end_m &&
                 wall->x_m <= section->right_end_m;
    double margin_m = under ? check->tolerance_m : -check->tolerance_m;
    if (opening->high_m > surface_m + margin_m) {
        if (check->own != NULL) {
            usi_check_undermine(check,
                                "the soil beside wall %s, %s, leaves its opening at %s bare.",
                                wall->name, LENGTH(surface_m), LENGTH(opening->high_m));
            return true;
        }
        usi_check_error(check, &raw->at,
                        "lower it: only openings with soil on both sides are solved",
                        "the opening reaches %s, where the soil beside the wall ends at %s",
                        LENGTH(opening->high_m), LENGTH(surface_m));
        return false;
    }
    if (opening->high_m >= wall->top_m - check->tolerance_m) {
        usi_check_error(check, &raw->at, "give the wall a lower `top` instead",
                        "the opening reaches the top of the wall, %s", LENGTH(wall->top_m));
        return false;
    }
    if (opening->low_m <= wall->solved_tip_m + check->tolerance_m) {
        usi_check_error(check, &raw->at, "give the wall a higher `tip` instead",
                        "the opening reaches the tip of the wall, %s", LENGTH(wall->solved_tip_m));
        return false;
    }
    return true;
}

static bool check_apart(usi_check *check, const usi_wall *wall, size_t index,
                        const usi_raw_opening *raw)
{
    const usi_opening *opening = &wall->openings[index];
    for (size_t k = 0; k < index; k++) {
        const usi_opening *other = &wall->openings[k];
        if (opening->low_m <= other->high_m + check->tolerance_m &&
            other->low_m <= opening->high_m + check->tolerance_m) {
            usi_check_error(check, &raw->at, "leave wall between them, or join them to one slot",
                            "the opening from %s to %s meets the one from %s to %s",
                            LENGTH(opening->low_m), LENGTH(opening->high_m), LENGTH(other->low_m),
                            LENGTH(other->high_m));
            return false;
        }
    }
    return true;
}

static int from_top(const void *a, const void *b)
{
    const usi_opening *x = a;
    const usi_opening *y = b;
    return (x->high_m < y->high_m) - (x->high_m > y->high_m);
}

/* Where what a row of holes is worth does not hold as well as elsewhere. */
static void note_holes(usi_check *check, const usi_wall *wall, size_t index)
{
    const usi_opening *opening = &wall->openings[index];
    double level_m = 0.5 * (opening->low_m + opening->high_m);
    if (usi_holes_breadth(check->section, wall, opening) >
        HOLE_SHARE * opening->spacing_m * (1.0 + 1e-9)) {
        usi_check_note(check,
                       "The holes of wall `%s` at %s, as the soil's kh over kv stretches them, are "
                       "wider than a quarter of their spacing: the slot that stands for them is "
                       "only roughly as open as they are.",
                       wall->name, LENGTH(level_m));
    }
    double clear_m = fmax(HOLE_CLEAR * opening->diameter_m, HOLE_SHARE * opening->spacing_m);
    double room_m = usi_opening_room(check->section, wall, index);
    if (room_m < clear_m * (1.0 - 1e-9)) {
        usi_check_note(check,
                       "The holes of wall `%s` at %s lie %s from the cap, the bed, the tip or "
                       "another opening, less than the %s (two diameters, a quarter of their "
                       "spacing) from which on the slot that stands for them holds: what they let "
                       "through is an estimate.",
                       wall->name, LENGTH(level_m), LENGTH(room_m), LENGTH(clear_m));
    }
}

static void check_openings(usi_check *check, usi_wall *wall, const usi_raw_wall *raw)
{
    const usi_raw_opening *list = raw->openings.items;
    size_t errors = usi_context_error_count(check->context);
    for (size_t k = 0; k < wall->opening_count; k++) {
        const usi_opening *opening = &wall->openings[k];
        bool sound = check_keys(check, &list[k]) && check_size(check, opening, &list[k]);
        if (sound && check->ended && check->walled && check->based) {
            (void)(check_within(check, wall, opening, &list[k]) &&
                   check_apart(check, wall, k, &list[k]));
        }
    }
    if (usi_context_error_count(check->context) > errors || wall->opening_count == 0) {
        return;
    }
    qsort(wall->openings, wall->opening_count, sizeof *wall->openings, from_top);
}

/* Of a section without errors: what is said here looks at all of it. */
static bool is_sound(const usi_check *check)
{
    return !check->failed && usi_context_error_count(check->context) == check->raw->errors_before;
}

static void note_interlock(usi_check *check, const usi_wall *wall, const usi_raw_wall *raw)
{
    const us_section *section = check->section;
    if (raw->interlock.joint_width.at.line == 0) {
        usi_check_note(check,
                       "Joints of wall `%s` count %s wide where flow converges to them, since no "
                       "`joint_width` is given.",
                       wall->name, LENGTH(JOINT_M));
    }
    double left_m = usi_section_surface(section, wall->x_m, false);
    double right_m = usi_section_surface(section, wall->x_m, true);
    double bare_m = fmin(fmax(left_m, right_m), wall->top_m);
    bool left_bed = wall->x_m <= section->left_end_m || wall->x_m > section->right_end_m;
    bool right_bed = wall->x_m < section->left_end_m || wall->x_m >= section->right_end_m;
    bool free_face = left_m < right_m ? left_bed : right_bed;
    if (free_face && bare_m > fmin(left_m, right_m) + check->tolerance_m) {
        usi_check_note(check,
                       "Wall `%s` has soil on one side alone between %s and %s: what its joints "
                       "let out there is not counted.",
                       wall->name, LENGTH(fmin(left_m, right_m)), LENGTH(bare_m));
    }
}

static void note_wall(usi_check *check, const usi_wall *wall, const usi_raw_wall *raw)
{
    for (size_t k = 0; k < wall->opening_count; k++) {
        if (wall->openings[k].holes) {
            note_holes(check, wall, k);
        }
    }
    if (wall->interlock.given) {
        note_interlock(check, wall, raw);
    }
    if (check->section->require.creep.given && (wall->opening_count > 0 || wall->interlock.given)) {
        usi_check_note(check,
                       "Lengths of creep count wall `%s` as tight: what passes through it takes a "
                       "shorter way.",
                       wall->name);
    }
}

void usi_check_openings(usi_check *check)
{
    us_section *section = check->section;
    for (size_t i = 0; i < section->wall_count; i++) {
        if (usi_check_has_wall(check, i)) {
            check_openings(check, &section->walls[i], raw_wall(check, i));
        }
    }
    for (size_t i = 0; i < section->wall_count && is_sound(check); i++) {
        note_wall(check, &section->walls[i], raw_wall(check, i));
    }
    if (is_sound(check)) {
        check->failed = usi_panes_lay(check->context, section) != US_OK;
        if (!check->failed && usi_panes_stand_in(section)) {
            usi_check_note(check, "Openings finer than a grid are solved as strips of equal effect "
                                  "from afar: flow is an estimate, without bounds.");
        }
    }
}
