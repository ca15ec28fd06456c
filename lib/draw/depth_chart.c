/* us_depth_draw(): quantities and factors against the level of a tip, panel by panel. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "draw/chart.h"
#include "draw/depth_panel.h"
#include "draw/paint.h"
#include "model/scale.h"
#include "undersill/depth.h"

enum { PANELS = 6, ACROSS = 2 };
static const double panel_width = 412;
static const double panel_height = 168;
static const double panel_gap_x = 70;
static const double panel_gap_y = 62;
static const double first_x = 66;
static const double first_y = 112;
static const double line_height = 19;

static us_value pick_flow(const us_water_result *water)
{
    return water->flow.rate_m2_s;
}

/* Its mean where the gradient has no bound. */
static us_value pick_exit(const us_water_result *water)
{
    return water->exit.bounded ? water->exit.gradient : water->exit.mean;
}

static us_value pick_force(const us_water_result *water)
{
    return water->uplift.force_n_m;
}

static us_value check_value(const us_water_result *water, const char *name)
{
    us_value found = {0.0, 0.0, false};
    for (size_t c = 0; c < water->check_count; c++) {
        const us_check_result *check = &water->checks[c];
        found = strcmp(check->name, name) == 0 ? check->value : found;
    }
    return found;
}

static us_value pick_piping(const us_water_result *water)
{
    return check_value(water, "piping");
}

static us_value pick_heave(const us_water_result *water)
{
    return check_value(water, "heave");
}

static us_value pick_floating(const us_water_result *water)
{
    return check_value(water, "uplift");
}

static us_value limit_of(usi_requirement limit)
{
    return (us_value){limit.value, 0.0, limit.given};
}

static void lay_panels(const us_depth *depth, const usi_scale *scale, usi_depth_panel *panels)
{
    const usi_requirements *require = &depth->section->require;
    const us_value none = {0.0, 0.0, false};
    const usi_depth_panel all[PANELS] = {
        {.title = "Exit gradient, upward", .size = 1.0, .pick = pick_exit, .limit = none},
        {.title = "Flow", .unit = scale->flow, .size = scale->flow_m2_s, .pick = pick_flow},
        {.title = "Factor against piping",
         .size = 1.0,
         .pick = pick_piping,
         .limit = limit_of(require->piping)},
        {.title = "Uplift on the underside",
         .unit = scale->force,
         .size = scale->force_n_m,
         .pick = pick_force},
        {.title = "Factor against heave",
         .size = 1.0,
         .pick = pick_heave,
         .limit = limit_of(require->heave)},
        {.title = "Factor against uplift",
         .size = 1.0,
         .pick = pick_floating,
         .limit = limit_of(require->uplift)}};
    for (int p = 0; p < PANELS; p++) {
        int row = p / ACROSS;
        double left = first_x + (p % ACROSS) * (panel_width + panel_gap_x);
        double top = first_y + row * (panel_height + panel_gap_y);
        panels[p] = all[p];
        panels[p].unit = panels[p].unit != NULL ? panels[p].unit : "";
        panels[p].box = (usi_box){left, top, left + panel_width, top + panel_height};
    }
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
    size_t shown = section->water_count < USI_DEPTH_LINES ? section->water_count : USI_DEPTH_LINES;
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

static void foot(const us_depth *depth, usi_scene *scene)
{
    double y = key(depth, scene, first_y + 3 * (panel_height + panel_gap_y) - 6);
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
    }
    type.slanted = true;
    type.size = 12;
    usi_scene_text(scene,
                   "Computed numbers inform the judgement of a licensed engineer; they cannot "
                   "take its place.",
                   type, 14, y + 8);
    scene->view.page_height = ceil(y + 26);
}

static us_status compose(const us_depth *depth, usi_scene *scene)
{
    const usi_scale scale = usi_scale_of(depth->section);
    usi_depth_panel panels[PANELS];
    lay_panels(depth, &scale, panels);
    scene->view = (usi_scene_view){{0, 0}, {1, 1}, {0, 0, USI_PAGE_WIDTH, 1}, 1};
    head(depth, scene);
    for (int p = 0; p < PANELS; p++) {
        usi_depth_panel_draw(depth, &panels[p], scene);
    }
    foot(depth, scene);
    return scene->status;
}

static us_status draw(us_context *context, const us_depth *depth, const us_draw_options *options,
                      us_buffer **picture)
{
    usi_scene scene = {0};
    us_status status = usi_memory_afford(context, USI_ROOM_FOR_LETTERS);
    if (status == US_OK) {
        status = usi_scene_start(context, &scene);
    }
    if (status == US_OK) {
        status = usi_context_pulse(context, "drawing", 0, 0.0);
    }
    if (status == US_OK) {
        status = compose(depth, &scene);
    }
    if (status == US_OK) {
        usi_phrase subject = usi_phrase_print("tip level of wall %s",
                                              usi_phrase_name(us_depth_wall(depth), 40).text);
        const char *title = depth->section->title;
        usi_words words = {title[0] != '\0' ? title : "Seepage section", subject.text,
                           depth->section->sha256};
        status = usi_picture_write(&scene, &words, options->format, options->width_px, picture);
    }
    usi_scene_clear(&scene);
    return status;
}

us_status us_depth_draw(us_context *context, const us_depth *depth, const us_draw_options *given,
                        us_buffer **picture)
{
    if (context == NULL || depth == NULL || picture == NULL) {
        return US_ERROR_ARGUMENT;
    }
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        usi_context_report(context, US_ERROR, NULL, NULL,
                           "draw options of a later release, or never initialised");
        return US_ERROR_ARGUMENT;
    }
    us_status status = usi_chart_check(context, &options);
    return status == US_OK ? draw(context, depth, &options, picture) : status;
}
