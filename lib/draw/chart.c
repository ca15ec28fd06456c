#include "draw/chart.h"

#include <math.h>
#include <stdio.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "draw/chart_page.h"
#include "draw/paint.h"

static const double plot_height = 430;
static const double line_height = 19;
/* Room between the outermost points and the frame, in decades. */
static const double margin = 0.12;
/* Decades below the largest value that are shown at most: less is rounding. */
static const double depth_most = 12;

typedef struct span {
    double low;
    double high;
} span;

bool usi_chart_shows(usi_chart_point point)
{
    return isfinite(point.x) && point.x > 0 && isfinite(point.y) && point.y > 0;
}

usi_point usi_chart_at(const usi_scene *scene, usi_chart_point point)
{
    return usi_view_page(&scene->view, log10(point.x), log10(point.y));
}

static void widen(span *range, double value)
{
    range->low = fmin(range->low, log10(value));
    range->high = fmax(range->high, log10(value));
}

/* Powers of ten from the smallest to the largest point each way. */
static void find_ranges(const usi_chart *chart, span *x, span *y)
{
    *x = (span){HUGE_VAL, -HUGE_VAL};
    *y = *x;
    for (size_t s = 0; s < chart->series_count; s++) {
        const usi_chart_series *series = &chart->series[s];
        for (size_t i = 0; i < series->count; i++) {
            if (usi_chart_shows(series->points[i])) {
                widen(x, series->points[i].x);
                widen(y, series->points[i].y);
            }
        }
    }
    if (x->low > x->high) {
        *x = (span){2, 5};
        *y = (span){-5, 0};
    }
    for (size_t i = 0; i < chart->limit_count; i++) {
        widen(y, chart->limits[i].y);
    }
    x->low -= margin;
    x->high += margin;
    y->high = ceil(y->high);
    y->low = fmax(floor(fmin(y->low, y->high - 1)), y->high - depth_most);
}

static usi_type plain(double size, usi_anchor anchor, double limit)
{
    usi_type type = usi_type_plain(size, anchor);
    type.limit = limit;
    return type;
}

/* A whole number with commas between thousands. */
static usi_phrase say_count(double value)
{
    usi_phrase digits = usi_phrase_fixed(value, 0);
    usi_phrase out = {""};
    size_t length = 0;
    while (digits.text[length] != '\0') {
        length++;
    }
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        if (i > 0 && (length - i) % 3 == 0) {
            out.text[used++] = ',';
        }
        out.text[used++] = digits.text[i];
    }
    return out;
}

/* Shares in per cent: 10 %, 0.01 %, and with a power of ten where that is short. */
static usi_phrase say_share(int power)
{
    int per_cent = power + 2;
    if (per_cent >= 0) {
        return usi_phrase_print("%s\u00a0%%", say_count(pow(10, per_cent)).text);
    }
    usi_phrase number = per_cent >= -4
                            ? usi_phrase_fixed(pow(10, per_cent), per_cent < 0 ? -per_cent : 0)
                            : usi_phrase_number(pow(10, per_cent), 1);
    return usi_phrase_print("%s\u00a0%%", number.text);
}

static void lay_out(const usi_chart *chart, usi_scene *scene)
{
    span x;
    span y;
    find_ranges(chart, &x, &y);
    double widest = 0;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    for (int power = (int)y.low; power <= (int)y.high; power++) {
        double wide = usi_scene_measure(scene, say_share(power).text, type, 0, 0).right;
        widest = fmax(widest, wide);
    }
    usi_scene_view *view = &scene->view;
    view->low = (usi_point){x.low, y.low};
    view->high = (usi_point){x.high, y.high};
    view->plot.left = 28 + widest;
    view->plot.right = USI_PAGE_WIDTH - 26 - usi_chart_name_room(chart, scene);
    view->plot.top = 92;
    view->plot.bottom = view->plot.top + plot_height;
}

static void head(const usi_chart *chart, usi_scene *scene)
{
    usi_type title = plain(18, USI_ANCHOR_LEFT, USI_PAGE_WIDTH - 40);
    title.bold = true;
    usi_scene_text(scene, chart->title, title, 14, 26);
    usi_scene_text(scene, chart->subtitle, plain(13, USI_ANCHOR_LEFT, USI_PAGE_WIDTH - 40), 14, 52);
    usi_scene_text(scene, chart->up, plain(12, USI_ANCHOR_LEFT, USI_PAGE_WIDTH - 40), 14, 76);
}

static void rule(usi_scene *scene, usi_point from, usi_point to, usi_look look)
{
    usi_point ends[2] = {from, to};
    usi_scene_shape(scene, USI_SPACE_PAGE, ends, 2, look);
}

static usi_look look_of(double grey, double width)
{
    return usi_look_line((usi_ink){grey, grey, grey + 0.01, 1}, width);
}

static const double grey_decade = 0.80;
static const double grey_between = 0.93;

static void upright(usi_scene *scene, double power, double grey)
{
    usi_box plot = scene->view.plot;
    double x = usi_view_page(&scene->view, power, scene->view.low.z_m).x_m;
    rule(scene, (usi_point){x, plot.top}, (usi_point){x, plot.bottom}, look_of(grey, 1));
}

static void level(usi_scene *scene, double power, double grey)
{
    usi_box plot = scene->view.plot;
    double y = usi_view_page(&scene->view, scene->view.low.x_m, power).z_m;
    rule(scene, (usi_point){plot.left, y}, (usi_point){plot.right, y}, look_of(grey, 1));
}

static void tick_across(usi_scene *scene, double value)
{
    const usi_scene_view *view = &scene->view;
    usi_point at = usi_view_page(view, log10(value), view->low.z_m);
    rule(scene, at, (usi_point){at.x_m, at.z_m + 6}, usi_look_line(usi_ink_dark, 1));
    usi_scene_text(scene, say_count(value).text, usi_type_plain(12, USI_ANCHOR_MIDDLE), at.x_m,
                   at.z_m + 17);
}

/* Where few powers of ten are in view, 2 and 5 times them are numbered as well. */
static void scale_across(usi_scene *scene)
{
    const usi_scene_view *view = &scene->view;
    bool few = view->high.x_m - view->low.x_m < 2.6;
    for (int power = (int)floor(view->low.x_m); power <= (int)view->high.x_m; power++) {
        for (int digit = 1; digit <= 9; digit++) {
            double value = digit * pow(10, power);
            double at = log10(value);
            if (at < view->low.x_m || at > view->high.x_m) {
                continue;
            }
            upright(scene, at, digit == 1 ? grey_decade : grey_between);
            if (value >= 1 && (digit == 1 || (few && (digit == 2 || digit == 5)))) {
                tick_across(scene, value);
            }
        }
    }
}

static void scale_up(usi_scene *scene)
{
    const usi_scene_view *view = &scene->view;
    for (int power = (int)view->low.z_m; power <= (int)view->high.z_m; power++) {
        level(scene, power, grey_decade);
        for (int digit = 2; digit <= 9 && power < (int)view->high.z_m; digit++) {
            level(scene, power + log10(digit), grey_between);
        }
        usi_point at = usi_view_page(view, view->low.x_m, power);
        rule(scene, (usi_point){at.x_m - 6, at.z_m}, at, usi_look_line(usi_ink_dark, 1));
        usi_scene_text(scene, say_share(power).text, usi_type_plain(12, USI_ANCHOR_RIGHT),
                       at.x_m - 10, at.z_m);
    }
}

static void frame(const usi_chart *chart, usi_scene *scene)
{
    usi_box plot = scene->view.plot;
    scale_across(scene);
    scale_up(scene);
    usi_point corners[4] = {{plot.left, plot.top},
                            {plot.right, plot.top},
                            {plot.right, plot.bottom},
                            {plot.left, plot.bottom}};
    usi_look look = usi_look_line(usi_ink_dark, 1);
    look.closed = true;
    usi_scene_shape(scene, USI_SPACE_PAGE, corners, 4, look);
    usi_scene_text(scene, chart->across, usi_type_plain(12, USI_ANCHOR_MIDDLE),
                   0.5 * (plot.left + plot.right), plot.bottom + 36);
}

/* Marks and names of the series that have none at their ends. */
static double key(const usi_chart *chart, usi_scene *scene, double y)
{
    static const double starts[] = {22, 350, 678};
    enum { COLUMNS = sizeof starts / sizeof starts[0] };
    size_t column = 0;
    for (size_t s = 0; s < chart->series_count; s++) {
        if (chart->series[s].joined) {
            continue;
        }
        if (column == COLUMNS) {
            column = 0;
            y += line_height;
        }
        double x = starts[column++];
        usi_chart_mark(chart, scene, s, (usi_point){x, y});
        usi_scene_text(scene, chart->series[s].name, plain(13, USI_ANCHOR_LEFT, 290), x + 14, y);
    }
    return column > 0 ? y + line_height + 6 : y;
}

static void foot(const usi_chart *chart, usi_scene *scene)
{
    double y = key(chart, scene, scene->view.plot.bottom + 64);
    for (size_t i = 0; i < chart->remark_count; i++) {
        usi_scene_text(scene, chart->remarks[i], plain(13, USI_ANCHOR_LEFT, USI_PAGE_WIDTH - 40),
                       14, y);
        y += line_height;
    }
    usi_type type = plain(12, USI_ANCHOR_LEFT, USI_PAGE_WIDTH - 40);
    type.slanted = true;
    usi_scene_text(scene,
                   "Computed numbers inform the judgement of a licensed engineer; they cannot "
                   "take its place.",
                   type, 14, y + 8);
    scene->view.page_height = ceil(y + 26);
}

us_status usi_chart_compose(const usi_chart *chart, usi_scene *scene)
{
    lay_out(chart, scene);
    head(chart, scene);
    frame(chart, scene);
    usi_chart_draw_series(chart, scene);
    usi_chart_name_series(chart, scene);
    usi_chart_draw_limits(chart, scene);
    usi_chart_draw_slopes(chart, scene);
    foot(chart, scene);
    return scene->status;
}

us_status usi_chart_take(us_context *context, const us_draw_options *given,
                         us_draw_options *options)
{
    enum { NARROWEST = 900, WIDEST = 6000 };
    const char *wrong = NULL;
    *options = (us_draw_options)US_DRAW_OPTIONS_INIT;
    if (given != NULL && !usi_options_take(given, options, sizeof *options)) {
        wrong = "draw options of a later release, or never initialised";
    } else if (options->format != US_DRAW_PNG && options->format != US_DRAW_SVG &&
               options->format != US_DRAW_PDF) {
        wrong = "no such format of a picture";
    } else if (options->format == US_DRAW_PNG &&
               (options->width_px < NARROWEST || options->width_px > WIDEST)) {
        wrong = "a PNG is 900 to 6000 pixels wide";
    }
    if (wrong == NULL) {
        return US_OK;
    }
    usi_context_report(context, US_ERROR, NULL, NULL, "%s", wrong);
    return US_ERROR_ARGUMENT;
}

us_status usi_chart_paint(us_context *context, usi_composer compose, const void *of,
                          const usi_words *words, const us_draw_options *options,
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
        status = compose(of, &scene);
    }
    if (status == US_OK) {
        status = usi_context_pulse(context, "painting", 0, 0.0);
    }
    if (status == US_OK) {
        status = usi_picture_write(&scene, words, options->format, options->width_px, picture);
    }
    usi_scene_clear(&scene);
    return status;
}

static us_status compose(const void *chart, usi_scene *scene)
{
    return usi_chart_compose(chart, scene);
}

us_status usi_chart_write(us_context *context, const usi_chart *chart,
                          const us_draw_options *options, us_buffer **picture)
{
    usi_words words = {chart->title, chart->subtitle,
                       chart->digest != NULL ? chart->digest : "none"};
    return usi_chart_paint(context, compose, chart, &words, options, picture);
}
