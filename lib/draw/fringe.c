/* What acts along the edges: bed that is dry, sealed or not as drawn, an underside that is
 * not tight. */
#include <math.h>
#include <stdlib.h>

#include "draw/fringe.h"
#include "draw/outline.h"
#include "model/situation.h"
#include "quantity/edge.h"

static usi_look dashed(usi_ink ink, double width, double dash, double gap)
{
    usi_look look = usi_look_line(ink, width);
    look.dash = dash;
    look.gap = gap;
    return look;
}

usi_look usi_fringe_look(usi_fringe_kind kind)
{
    static const usi_ink crust = {0.36, 0.33, 0.30, 1};
    switch (kind) {
    case USI_FRINGE_OUT:
        return usi_look_line(usi_ink_shore, 4);
    case USI_FRINGE_STILL:
        return dashed(usi_ink_quiet, 3, 2, 4);
    case USI_FRINGE_DRY:
        return dashed(usi_ink_shore, 3, 2, 4);
    case USI_FRINGE_SEALED:
        return usi_look_line(crust, 6);
    case USI_FRINGE_PERMEABLE:
        return dashed(usi_ink_shore, 5, 5, 3);
    case USI_FRINGE_VOID:
        return usi_look_line((usi_ink){0.55, 0.70, 0.82, 1}, 7);
    case USI_FRINGE_DRAWN:
    case USI_FRINGE_KINDS:
        break;
    }
    return dashed(usi_ink_quiet, 1.1, 7, 4);
}

/* How far over its edge a fringe lies, on the page. */
static double rise_of(usi_fringe_kind kind)
{
    switch (kind) {
    case USI_FRINGE_STILL:
    case USI_FRINGE_DRY:
        return 3.5;
    case USI_FRINGE_SEALED:
        return 3.6;
    case USI_FRINGE_VOID:
        return -4;
    default:
        return 0;
    }
}

/* Adds a stretch, to the one before it where that is its like. */
static void add(usi_sheet *sheet, usi_fringe fringe)
{
    usi_fringe *last = sheet->fringe_count > 0 ? &sheet->fringes[sheet->fringe_count - 1] : NULL;
    if (!(fringe.to_m > fringe.from_m)) {
        return;
    }
    if (last != NULL && last->kind == fringe.kind && last->line == fringe.line &&
        last->to_m == fringe.from_m) {
        last->to_m = fringe.to_m;
    } else if (sheet->fringe_count < USI_FRINGES_MOST) {
        sheet->fringes[sheet->fringe_count++] = fringe;
    }
}

static bool is_sealed(const usi_water *water, double x_m)
{
    for (size_t i = 0; i < water->seal_count; i++) {
        if (x_m > water->seals[i].from_m && x_m < water->seals[i].to_m) {
            return true;
        }
    }
    return false;
}

/* Whether the bed on a side lies above its water there. */
static bool is_dry(const us_section *section, usi_point at, bool left)
{
    const usi_situation *situation = section->situation;
    usi_edge_kind on = left ? USI_EDGE_LEFT_BED : USI_EDGE_RIGHT_BED;
    for (size_t m = 0; m < situation->mark_count; m++) {
        const usi_mark *mark = &situation->marks[m];
        if (mark->kind == USI_MARK_DRY && mark->on == on && at.z_m > mark->low.z_m) {
            return !is_sealed(&section->waters[0], at.x_m);
        }
    }
    return false;
}

static void add_sides(usi_sheet *sheet, const usi_field *field, const usi_edge_sides *sides,
                      bool left)
{
    static const double slack = 1e-6;
    const us_section *section = sheet->section;
    usi_datum datum = usi_datum_of(section, 0);
    for (size_t i = 0; i < sides->count; i++) {
        const usi_edge_side *side = &sides->list[i];
        usi_point a = side->ends[0];
        usi_point b = side->ends[1];
        if (!is_dry(section, (usi_point){0.5 * (a.x_m + b.x_m), 0.5 * (a.z_m + b.z_m)}, left)) {
            continue;
        }
        bool out = true;
        for (int end = 0; end < 2; end++) {
            double head_m = datum.zero_m + datum.unit_m * field->reduced[side->unknowns[end]];
            out = out && head_m > side->ends[end].z_m - slack * datum.unit_m;
        }
        add(sheet, (usi_fringe){out ? USI_FRINGE_OUT : USI_FRINGE_STILL,
                                left ? &section->left_bed : &section->right_bed, a.x_m, b.x_m});
    }
}

us_status usi_fringe_learn(usi_sheet *sheet, const usi_field *field)
{
    sheet->fringe_count = 0;
    us_status status = US_OK;
    for (int left = 0; status == US_OK && left < 2; left++) {
        usi_edge_sides sides = {0};
        if (sheet->section->situation != NULL && sheet->section->situation->dry) {
            status = usi_edge_list(sheet->context, field->grid,
                                   left == 1 ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED, &sides);
        }
        if (status == US_OK) {
            add_sides(sheet, field, &sides, left == 1);
        }
        free(sides.list);
    }
    return status;
}

/* Without a field: where the bed lies above the water, whatever it does there. */
static void add_unsolved(usi_sheet *sheet, bool left)
{
    enum { SAMPLES = 800 };
    const us_section *section = sheet->section;
    const usi_line *bed = left ? &section->left_bed : &section->right_bed;
    double from_m = left ? usi_sheet_soil_left(sheet) : section->right_end_m;
    double to_m = left ? section->left_end_m : usi_sheet_soil_right(sheet);
    double last_m = from_m;
    for (int i = 1; i <= SAMPLES; i++) {
        double next_m = from_m + (to_m - from_m) * i / SAMPLES;
        double x_m = 0.5 * (last_m + next_m);
        if (is_dry(section, (usi_point){x_m, usi_line_level(bed, x_m, true)}, left)) {
            add(sheet, (usi_fringe){USI_FRINGE_DRY, bed, last_m, next_m});
        }
        last_m = next_m;
    }
}

static void add_stretches(usi_sheet *sheet)
{
    const us_section *section = sheet->section;
    for (size_t i = 0; i < section->permeable_count; i++) {
        const usi_stretch *one = &section->permeable[i];
        add(sheet, (usi_fringe){USI_FRINGE_PERMEABLE, &section->underside, one->from_m, one->to_m});
    }
    for (size_t i = 0; i < section->void_count; i++) {
        const usi_stretch *one = &section->voids[i];
        add(sheet, (usi_fringe){USI_FRINGE_VOID, &section->underside, one->from_m, one->to_m});
    }
    for (size_t i = 0; i < sheet->water->seal_count; i++) {
        const usi_stretch *one = &sheet->water->seals[i];
        add(sheet, (usi_fringe){USI_FRINGE_SEALED, &section->left_bed,
                                fmax(one->from_m, usi_sheet_soil_left(sheet)),
                                fmin(one->to_m, section->left_end_m)});
        add(sheet, (usi_fringe){USI_FRINGE_SEALED, &section->right_bed,
                                fmax(one->from_m, section->right_end_m),
                                fmin(one->to_m, usi_sheet_soil_right(sheet))});
    }
}

static bool same_line(const usi_line *a, const usi_line *b)
{
    bool same = a->count == b->count;
    for (size_t i = 0; same && i < a->count; i++) {
        bool level = a->count == 1 || a->points[i].x_m == b->points[i].x_m;
        same = level && a->points[i].z_m == b->points[i].z_m;
    }
    return same;
}

/* The beds of the section where the water case has its own. */
static void add_drawn(usi_sheet *sheet)
{
    const us_section *drawn = sheet->drawn;
    if (!same_line(&drawn->left_bed, &sheet->section->left_bed)) {
        add(sheet, (usi_fringe){USI_FRINGE_DRAWN, &drawn->left_bed, usi_sheet_soil_left(sheet),
                                drawn->left_end_m});
    }
    if (!same_line(&drawn->right_bed, &sheet->section->right_bed)) {
        add(sheet, (usi_fringe){USI_FRINGE_DRAWN, &drawn->right_bed, drawn->right_end_m,
                                usi_sheet_soil_right(sheet)});
    }
}

static void draw(usi_sheet *sheet, const usi_fringe *fringe)
{
    static const double shortest = 2;
    const usi_scene_view *view = &sheet->scene.view;
    double from_m = fmax(fringe->from_m, view->low.x_m);
    double to_m = fmin(fringe->to_m, view->high.x_m);
    if (!(to_m - from_m > shortest * usi_view_unit_x(view))) {
        return;
    }
    usi_outline line = {0};
    usi_outline_follow(&sheet->scene, &line, fringe->line, from_m, to_m);
    double up_m = rise_of(fringe->kind) * usi_view_unit_z(view);
    for (size_t i = 0; i < line.count; i++) {
        line.points[i].z_m += up_m;
    }
    usi_scene_shape(&sheet->scene, USI_SPACE_SECTION, line.points, line.count,
                    usi_fringe_look(fringe->kind));
    usi_scene_shun(&sheet->scene, line.points, line.count,
                   fringe->kind == USI_FRINGE_DRAWN ? USI_SHUN_SEAM : USI_SHUN_EDGE);
    usi_outline_clear(&line);
    sheet->fringed[fringe->kind] = true;
}

void usi_fringe_draw(usi_sheet *sheet)
{
    if (sheet->what == US_PICTURE_SECTION && sheet->section->situation != NULL) {
        add_unsolved(sheet, true);
        add_unsolved(sheet, false);
    }
    add_stretches(sheet);
    add_drawn(sheet);
    for (size_t i = 0; i < sheet->fringe_count; i++) {
        draw(sheet, &sheet->fringes[i]);
    }
}

static usi_phrase say(const usi_sheet *sheet, usi_fringe_kind kind)
{
    static const char *const words[USI_FRINGE_KINDS] = {
        "water comes out of dry bed",
        "dry bed, no water comes out",
        "bed above the water",
        "sealed bed: lets no water through",
        "permeable stretch of the underside",
        "void below the structure",
        "bed of the section; this water case has its own"};
    const us_water_result *result = sheet->result;
    if (kind == USI_FRINGE_OUT && result != NULL && result->dry.present) {
        double open_m = result->dry.open_m.value;
        return usi_phrase_print("%s, over %s", words[kind],
                                usi_phrase_measure(sheet->section, open_m, sheet->decimals).text);
    }
    return usi_phrase_print("%s", words[kind]);
}

void usi_fringe_explain(usi_sheet *sheet, usi_column *at)
{
    for (int kind = 0; kind < USI_FRINGE_KINDS; kind++) {
        if (sheet->fringed[kind]) {
            usi_caption_line(sheet, at, usi_fringe_look((usi_fringe_kind)kind),
                             say(sheet, (usi_fringe_kind)kind).text);
        }
    }
}
