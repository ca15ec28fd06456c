/* Walls: in the soil, above the base, clear of each other. */
#include <math.h>
#include <string.h>

#include "base/context.h"
#include "model/check.h"

static const usi_raw_wall *raw_wall(const usi_check *check, size_t index)
{
    return (const usi_raw_wall *)check->raw->walls.items + index;
}

static double lower_surface(const us_section *section, double x_m)
{
    return fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
}

static bool check_place(usi_check *check, size_t index)
{
    const us_section *section = check->section;
    const usi_wall *wall = &section->walls[index];
    const usi_raw_wall *raw = raw_wall(check, index);
    bool beside = (section->left.kind != USI_SIDE_ENDLESS && wall->x_m <= section->left.x_m) ||
                  (section->right.kind != USI_SIDE_ENDLESS && wall->x_m >= section->right.x_m);
    if (beside) {
        usi_check_error(check, &raw->x.at,
                        "move the wall, or the side, which stands where soil ends",
                        "the wall stands at x = %s, outside the soil or on its side",
                        usi_words_length(section, wall->x_m).text);
        return false;
    }
    double surface_m = lower_surface(section, wall->x_m);
    if (wall->tip_m >= surface_m) {
        usi_check_error(check, &raw->tip.at, "give a tip below the soil surface on both sides",
                        "the tip, %s, lies outside the soil: the soil surface at x = %s is %s",
                        usi_words_length(section, wall->tip_m).text,
                        usi_words_length(section, wall->x_m).text,
                        usi_words_length(section, surface_m).text);
        return false;
    }
    return true;
}

static void reach_base(usi_check *check, usi_wall *wall, const usi_raw_wall *raw, double contact_m)
{
    const us_section *section = check->section;
    if (wall->keyed) {
        wall->solved_tip_m = wall->base_m;
        return;
    }
    wall->open_contact = true;
    wall->solved_tip_m = wall->base_m + contact_m;
    if (wall->top_m <= wall->solved_tip_m + check->tolerance_m) {
        usi_check_error(check, &raw->tip.at, "set `keyed: true` when it is sealed into the base",
                        "the wall is no longer than the open contact of %s left under it",
                        usi_words_length(section, contact_m).text);
        return;
    }
    usi_check_note(check,
                   "The tip of `%s` reaches the base and is not keyed: it is solved with an "
                   "open contact of %s between base and tip.",
                   wall->name, usi_words_length(section, contact_m).text);
}

static void check_base(usi_check *check, usi_wall *wall, const usi_raw_wall *raw)
{
    const us_section *section = check->section;
    if (!section->has_base) {
        if (wall->keyed) {
            usi_check_error(check, &raw->keyed.at, "leave `keyed` out, or give a base",
                            "a wall cannot be keyed into the base: there is none");
        }
        return;
    }
    wall->base_m = fmax(usi_section_base(section, wall->x_m, false),
                        usi_section_base(section, wall->x_m, true));
    double contact_m = usi_section_open_contact(section, wall->x_m);
    if (!check->based) {
        return; /* was reported: one message is enough */
    }
    if (wall->tip_m < wall->base_m) {
        usi_check_error(check, &raw->tip.at,
                        "end the wall at the base, with `keyed: true` when it is sealed into it",
                        "the tip, %s, lies below the base, %s",
                        usi_words_length(section, wall->tip_m).text,
                        usi_words_length(section, wall->base_m).text);
    } else if (wall->tip_m - wall->base_m <= contact_m + check->tolerance_m) {
        reach_base(check, wall, raw, contact_m);
    } else if (wall->keyed) {
        usi_check_error(check, &raw->keyed.at, "lower the tip to the base, or leave `keyed` out",
                        "the wall is keyed, but its tip, %s, ends above the base, %s",
                        usi_words_length(section, wall->tip_m).text,
                        usi_words_length(section, wall->base_m).text);
    }
}

static void check_overlap(usi_check *check, size_t index)
{
    const us_section *section = check->section;
    const usi_wall *wall = &section->walls[index];
    for (size_t i = 0; i < index; i++) {
        const usi_wall *other = &section->walls[i];
        bool sound = usi_check_has_wall(check, i) && other->top_m > other->tip_m;
        if (sound && other->x_m == wall->x_m && wall->top_m > other->tip_m &&
            wall->tip_m < other->top_m) {
            usi_check_error(check, &raw_wall(check, index)->at,
                            "walls at one x may touch or leave a gap",
                            "the wall overlaps `%s` at x = %s", other->name,
                            usi_words_length(section, wall->x_m).text);
            return;
        }
    }
}

/* The walls are those of the section as drawn; the bed may leave a tip without ground. */
static void stand_on_own_bed(usi_check *check)
{
    us_section *section = check->section;
    for (size_t i = 0; i < section->wall_count; i++) {
        usi_wall *wall = &section->walls[i];
        const usi_wall *drawn = &check->own->whole->walls[i];
        wall->solved_tip_m = drawn->solved_tip_m;
        wall->open_contact = drawn->open_contact;
        wall->base_m = drawn->base_m;
        double surface_m = lower_surface(section, wall->x_m);
        if (wall->solved_tip_m >= surface_m - check->tolerance_m) {
            usi_check_undermine(check, "the bed, %s, reaches the tip of wall %s, %s.",
                                usi_words_length(section, surface_m).text, wall->name,
                                usi_words_length(section, wall->tip_m).text);
            check->walled = false;
        }
    }
}

void usi_check_walls(usi_check *check)
{
    if (check->own != NULL) {
        if (check->ended) {
            stand_on_own_bed(check);
        }
        return;
    }
    us_section *section = check->section;
    size_t errors = usi_context_error_count(check->context);
    for (size_t i = 0; i < section->wall_count; i++) {
        usi_wall *wall = &section->walls[i];
        const usi_raw_wall *raw = raw_wall(check, i);
        if (!usi_check_has_wall(check, i)) {
            continue;
        }
        if (wall->tip_m >= wall->top_m) {
            usi_check_error(check, &raw->tip.at, "`tip` is the level of the lower end, not a depth",
                            "the tip, %s, is not below the top, %s",
                            usi_words_length(section, wall->tip_m).text,
                            usi_words_length(section, wall->top_m).text);
            continue;
        }
        check_overlap(check, i);
        if (check->ended && check_place(check, i)) {
            check_base(check, wall, raw);
        }
    }
    check->walled = check->walled && usi_context_error_count(check->context) == errors;
}
