/* Where the beds end: at the structure, or at the bare wall. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/check.h"
#include "model/cut.h"
#include "model/raise.h"

/* True when walls at x, one touching the next, close the soil from `high_m`
 * down to below `low_m`. */
static bool closes(const us_section *section, double x_m, double high_m, double low_m)
{
    double level_m = high_m;
    for (bool moved = true; moved;) {
        moved = false;
        for (size_t i = 0; i < section->wall_count; i++) {
            const usi_wall *wall = &section->walls[i];
            if (wall->x_m == x_m && wall->top_m >= level_m && wall->tip_m < level_m) {
                level_m = wall->tip_m;
                moved = true;
            }
        }
    }
    return level_m < low_m;
}

static bool heads_differ(const usi_check *check)
{
    const usi_raw_water *waters = check->raw->waters.items;
    for (size_t i = 0; i < check->raw->waters.count; i++) {
        if (waters[i].downstream.word || waters[i].upstream.si != waters[i].downstream.si) {
            return true;
        }
    }
    return false;
}

/* Without a structure the beds meet at the first wall that reaches them. */
static void meet_at_wall(usi_check *check)
{
    us_section *section = check->section;
    for (size_t i = 0; i < section->wall_count; i++) {
        double x_m = section->walls[i].x_m;
        double left_m = usi_line_level(&section->left_bed, x_m, false);
        double right_m = usi_line_level(&section->right_bed, x_m, true);
        if (section->walls[i].top_m >= fmax(left_m, right_m)) {
            section->left_end_m = x_m;
            section->right_end_m = x_m;
            check->ended = true;
            return;
        }
    }
    bool level = section->left_bed.count == 1 && section->right_bed.count == 1 &&
                 section->left_bed.points[0].z_m == section->right_bed.points[0].z_m;
    check->ended = level && !heads_differ(check);
    if (!check->ended) {
        usi_check_error(check, &check->raw->bed.at,
                        "add a structure, or a wall whose top reaches the higher bed",
                        "nothing parts the upstream bed from the downstream bed: no wall reaches "
                        "the bed and there is no structure");
    }
}

/* The wall that must close the soil where the surface steps at x. */
static void demand_closure(usi_check *check, double x_m, double high_m, double low_m,
                           const usi_mark *mark, const char *what)
{
    const us_section *section = check->section;
    if (!(high_m > low_m) || closes(section, x_m, high_m, low_m)) {
        return;
    }
    if (check->own != NULL) {
        usi_check_undermine(check,
                            "%s, %s, lies above the bed beside it, %s, at x = %s, and no "
                            "wall closes the soil between.",
                            what, usi_words_length(section, high_m).text,
                            usi_words_length(section, low_m).text,
                            usi_words_length(section, x_m).text);
    } else {
        usi_check_error(check, mark, "add a wall there, or lower the part above the bed",
                        "%s lies above the bed beside it at x = %s and no wall closes the soil "
                        "from %s to below %s",
                        what, usi_words_length(section, x_m).text,
                        usi_words_length(section, high_m).text,
                        usi_words_length(section, low_m).text);
    }
}

/* Zones may lie higher on the beds than the bare wall that parts them. */
static void demand_reach(usi_check *check, double x_m, double level_m)
{
    const us_section *section = check->section;
    bool reached = !heads_differ(check);
    for (size_t i = 0; i < section->wall_count && !reached; i++) {
        reached = section->walls[i].x_m == x_m && section->walls[i].top_m >= level_m;
    }
    if (!reached && section->zone_count > 0) {
        usi_check_error(check, &check->raw->zones.at, "raise the wall, or lower the zones",
                        "what lies on the beds reaches %s at x = %s, above the wall that parts "
                        "them",
                        usi_words_length(section, level_m).text,
                        usi_words_length(section, x_m).text);
    }
}

/* A bed that a side at the structure's end cuts off altogether. */
static bool unused(const usi_raw_side *side, double side_x_m, double end_m)
{
    return usi_check_has_side(side) && side_x_m == end_m;
}

void usi_check_steps(usi_check *check)
{
    const us_section *section = check->section;
    if (!check->ended || !check->walled) {
        return;
    }
    double left_m = usi_line_level(&section->left_bed, section->left_end_m, false);
    double right_m = usi_line_level(&section->right_bed, section->right_end_m, true);
    if (!section->has_structure) {
        demand_closure(check, section->left_end_m, fmax(left_m, right_m), fmin(left_m, right_m),
                       &check->raw->bed.at, "the higher bed");
        demand_reach(check, section->left_end_m, fmax(left_m, right_m));
        return;
    }
    const usi_raw_line *underside = &check->raw->structure.underside;
    if (!unused(&check->raw->sides.left, section->left.x_m, section->left_end_m)) {
        demand_closure(check, section->left_end_m,
                       usi_line_level(&section->underside, section->left_end_m, true), left_m,
                       &underside->points[0].mark, "the left end of the underside");
    }
    if (!unused(&check->raw->sides.right, section->right.x_m, section->right_end_m)) {
        demand_closure(check, section->right_end_m,
                       usi_line_level(&section->underside, section->right_end_m, false), right_m,
                       &underside->points[underside->count - 1].mark,
                       "the right end of the underside");
    }
}

/* The top as a line from one end of the structure to the other. */
static void span_top(usi_check *check)
{
    us_section *section = check->section;
    usi_line *top = &section->structure_top;
    double from_m = section->left_end_m;
    double to_m = section->right_end_m;
    usi_point *points = usi_memory_array(check->context, top->count + 2, sizeof *points);
    if (points == NULL) {
        check->failed = true;
        return;
    }
    size_t count = 0;
    points[count++] = (usi_point){from_m, usi_line_level(top, from_m, true)};
    for (size_t i = 0; i < top->count; i++) {
        if (top->points[i].x_m > from_m && top->points[i].x_m < to_m) {
            points[count++] = top->points[i];
        }
    }
    points[count++] = (usi_point){to_m, usi_line_level(top, to_m, false)};
    free(top->points);
    *top = (usi_line){count, points};
    usi_line_trim(top, check->tolerance_m);
}

/* True when the top lies below the underside at x. */
static bool top_is_low(const us_section *section, double x_m, bool right)
{
    return usi_line_level(&section->structure_top, x_m, right) <
           usi_line_level(&section->underside, x_m, right);
}

static void check_top(usi_check *check)
{
    us_section *section = check->section;
    span_top(check);
    const usi_line *lines[] = {&section->structure_top, &section->underside};
    for (size_t k = 0; k < 2; k++) {
        for (size_t i = 0; i < lines[k]->count && !check->failed; i++) {
            double x_m = lines[k]->points[i].x_m;
            if (top_is_low(section, x_m, true) || top_is_low(section, x_m, false)) {
                usi_check_error(check, &check->raw->structure.top.at,
                                "give a top at or above the underside",
                                "the top of the structure lies below its underside at x = %s",
                                usi_words_length(section, x_m).text);
                return;
            }
        }
    }
}

static void note_hidden_bed(usi_check *check, const usi_line *bed, double end_m, bool left)
{
    double level_m = usi_line_level(bed, end_m, !left);
    double from_m = left ? end_m : -HUGE_VAL;
    double to_m = left ? HUGE_VAL : end_m;
    if (usi_line_lowest(bed, from_m, to_m) < level_m ||
        usi_line_highest(bed, from_m, to_m) > level_m) {
        usi_check_note(check, "The %s bed %s x = %s is not soil surface and does not count.",
                       left == check->section->flows_left ? "downstream" : "upstream",
                       left ? "beyond" : "before", usi_words_length(check->section, end_m).text);
    }
}

static void note_raised(usi_check *check, const usi_line *bed, bool left)
{
    double highest_m = usi_line_highest(bed, -HUGE_VAL, HUGE_VAL);
    usi_check_note(check, "Zones lie on the %s bed: their top is the soil surface there, up to %s.",
                   left == check->section->flows_left ? "downstream" : "upstream",
                   usi_words_length(check->section, highest_m).text);
}

/* Cuts a bed to what counts of it, once by itself and once with what lies on it. */
static void cut_bed(usi_check *check, usi_line *bed, const usi_cut *cut, bool left)
{
    bool raised = false;
    double range_m[2] = {cut->from_m, cut->to_m};
    usi_line_cut(bed, cut);
    bool own = check->own != NULL && (left ? check->own->left : check->own->right);
    if (!own && check->zoned && check->section->zone_count > 0 && !check->failed) {
        us_status status = usi_bed_raise(check->context, check->section, bed, range_m, &raised);
        check->failed = check->failed || status == US_ERROR_MEMORY;
        if (status == US_ERROR_INPUT) {
            usi_check_error(check, &check->raw->zones.at, "draw the zones with fewer points",
                            "the outlines cross more than 100,000 times");
            check->zoned = false;
        }
    }
    if (raised) {
        usi_line_cut(bed, cut);
        note_raised(check, bed, left);
    }
}

static void cut_lines(usi_check *check)
{
    us_section *section = check->section;
    bool left = usi_check_has_side(&check->raw->sides.left);
    bool right = usi_check_has_side(&check->raw->sides.right);
    usi_cut whole = {left ? section->left.x_m : -HUGE_VAL, right ? section->right.x_m : HUGE_VAL,
                     section->left_end_m, check->tolerance_m};
    usi_cut left_part = {whole.from_m, section->left_end_m, section->left_end_m,
                         check->tolerance_m};
    usi_cut right_part = {section->right_end_m, whole.to_m, section->right_end_m,
                          check->tolerance_m};
    note_hidden_bed(check, &section->left_bed, section->left_end_m, true);
    note_hidden_bed(check, &section->right_bed, section->right_end_m, false);
    cut_bed(check, &section->left_bed, &left_part, true);
    cut_bed(check, &section->right_bed, &right_part, false);
    if (section->has_base) {
        usi_line_cut(&section->base, &whole);
    }
    for (size_t i = 1; i < section->soil_count; i++) {
        if (section->soils[i].top.count > 0 && check->layered) {
            usi_line_cut(&section->soils[i].top, &whole);
        }
    }
    usi_check_snap(check); /* cutting made points of its own */
}

void usi_check_ends(usi_check *check)
{
    us_section *section = check->section;
    if (!check->shaped) {
        return;
    }
    if (section->has_structure) {
        usi_line_trim(&section->underside, check->tolerance_m);
        section->left_end_m = section->underside.points[0].x_m;
        section->right_end_m = section->underside.points[section->underside.count - 1].x_m;
        check->ended = true;
    } else if (check->walled) {
        meet_at_wall(check);
    }
    if (!check->ended) {
        return;
    }
    if (section->structure_top.count > 0) {
        check_top(check);
    } else if (section->structure_weighs) {
        usi_check_note(check, "The structure has a unit weight but no top: no weight is computed.");
    }
    cut_lines(check);
}
