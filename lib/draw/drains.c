/* Marks of drains, and what is said of them. */
#include <math.h>

#include "draw/sheet.h"
#include "model/situation.h"

static const double half_mark = 5;

usi_look usi_sheet_drain_look(bool feeds)
{
    static const usi_ink ink = {0.62, 0.16, 0.12, 1};
    return usi_look_line(feeds ? ink : usi_ink_shore, 4);
}

static bool is_open(const usi_sheet *sheet, size_t index)
{
    const usi_situation *situation = sheet->section->situation;
    for (size_t t = 0; situation != NULL && t < situation->terminal_count; t++) {
        const usi_terminal *one = &situation->terminals[t];
        if (one->kind == USI_TERMINAL_DRAIN && one->index == index) {
            return true;
        }
    }
    return false;
}

static const us_drain_result *result_of(const usi_sheet *sheet, size_t index)
{
    const us_water_result *result = sheet->result;
    return result != NULL && index < result->drain_count ? &result->drains[index] : NULL;
}

usi_phrase usi_sheet_say_drain(const usi_sheet *sheet, size_t index, size_t most)
{
    const us_section *section = sheet->section;
    const us_drain_result *result = result_of(sheet, index);
    usi_phrase name = usi_phrase_name(section->drains[index].name, most);
    if (!is_open(sheet, index)) {
        return usi_phrase_print("%s, shut", name.text);
    }
    if (result == NULL || !result->flow_m2_s.present) {
        const usi_drain *drain = &section->drains[index];
        usi_phrase level = usi_phrase_measure(section, drain->outlet_m, sheet->decimals);
        return usi_phrase_print("%s, outlet %s", name.text,
                                drain->tailwater ? "tailwater" : level.text);
    }
    us_value flow = {fabs(result->flow_m2_s.value), 0, true};
    return usi_phrase_print("%s, %s %s", name.text, result->feeds ? "feeds water in," : "inflow",
                            usi_phrase_flow(section, flow).text);
}

/* The middle of a drain; false outside the plot. */
static bool find_mark(const usi_sheet *sheet, size_t index, usi_point *at)
{
    const usi_drain *drain = &sheet->section->drains[index];
    *at = usi_view_page(&sheet->scene.view, 0.5 * (drain->from.x_m + drain->to.x_m),
                        0.5 * (drain->from.z_m + drain->to.z_m));
    usi_box box = {at->x_m - half_mark, at->z_m - half_mark, at->x_m + half_mark,
                   at->z_m + half_mark};
    return usi_box_holds(sheet->scene.view.plot, box);
}

void usi_sheet_lozenge(usi_sheet *sheet, usi_point at, bool open, bool feeds)
{
    static const usi_ink paper = {1, 1, 1, 1};
    usi_point corners[4] = {{at.x_m, at.z_m - half_mark},
                            {at.x_m + half_mark, at.z_m},
                            {at.x_m, at.z_m + half_mark},
                            {at.x_m - half_mark, at.z_m}};
    usi_ink ink = usi_sheet_drain_look(feeds).line;
    usi_look look = usi_look_area(open ? ink : paper);
    look.line = open ? ink : usi_ink_dark;
    look.width = 1.3;
    usi_scene_shape(&sheet->scene, USI_SPACE_PAGE, corners, 4, look);
}

/* A lozenge, upon a bar as long as a drain without gaps. */
void usi_sheet_mark_drain(usi_sheet *sheet, size_t index)
{
    const usi_drain *drain = &sheet->section->drains[index];
    const us_drain_result *result = result_of(sheet, index);
    bool feeds = result != NULL && result->feeds;
    usi_ink ink = usi_sheet_drain_look(feeds).line;
    usi_point at;
    if (!find_mark(sheet, index, &at)) {
        return;
    }
    if (!drain->weeps) {
        usi_point ends[2] = {drain->from, drain->to};
        usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, ends, 2,
                        usi_look_line(is_open(sheet, index) ? ink : usi_ink_quiet, 4));
        usi_scene_shun(&sheet->scene, ends, 2, USI_SHUN_EDGE);
    }
    usi_sheet_lozenge(sheet, at, is_open(sheet, index), feeds);
    double guard = half_mark + 1;
    usi_scene_guard(&sheet->scene,
                    (usi_box){at.x_m - guard, at.z_m - guard, at.x_m + guard, at.z_m + guard},
                    true);
    sheet->drained = true;
    sheet->fed = sheet->fed || feeds;
}

void usi_sheet_name_drain(usi_sheet *sheet, size_t index)
{
    enum { NAME_LONG = 28 };
    usi_point at;
    if (!find_mark(sheet, index, &at)) {
        if (!usi_sheet_is_diagram(sheet)) {
            usi_sheet_list(sheet, USI_THING_DRAIN, index);
        }
        return;
    }
    usi_phrase words = usi_sheet_say_drain(sheet, index, NAME_LONG);
    usi_wish wish = {.thing = USI_THING_DRAIN,
                     .index = index,
                     .words = words.text,
                     .cut = usi_phrase_is_cut(sheet->section->drains[index].name, NAME_LONG),
                     .type = usi_type_plain(13, USI_ANCHOR_MIDDLE),
                     .area = usi_sheet_area(sheet),
                     .gap = 6.5};
    const us_drain_result *result = result_of(sheet, index);
    wish.type.bold = result != NULL && result->feeds;
    usi_point half = usi_wish_half(&sheet->scene, &wish);
    usi_spots spots = {0};
    usi_spots_ring(&spots, at, half, 0);
    if (!usi_sheet_label(sheet, &wish, &spots) || wish.cut) {
        usi_sheet_list(sheet, USI_THING_DRAIN, index);
    }
}
