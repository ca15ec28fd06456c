/* Water, structure and walls. */
#include <math.h>

#include "draw/fringe.h"
#include "draw/outline.h"
#include "draw/sheet.h"

size_t usi_sheet_wet(const usi_line *bed, double level_m, usi_stretch part, usi_stretch *wet)
{
    size_t count = 0;
    double a_m = part.from_m;
    for (size_t i = 0; i <= bed->count && a_m < part.to_m; i++) {
        double b_m = i < bed->count ? fmin(bed->points[i].x_m, part.to_m) : part.to_m;
        if (!(b_m > a_m)) {
            continue;
        }
        double high_a_m = usi_line_level(bed, a_m, true) - level_m;
        double high_b_m = usi_line_level(bed, b_m, false) - level_m;
        double cut_m = a_m + (b_m - a_m) * high_a_m / (high_a_m - high_b_m);
        usi_stretch piece = {high_a_m < 0 ? a_m : cut_m, high_b_m < 0 ? b_m : cut_m};
        if (high_a_m < 0 || high_b_m < 0) {
            if (count > 0 && wet[count - 1].to_m == piece.from_m) {
                wet[count - 1].to_m = piece.to_m;
            } else if (count < USI_WET_MOST) {
                wet[count++] = piece;
            }
        }
        a_m = b_m;
    }
    return count;
}

/* One pool: between its level and the bed, from the picture's edge to the
 * structure or wall. */
static void fill_pool(usi_sheet *sheet, const usi_line *bed, double level_m, bool right)
{
    const us_section *section = sheet->section;
    usi_scene *scene = &sheet->scene;
    double from_m = right ? section->right_end_m : usi_sheet_soil_left(sheet);
    double to_m = right ? usi_sheet_soil_right(sheet) : section->left_end_m;
    if (from_m >= to_m) {
        return;
    }
    usi_outline pool = {0};
    usi_outline_follow(scene, &pool, bed, from_m, to_m);
    usi_outline_add(scene, &pool, to_m, level_m);
    usi_outline_add(scene, &pool, from_m, level_m);
    usi_outline_clip(scene, &pool, level_m);
    usi_scene_shape(scene, USI_SPACE_SECTION, pool.points, pool.count,
                    usi_look_area(usi_ink_water));
    usi_outline_clear(&pool);
    usi_stretch wet[USI_WET_MOST];
    size_t count = usi_sheet_wet(bed, level_m, (usi_stretch){from_m, to_m}, wet);
    for (size_t i = 0; i < count; i++) {
        usi_point surface[2] = {{wet[i].from_m, level_m}, {wet[i].to_m, level_m}};
        usi_scene_shape(scene, USI_SPACE_SECTION, surface, 2, usi_look_line(usi_ink_shore, 1.6));
        usi_scene_shun(scene, surface, 2, USI_SHUN_EDGE);
    }
    double end_m = right ? from_m : to_m;
    double foot_m = fmin(level_m, usi_line_level(bed, end_m, right));
    usi_point end[2] = {{end_m, level_m}, {end_m, foot_m}};
    usi_scene_shape(scene, USI_SPACE_SECTION, end, 2, usi_look_line(usi_ink_shore, 0.9));
    usi_scene_shun(scene, end, 2, USI_SHUN_EDGE);
    double outer_m = right ? to_m : from_m;
    foot_m = fmin(level_m, usi_line_level(bed, outer_m, right));
    usi_point outer[2] = {{outer_m, level_m}, {outer_m, foot_m}};
    usi_scene_shun(scene, outer, 2, USI_SHUN_EDGE);
}

/* The water between the top of the structure and a surface over it. */
static void fill_overflow(usi_sheet *sheet, const usi_line *surface)
{
    const us_section *section = sheet->section;
    usi_outline flow = {0};
    usi_outline_follow(&sheet->scene, &flow, &section->structure_top, section->left_end_m,
                       section->right_end_m);
    size_t first = flow.count;
    usi_outline_follow(&sheet->scene, &flow, surface, section->left_end_m, section->right_end_m);
    usi_outline_reverse(&flow, first);
    usi_ink pale = {0.90, 0.94, 0.97, 1};
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, flow.points, flow.count, usi_look_area(pale));
    usi_outline_clear(&flow);
}

/* The surface over the structure that the water case has. */
static void draw_overflow(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    usi_outline line = {0};
    fill_overflow(sheet, &sheet->water->surface);
    usi_outline_follow(&sheet->scene, &line, &sheet->water->surface, section->left_end_m,
                       section->right_end_m);
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, line.points, line.count,
                    usi_look_line(usi_ink_shore, 1.6));
    usi_scene_shun(&sheet->scene, line.points, line.count, USI_SHUN_EDGE);
    usi_outline_clear(&line);
}

/* Where it has none, one is hinted at by a broken line between the two levels, where they stand
 * above the top of the structure. */
static void hint_overflow(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    const usi_water *water = sheet->water;
    if (section->structure_top.count == 0 || water->at_bed) {
        return;
    }
    double left_m = section->flows_left ? water->downstream_m : water->upstream_m;
    double right_m = section->flows_left ? water->upstream_m : water->downstream_m;
    double crest_m =
        usi_line_highest(&section->structure_top, section->left_end_m, section->right_end_m);
    if (fmax(left_m, right_m) <= crest_m) {
        return;
    }
    usi_point surface[2] = {{section->left_end_m, left_m}, {section->right_end_m, right_m}};
    fill_overflow(sheet, &(usi_line){2, surface});
    usi_look broken = usi_look_line(usi_ink_shore, 1.1);
    broken.dash = 5;
    broken.gap = 4;
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, surface, 2, broken);
    usi_scene_shun(&sheet->scene, surface, 2, USI_SHUN_EDGE);
    sheet->overflow = true;
}

void usi_sheet_water(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    const usi_water *water = sheet->water;
    if (water->surface.count > 0 && section->structure_top.count > 0) {
        draw_overflow(sheet);
    } else {
        hint_overflow(sheet);
    }
    fill_pool(sheet, usi_section_upstream_bed(section), water->upstream_m, section->flows_left);
    if (!water->at_bed) {
        fill_pool(sheet, usi_section_downstream_bed(section), water->downstream_m,
                  !section->flows_left);
    }
}

static usi_look body_look(void)
{
    usi_look look = usi_look_area(usi_ink_body);
    look.line = usi_ink_dark;
    look.width = 1.4;
    return look;
}

/* Adds a point, or `least_m` over it, and the place where a slope to it comes up to
 * that level or down to it. */
static void add_over(usi_scene *scene, usi_outline *body, usi_point next, usi_point *last,
                     double least_m)
{
    if (last->x_m < next.x_m && (last->z_m < least_m) != (next.z_m < least_m)) {
        double share = (least_m - last->z_m) / (next.z_m - last->z_m);
        usi_outline_add(scene, body, last->x_m + share * (next.x_m - last->x_m), least_m);
    }
    usi_outline_add(scene, body, next.x_m, fmax(next.z_m, least_m));
    *last = next;
}

/* Without a given top the structure is a band on its underside, as thick on
 * steps as elsewhere, up to the beds beside it at its ends. */
static void band_top(usi_sheet *sheet, usi_outline *body)
{
    const us_section *section = sheet->section;
    const usi_line *line = &section->underside;
    double up_m = 9 * usi_view_unit_z(&sheet->scene.view);
    double aside_m = fmin(9 * usi_view_unit_x(&sheet->scene.view),
                          0.3 * (section->right_end_m - section->left_end_m));
    double left_m = usi_line_level(&section->left_bed, section->left_end_m, false);
    double right_m = usi_line_level(&section->right_bed, section->right_end_m, true);
    double least_m = fmin(left_m, right_m);
    size_t first = body->count;
    double z_m = fmax(usi_line_level(line, section->left_end_m, true) + up_m, least_m);
    usi_outline_add(&sheet->scene, body, section->left_end_m, fmax(z_m, left_m));
    usi_outline_add(&sheet->scene, body, section->left_end_m + aside_m, fmax(z_m, left_m));
    usi_outline_add(&sheet->scene, body, section->left_end_m + aside_m, z_m);
    usi_point last = {section->left_end_m + aside_m,
                      usi_line_level(line, section->left_end_m, true) + up_m};
    for (size_t i = 0; i < line->count; i++) {
        usi_point p = line->points[i];
        if (p.x_m <= section->left_end_m || p.x_m >= section->right_end_m) {
            continue;
        }
        /* On a step both ends shift to the side of the structure. */
        double x_m = p.x_m;
        if (i + 1 < line->count && line->points[i + 1].x_m == p.x_m) {
            x_m += line->points[i + 1].z_m < p.z_m ? aside_m : -aside_m;
        } else if (i > 0 && line->points[i - 1].x_m == p.x_m) {
            x_m += p.z_m < line->points[i - 1].z_m ? aside_m : -aside_m;
        }
        add_over(&sheet->scene, body, (usi_point){x_m, p.z_m + up_m}, &last, least_m);
    }
    z_m = usi_line_level(line, section->right_end_m, false) + up_m;
    add_over(&sheet->scene, body, (usi_point){section->right_end_m - aside_m, z_m}, &last, least_m);
    z_m = fmax(z_m, least_m);
    usi_outline_add(&sheet->scene, body, section->right_end_m - aside_m, fmax(z_m, right_m));
    usi_outline_add(&sheet->scene, body, section->right_end_m, fmax(z_m, right_m));
    usi_outline_reverse(body, first);
}

static void draw_structure(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    if (!section->has_structure) {
        return;
    }
    usi_outline body = {0};
    usi_outline_follow(&sheet->scene, &body, &section->underside, section->left_end_m,
                       section->right_end_m);
    if (section->structure_top.count > 0) {
        size_t first = body.count;
        usi_outline_follow(&sheet->scene, &body, &section->structure_top, section->left_end_m,
                           section->right_end_m);
        usi_outline_reverse(&body, first);
    } else {
        band_top(sheet, &body);
    }
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, body.points, body.count, body_look());
    if (body.count > 0) {
        usi_outline_add(&sheet->scene, &body, body.points[0].x_m, body.points[0].z_m);
    }
    usi_scene_shun(&sheet->scene, body.points, body.count, USI_SHUN_EDGE);
    usi_outline_clear(&body);
}

bool usi_sheet_mark(const usi_sheet *sheet, size_t index, usi_point *at)
{
    const usi_piezometer *one = &sheet->section->piezometers[index];
    *at = usi_view_page(&sheet->scene.view, one->at.x_m, one->at.z_m);
    if (one->side != USI_FACE_NONE) {
        at->x_m += one->side == USI_FACE_LEFT ? -5 : 5;
    }
    usi_box box = {at->x_m - 4, at->z_m - 4, at->x_m + 4, at->z_m + 4};
    return usi_box_holds(sheet->scene.view.plot, box);
}

static void mark_piezometer(usi_sheet *sheet, size_t index)
{
    usi_point at;
    if (!usi_sheet_mark(sheet, index, &at)) {
        return;
    }
    usi_point square[4] = {{at.x_m - 3, at.z_m - 3},
                           {at.x_m + 3, at.z_m - 3},
                           {at.x_m + 3, at.z_m + 3},
                           {at.x_m - 3, at.z_m + 3}};
    usi_look look = usi_look_area((usi_ink){1, 1, 1, 1});
    look.line = usi_ink_dark;
    look.width = 1.2;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, square, 4, look);
    usi_scene_guard(&sheet->scene, (usi_box){at.x_m - 4, at.z_m - 4, at.x_m + 4, at.z_m + 4}, true);
}

void usi_sheet_works(usi_sheet *sheet)
{
    draw_structure(sheet);
    for (size_t i = 0; i < sheet->section->wall_count; i++) {
        usi_sheet_wall(sheet, &sheet->section->walls[i]);
    }
    usi_fringe_draw(sheet);
    for (size_t i = 0; i < sheet->section->drain_count; i++) {
        usi_sheet_mark_drain(sheet, i);
    }
    bool shown = !usi_sheet_is_diagram(sheet);
    for (size_t i = 0; shown && i < sheet->section->piezometer_count; i++) {
        mark_piezometer(sheet, i);
    }
}
