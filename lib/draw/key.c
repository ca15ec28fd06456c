/* The key: what had no room in the picture, in full, below it. */
#include <math.h>
#include <string.h>

#include "draw/sheet.h"

static const double line_height = 18;

/* A key this long has all that a reader will look through; more would make the
 * sheet taller than can be drawn. */
static const double longest = 3000;

static usi_phrase say_piezometer(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    const usi_piezometer *one = &section->piezometers[index];
    const usi_window *window = &sheet->window;
    bool seen = one->at.x_m >= window->low.x_m && one->at.x_m <= window->high.x_m &&
                one->at.z_m >= window->low.z_m && one->at.z_m <= window->high.z_m;
    return usi_phrase_print("%s at %s, level %s%s", one->name,
                            usi_phrase_measure(section, one->at.x_m, sheet->decimals).text,
                            usi_phrase_measure(section, one->at.z_m, sheet->decimals).text,
                            seen ? "" : ", outside the picture");
}

static usi_phrase say_wall(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    usi_phrase words = usi_sheet_say_wall(sheet, index, sizeof words.text);
    usi_phrase x = usi_phrase_measure(section, section->walls[index].x_m, sheet->decimals);
    return usi_phrase_print("%s, at %s", words.text, x.text);
}

/* A soil of zones only, and the box around them. */
static usi_phrase say_zones(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    usi_point low = {HUGE_VAL, HUGE_VAL};
    usi_point high = {-HUGE_VAL, -HUGE_VAL};
    size_t count = 0;
    for (size_t i = 0; i < section->zone_count; i++) {
        const usi_zone *zone = &section->zones[i];
        if (zone->soil == index) {
            low = (usi_point){fmin(low.x_m, zone->low.x_m), fmin(low.z_m, zone->low.z_m)};
            high = (usi_point){fmax(high.x_m, zone->high.x_m), fmax(high.z_m, zone->high.z_m)};
            count++;
        }
    }
    return usi_phrase_print("%s, %s from %s to %s, levels %s to %s",
                            usi_sheet_say_soil(sheet, index, sizeof(usi_phrase)).text,
                            count == 1 ? "zone" : "zones",
                            usi_phrase_length(section, low.x_m, sheet->decimals).text,
                            usi_phrase_measure(section, high.x_m, sheet->decimals).text,
                            usi_phrase_length(section, low.z_m, sheet->decimals).text,
                            usi_phrase_measure(section, high.z_m, sheet->decimals).text);
}

/* A soil whose place is no range of levels: where its top lies, or its zones. */
static usi_phrase say_uneven_soil(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    const usi_soil *soil = &section->soils[index];
    usi_phrase words = usi_sheet_say_soil(sheet, index, sizeof words.text);
    if (index == 0) {
        return usi_phrase_print("%s, from the bed on down", words.text);
    }
    if (!soil->layer) {
        return say_zones(sheet, index);
    }
    double low_m = HUGE_VAL;
    double high_m = -HUGE_VAL;
    for (size_t i = 0; i < soil->top.count; i++) {
        low_m = fmin(low_m, soil->top.points[i].z_m);
        high_m = fmax(high_m, soil->top.points[i].z_m);
    }
    usi_phrase high = usi_phrase_measure(section, high_m, sheet->decimals);
    if (low_m == high_m) {
        return usi_phrase_print("%s, top %s", words.text, high.text);
    }
    return usi_phrase_print("%s, top %s to %s", words.text,
                            usi_phrase_length(section, low_m, sheet->decimals).text, high.text);
}

static usi_phrase say_soil(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    usi_phrase words = usi_sheet_say_soil(sheet, index, sizeof words.text);
    double top_m = 0;
    double low_m = 0;
    bool seen = usi_sheet_layer(sheet, index, &top_m, &low_m);
    usi_phrase top = {"the bed"};
    usi_phrase low = {"below"};
    if (isfinite(top_m)) {
        top = usi_phrase_length(section, top_m, sheet->decimals);
    }
    if (isfinite(low_m)) {
        low = usi_phrase_measure(section, low_m, sheet->decimals);
    }
    return usi_phrase_print("%s, from %s%s%s%s", words.text, top.text,
                            isfinite(low_m) ? " to " : " on down", isfinite(low_m) ? low.text : "",
                            seen ? "" : ", below the picture");
}

static usi_phrase say_side(const usi_sheet *sheet, size_t index)
{
    const usi_side *side = index == 0 ? &sheet->section->left : &sheet->section->right;
    usi_phrase x = usi_phrase_measure(sheet->section, side->x_m, sheet->decimals);
    if (side->has_head) {
        usi_phrase head = usi_phrase_measure(sheet->section, side->head_m, sheet->decimals);
        return usi_phrase_print("%s side at %s: head fixed at %s", index == 0 ? "left" : "right",
                                x.text, head.text);
    }
    return usi_phrase_print("%s side at %s: %s", index == 0 ? "left" : "right", x.text,
                            side->kind == USI_SIDE_CLOSED ? "closed"
                                                          : "head fixed at that side's water");
}

static usi_phrase say_water(const usi_sheet *sheet, size_t index)
{
    double level_m = index == 0 ? sheet->water->upstream_m : sheet->water->downstream_m;
    return usi_phrase_print("water %s %s", index == 0 ? "upstream" : "downstream",
                            usi_phrase_measure(sheet->section, level_m, sheet->decimals).text);
}

static usi_phrase say_base(const usi_sheet *sheet)
{
    double level_m = sheet->section->base.points[0].z_m;
    return usi_phrase_print("%s%s", usi_sheet_say_base(sheet, level_m, level_m).text,
                            sheet->section->base.count > 1 ? " at the left" : "");
}

static usi_phrase say_drain(const usi_sheet *sheet, size_t index)
{
    const us_section *section = sheet->section;
    const usi_drain *drain = &section->drains[index];
    return usi_phrase_print("%s, at %s, level %s",
                            usi_sheet_say_drain(sheet, index, sizeof(usi_phrase)).text,
                            usi_phrase_measure(section, drain->from.x_m, sheet->decimals).text,
                            usi_phrase_measure(section, drain->from.z_m, sheet->decimals).text);
}

static usi_phrase say_entry(const usi_sheet *sheet, usi_entry entry)
{
    switch (entry.thing) {
    case USI_THING_WALL:
        return say_wall(sheet, entry.index);
    case USI_THING_SOIL:
        return usi_sheet_uneven(sheet) ? say_uneven_soil(sheet, entry.index)
                                       : say_soil(sheet, entry.index);
    case USI_THING_PIEZOMETER:
        return say_piezometer(sheet, entry.index);
    case USI_THING_DRAIN:
        return say_drain(sheet, entry.index);
    case USI_THING_SIDE:
        return say_side(sheet, entry.index);
    case USI_THING_BASE:
        return say_base(sheet);
    case USI_THING_WATER:
    case USI_THING_EXIT:
    default:
        return say_water(sheet, entry.index);
    }
}

void usi_sheet_list(usi_sheet *sheet, usi_thing thing, size_t index)
{
    size_t same = 0;
    for (size_t i = 0; i < sheet->entry_count; i++) {
        same += sheet->entries[i].thing == thing ? 1 : 0;
    }
    size_t room = sizeof sheet->entries / sizeof sheet->entries[0];
    if (same < USI_ENTRIES_MOST && sheet->entry_count < room) {
        sheet->entries[sheet->entry_count++] = (usi_entry){thing, index};
    } else {
        sheet->unlisted++;
    }
}

/* The entries of one kind, in the order of the file. */
static size_t gather(const usi_sheet *sheet, usi_thing thing, usi_entry *list)
{
    size_t count = 0;
    for (size_t i = 0; i < sheet->entry_count; i++) {
        if (sheet->entries[i].thing != thing) {
            continue;
        }
        size_t k = count++;
        for (; k > 0 && list[k - 1].index > sheet->entries[i].index; k--) {
            list[k] = list[k - 1];
        }
        list[k] = sheet->entries[i];
    }
    return count;
}

/* Where a kind of entry is set: as many columns as its longest line leaves. */
typedef struct block {
    const usi_entry *list;
    size_t count;
    double y;
    double limit; /* of the whole key, downwards */
} block;

static double set_block(usi_sheet *sheet, const block *of)
{
    static const double left = 30;
    double inset = of->count > 0 && of->list[0].thing == USI_THING_SOIL ? 30 : 0;
    usi_type type = usi_type_plain(12, USI_ANCHOR_LEFT);
    double widest = 1;
    for (size_t i = 0; i < of->count; i++) {
        usi_phrase words = say_entry(sheet, of->list[i]);
        double wide = usi_scene_measure(&sheet->scene, words.text, type, 0, 0).right;
        widest = fmax(widest, wide + inset);
    }
    double room = USI_PAGE_WIDTH - 26 - left;
    size_t columns = (size_t)fmax(1, fmin(4, floor((room + 24) / (widest + 24))));
    size_t rows = (of->count + columns - 1) / columns;
    double lowest = of->y;
    for (size_t k = 0; k < columns; k++) {
        double y = of->y;
        for (size_t i = k * rows; i < of->count && i < (k + 1) * rows; i++) {
            if (y > of->limit) {
                sheet->unlisted++;
                continue;
            }
            type.limit = columns == 1 ? room - inset : 0;
            double x = left + inset + (double)k * (room + 24) / (double)columns;
            if (inset > 0) {
                usi_sheet_swatch(sheet, of->list[i].index, (usi_box){x - 30, y - 5, x - 8, y + 5});
            }
            y = usi_sheet_write(sheet, say_entry(sheet, of->list[i]).text, type, x, y);
        }
        lowest = fmax(lowest, y);
    }
    return lowest;
}

double usi_sheet_key(usi_sheet *sheet, double y)
{
    static const struct {
        usi_thing thing;
        const char *heading;
    } kinds[] = {{USI_THING_SOIL, "Soils"},
                 {USI_THING_WALL, "Walls"},
                 {USI_THING_PIEZOMETER, "Piezometers"},
                 {USI_THING_DRAIN, "Drains"},
                 {USI_THING_SIDE, "Sides"},
                 {USI_THING_BASE, "Base"},
                 {USI_THING_WATER, "Water"}};
    double limit = y + longest;
    usi_entry list[USI_ENTRIES_MOST];
    usi_type bold = usi_type_plain(12, USI_ANCHOR_LEFT);
    bold.bold = true;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        size_t count = gather(sheet, kinds[i].thing, list);
        if (count > 0 && y <= limit) {
            usi_scene_text(&sheet->scene, kinds[i].heading, bold, 14, y + 4);
            block of = {list, count, y + 4 + line_height, limit};
            y = set_block(sheet, &of) + 2;
        } else {
            sheet->unlisted += count;
        }
    }
    if (sheet->unlisted > 0) {
        usi_phrase words = usi_phrase_print("and %zu more that have no room here", sheet->unlisted);
        usi_scene_text(&sheet->scene, words.text, usi_type_plain(12, USI_ANCHOR_LEFT), 14, y + 4);
        y += line_height + 4;
    }
    return y;
}
