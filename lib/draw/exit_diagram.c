/* The exit gradient along the downstream bed. */
#include <math.h>

#include "draw/caption.h"
#include "draw/diagram.h"

static const double panel_height = 250;
/* Above the panel: its title, and the scale of distances from the toe. */
static const double panel_head = 40;
static const double panel_gap = 42;
static const double title_rise = 34;

/* Gradients below this share of the largest are left out at the far end. */
static const double far_share = 0.10;
/* The critical gradient is in the picture unless the curve would be too low then. */
static const double critical_most = 3.5;
/* How far above the mean the curve goes on towards an unbounded point. */
static const double unbounded_rise = 2.4;

static usi_look critical_look(void)
{
    usi_look look = usi_look_line((usi_ink){0.55, 0.16, 0.12, 1}, 1.4);
    look.dash = 7;
    look.gap = 3.5;
    return look;
}

static usi_look unbounded_look(void)
{
    usi_look look = usi_look_line(usi_ink_shore, 1.1);
    look.dash = 3;
    look.gap = 3;
    return look;
}

static const us_exit_result *exit_of(const usi_sheet *sheet)
{
    return &sheet->result->exit;
}

double usi_exit_far_x(const usi_sheet *sheet)
{
    const usi_scene_view *view = &sheet->scene.view;
    double far_m = sheet->section->flows_left ? fmax(view->low.x_m, usi_sheet_soil_left(sheet))
                                              : fmin(view->high.x_m, usi_sheet_soil_right(sheet));
    return usi_view_page(view, far_m, 0).x_m;
}

double usi_exit_governing(const usi_sheet *sheet)
{
    const us_exit_result *exit = exit_of(sheet);
    return exit->bounded ? exit->gradient.value : exit->mean.value;
}

static bool flows(const usi_sheet *sheet)
{
    return usi_exit_governing(sheet) > 0;
}

/* How far from the toe the bed is worth showing. */
static double find_reach(const usi_sheet *sheet, const usi_course *course)
{
    double toe_m = usi_section_toe_x(sheet->section);
    const us_exit_result *exit = exit_of(sheet);
    double least_m = fmax(2 * exit->mean_depth_m, 1.5 * fabs(exit->x_m - toe_m));
    double floor_m = sheet->section->right_end_m - sheet->section->left_end_m;
    double most_m = fmax(12 * fmax(exit->mean_depth_m, 0.25 * floor_m), least_m);
    double reach_m = 0;
    for (size_t i = 0; i < course->count && flows(sheet); i++) {
        if (course->points[i].value > far_share * usi_exit_governing(sheet)) {
            reach_m = fmax(reach_m, fabs(course->points[i].x_m - toe_m));
        }
    }
    return fmin(fmax(1.08 * reach_m, least_m), most_m);
}

/* The window: the bed as far as the gradient matters, and the end of the works. */
static us_status choose_window(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    usi_course course;
    us_status status = usi_course_exit(sheet, NULL, &course);
    if (status != US_OK) {
        return status;
    }
    double reach_m = find_reach(sheet, &course);
    usi_course_clear(&course);
    double behind_m = 0.3 * reach_m;
    if (section->has_structure) {
        behind_m = fmin(behind_m, section->right_end_m - section->left_end_m + 0.1 * reach_m);
    }
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    double toe_m = usi_section_toe_x(section);
    if (side->kind != USI_SIDE_ENDLESS) {
        reach_m = fmin(reach_m, fabs(side->x_m - toe_m) + 0.04 * reach_m);
    }
    double left_m = section->flows_left ? toe_m - reach_m : toe_m - behind_m;
    double right_m = section->flows_left ? toe_m + behind_m : toe_m + reach_m;
    sheet->window = usi_window_part(section, sheet->water, left_m, right_m);
    return US_OK;
}

/* Largest gradient that the curve will show. */
static double find_peak(const usi_sheet *sheet, const usi_course *course)
{
    const us_exit_result *exit = exit_of(sheet);
    double peak = exit->bounded ? exit->gradient.value : unbounded_rise * exit->mean.value;
    if (course->exit_count > 0 && exit->mean.present) {
        peak = fmax(peak, 1.5 * exit->mean.value);
    }
    return peak;
}

static void choose_scale(const usi_sheet *sheet, const usi_course *course, usi_panel *panel)
{
    const us_exit_result *exit = exit_of(sheet);
    double peak = find_peak(sheet, course);
    double critical = exit->critical.present ? exit->critical.value : 0;
    panel->bottom = 0;
    panel->top = 1.18 * peak;
    if (!(peak > 0)) {
        panel->top = critical > 0 ? 1.2 * critical : 1;
    } else if (critical < critical_most * peak) {
        panel->top = fmax(panel->top, 1.12 * critical);
    }
}

/* What both scales are: that of the distances as near to its middle as there is room. */
static void title_panel(usi_sheet *sheet, const usi_panel *panel, double middle)
{
    usi_type type = usi_type_plain(12, USI_ANCHOR_MIDDLE);
    bool slopes = usi_line_slopes(usi_section_downstream_bed(sheet->section));
    usi_phrase words =
        usi_phrase_print("distance %sfrom the toe, %s", slopes ? "" : "along the bed ",
                         sheet->section->units.length->name);
    double y = panel->box.top - title_rise;
    double half = usi_scene_measure(&sheet->scene, words.text, type, 0, y).right;
    usi_phrase title =
        usi_panel_title(slopes ? "gradient out of the bed" : "upward gradient", panel->top);
    usi_type left = usi_type_plain(12, USI_ANCHOR_LEFT);
    double taken = usi_scene_measure(&sheet->scene, title.text, left, 14, y).right;
    usi_scene_text(&sheet->scene, title.text, left, 14, y);
    middle = fmax(taken + 20 + half, fmin(USI_PAGE_WIDTH - 14 - half, middle));
    usi_scene_text(&sheet->scene, words.text, type, middle, y);
}

/* Distances from the toe, on the panel's upper edge. */
static void toe_scale(usi_sheet *sheet, const usi_panel *panel)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double unit_m = section->units.length->factor;
    double toe_m = usi_section_toe_x(section);
    double away = section->flows_left ? -1 : 1;
    double toe_x = usi_view_page(view, toe_m, 0).x_m;
    double far_x = usi_exit_far_x(sheet);
    double reach = away * (far_x - toe_x) * usi_view_unit_x(view) / unit_m;
    if (!(reach > 0)) {
        return;
    }
    double step = usi_scale_step(reach, fmax(1, floor(fabs(far_x - toe_x) / 80)));
    int decimals = usi_scale_decimals(step);
    for (double k = 0; k * step <= reach * (1 + 1e-9); k++) {
        double x = usi_view_page(view, toe_m + away * k * step * unit_m, 0).x_m;
        usi_sheet_line(sheet, USI_SPACE_PAGE, (usi_point){x, panel->box.top - 6},
                       (usi_point){x, panel->box.top}, usi_look_line(usi_ink_dark, 1));
        usi_scene_text(&sheet->scene, usi_phrase_fixed(k * step, decimals).text,
                       usi_type_plain(12, USI_ANCHOR_MIDDLE), x, panel->box.top - 15);
    }
    title_panel(sheet, panel, 0.5 * (toe_x + far_x));
}

/* A line up from every unbounded point. */
static void draw_unbounded(usi_sheet *sheet, const usi_panel *panel, const usi_course *course)
{
    for (size_t e = 0; e < course->exit_count; e++) {
        usi_point low = usi_panel_at(sheet, panel, course->exits[e].at.x_m, 0);
        if (low.x_m <= panel->box.left || low.x_m >= panel->box.right) {
            continue;
        }
        usi_point high = {low.x_m, panel->box.top + 1};
        usi_point ends[2] = {low, high};
        usi_panel_line(sheet, ends, 2, unbounded_look());
        usi_panel_arrow(sheet, (usi_point){low.x_m, high.z_m + 12}, high, 1.1);
    }
}

/* The critical gradient of the soil along each stretch of the bed. */
static void draw_critical(usi_sheet *sheet, const usi_panel *panel, const usi_course *course)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double water = section->water_unit_weight_n_m3;
    for (size_t i = 0; i < course->count;) {
        size_t first = i;
        while (i < course->count && course->points[i].soil == course->points[first].soil) {
            i++;
        }
        const usi_soil *soil = &section->soils[course->points[first].soil];
        double value = (soil->unit_weight_n_m3 - water) / water;
        double from_m = fmax(course->points[first].x_m, view->low.x_m);
        double to_m = fmin(course->points[i - 1].x_m, view->high.x_m);
        if (soil->weighs && value < panel->top && from_m < to_m) {
            usi_point ends[2] = {usi_panel_at(sheet, panel, from_m, value),
                                 usi_panel_at(sheet, panel, to_m, value)};
            usi_panel_line(sheet, ends, 2, critical_look());
        }
    }
}

/* Gives the gradient at the upper edge. */
static double draw_panel(usi_sheet *sheet, const usi_course *course)
{
    usi_box plot = sheet->scene.view.plot;
    usi_panel panel = {
        .box = {plot.left, plot.top - panel_gap - panel_height, plot.right, plot.top - panel_gap}};
    choose_scale(sheet, course, &panel);
    usi_box wiped = {0, 0, USI_PAGE_WIDTH, plot.top - 1};
    usi_scene_open(&sheet->scene, wiped);
    usi_panel_frame(sheet, &panel, 0, panel.top);
    toe_scale(sheet, &panel);
    if (flows(sheet)) {
        usi_exit_curve(sheet, &panel, course);
        draw_unbounded(sheet, &panel, course);
    }
    draw_critical(sheet, &panel, course);
    usi_exit_names(sheet, &panel, course);
    return panel.top;
}

static void say_factor(usi_sheet *sheet, usi_column *at, double top)
{
    const us_exit_result *exit = exit_of(sheet);
    if (!exit->critical.present) {
        usi_caption_say(sheet, at, "%s has no unit weight: no critical gradient",
                        usi_phrase_name(exit->soil, 22).text);
        return;
    }
    const char *where = exit->critical.value < top ? "" : ", above the diagram";
    usi_caption_say(sheet, at, "C%s%s", usi_exit_say_critical(sheet).text + 1, where);
    if (exit->piping_factor.present) {
        usi_caption_say(sheet, at, "Piping factor %s", usi_phrase_value(exit->piping_factor).text);
    }
}

static void caption(usi_sheet *sheet, const usi_course *course, double top)
{
    usi_column left = usi_caption_left(sheet);
    usi_column right = usi_caption_right(sheet);
    if (flows(sheet)) {
        usi_caption_exit(sheet, &left);
    } else {
        bool level = !(sheet->result->head_difference_m > 0) && sheet->section->situation == NULL;
        usi_caption_say(sheet, &left, "No water leaves the bed: %s",
                        exit_of(sheet)->enters ? "it enters there"
                        : level                ? "it stands level on both sides"
                                               : "none can pass");
    }
    say_factor(sheet, &left, top);
    if (flows(sheet)) {
        usi_caption_line(sheet, &right, usi_look_line(usi_ink_shore, 2),
                         "gradient with which water leaves the bed");
    }
    if (exit_of(sheet)->critical.present && exit_of(sheet)->critical.value < top) {
        usi_caption_line(sheet, &right, critical_look(), "critical gradient of the soil there");
    }
    if (course->exit_count > 0) {
        usi_caption_line(sheet, &right, unbounded_look(),
                         "no finite gradient: the curve is cut off");
    }
    usi_caption_window(sheet, &right);
    usi_caption_end(sheet, fmax(left.y, right.y));
}

us_status usi_diagram_exit(usi_sheet *sheet)
{
    us_status status = choose_window(sheet);
    if (status != US_OK) {
        return status;
    }
    usi_course course;
    status = usi_course_exit(sheet, &sheet->window, &course);
    if (status != US_OK) {
        return status;
    }
    usi_sheet_lay_out(sheet, panel_head + panel_height + panel_gap - 22, 0);
    usi_sheet_ground(sheet);
    usi_sheet_picture(sheet);
    double top = draw_panel(sheet, &course);
    usi_sheet_names(sheet);
    caption(sheet, &course, top);
    usi_course_clear(&course);
    return sheet->scene.status;
}
