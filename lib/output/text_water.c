#include <math.h>
#include <stdio.h>

#include "output/text_page.h"

double usi_page_finest(const usi_page *to, double size)
{
    const double share = 0.1;
    return share * to->solution->accuracy * fabs(size);
}

const char *usi_page_plain(char *buffer, double value, double unit)
{
    enum { DIGITS = 7 };
    return usi_number_write(buffer, value / unit, DIGITS);
}

void usi_page_figure(const usi_page *to, const char *label, const usi_figure *figure,
                     const char *unit)
{
    usi_words_pad(to->out, label, USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, figure->value, USI_VALUE_WIDTH, 1);
    if (unit[0] != '\0' || figure->error[0] != '\0') {
        usi_words_pad(to->out, figure->error, USI_ERROR_WIDTH, 1);
        usi_buffer_print(to->out, "%s%s", unit[0] != '\0' ? "  " : "", unit);
    }
    usi_buffer_add_text(to->out, "\n");
}

void usi_page_row(const usi_page *to, const char *label, us_value value, const char *unit,
                  const char *absent)
{
    usi_figure figure = usi_figure_of(value, usi_page_finest(to, value.value), absent);
    usi_page_figure(to, label, &figure, value.present ? unit : "");
}

/* A line below a value that has not reached the accuracy, or only on its scale. */
static void add_shortcoming(const usi_page *to, us_accuracy accuracy, const char *scale)
{
    if (accuracy == US_ACCURACY_MISSED) {
        usi_words_wrap(to->out, "  ", "NOT CONVERGED");
    } else if (accuracy == US_ACCURACY_ON_SCALE) {
        usi_buffer_print(to->out, "  tends to zero: error held to the scale of %s\n", scale);
    }
}

static void add_title(const usi_page *to, const us_water_result *water)
{
    char upstream[USI_NUMBER_ROOM];
    char downstream[USI_NUMBER_ROOM];
    char difference[USI_NUMBER_ROOM];
    double unit = to->scale->length_m;
    usi_buffer_add_text(to->out, "\n");
    size_t rule = USI_PAGE_WIDTH;
    while (rule-- > 0) {
        usi_buffer_add_text(to->out, "-");
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_wrap(to->out, "Water case ", water->name);
    const char *length = to->scale->length;
    char levels[256];
    (void)snprintf(levels, sizeof levels,
                   "upstream %s %s, downstream %s %s%s, head difference %s %s",
                   usi_page_plain(upstream, water->upstream_m, unit), length,
                   usi_page_plain(downstream, water->downstream_m, unit), length,
                   water->at_bed ? " (at the bed)" : "",
                   usi_page_plain(difference, water->head_difference_m, unit), length);
    usi_words_wrap(to->out, "  ", levels);
    usi_page_flood(to, water);
}

/* One bound, moved outwards to a whole number of steps so that it stays one. */
static usi_figure bound_of(double value, double step, bool upper)
{
    const double slack = 1e-6; /* of a step: 2.4 stays 2.4 */
    double steps = upper ? ceil(value / step - slack) : floor(value / step + slack);
    /* An error of two steps has the value written to the step. */
    us_value bound = {.value = steps * step, .error = 2.0 * step, .present = true};
    return usi_figure_of(bound, 0.0, "");
}

/* To the second digit of their gap; moved outwards even where they only estimate. */
static void add_bounds(const usi_page *to, const us_flow_result *flow)
{
    double unit = to->scale->flow_m2_s;
    double lower = flow->lower_m2_s / unit;
    double upper = flow->upper_m2_s / unit;
    double size = fmax(fabs(lower), fabs(upper));
    if (lower == 0.0 || !(size > 0.0)) {
        return; /* nothing flows */
    }
    if (!flow->certified && (upper - lower) * unit < flow->rate_m2_s.error) {
        usi_words_wrap(to->out, "  ", "an estimate, without bounds");
        return;
    }
    double gap = fmax(upper - lower, 1e-5 * size);
    double step = pow(10.0, floor(log10(gap)) - 1.0);
    usi_buffer_print(to->out, "  %s %s and %s %s\n", flow->certified ? "bounded by" : "estimates:",
                     bound_of(lower, step, false).value, bound_of(upper, step, true).value,
                     to->scale->flow);
}

static void add_flow(const usi_page *to, const us_flow_result *flow)
{
    double unit = to->scale->flow_m2_s;
    usi_page_row(to, "Flow, per unit width", usi_scale_value(flow->rate_m2_s, unit),
                 to->scale->flow, "unbounded");
    if (!flow->bounded) {
        return; /* a note says why */
    }
    add_shortcoming(to, flow->accuracy, "k H");
    add_bounds(to, flow);
    double width_m = to->solution->section->width_m;
    if (width_m > 0.0) {
        char label[96];
        char width[USI_NUMBER_ROOM];
        (void)snprintf(label, sizeof label, "  over %s %s of channel",
                       usi_page_plain(width, width_m, to->scale->length_m), to->scale->length);
        usi_page_row(to, label, usi_scale_value(flow->total_m3_s, to->scale->total_m3_s),
                     to->scale->total, "-");
    }
}

static void add_place(const usi_page *to, const us_exit_result *exit)
{
    char x[USI_NUMBER_ROOM];
    char level[USI_NUMBER_ROOM];
    double unit = to->scale->length_m;
    char text[512];
    (void)snprintf(text, sizeof text, "at x = %s %s, level %s %s%s%.400s",
                   usi_page_plain(x, exit->x_m, unit), to->scale->length,
                   usi_page_plain(level, exit->level_m, unit), to->scale->length,
                   exit->soil != NULL ? ", in " : "", exit->soil != NULL ? exit->soil : "");
    usi_words_wrap(to->out, "  ", text);
}

/* How the gradient falls along the bed: where it is unbounded at the exit, and where
 * its value there holds for that spot alone. */
static void add_profile(const usi_page *to, const us_exit_result *exit)
{
    if (exit->profile_count < 2 || (exit->bounded && !exit->falls_fast)) {
        return;
    }
    double unit = to->scale->length_m;
    usi_words_wrap(to->out, "  ",
                   exit->falls_fast ? "CAUTION: it falls fast along the bed:" : "along the bed:");
    for (size_t i = 1; i < exit->profile_count; i++) {
        char label[96];
        char away[USI_NUMBER_ROOM];
        double away_m = fabs(exit->profile[i].x_m - exit->profile[0].x_m);
        (void)snprintf(label, sizeof label, "    %s %s from there",
                       usi_page_plain(away, away_m, unit), to->scale->length);
        usi_page_profile_row(to, label, &exit->profile[i]);
    }
}

static void add_exit(const usi_page *to, const us_exit_result *exit)
{
    if (!exit->present) {
        usi_words_wrap(to->out, "Exit gradient: ", "none, as no downstream bed is in use");
        return;
    }
    if (exit->enters) {
        usi_words_wrap(to->out, "Exit gradient: ", "none, as water enters the bed downstream");
        return;
    }
    const char *scale = "H over the depth of the mean";
    usi_page_row(to, "Exit gradient, upward", exit->gradient, "",
                 exit->bounded ? "-" : "unbounded");
    if (exit->bounded) {
        add_shortcoming(to, exit->accuracy, scale);
    }
    add_place(to, exit);
    if (exit->mean.present) {
        char label[96];
        char depth[USI_NUMBER_ROOM];
        (void)snprintf(label, sizeof label, "  mean over the upper %s %s",
                       usi_page_plain(depth, exit->mean_depth_m, to->scale->length_m),
                       to->scale->length);
        usi_page_row(to, label, exit->mean, "", "-");
    }
    if (!exit->bounded) {
        add_shortcoming(to, exit->accuracy, scale);
    }
    if (exit->with_cutoff.present) {
        char label[96];
        char depth[USI_NUMBER_ROOM];
        (void)snprintf(label, sizeof label, "  with a cut-off of %s %s there",
                       usi_page_plain(depth, exit->cutoff_m, to->scale->length_m),
                       to->scale->length);
        usi_page_row(to, label, exit->with_cutoff, "", "-");
    }
    if (to->flows) {
        add_profile(to, exit);
    }
    usi_page_row(to, "  critical gradient of the soil", exit->critical, "", "not known");
    usi_page_row(
        to, exit->bounded ? "Piping factor, critical / exit" : "Piping factor, critical / mean",
        exit->piping_factor, "", "none");
}

void usi_page_cell(const usi_page *to, us_value value, double unit, size_t width)
{
    us_value shown = usi_scale_value(value, unit);
    usi_figure figure = usi_figure_of(shown, usi_page_finest(to, shown.value), "-");
    usi_words_pad(to->out, figure.value, width, 1);
}

void usi_page_cell_error(const usi_page *to, us_value value, double unit, size_t width)
{
    us_value shown = usi_scale_value(value, unit);
    usi_figure figure = usi_figure_of(shown, usi_page_finest(to, shown.value), "-");
    usi_words_pad(to->out, figure.error, width, 1);
}

void usi_page_name(const usi_page *to, const char *name)
{
    enum { INDENT = 2 };
    usi_buffer_add_text(to->out, "  ");
    usi_words_pad(to->out, name, USI_NAME_WIDTH - INDENT, 0);
    if (usi_words_width(name) >= USI_NAME_WIDTH - INDENT) {
        usi_buffer_add_text(to->out, "\n");
        usi_words_pad(to->out, "", USI_NAME_WIDTH, 0);
    }
}

static void add_wall(const usi_page *to, const us_wall_result *wall)
{
    const us_value heads[] = {wall->upstream_face_top_m, wall->tip_m, wall->downstream_face_top_m};
    double error_m = usi_form_wall_error(wall);
    usi_figure shown = {"", ""};
    usi_page_name(to, wall->name);
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        us_value head = heads[i];
        head.error = error_m;
        usi_figure figure =
            usi_figure_of(usi_scale_value(head, to->scale->length_m), to->head_step, "-");
        usi_words_pad(to->out, figure.value, USI_HEAD_WIDTH, 1);
        if (head.present) {
            shown = figure;
        }
    }
    usi_words_pad(to->out, shown.error, USI_ERROR_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
}

static bool lacks_a_head(const us_water_result *water)
{
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        if (!wall->upstream_face_top_m.present || !wall->tip_m.present ||
            !wall->downstream_face_top_m.present) {
            return true;
        }
    }
    return false;
}

static void add_walls(const usi_page *to, const us_water_result *water)
{
    if (water->wall_count == 0) {
        return;
    }
    char label[64];
    (void)snprintf(label, sizeof label, "Heads at walls, %s", to->scale->length);
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, label, USI_NAME_WIDTH, 0);
    usi_words_pad(to->out, "upstream top", USI_HEAD_WIDTH, 1);
    usi_words_pad(to->out, "tip", USI_HEAD_WIDTH, 1);
    usi_words_pad(to->out, "downstream top", USI_HEAD_WIDTH, 1);
    usi_words_pad(to->out, "+/-", USI_ERROR_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
    for (size_t i = 0; i < water->wall_count; i++) {
        add_wall(to, &water->walls[i]);
    }
    if (lacks_a_head(water)) {
        usi_words_wrap(to->out, "  - : ", "no soil there; at a tip, sealed or going on below");
    }
}

/* What passes through walls that are not tight. */
static void add_through(const usi_page *to, const us_water_result *water)
{
    bool begun = false;
    for (size_t i = 0; i < water->wall_count; i++) {
        if (!water->walls[i].passes) {
            continue;
        }
        if (!begun) {
            usi_buffer_add_text(to->out, "\nFlow through walls, per unit width\n");
            begun = true;
        }
        char label[160];
        (void)snprintf(label, sizeof label, "  %.140s", water->walls[i].name);
        usi_page_row(to, label, usi_scale_value(water->walls[i].through_m2_s, to->scale->flow_m2_s),
                     to->scale->flow, "not known");
    }
}

static void add_piezometers(const usi_page *to, const us_water_result *water)
{
    if (water->piezometer_count == 0) {
        return;
    }
    char label[64];
    (void)snprintf(label, sizeof label, "Piezometers, %s", to->scale->length);
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, label, USI_NAME_WIDTH, 0);
    usi_words_pad(to->out, "head", USI_HEAD_WIDTH, 1);
    usi_words_pad(to->out, "+/-", USI_HEAD_WIDTH, 1);
    usi_words_pad(to->out, "above point", USI_HEAD_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
    for (size_t i = 0; i < water->piezometer_count; i++) {
        us_value head = usi_scale_value(water->piezometers[i].head_m, to->scale->length_m);
        us_value above = head;
        above.value -= to->solution->section->piezometers[i].at.z_m / to->scale->length_m;
        usi_figure figure = usi_figure_of(head, to->head_step, "outside");
        usi_figure column = usi_figure_of(above, to->head_step, "");
        usi_page_name(to, water->piezometers[i].name);
        usi_words_pad(to->out, figure.value, USI_HEAD_WIDTH, 1);
        usi_words_pad(to->out, figure.error, USI_HEAD_WIDTH, 1);
        usi_words_pad(to->out, column.value, USI_HEAD_WIDTH, 1);
        usi_buffer_add_text(to->out, "\n");
    }
}

static void add_columns(const usi_page *to)
{
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "", USI_LABEL_WIDTH, 0);
    usi_words_pad(to->out, "value", USI_VALUE_WIDTH, 1);
    usi_words_pad(to->out, "+/-", USI_ERROR_WIDTH, 1);
    usi_buffer_add_text(to->out, "  unit\n");
}

/* Some water moves: with equal levels nothing does but what drains and the like drive. */
static bool moves(const us_water_result *water)
{
    bool driven = water->drain_count > 0 || water->stretch_count > 0 || water->dry.present ||
                  water->base_flow_m2_s.present;
    return water->head_difference_m > 0.0 || driven;
}

void usi_form_water(us_buffer *out, const us_solution *solution, const usi_scale *scale,
                    const us_water_result *water)
{
    usi_page to = {out, solution, scale, 0.0, moves(water)};
    to.head_step = usi_page_finest(&to, water->head_difference_m / scale->length_m);
    add_title(&to, water);
    if (water->undermined != NULL) {
        usi_buffer_add_text(out, "\n");
        usi_words_wrap(out, "Undermined: ", water->undermined);
        usi_words_wrap(out, "  ", "nothing was solved for this case");
        return;
    }
    add_columns(&to);
    add_flow(&to, &water->flow);
    add_exit(&to, &water->exit);
    usi_page_uplift(&to, &water->uplift);
    usi_page_edges(&to, water);
    usi_page_exits(&to, water);
    add_walls(&to, water);
    add_through(&to, water);
    add_piezometers(&to, water);
    usi_page_heave(&to, water);
    usi_page_works(&to, water);
    usi_page_beside(&to, water);
    usi_page_checks(&to, water);
}
