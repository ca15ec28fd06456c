#include "model/situation.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/weeps.h"

/* A situation as it grows. */
typedef struct maker {
    const us_section *section;
    const usi_water *water;
    usi_variant variant;
    usi_situation *made;
} maker;

static size_t add_terminal(maker *of, usi_terminal terminal)
{
    of->made->terminals[of->made->terminal_count] = terminal;
    return of->made->terminal_count++;
}

static void add_mark(maker *of, usi_mark mark)
{
    of->made->marks[of->made->mark_count++] = mark;
}

static usi_mark everywhere(usi_mark_kind kind, usi_edge_kind on, size_t terminal)
{
    return (usi_mark){kind, on, {-HUGE_VAL, -HUGE_VAL}, {HUGE_VAL, HUGE_VAL}, terminal};
}

static usi_mark between(usi_mark_kind kind, usi_edge_kind on, double from_m, double to_m)
{
    return (usi_mark){kind, on, {from_m, -HUGE_VAL}, {to_m, HUGE_VAL}, 0};
}

static double left_water(const maker *of)
{
    return of->section->flows_left ? of->water->downstream_m : of->water->upstream_m;
}

static double right_water(const maker *of)
{
    return of->section->flows_left ? of->water->upstream_m : of->water->downstream_m;
}

static bool is_open(const maker *of, size_t drain)
{
    const usi_drain *list = of->section->drains;
    bool shut = of->variant == USI_VARIANT_DRAINS_SHUT || list[drain].shut ||
                (of->water->shut != NULL && of->water->shut[drain]);
    bool gone = of->variant == USI_VARIANT_NO_APRON && !list[drain].inside;
    return !shut && !gone;
}

/* Something holds a head below `level_m`, so that a bed of that level might take water in. */
static bool draws_below(const maker *of, double level_m)
{
    const us_section *section = of->section;
    bool draws = section->has_base && section->artesian.acts && section->artesian.head_m < level_m;
    const usi_side *sides[2] = {&section->left, &section->right};
    for (size_t k = 0; k < 2; k++) {
        draws = draws || (sides[k]->kind == USI_SIDE_FIXED_HEAD && sides[k]->has_head &&
                          sides[k]->head_m < level_m);
    }
    for (size_t d = 0; d < section->drain_count; d++) {
        const usi_drain *drain = &section->drains[d];
        draws = draws || (is_open(of, d) && !drain->tailwater && drain->outlet_m < level_m);
    }
    return draws;
}

/* A bed that reaches above its water, or, where none stands, off the level at the toe. */
static void add_dry(maker *of, bool left)
{
    const us_section *section = of->section;
    const usi_line *bed = left ? &section->left_bed : &section->right_bed;
    double level_m = left ? left_water(of) : right_water(of);
    bool bare = of->water->at_bed && left == section->flows_left;
    double tolerance_m = usi_section_tolerance(section);
    double lowest_m = usi_line_lowest(bed, -HUGE_VAL, HUGE_VAL);
    double highest_m = usi_line_highest(bed, -HUGE_VAL, HUGE_VAL);
    usi_mark mark =
        everywhere(USI_MARK_DRY, left ? USI_EDGE_LEFT_BED : USI_EDGE_RIGHT_BED, left ? 0 : 1);
    if (!bare) {
        mark.low.z_m = level_m;
    }
    bool uneven = highest_m > level_m + tolerance_m || (bare && lowest_m < level_m - tolerance_m);
    if (uneven || (bare && draws_below(of, level_m))) {
        add_mark(of, mark);
        of->made->dry = true;
    }
}

static void add_sides(maker *of)
{
    const usi_side *sides[2] = {&of->section->left, &of->section->right};
    for (size_t k = 0; k < 2; k++) {
        if (sides[k]->kind == USI_SIDE_FIXED_HEAD && sides[k]->has_head) {
            size_t terminal = add_terminal(
                of,
                (usi_terminal){.kind = USI_TERMINAL_SIDE, .index = k, .head_m = sides[k]->head_m});
            add_mark(of, everywhere(USI_MARK_TERMINAL,
                                    k == 0 ? USI_EDGE_LEFT_SIDE : USI_EDGE_RIGHT_SIDE, terminal));
        }
    }
}

static void add_base(maker *of)
{
    const us_section *section = of->section;
    if (!section->has_base || !section->artesian.acts) {
        return;
    }
    size_t terminal =
        add_terminal(of, (usi_terminal){.kind = USI_TERMINAL_BASE,
                                        .head_m = section->artesian.head_m,
                                        .resistance_s = section->artesian.resistance_s});
    add_mark(of, everywhere(USI_MARK_TERMINAL, USI_EDGE_BASE, terminal));
    of->made->endless_base =
        section->left.kind == USI_SIDE_ENDLESS || section->right.kind == USI_SIDE_ENDLESS;
    const usi_side *side = section->flows_left ? &section->right : &section->left;
    double side_m = side->has_head ? side->head_m : of->water->upstream_m;
    of->made->endless_foot = side->kind == USI_SIDE_FIXED_HEAD &&
                             section->artesian.resistance_s == 0.0 &&
                             side_m != section->artesian.head_m;
}

static void add_seals(maker *of)
{
    for (size_t k = 0; k < of->water->seal_count; k++) {
        const usi_stretch *seal = &of->water->seals[k];
        add_mark(of, between(USI_MARK_SEALED, USI_EDGE_LEFT_BED, seal->from_m, seal->to_m));
        add_mark(of, between(USI_MARK_SEALED, USI_EDGE_RIGHT_BED, seal->from_m, seal->to_m));
    }
}

/* Level that water has to rise to before it runs off over a stretch of structure. */
static double spill_level(const us_section *section, const usi_stretch *stretch)
{
    const usi_line *top =
        section->structure_top.count > 0 ? &section->structure_top : &section->underside;
    return usi_line_highest(top, stretch->from_m, stretch->to_m);
}

static void add_stretch(maker *of, usi_terminal terminal)
{
    usi_mark mark = between(USI_MARK_TERMINAL, USI_EDGE_STRUCTURE, terminal.from_m, terminal.to_m);
    mark.terminal = add_terminal(of, terminal);
    add_mark(of, mark);
}

static void add_permeable(maker *of, const usi_stretch *stretch)
{
    double tailwater_m = of->water->downstream_m;
    double spill_m = spill_level(of->section, stretch);
    bool one_way = spill_m > tailwater_m;
    add_stretch(of, (usi_terminal){.kind = USI_TERMINAL_PERMEABLE,
                                   .from_m = stretch->from_m,
                                   .to_m = stretch->to_m,
                                   .head_m = fmax(spill_m, tailwater_m),
                                   .one_way = one_way});
    of->made->dry = of->made->dry || one_way;
}

/* A wall that reaches up to the underside parts the void below it. */
static void add_void(maker *of, const usi_stretch *stretch)
{
    const us_section *section = of->section;
    double from_m = stretch->from_m;
    while (from_m < stretch->to_m) {
        double to_m = stretch->to_m;
        for (size_t w = 0; w < section->wall_count; w++) {
            const usi_wall *wall = &section->walls[w];
            bool parts = wall->x_m > from_m && wall->x_m < to_m &&
                         wall->top_m >= usi_line_lowest(&section->underside, wall->x_m, wall->x_m);
            to_m = parts ? wall->x_m : to_m;
        }
        add_stretch(
            of, (usi_terminal){
                    .kind = USI_TERMINAL_VOID, .from_m = from_m, .to_m = to_m, .floating = true});
        from_m = to_m;
    }
}

/* The underside without an apron over it: a permeable stretch for each part of the
 * structure whose top differs. */
static void add_bare_underside(maker *of)
{
    const us_section *section = of->section;
    const usi_line *top = &section->structure_top;
    usi_stretch open = {section->left_end_m, section->left_end_m};
    for (size_t k = 0; k <= top->count; k++) {
        double to_m = k < top->count ? top->points[k].x_m : section->right_end_m;
        if (to_m > open.from_m + usi_section_tolerance(section) && to_m <= section->right_end_m) {
            open.to_m = to_m;
            add_permeable(of, &open);
            open.from_m = to_m;
        }
    }
}

static void add_stretches(maker *of)
{
    if (of->variant == USI_VARIANT_NO_APRON) {
        add_bare_underside(of);
        return;
    }
    for (size_t k = 0; k < of->section->permeable_count; k++) {
        add_permeable(of, &of->section->permeable[k]);
    }
    for (size_t k = 0; k < of->section->void_count; k++) {
        add_void(of, &of->section->voids[k]);
    }
}

static void add_weeps(maker *of, const usi_drain *drain, usi_terminal terminal)
{
    usi_weeps weeps = usi_weeps_of(of->section, drain);
    terminal.series_s_m = weeps.series_s_m;
    usi_mark mark = {.kind = USI_MARK_TERMINAL,
                     .on = USI_EDGE_STRUCTURE,
                     .low = weeps.low,
                     .high = weeps.high,
                     .terminal = add_terminal(of, terminal)};
    add_mark(of, mark);
}

static void add_strip(maker *of, const usi_drain *drain, usi_terminal terminal)
{
    double margin_m = usi_section_tolerance(of->section);
    bool upright = fabs(drain->to.x_m - drain->from.x_m) <= margin_m;
    bool level = fabs(drain->to.z_m - drain->from.z_m) <= margin_m;
    terminal.inside = drain->inside;
    terminal.resistance_s = drain->clogging_s;
    usi_mark mark = {
        .kind = USI_MARK_TERMINAL,
        .on = drain->inside ? USI_EDGE_DRAIN : USI_EDGE_STRUCTURE,
        .low = {fmin(drain->from.x_m, drain->to.x_m), fmin(drain->from.z_m, drain->to.z_m)},
        .high = {fmax(drain->from.x_m, drain->to.x_m), fmax(drain->from.z_m, drain->to.z_m)},
        .terminal = add_terminal(of, terminal)};
    mark.low.x_m -= upright ? margin_m : 0.0;
    mark.high.x_m += upright ? margin_m : 0.0;
    mark.low.z_m -= level ? margin_m : 0.0;
    mark.high.z_m += level ? margin_m : 0.0;
    add_mark(of, mark);
    of->made->inner = of->made->inner || drain->inside;
}

static void add_drains(maker *of)
{
    const us_section *section = of->section;
    for (size_t d = 0; d < section->drain_count; d++) {
        const usi_drain *drain = &section->drains[d];
        if (!is_open(of, d)) {
            continue;
        }
        double tailwater_m = of->water->downstream_m;
        double head_m = drain->tailwater ? tailwater_m : drain->outlet_m;
        if (!of->water->at_bed) {
            head_m = fmax(head_m, tailwater_m);
        }
        usi_terminal terminal = {.kind = USI_TERMINAL_DRAIN, .index = d, .head_m = head_m};
        if (drain->weeps) {
            add_weeps(of, drain, terminal);
        } else {
            add_strip(of, drain, terminal);
        }
    }
}

/* Heads lie between those of the terminals and the levels of dry bed. */
static void set_scale(maker *of)
{
    usi_situation *made = of->made;
    made->datum_m = of->water->downstream_m;
    made->scale_m = of->water->upstream_m - of->water->downstream_m;
    double lowest_m = of->water->downstream_m;
    double highest_m = of->water->upstream_m;
    for (size_t t = 0; t < made->terminal_count; t++) {
        if (!made->terminals[t].floating) {
            lowest_m = fmin(lowest_m, made->terminals[t].head_m);
            highest_m = fmax(highest_m, made->terminals[t].head_m);
        }
    }
    if (made->scale_m <= usi_section_tolerance(of->section)) {
        made->scale_m = highest_m - lowest_m;
    }
    if (made->scale_m <= usi_section_tolerance(of->section)) {
        made->scale_m = usi_section_size(of->section);
    }
}

static void fill(maker *of)
{
    add_terminal(of, (usi_terminal){.kind = USI_TERMINAL_LEFT_WATER, .head_m = left_water(of)});
    add_terminal(of, (usi_terminal){.kind = USI_TERMINAL_RIGHT_WATER, .head_m = right_water(of)});
    add_dry(of, true);
    add_dry(of, false);
    add_sides(of);
    add_base(of);
    add_seals(of);
    add_stretches(of);
    add_drains(of);
    set_scale(of);
}

us_status usi_situation_make(us_context *context, const us_section *section, size_t water,
                             usi_variant variant, usi_situation **situation)
{
    usi_situation *made = usi_memory_array(context, 1, sizeof *made);
    if (made == NULL) {
        return US_ERROR_MEMORY;
    }
    maker of = {section, &section->waters[water], variant, made};
    size_t voids = section->void_count * (section->wall_count + 1);
    size_t stretches = section->permeable_count + voids + section->drain_count;
    size_t most = 5 + stretches + section->structure_top.count + 1;
    made->terminals = usi_memory_array(context, most, sizeof *made->terminals);
    made->marks = usi_memory_array(context, most + 2 * of.water->seal_count, sizeof *made->marks);
    if (made->terminals == NULL || made->marks == NULL) {
        usi_situation_free(made);
        return US_ERROR_MEMORY;
    }
    fill(&of);
    if (made->mark_count == 0) {
        usi_situation_free(made);
        made = NULL;
    }
    *situation = made;
    return US_OK;
}

bool usi_situation_can_open(const us_section *section)
{
    if (!section->has_structure) {
        return false;
    }
    bool left = !section->flows_left;
    double x_m = usi_section_heel_x(section);
    double bed_m = usi_line_level(usi_section_upstream_bed(section), x_m, !left);
    double underside_m = usi_line_level(&section->underside, x_m, left);
    const usi_side *side = left ? &section->left : &section->right;
    double tolerance_m = usi_section_tolerance(section);
    bool faced = bed_m > underside_m + tolerance_m;
    if (side->kind == USI_SIDE_FIXED_HEAD && fabs(side->x_m - x_m) <= tolerance_m) {
        faced = false; /* it has water all along the end of the structure */
    }
    bool closed = faced;
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        closed =
            closed || (wall->x_m == x_m && wall->top_m >= underside_m && wall->tip_m < underside_m);
    }
    return closed;
}

void usi_situation_free(usi_situation *situation)
{
    if (situation != NULL) {
        free(situation->terminals);
        free(situation->marks);
        free(situation->splits);
        free(situation->seeds);
        free(situation);
    }
}

usi_datum usi_datum_of(const us_section *section, size_t water)
{
    const usi_situation *situation = section->situation;
    if (situation != NULL) {
        return (usi_datum){situation->datum_m, situation->scale_m};
    }
    const usi_water *of = &section->waters[water];
    return (usi_datum){of->downstream_m, of->upstream_m - of->downstream_m};
}

bool usi_situation_side_differs(const us_section *section)
{
    const usi_side *side = section->flows_left ? &section->left : &section->right;
    if (section->situation == NULL || side->kind != USI_SIDE_FIXED_HEAD) {
        return false;
    }
    const usi_water *water = &section->waters[0];
    double bed_m =
        usi_line_level(usi_section_downstream_bed(section), side->x_m, section->flows_left);
    double on_bed_m = water->at_bed ? bed_m : fmax(water->downstream_m, bed_m);
    double on_side_m = side->has_head ? side->head_m : water->downstream_m;
    return fabs(on_side_m - on_bed_m) > usi_section_tolerance(section);
}
