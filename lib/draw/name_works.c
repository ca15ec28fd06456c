/* Names of walls and piezometers. */
#include <math.h>

#include "draw/sheet.h"

/* Piezometers beyond this are left to the key: the picture would be all names. */
enum { NAMED_MOST = 300 };

/* A label that stands between two things of a kind has to be nearer to its own. */
static const double clearance = 14;

static usi_wish make_wish(const usi_sheet *sheet, usi_thing thing, size_t index)
{
    return (usi_wish){.thing = thing,
                      .index = index,
                      .type = usi_type_plain(13, USI_ANCHOR_MIDDLE),
                      .area = usi_sheet_area(sheet)};
}

/* Whether a wall other than `own` comes near a box. */
static bool other_wall_near(const usi_sheet *sheet, size_t own, usi_box box)
{
    const us_section *section = sheet->section;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        usi_point top = usi_view_page(&sheet->scene.view, wall->x_m, wall->top_m);
        usi_point tip = usi_view_page(&sheet->scene.view, wall->x_m, wall->solved_tip_m);
        usi_box line = {top.x_m - clearance, top.z_m - 4, tip.x_m + clearance, tip.z_m + 4};
        if (i != own && usi_box_meets(line, box)) {
            return true;
        }
    }
    return false;
}

static void add_beside(const usi_sheet *sheet, size_t index, usi_point half, usi_point at,
                       usi_spots *spots)
{
    usi_box box = {at.x_m - half.x_m, at.z_m - half.z_m, at.x_m + half.x_m, at.z_m + half.z_m};
    if (!other_wall_near(sheet, index, box)) {
        usi_spots_add(spots, at.x_m, at.z_m, 0.5 * (double)spots->count);
    }
}

/* Places beside a wall: near its tip first, then up its faces within the soil;
 * then away from it, on leaders. */
static void places_of_wall(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    enum { HEIGHTS = 6 };
    static const double near[] = {4, -8, 12, -16, 20};
    const usi_wall *wall = &sheet->section->walls[index];
    const usi_scene_view *view = &sheet->scene.view;
    usi_point tip = usi_view_page(view, wall->x_m, wall->solved_tip_m);
    double soil_m = fmin(usi_section_surface(sheet->section, wall->x_m, false),
                         usi_section_surface(sheet->section, wall->x_m, true));
    double top_y = usi_view_page(view, wall->x_m, fmin(wall->top_m, soil_m)).z_m + 12;
    double side = sheet->section->flows_left ? -1 : 1;
    double reach = side * (half.x_m + 10);
    for (size_t k = 0; k < sizeof near / sizeof near[0]; k++) {
        double y = tip.z_m + (wall->keyed ? -14 - near[k] : near[k]); /* not in the rock */
        add_beside(sheet, index, half, (usi_point){tip.x_m - reach, y}, spots);
        add_beside(sheet, index, half, (usi_point){tip.x_m + reach, y}, spots);
    }
    for (int k = 1; k <= HEIGHTS; k++) {
        double y = tip.z_m + (top_y - tip.z_m) * k / HEIGHTS;
        add_beside(sheet, index, half, (usi_point){tip.x_m - reach, y}, spots);
        add_beside(sheet, index, half, (usi_point){tip.x_m + reach, y}, spots);
    }
    add_beside(sheet, index, half, (usi_point){tip.x_m, tip.z_m + half.z_m + 6}, spots);
    double middle_y = 0.5 * (tip.z_m + fmin(top_y, tip.z_m));
    usi_spots_ring(spots, (usi_point){tip.x_m, tip.z_m - 2}, half, 4);
    usi_spots_ring(spots, (usi_point){tip.x_m, middle_y}, half, 6);
}

static bool wall_shown(const usi_sheet *sheet, const usi_wall *wall)
{
    const usi_window *window = &sheet->window;
    return wall->x_m >= window->low.x_m && wall->x_m <= window->high.x_m &&
           wall->solved_tip_m < window->high.z_m && wall->top_m > window->low.z_m;
}

static void name_wall(usi_sheet *sheet, size_t index)
{
    if (usi_sheet_is_diagram(sheet) && !wall_shown(sheet, &sheet->section->walls[index])) {
        return;
    }
    static const size_t lengths[] = {40, 22, 12};
    const char *name = sheet->section->walls[index].name;
    bool whole = false;
    bool placed = false;
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0] && !placed; i++) {
        usi_phrase words = usi_sheet_say_wall(sheet, index, lengths[i]);
        usi_wish wish = make_wish(sheet, USI_THING_WALL, index);
        wish.aslant = true;
        wish.words = words.text;
        wish.cut = usi_phrase_is_cut(name, lengths[i]);
        wish.gap = 3.5;
        wish.most = 130;
        usi_spots spots = {0};
        places_of_wall(sheet, index, usi_wish_half(&sheet->scene, &wish), &spots);
        placed = usi_sheet_label(sheet, &wish, &spots);
        whole = placed && !wish.cut;
    }
    if (!whole) {
        usi_sheet_list(sheet, USI_THING_WALL, index);
    }
}

/* The order in which walls are named: the outermost, then those half way between
 * the named ones, so that where few find room they are spread evenly. */
void usi_sheet_name_walls(usi_sheet *sheet)
{
    size_t count = sheet->section->wall_count;
    size_t stride = 1;
    while (stride + 1 < count) {
        stride *= 2;
    }
    for (size_t step = stride; step > 0; step /= 2) {
        for (size_t i = 0; i < count; i += step) {
            bool earlier = step < stride && i % (2 * step) == 0;
            if (!earlier && i + 1 < count) {
                name_wall(sheet, i);
            }
        }
        if (step == stride && count > 0) {
            name_wall(sheet, count - 1);
        }
    }
}

static bool other_mark_near(const usi_sheet *sheet, size_t own, usi_box box)
{
    for (size_t i = 0; i < sheet->section->piezometer_count; i++) {
        usi_point at;
        if (i != own && usi_sheet_mark(sheet, i, &at) && at.x_m > box.left - clearance &&
            at.x_m < box.right + clearance && at.z_m > box.top - 8 && at.z_m < box.bottom + 8) {
            return true;
        }
    }
    return false;
}

static void places_of_mark(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots)
{
    usi_point at;
    (void)usi_sheet_mark(sheet, index, &at);
    double dx = half.x_m + 11;
    double dy = half.z_m + 8;
    const usi_point near[] = {{dx, 0}, {-dx, 0}, {0, dy},  {0, -dy},
                              {dx, 8}, {-dx, 8}, {dx, -8}, {-dx, -8}};
    for (size_t i = 0; i < sizeof near / sizeof near[0]; i++) {
        usi_point p = {at.x_m + near[i].x_m, at.z_m + near[i].z_m};
        usi_box box = {p.x_m - half.x_m, p.z_m - half.z_m, p.x_m + half.x_m, p.z_m + half.z_m};
        if (!other_mark_near(sheet, index, box)) {
            usi_spots_add(spots, p.x_m, p.z_m, 0.5 * (double)i);
        }
    }
    usi_spots_ring(spots, at, half, 4);
}

/* True when the label says all. `most`: what a place may cost. */
static bool name_piezometer(usi_sheet *sheet, size_t index, double most)
{
    static const size_t lengths[] = {26, 12};
    const char *name = sheet->section->piezometers[index].name;
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        usi_phrase words = usi_phrase_name(name, lengths[i]);
        usi_wish wish = make_wish(sheet, USI_THING_PIEZOMETER, index);
        wish.words = words.text;
        wish.cut = usi_phrase_is_cut(name, lengths[i]);
        wish.gap = 5;
        wish.most = most;
        usi_spots spots = {0};
        places_of_mark(sheet, index, usi_wish_half(&sheet->scene, &wish), &spots);
        if (usi_sheet_label(sheet, &wish, &spots)) {
            return !wish.cut;
        }
    }
    return false;
}

void usi_sheet_name_piezometers(usi_sheet *sheet)
{
    size_t seen = 0;
    for (size_t i = 0; i < sheet->section->piezometer_count; i++) {
        usi_point at;
        seen += usi_sheet_mark(sheet, i, &at) ? 1 : 0;
    }
    double most = seen > USI_PIEZOMETERS_FEW ? 65 : 110;
    for (size_t i = 0; i < sheet->section->piezometer_count; i++) {
        usi_point at;
        if (seen > NAMED_MOST || !usi_sheet_mark(sheet, i, &at) ||
            !name_piezometer(sheet, i, most)) {
            usi_sheet_list(sheet, USI_THING_PIEZOMETER, i);
        }
    }
}
