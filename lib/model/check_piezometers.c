/* Piezometers: in the soil, and on which face where they touch a wall. */
#include <math.h>

#include "model/check.h"

/* True when there is soil at the point, seen from its left or right. */
static bool in_soil(const us_section *section, usi_point at, bool right)
{
    double slack_m = usi_section_tolerance(section); /* for points on slopes */
    return usi_section_spans(section, at.x_m, right) &&
           at.z_m <= usi_section_surface(section, at.x_m, right) + slack_m &&
           (!section->has_base || at.z_m >= usi_section_base(section, at.x_m, right) - slack_m);
}

/* True when a wall parts the soil left of the point from the soil right of it. */
static bool on_wall(const us_section *section, usi_point at)
{
    bool below = false; /* wall goes on just below the point */
    bool above = false;
    bool sealed = false; /* tip keyed into the base */
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (wall->x_m != at.x_m) {
            continue;
        }
        below = below || (wall->solved_tip_m < at.z_m && wall->top_m >= at.z_m);
        above = above || (wall->solved_tip_m <= at.z_m && wall->top_m > at.z_m);
        sealed = sealed || (wall->keyed && wall->solved_tip_m == at.z_m);
    }
    bool at_surface = at.z_m >= usi_section_surface(section, at.x_m, false) ||
                      at.z_m >= usi_section_surface(section, at.x_m, true);
    return (below && (above || at_surface)) || sealed;
}

static void check_piezometer(usi_check *check, size_t index)
{
    const us_section *section = check->section;
    const usi_raw_piezometer *raw =
        (const usi_raw_piezometer *)check->raw->piezometers.items + index;
    usi_piezometer *piezometer = &section->piezometers[index];
    if (!raw->point.given) {
        return;
    }
    bool left = in_soil(section, piezometer->at, false);
    bool right = in_soil(section, piezometer->at, true);
    usi_face asked = piezometer->side;
    piezometer->side = USI_FACE_NONE;
    if (!left && !right && check->own != NULL) {
        usi_check_note(check, "Piezometer %s lies bare and has no head.", piezometer->name);
        return;
    }
    if (!left && !right) {
        usi_check_error(check, &raw->point.mark,
                        "give a point between soil surface and base, outside structure and sides",
                        "the piezometer at x = %s, level %s, is not in the soil",
                        usi_words_length(section, piezometer->at.x_m).text,
                        usi_words_length(section, piezometer->at.z_m).text);
        return;
    }
    if (!on_wall(section, piezometer->at)) {
        return;
    }
    if (left != right) {
        piezometer->side = left ? USI_FACE_LEFT : USI_FACE_RIGHT;
    } else if (raw->side.at.line == 0 && check->own == NULL) {
        usi_check_error(check, &raw->at, "add `side: left` or `side: right`",
                        "the piezometer lies on a wall, where the head differs between its faces");
    } else {
        piezometer->side = asked;
        return;
    }
    if (left != right && asked != USI_FACE_NONE && asked != piezometer->side) {
        usi_check_error(check, &raw->side.at, "leave `side` out",
                        "there is no soil on that side of the wall");
    }
}

void usi_check_piezometers(usi_check *check)
{
    if (!check->ended || !check->walled) {
        return;
    }
    for (size_t i = 0; i < check->section->piezometer_count; i++) {
        check_piezometer(check, i);
    }
}
