/* us_depth_draw(): quantities and factors against the level of a tip, panel by panel. */
#include <math.h>

#include "draw/chart.h"
#include "draw/depth_panel.h"
#include "model/scale.h"
#include "undersill/depth.h"

enum { PANELS = 6, ACROSS = 2 };
static const double panel_width = 412;
static const double panel_height = 168;
static const double empty_height = 24;
static const double panel_gap_x = 70;
static const double panel_gap_y = 62;
static const double first_x = 66;
static const double first_y = 112;
static const double line_height = 19;

static us_value limit_of(usi_requirement limit)
{
    return (us_value){limit.value, 0.0, limit.given};
}

/* Some water cases have the mean in place of a gradient that is unbounded. */
static const char *exit_title(const us_depth *depth)
{
    size_t shown = usi_depth_lines(depth);
    size_t gradients = 0;
    for (size_t w = 0; w < shown; w++) {
        gradients += usi_depth_has_gradient(depth, w) ? 1 : 0;
    }
    if (gradients == 0) {
        return "Mean exit gradient, upward";
    }
    return gradients == shown ? "Exit gradient, upward"
                              : "Exit gradient, upward (mean where unbounded)";
}

static void lay_panels(const us_depth *depth, const usi_scale *scale, usi_depth_panel *panels)
{
    const usi_requirements *require = &depth->section->require;
    const us_value none = {0.0, 0.0, false};
    const usi_depth_panel all[PANELS] = {
        {.title = exit_title(depth), .size = 1.0, .what = USI_DEPTH_EXIT, .limit = none},
        {.title = "Flow", .unit = scale->flow, .size = scale->flow_m2_s, .what = USI_DEPTH_FLOW},
        {.title = "Factor against piping",
         .size = 1.0,
         .what = USI_DEPTH_PIPING,
         .limit = limit_of(require->piping)},
        {.title = "Uplift on the underside",
         .unit = scale->force,
         .size = scale->force_n_m,
         .what = USI_DEPTH_FORCE},
        {.title = "Factor against heave",
         .size = 1.0,
         .what = USI_DEPTH_HEAVE,
         .limit = limit_of(require->heave)},
        {.title = "Factor against uplift",
         .size = 1.0,
         .what = USI_DEPTH_UPLIFT,
         .limit = limit_of(require->uplift)}};
    for (int p = 0; p < PANELS; p++) {
        panels[p] = all[p];
        panels[p].unit = panels[p].unit != NULL ? panels[p].unit : "";
    }
}

/* Places the panels, two in a row; a row without any value is low. Returns where the last ends. */
static double place_panels(const us_depth *depth, usi_depth_panel *panels)
{
    double top = first_y;
    for (int p = 0; p < PANELS; p += ACROSS) {
        bool any = false;
        for (int k = p; k < p + ACROSS; k++) {
            any = any || usi_depth_panel_has_values(depth, &panels[k]);
        }
        double height = any ? panel_height : empty_height;
        for (int k = p; k < p + ACROSS; k++) {
            double left = first_x + (k - p) * (panel_width + panel_gap_x);
            panels[k].box = (usi_box){left, top, left + panel_width, top + height};
        }
        top += height + (any ? panel_gap_y : panel_gap_y / 2);
    }
    return top;
}

static void head(const us_depth *depth, usi_scene *scene)
{
    const us_section *section = depth->section;
    usi_type title = usi_type_plain(18, USI_ANCHOR_LEFT);
    title.bold = true;
    title.limit = USI_PAGE_WIDTH - 40;
    usi_scene_text(scene, section->title[0] != '\0' ? section->title : "Seepage section", title, 14,
                   26);
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.limit = USI_PAGE_WIDTH - 40;
    usi_phrase words = usi_phrase_print(
        "Wall %s: quantities against the level of its tip, in %s; to the right the wall is longer",
        usi_phrase_name(us_depth_wall(depth), 40).text, usi_scale_of(section).length);
    usi_scene_text(scene, words.text, type, 14, 52);
}

/* One line of the key: how a water case is drawn. */
static double key(const us_depth *depth, usi_scene *scene, double y)
{
    const us_section *section = depth->section;
    size_t shown = usi_depth_lines(depth);
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.limit = 240;
    for (size_t w = 0; w < shown; w++) {
        double x = 22 + 325 * (double)(w % 3);
        usi_point ends[2] = {{x, y}, {x + 46, y}};
        usi_scene_shape(scene, USI_SPACE_PAGE, ends, 2, usi_depth_line_look(w));
        usi_scene_text(scene, section->waters[w].name, type, x + 56, y);
        y += w % 3 == 2 || w + 1 == shown ? line_height : 0;
    }
    if (shown < section->water_count) {
        usi_phrase more =
            usi_phrase_print("%zu more water cases: see the table", section->water_count - shown);
        usi_scene_text(scene, more.text, type, 22, y);
        y += line_height;
    }
    return y;
}

static void foot(const us_depth *depth, double y, usi_scene *scene)
{
    y = key(depth, scene, y - 6);
    usi_type type = usi_type_plain(13, USI_ANCHOR_LEFT);
    type.limit = USI_PAGE_WIDTH - 40;
    if (depth->requires_any) {
        usi_scene_text(scene,
                       depth->passing.count > 0
                           ? "Shaded: every requirement is kept in every water case, those of the "
                             "table that have no panel here among them."
                           : "No level that was looked at keeps every requirement in every water "
                             "case.",
                       type, 14, y + 4);
        y += line_height;
        usi_scene_text(scene, "A factor that leaves its panel at the top is far above its limit.",
                       type, 14, y + 4);
        y += line_height;
    }
    type.slanted = true;
    type.size = 12;
    usi_scene_text(scene,
                   "Computed numbers inform the judgement of a licensed engineer; they cannot "
                   "take its place.",
                   type, 14, y + 8);
    scene->view.page_height = ceil(y + 26);
}

static us_status compose(const void *of, usi_scene *scene)
{
    const us_depth *depth = of;
    const usi_scale scale = usi_scale_of(depth->section);
    usi_depth_panel panels[PANELS];
    lay_panels(depth, &scale, panels);
    double end = place_panels(depth, panels);
    scene->view = (usi_scene_view){{0, 0}, {1, 1}, {0, 0, USI_PAGE_WIDTH, 1}, 1};
    head(depth, scene);
    for (int p = 0; p < PANELS; p++) {
        usi_depth_panel_draw(depth, &panels[p], scene);
    }
    foot(depth, end, scene);
    return scene->status;
}

us_status us_depth_draw(us_context *context, const us_depth *depth, const us_draw_options *given,
                        us_buffer **picture)
{
    if (context == NULL || depth == NULL || picture == NULL) {
        return US_ERROR_ARGUMENT;
    }
    us_draw_options options;
    us_status status = usi_chart_take(context, given, &options);
    if (status != US_OK) {
        return status;
    }
    usi_phrase subject =
        usi_phrase_print("tip level of wall %s", usi_phrase_name(us_depth_wall(depth), 40).text);
    const char *title = depth->section->title;
    usi_words words = {title[0] != '\0' ? title : "Seepage section", subject.text,
                       depth->section->sha256};
    return usi_chart_paint(context, compose, depth, &words, &options, picture);
}
