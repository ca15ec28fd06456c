#include "draw/sheet.h"

#include <math.h>
#include <string.h>

const usi_ink usi_ink_none = {0, 0, 0, 0};
const usi_ink usi_ink_dark = {0.12, 0.12, 0.14, 1};
const usi_ink usi_ink_quiet = {0.45, 0.45, 0.47, 1};
const usi_ink usi_ink_water = {0.80, 0.88, 0.94, 1};
const usi_ink usi_ink_shore = {0.22, 0.36, 0.50, 1};
const usi_ink usi_ink_rock = {0.74, 0.73, 0.72, 1};
const usi_ink usi_ink_body = {0.68, 0.68, 0.68, 1};

usi_ink usi_ink_soil(size_t index)
{
    static const usi_ink inks[USI_TINTS] = {{0.965, 0.950, 0.915, 1},
                                            {0.895, 0.870, 0.815, 1},
                                            {0.935, 0.925, 0.905, 1},
                                            {0.865, 0.850, 0.820, 1}};
    return inks[index % USI_TINTS];
}

usi_look usi_look_area(usi_ink fill)
{
    return (usi_look){.fill = fill, .closed = true};
}

usi_look usi_look_line(usi_ink line, double width)
{
    return (usi_look){.line = line, .width = width};
}

usi_type usi_type_plain(double size, usi_anchor anchor)
{
    return (usi_type){.size = size, .anchor = anchor};
}

void usi_sheet_line(usi_sheet *sheet, usi_space space, usi_point from, usi_point to, usi_look look)
{
    usi_point points[2] = {from, to};
    usi_scene_shape(&sheet->scene, space, points, 2, look);
}

bool usi_sheet_is_diagram(const usi_sheet *sheet)
{
    return sheet->what == US_PICTURE_UPLIFT || sheet->what == US_PICTURE_EXIT;
}

/* Shapes run a little past the plot so that its clip hides their outer edges. */
static double overhang(const usi_sheet *sheet)
{
    return 0.05 * (sheet->window.high.x_m - sheet->window.low.x_m);
}

double usi_sheet_soil_left(const usi_sheet *sheet)
{
    double edge_m = sheet->window.low.x_m - overhang(sheet);
    const usi_side *side = &sheet->section->left;
    return side->kind != USI_SIDE_ENDLESS && side->x_m > edge_m ? side->x_m : edge_m;
}

double usi_sheet_soil_right(const usi_sheet *sheet)
{
    double edge_m = sheet->window.high.x_m + overhang(sheet);
    const usi_side *side = &sheet->section->right;
    return side->kind != USI_SIDE_ENDLESS && side->x_m < edge_m ? side->x_m : edge_m;
}

double usi_sheet_floor(const usi_sheet *sheet, double x_m)
{
    const us_section *section = sheet->section;
    double bottom_m = sheet->window.low.z_m;
    return section->has_base ? usi_section_base(section, x_m, true) : bottom_m;
}

usi_ink usi_sheet_base_ink(const usi_sheet *sheet)
{
    return sheet->section->artesian.acts ? usi_ink_water : usi_ink_rock;
}

/* What soil or rock is painted at a place of the plot, lines apart. */
static usi_ink ground_ink(const usi_sheet *sheet, double page_x, double page_y)
{
    const us_section *section = sheet->section;
    const usi_scene_view *view = &sheet->scene.view;
    double x_m = view->low.x_m + (page_x - view->plot.left) * usi_view_unit_x(view);
    double z_m = view->low.z_m + (view->plot.bottom - page_y) * usi_view_unit_z(view);
    if (x_m < usi_sheet_soil_left(sheet) || x_m > usi_sheet_soil_right(sheet)) {
        return usi_ink_none;
    }
    if (section->has_base && z_m < usi_section_base(section, x_m, true)) {
        return usi_sheet_base_ink(sheet);
    }
    int soil = usi_sheet_soil(sheet, (usi_point){x_m, z_m});
    if (soil >= 0) {
        return usi_ink_soil(usi_sheet_tint(sheet, (size_t)soil));
    }
    return usi_ink_none; /* no lines lie behind labels elsewhere */
}

usi_box usi_sheet_area(const usi_sheet *sheet)
{
    usi_box plot = sheet->scene.view.plot;
    return (usi_box){plot.left + 3, plot.top + 2, plot.right - 3, plot.bottom - 2};
}

bool usi_sheet_label(usi_sheet *sheet, const usi_wish *wish, const usi_spots *spots)
{
    const usi_label *label = usi_scene_place(&sheet->scene, wish, spots);
    if (label == NULL) {
        return false;
    }
    usi_text *text = &sheet->scene.texts[label->text];
    text->type.plate = ground_ink(sheet, 0.5 * (text->box.left + text->box.right),
                                  0.5 * (text->box.top + text->box.bottom));
    return true;
}

/* The end of a text's first line: as much as the limit takes, to a space if it
 * has one in its second half, else to a whole character. */
static size_t line_end(usi_scene *scene, const char *words, usi_type type)
{
    double limit = type.limit;
    size_t length = strlen(words);
    size_t space = 0;
    size_t whole = 0;
    type.limit = 0;
    for (size_t end = 1; end <= length; end++) {
        if (((unsigned char)words[end] & 0xc0) == 0x80) {
            continue;
        }
        usi_phrase part = usi_phrase_print("%.*s", (int)end, words);
        if (usi_scene_measure(scene, part.text, type, 0, 0).right > limit) {
            break;
        }
        whole = end;
        space = words[end] == ' ' || words[end] == '\0' ? end : space;
    }
    if (whole == length || whole == 0) {
        return length;
    }
    return 2 * space > whole ? space : whole;
}

double usi_sheet_write(usi_sheet *sheet, const char *words, usi_type type, double x, double y)
{
    enum { LINES = 4 };
    double step = 1.5 * type.size;
    for (int line = 1; line <= LINES && words[0] != '\0'; line++) {
        bool fits =
            type.limit <= 0 || line == LINES ||
            usi_scene_measure(
                &sheet->scene, words,
                (usi_type){.size = type.size, .bold = type.bold, .slanted = type.slanted}, 0, 0)
                    .right <= type.limit;
        size_t end = fits ? strlen(words) : line_end(&sheet->scene, words, type);
        usi_scene_text(&sheet->scene, usi_phrase_print("%.*s", (int)end, words).text, type, x, y);
        words += end;
        words += words[0] == ' ' ? 1 : 0;
        y += step;
    }
    return y;
}

usi_phrase usi_sheet_say_wall(const usi_sheet *sheet, size_t index, size_t most)
{
    const us_section *section = sheet->section;
    const usi_wall *wall = &section->walls[index];
    double surface_m = fmin(usi_section_surface(section, wall->x_m, false),
                            usi_section_surface(section, wall->x_m, true));
    usi_phrase name = usi_phrase_name(wall->name, most);
    if (wall->interlock.given || wall->opening_count > 0) {
        const char *what = !wall->interlock.given    ? "with openings"
                           : wall->opening_count > 0 ? "leaky, with openings"
                                                     : "leaky";
        name = usi_phrase_print("%s, %s", name.text, what);
    }
    usi_phrase tip = usi_phrase_measure(section, wall->tip_m, sheet->decimals);
    if (wall->top_m < surface_m - usi_section_tolerance(section)) {
        usi_phrase top = usi_phrase_length(section, wall->top_m, sheet->decimals);
        return usi_phrase_print("%s, top %s, tip %s", name.text, top.text, tip.text);
    }
    return usi_phrase_print("%s, tip %s%s", name.text, tip.text, wall->keyed ? ", keyed" : "");
}

usi_phrase usi_sheet_say_base(const usi_sheet *sheet, double low_m, double high_m)
{
    const us_section *section = sheet->section;
    const usi_artesian *below = &section->artesian;
    usi_phrase level = usi_phrase_measure(section, high_m, sheet->decimals);
    if (low_m < high_m) {
        level = usi_phrase_print(
            "%s to %s", usi_phrase_length(section, low_m, sheet->decimals).text, level.text);
    }
    if (!below->acts) {
        return usi_phrase_print("impervious base %s", level.text);
    }
    return usi_phrase_print("%s %s, water below it with head %s",
                            below->resistance_s > 0 ? "leaky base" : "base", level.text,
                            usi_phrase_measure(section, below->head_m, sheet->decimals).text);
}

usi_phrase usi_sheet_say_soil(const usi_sheet *sheet, size_t index, size_t most)
{
    const usi_soil *soil = &sheet->section->soils[index];
    return usi_phrase_print("%s, %s", usi_phrase_name(soil->name, most).text,
                            usi_phrase_conductivity(sheet->section, soil).text);
}
