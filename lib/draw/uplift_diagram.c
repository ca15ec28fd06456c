/* Water pressure along the underside, and the forces that come of it. */
#include <math.h>
#include <string.h>

#include "draw/caption.h"
#include "draw/diagram.h"
#include "draw/outline.h"
#include "quantity/uplift.h"

static const double panel_gap = 36;
static const double pressure_height = 180;
/* The larger of uplift and weight is drawn this long. */
static const double arrow_length = 74;
static const double arrow_least = 18;
static const double arrow_width = 4.5;
static const double least_above = 16;

static const usi_ink ink_pressure = {0.80, 0.88, 0.94, 1};
static const usi_ink ink_suction = {0.93, 0.92, 0.90, 1};

static usi_look pressure_look(void)
{
    return usi_look_line(usi_ink_shore, 2);
}

static usi_look suction_look(void)
{
    usi_look look = usi_look_line(usi_ink_quiet, 1.4);
    look.dash = 4;
    look.gap = 3;
    return look;
}

/* A diagram of forces: pressures downwards from the underside, since they push up. */
typedef struct forces {
    usi_panel panel;
    double most_pa;    /* largest pressure */
    double suction_pa; /* largest suction, 0 or more */
    double uplift;     /* lengths of the arrows, on the page */
    double weight;     /* 0 without one */
    const char *unit;
    double unit_pa;
} forces;

static void find_extremes(const usi_course *course, forces *of)
{
    of->most_pa = 0;
    of->suction_pa = 0;
    for (size_t i = 0; i < course->count; i++) {
        of->most_pa = fmax(of->most_pa, course->points[i].value);
        of->suction_pa = fmax(of->suction_pa, -course->points[i].value);
    }
}

static double arrow_of(double force, double largest)
{
    return force > 0 ? fmax(arrow_least, arrow_length * force / largest) : 0;
}

/* Heights: pressures below the line of the underside; suction and weight above. */
static double choose_heights(const usi_sheet *sheet, forces *of, double *above)
{
    const us_uplift_result *uplift = &sheet->result->uplift;
    double force = uplift->force_n_m.value;
    double weight = uplift->weight_n_m.present ? uplift->weight_n_m.value : 0;
    double largest = fmax(force, weight);
    of->uplift = arrow_of(force, largest);
    of->weight = arrow_of(weight, largest);
    double scale = pressure_height / fmax(of->most_pa, 1e-9);
    if (!(of->most_pa > 0)) {
        scale = of->suction_pa > 0 ? 60 / of->suction_pa : 1;
    }
    scale = fmin(scale, of->suction_pa > 0 ? 120 / of->suction_pa : scale);
    *above = fmax(least_above, of->suction_pa * scale + 12);
    *above = fmax(*above, of->weight > 0 ? of->weight + 12 : 0);
    double below = fmax(of->most_pa * scale + 14, of->uplift + 24);
    of->panel.top = -*above / scale;
    of->panel.bottom = below / scale;
    return *above + below;
}

/* Fills a stretch down to the line of the underside; thin lines close its ends. */
static void draw_stretch(usi_sheet *sheet, const forces *of, usi_outline *line, bool pressure)
{
    usi_scene *scene = &sheet->scene;
    size_t count = line->count;
    if (count < 2) {
        return;
    }
    double zero_y = usi_panel_at(sheet, &of->panel, 0, 0).z_m;
    usi_point ends[2][2] = {{line->points[0], {line->points[0].x_m, zero_y}},
                            {line->points[count - 1], {line->points[count - 1].x_m, zero_y}}};
    usi_outline_add(scene, line, ends[1][1].x_m, zero_y);
    usi_outline_add(scene, line, ends[0][1].x_m, zero_y);
    usi_scene_shape(scene, USI_SPACE_PAGE, line->points, line->count,
                    usi_look_area(pressure ? ink_pressure : ink_suction));
    usi_panel_line(sheet, line->points, count, pressure ? pressure_look() : suction_look());
    for (int i = 0; i < 2; i++) {
        usi_scene_shape(scene, USI_SPACE_PAGE, ends[i], 2,
                        usi_look_line(pressure ? usi_ink_shore : usi_ink_quiet, 0.9));
        usi_scene_shun_page(scene, ends[i], 2, USI_SHUN_LINE);
    }
}

/* Draws stretches of the course on one side of the line of the underside. */
static void draw_side(usi_sheet *sheet, const forces *of, const usi_course *course, double sign)
{
    usi_scene *scene = &sheet->scene;
    usi_outline line = {0};
    for (size_t i = 0; i + 1 < course->count; i++) {
        const usi_edge_point *a = &course->points[i];
        const usi_edge_point *b = a + 1;
        double va = sign * a->value;
        double vb = sign * b->value;
        if (va <= 0 && vb <= 0) {
            continue;
        }
        double cut = va * vb < 0 ? va / (va - vb) : 0;
        double from_m = va < 0 ? a->x_m + cut * (b->x_m - a->x_m) : a->x_m;
        double to_m = vb < 0 ? a->x_m + cut * (b->x_m - a->x_m) : b->x_m;
        usi_point p = usi_panel_at(sheet, &of->panel, from_m, sign * fmax(va, 0));
        usi_point q = usi_panel_at(sheet, &of->panel, to_m, sign * fmax(vb, 0));
        if (line.count == 0) {
            usi_outline_add(scene, &line, p.x_m, p.z_m);
        }
        usi_outline_add(scene, &line, q.x_m, q.z_m);
        if (i + 2 == course->count || vb <= 0) {
            draw_stretch(sheet, of, &line, sign > 0);
            line.count = 0;
        }
    }
    usi_outline_clear(&line);
}

/* The line of the underside, from end to end of the structure. */
static void draw_zero(usi_sheet *sheet, const forces *of)
{
    const us_section *section = sheet->section;
    usi_point ends[2] = {usi_panel_at(sheet, &of->panel, section->left_end_m, 0),
                         usi_panel_at(sheet, &of->panel, section->right_end_m, 0)};
    usi_panel_line(sheet, ends, 2, usi_look_line(usi_ink_dark, 2.4));
}

static void draw_forces(usi_sheet *sheet, const forces *of)
{
    const us_uplift_result *uplift = &sheet->result->uplift;
    if (of->uplift > 0 && uplift->x_m.present) {
        usi_point tip = usi_panel_at(sheet, &of->panel, uplift->x_m.value, 0);
        usi_panel_arrow(sheet, (usi_point){tip.x_m, tip.z_m + of->uplift},
                        (usi_point){tip.x_m, tip.z_m + 2}, arrow_width);
    }
    if (of->weight > 0) {
        double x_m = usi_structure_centroid_x(sheet->section);
        usi_point tip = usi_panel_at(sheet, &of->panel, x_m, 0);
        usi_panel_arrow(sheet, (usi_point){tip.x_m, tip.z_m - of->weight},
                        (usi_point){tip.x_m, tip.z_m - 2}, arrow_width);
    }
}

static void name_arrow(usi_sheet *sheet, const forces *of, size_t index, double x_m,
                       const char *words)
{
    static const double shares[] = {0.5, 0.25, 0.75, 1.0, 0.0};
    double length = index == 0 ? of->uplift : -of->weight;
    usi_point tip = usi_panel_at(sheet, &of->panel, x_m, 0);
    usi_wish wish = usi_panel_wish(&of->panel, USI_THING_FORCE, index, words);
    wish.type.bold = true;
    wish.gap = 14; /* nearer than that no line is needed */
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_spots spots = {0};
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        double y = tip.z_m + shares[i] * length;
        usi_spots_add(&spots, tip.x_m + half.x_m + 18, y, (double)i);
        usi_spots_add(&spots, tip.x_m - half.x_m - 18, y, 0.5 + (double)i);
    }
    usi_spots_ring(&spots, (usi_point){tip.x_m, tip.z_m + 0.7 * length}, half, 4);
    (void)usi_panel_label(sheet, &wish, &spots);
}

static void name_forces(usi_sheet *sheet, const forces *of)
{
    const us_uplift_result *uplift = &sheet->result->uplift;
    if (of->uplift > 0 && uplift->x_m.present) {
        usi_phrase words =
            usi_phrase_print("U %s", usi_phrase_force(sheet->section, uplift->force_n_m).text);
        name_arrow(sheet, of, 0, uplift->x_m.value, words.text);
    }
    if (of->weight > 0) {
        usi_phrase words =
            usi_phrase_print("W %s", usi_phrase_force(sheet->section, uplift->weight_n_m).text);
        name_arrow(sheet, of, 1, usi_structure_centroid_x(sheet->section), words.text);
    }
}

/* The middle of the stretch with the largest suction, and the pressure there. */
static double find_suction(const usi_course *course, double *pressure_pa)
{
    const usi_edge_point *points = course->points;
    size_t most = 0;
    for (size_t i = 0; i < course->count; i++) {
        most = points[i].value < points[most].value ? i : most;
    }
    size_t first = most;
    size_t last = most;
    while (first > 0 && points[first - 1].value < 0) {
        first--;
    }
    while (last + 1 < course->count && points[last + 1].value < 0) {
        last++;
    }
    double x_m = 0.5 * (points[first].x_m + points[last].x_m);
    size_t middle = first;
    while (middle < last && points[middle].x_m < x_m) {
        middle++;
    }
    *pressure_pa = points[middle].value;
    return x_m;
}

static void name_suction(usi_sheet *sheet, const forces *of, const usi_course *course)
{
    double least_pa = 0;
    double x_m = find_suction(course, &least_pa);
    if (!sheet->result->uplift.suction || !(least_pa < 0)) {
        return;
    }
    usi_wish wish =
        usi_panel_wish(&of->panel, USI_THING_SUCTION, 0, "suction, counted as no pressure");
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_point at = usi_panel_at(sheet, &of->panel, x_m, 0.5 * least_pa);
    usi_spots spots = {0};
    for (int i = 0; i < 12; i++) {
        double shift = half.x_m + 8 + 12 * i;
        usi_spots_lead(&spots, (usi_point){at.x_m + shift, at.z_m}, at, i);
        usi_spots_lead(&spots, (usi_point){at.x_m - shift, at.z_m}, at, i);
    }
    usi_spots_ring(&spots, at, half, 4);
    wish.dot = true;
    (void)usi_panel_label(sheet, &wish, &spots);
}

static void draw_panel(usi_sheet *sheet, forces *of, const usi_course *course)
{
    usi_box plot = sheet->scene.view.plot;
    usi_panel *panel = &of->panel;
    panel->box = (usi_box){plot.left, plot.bottom + panel_gap, plot.right, sheet->foot};
    usi_scene_open(&sheet->scene, (usi_box){0, plot.bottom + 1, USI_PAGE_WIDTH, sheet->foot});
    usi_panel shown = *panel;
    shown.top /= of->unit_pa;
    shown.bottom /= of->unit_pa;
    usi_phrase words = usi_phrase_print("water pressure on the underside, %s", of->unit);
    usi_scene_text(&sheet->scene, usi_panel_title(words.text, shown.bottom).text,
                   usi_type_plain(12, USI_ANCHOR_LEFT), 14, panel->box.top - 18);
    usi_panel_frame(sheet, &shown, -of->suction_pa / of->unit_pa, shown.bottom);
    draw_side(sheet, of, course, 1);
    draw_side(sheet, of, course, -1);
    draw_zero(sheet, of);
    draw_forces(sheet, of);
    name_forces(sheet, of);
    name_suction(sheet, of, course);
}

static void say_balance(usi_sheet *sheet, usi_column *at)
{
    const us_section *section = sheet->section;
    const us_uplift_result *uplift = &sheet->result->uplift;
    if (!uplift->weight_n_m.present) {
        usi_caption_say(sheet, at, "No weight: the structure lacks a top or a unit weight");
        return;
    }
    usi_caption_say(sheet, at, "Weight of the structure W %s",
                    usi_phrase_force(section, uplift->weight_n_m).text);
    bool watered = uplift->water_on_top_n_m.value > 0;
    if (watered) {
        usi_caption_say(sheet, at, "Weight of the water on it Ww %s",
                        usi_phrase_force(section, uplift->water_on_top_n_m).text);
    }
    if (!uplift->net_n_m.present) {
        return;
    }
    us_value apart = uplift->net_n_m;
    bool lifts = apart.value > 0;
    apart.value = fabs(apart.value);
    usi_caption_say(sheet, at, "%s by %s",
                    lifts ? "Uplift exceeds weight" : "Weight exceeds uplift",
                    usi_phrase_force(section, apart).text);
    if (uplift->factor.present) {
        usi_caption_say(sheet, at, watered ? "Factor (W + Ww) / U %s" : "Factor W / U %s",
                        usi_phrase_value(uplift->factor).text);
    }
}

static void caption(usi_sheet *sheet, const forces *of)
{
    const us_section *section = sheet->section;
    const us_uplift_result *uplift = &sheet->result->uplift;
    usi_column left = usi_caption_left(sheet);
    usi_column right = usi_caption_right(sheet);
    if (uplift->force_n_m.present) {
        usi_caption_say(sheet, &left, "Uplift U %s per unit width",
                        usi_phrase_force(section, uplift->force_n_m).text);
    }
    if (uplift->pressures_from != NULL) {
        usi_caption_say(sheet, &left, "U is that of %s, the line that of this case",
                        uplift->pressures_from);
    }
    if (uplift->x_m.present) {
        usi_caption_say(sheet, &left, "It acts at distance %s",
                        usi_phrase_place(section, uplift->x_m, sheet->decimals).text);
    }
    say_balance(sheet, &left);
    if (of->most_pa > 0) {
        usi_caption_line(sheet, &right, pressure_look(), "pressure of the water, upwards");
    }
    if (of->suction_pa > 0) {
        usi_caption_line(sheet, &right, suction_look(), "suction: soil may not be saturated there");
    }
    if (sheet->water->surface.count == 0) {
        usi_caption_say(sheet, &right, "Water standing on the structure is not counted");
    }
    usi_caption_window(sheet, &right);
    usi_caption_end(sheet, fmax(left.y, right.y));
}

static void choose_window(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    double pad_m = 0.17 * (section->right_end_m - section->left_end_m);
    sheet->window = usi_window_part(section, sheet->water, section->left_end_m - pad_m,
                                    section->right_end_m + pad_m);
}

us_status usi_diagram_uplift(usi_sheet *sheet)
{
    choose_window(sheet);
    usi_course course;
    us_status status = usi_course_uplift(sheet, &sheet->window, &course);
    if (status != US_OK) {
        return status;
    }
    forces of = {0};
    double above = 0;
    of.unit_pa = usi_phrase_pressure_unit(sheet->section, &of.unit);
    find_extremes(&course, &of);
    double height = choose_heights(sheet, &of, &above);
    usi_sheet_lay_out(sheet, 0, panel_gap + height);
    usi_sheet_ground(sheet);
    usi_sheet_picture(sheet);
    draw_panel(sheet, &of, &course);
    usi_sheet_names(sheet);
    caption(sheet, &of);
    usi_course_clear(&course);
    return sheet->scene.status;
}
