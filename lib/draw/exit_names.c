/* Words in the diagram of exit gradients. */
#include <math.h>

#include "draw/diagram.h"

static const us_exit_result *exit_of(const usi_sheet *sheet)
{
    return &sheet->result->exit;
}

/* Which way the bed goes from the toe. */
static double outward(const usi_sheet *sheet)
{
    return sheet->section->flows_left ? -1 : 1;
}

usi_phrase usi_exit_say_critical(const usi_sheet *sheet)
{
    const us_exit_result *exit = exit_of(sheet);
    return usi_phrase_print("critical gradient %s of %s",
                            usi_phrase_number(exit->critical.value, 3).text,
                            usi_phrase_name(exit->soil, 22).text);
}

/* Beside its line, or under the upper edge with an arrow up. */
static void name_critical(usi_sheet *sheet, const usi_panel *panel)
{
    const us_exit_result *exit = exit_of(sheet);
    if (!exit->critical.present) {
        return;
    }
    bool shown = exit->critical.value < panel->top;
    usi_phrase words =
        usi_phrase_print("%s%s", shown ? "" : "\u2191 ", usi_exit_say_critical(sheet).text);
    usi_wish wish = usi_panel_wish(panel, USI_THING_CRITICAL, 0, words.text);
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    double far_x = usi_exit_far_x(sheet) + outward(sheet) * (2 * half.x_m + 16);
    far_x = fmax(panel->box.left, fmin(panel->box.right, far_x));
    double near_x = outward(sheet) < 0 ? panel->box.right : panel->box.left;
    double y = shown ? usi_panel_at(sheet, panel, 0, exit->critical.value).z_m : panel->box.top;
    usi_spots spots = {0};
    if (shown) {
        usi_spots_along(&spots, half, (usi_point){far_x, y - half.z_m - 4}, near_x, 0);
    }
    usi_spots_along(&spots, half, (usi_point){far_x, y + half.z_m + 4}, near_x, 4);
    (void)usi_panel_label(sheet, &wish, &spots);
}

/* Places for the label of a point of the panel, to one side of it. */
static void add_aside(usi_point at, usi_point half, double side, double cost, usi_spots *spots)
{
    static const double rises[] = {-4, 8, -16, 20, -30, 34, 50, 70, 95, 125, 160};
    static const double shifts[] = {14, 24, 40, 64, 100, 150};
    usi_spots_add(spots, at.x_m + side * (half.x_m + 12), at.z_m, cost);
    for (size_t i = 0; i < sizeof rises / sizeof rises[0]; i++) {
        for (size_t k = 0; k < sizeof shifts / sizeof shifts[0]; k++) {
            usi_point to = {at.x_m + side * (shifts[k] + half.x_m), at.z_m + rises[i]};
            usi_spots_lead(spots, to, at, cost + 0.5 * (double)(i + k));
        }
    }
}

static usi_point governing_point(const usi_sheet *sheet, const usi_panel *panel)
{
    return usi_panel_at(sheet, panel, exit_of(sheet)->x_m, usi_exit_governing(sheet));
}

/* The mean is no value of the curve: a bar across its line instead of a ring on it. */
static void mark_governing(usi_sheet *sheet, const usi_panel *panel)
{
    usi_point at = governing_point(sheet, panel);
    if (exit_of(sheet)->bounded) {
        usi_sheet_ring(sheet, at);
    } else {
        usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){at.x_m - 7, at.z_m},
                       (usi_point){at.x_m + 7, at.z_m}, usi_look_line(usi_ink_dark, 3));
    }
    usi_scene_guard(&sheet->scene, (usi_box){at.x_m - 7, at.z_m - 7, at.x_m + 7, at.z_m + 7}, true);
}

static bool try_governing(usi_sheet *sheet, const usi_panel *panel, const char *words, bool inside,
                          bool outside)
{
    usi_wish wish = usi_panel_wish(panel, USI_THING_EXIT, 0, words);
    wish.type.bold = true;
    wish.gap = 6;
    wish.aslant = true;
    usi_point at = governing_point(sheet, panel);
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_spots spots = {0};
    if (outside) {
        add_aside(at, half, outward(sheet), 0, &spots);
    }
    if (inside) {
        add_aside(at, half, -outward(sheet), 6, &spots);
    }
    return usi_panel_label(sheet, &wish, &spots);
}

/* In full where there is room, else the number alone: the caption has the rest.
 * The curve lies on the outer side of an unbounded point, so its mean goes inside. */
static void name_governing(usi_sheet *sheet, const usi_panel *panel)
{
    const us_exit_result *exit = exit_of(sheet);
    if (exit->bounded) {
        usi_phrase value = usi_phrase_value(exit->gradient);
        usi_phrase words = usi_phrase_print("exit gradient %s", value.text);
        if (!try_governing(sheet, panel, words.text, true, true)) {
            (void)try_governing(sheet, panel, value.text, true, true);
        }
        return;
    }
    usi_phrase value = usi_phrase_print("mean %s", usi_phrase_value(exit->mean).text);
    usi_phrase words = usi_phrase_print(
        "%s over %s of depth", value.text,
        usi_phrase_measure(sheet->section, exit->mean_depth_m, sheet->decimals).text);
    if (!try_governing(sheet, panel, words.text, true, false) &&
        !try_governing(sheet, panel, value.text, true, false) &&
        !try_governing(sheet, panel, words.text, true, true)) {
        (void)try_governing(sheet, panel, value.text, true, true);
    }
}

static void name_unbounded(usi_sheet *sheet, const usi_panel *panel, const usi_course *course)
{
    for (size_t e = 0; e < course->exit_count; e++) {
        usi_point at = usi_panel_at(sheet, panel, course->exits[e].at.x_m, 0);
        if (at.x_m <= panel->box.left || at.x_m >= panel->box.right) {
            continue;
        }
        at.z_m = panel->box.top + 16;
        usi_wish wish = usi_panel_wish(panel, USI_THING_UNBOUNDED, e, "unbounded");
        wish.gap = 3;
        usi_point half = usi_wish_half(&sheet->scene, &wish);
        usi_spots spots = {0};
        add_aside(at, half, outward(sheet), 0, &spots);
        add_aside(at, half, -outward(sheet), 3, &spots);
        (void)usi_panel_label(sheet, &wish, &spots);
    }
}

static void say_nothing_flows(usi_sheet *sheet, const usi_panel *panel)
{
    usi_box box = panel->box;
    usi_wish wish = usi_panel_wish(panel, USI_THING_STILL, 0, "no water leaves the bed");
    usi_spots spots = {0};
    for (int i = 4; i < 10; i++) {
        usi_spots_add(&spots, 0.5 * (box.left + box.right), box.bottom - 24.0 * i, i);
    }
    (void)usi_panel_label(sheet, &wish, &spots);
}

void usi_exit_names(usi_sheet *sheet, const usi_panel *panel, const usi_course *course)
{
    if (usi_exit_governing(sheet) > 0) {
        mark_governing(sheet, panel);
        name_unbounded(sheet, panel, course);
        name_governing(sheet, panel);
    } else {
        say_nothing_flows(sheet, panel);
    }
    name_critical(sheet, panel);
}
