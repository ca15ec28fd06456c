#include "quantity/openings.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "quantity/creep.h"
#include "quantity/soils_along.h"

typedef struct finder {
    us_context *context;
    const us_section *section;
    usi_openings *found;
    us_status status;
} finder;

/* An opening that reaches from a to b, with soil on the sides that are named. */
typedef struct place {
    usi_point a;
    usi_point b;
    bool left; /* or below */
    bool right;
    bool above;
} place;

/* Takes the finest soil along one side; one without d85 stays. */
static void look(finder *of, const place *at, bool right, bool above, us_opening_result *opening)
{
    usi_course_line line = {at->a, at->b, right, above};
    usi_soil_runs runs;
    if (of->status == US_OK) {
        of->status = usi_soils_along(of->context, of->section, &line, &runs);
        for (size_t k = 0; k < runs.count; k++) {
            const usi_soil *soil = &of->section->soils[runs.items[k].soil];
            bool unknown = opening->soil != NULL && !opening->d85_m.present;
            if (!unknown &&
                (opening->soil == NULL || !soil->d85.given || soil->d85.m < opening->d85_m.value)) {
                opening->soil = soil->name;
                opening->d85_m =
                    (us_value){soil->d85.given ? soil->d85.m : 0.0, 0.0, soil->d85.given};
            }
        }
        usi_soil_runs_clear(&runs);
    }
}

static void add(finder *of, us_opening_result opening, const place *at)
{
    bool downward = of->section->flows_left;
    usi_point from = downward ? at->b : at->a;
    opening.x_m = from.x_m;
    opening.level_m = fmax(at->a.z_m, at->b.z_m);
    if (at->left) {
        look(of, at, false, false, &opening);
    }
    if (at->right) {
        look(of, at, true, false, &opening);
    }
    if (at->above) {
        look(of, at, true, true, &opening);
    }
    if (opening.size_m.present && opening.d85_m.present) {
        opening.ratio = (us_value){opening.size_m.value / opening.d85_m.value, 0.0, true};
    }
    us_opening_result *grown =
        of->status == US_OK
            ? usi_memory_resize(of->context, of->found->items, of->found->count + 1, sizeof *grown)
            : NULL;
    if (grown == NULL) {
        of->status = US_ERROR_MEMORY;
        return;
    }
    of->found->items = grown;
    grown[of->found->count++] = opening;
}

static us_value exact(double value)
{
    return (us_value){value, 0.0, true};
}

/* The size that counts: of what retains the soil, where something is said to. */
static us_value size_of(usi_length size, const usi_retained *retained)
{
    usi_length counts = retained->by != NULL ? retained->opening : size;
    return (us_value){counts.given ? counts.m : 0.0, 0.0, counts.given};
}

/* Soil beside a drain on the structure: below it, or outside an end face. */
static place beside_drain(const us_section *section, const usi_drain *drain)
{
    bool left_face = !drain->inside && drain->from.x_m == section->left_end_m &&
                     drain->to.x_m == section->left_end_m;
    return (place){drain->from, drain->to, left_face || drain->inside, !left_face, drain->inside};
}

static void add_drains(finder *of, const bool *open)
{
    for (size_t i = 0; i < of->section->drain_count; i++) {
        const usi_drain *drain = &of->section->drains[i];
        usi_length size = {drain->weeps, drain->diameter_m};
        place at = beside_drain(of->section, drain);
        if (open[i]) {
            add(of,
                (us_opening_result){.kind = drain->weeps ? US_OPENING_WEEPS : US_OPENING_DRAIN,
                                    .name = drain->name,
                                    .size_m = size_of(size, &drain->retained),
                                    .retained_by = drain->retained.by},
                &at);
        }
    }
}

/* A permeable stretch, piece by piece of the underside: the finest soil along all counts. */
static void add_permeable(finder *of, const usi_stretch *stretch)
{
    const us_section *section = of->section;
    us_opening_result opening = {
        .kind = US_OPENING_PERMEABLE,
        .name = "permeable",
        .size_m = size_of(section->permeable_opening, &section->permeable_retained),
        .retained_by = section->permeable_retained.by};
    usi_point from = {stretch->from_m, usi_line_level(&section->underside, stretch->from_m, true)};
    usi_point end = {stretch->to_m, usi_line_level(&section->underside, stretch->to_m, false)};
    usi_point at = from;
    for (size_t i = 0; i < section->underside.count; i++) {
        usi_point next = section->underside.points[i];
        if (next.x_m > stretch->from_m && next.x_m < stretch->to_m) {
            place piece = {at, next, false, false, false};
            look(of, &piece, next.z_m > at.z_m, false, &opening);
            at = next;
        }
    }
    place last = {at, end, false, false, false};
    look(of, &last, true, false, &opening);
    place whole = {from, end, false, false, false};
    add(of, opening, &whole);
}

/* The structure closes a hole on that side of a wall. */
static bool covers(const us_section *section, double x_m, double lowest_m, bool right)
{
    bool under = section->has_structure &&
                 (right ? x_m >= section->left_end_m && x_m < section->right_end_m
                        : x_m > section->left_end_m && x_m <= section->right_end_m);
    return under && lowest_m >= usi_line_level(&section->underside, x_m, right);
}

/* The lifting hole of a wall, where the structure closes it on neither side. */
static void add_hole(finder *of, const usi_wall *wall)
{
    const us_section *section = of->section;
    const usi_sheeting *sheet = &wall->sheet;
    double level_m = wall->top_m - sheet->hole_below_top_m;
    double lowest_m = level_m - 0.5 * sheet->hole_m;
    bool left = lowest_m < usi_section_surface(section, wall->x_m, false);
    bool right = lowest_m < usi_section_surface(section, wall->x_m, true);
    if (sheet->hole_m <= 0.0 || sheet->treatment != USI_TREATMENT_OPEN || (!left && !right) ||
        covers(section, wall->x_m, lowest_m, false) || covers(section, wall->x_m, lowest_m, true)) {
        return;
    }
    usi_point at = {wall->x_m, level_m};
    place beside = {at, at, left, right, false};
    add(of,
        (us_opening_result){
            .kind = US_OPENING_HOLE, .name = wall->name, .size_m = exact(sheet->hole_m)},
        &beside);
}

/* The nearest wall above another at its x. */
static const usi_wall *above(const us_section *section, const usi_wall *wall)
{
    const usi_wall *found = NULL;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *other = &section->walls[i];
        if (other != wall && other->x_m == wall->x_m && other->tip_m >= wall->top_m &&
            (found == NULL || other->tip_m < found->tip_m)) {
            found = other;
        }
    }
    return found;
}

/* What is left open above a wall. */
static void add_above(finder *of, const usi_wall *wall)
{
    const us_section *section = of->section;
    const usi_wall *upper = above(section, wall);
    bool under = section->has_structure && wall->x_m >= section->left_end_m &&
                 wall->x_m <= section->right_end_m;
    us_opening_result opening = {.kind = upper != NULL ? US_OPENING_SLOT : US_OPENING_GAP,
                                 .name = wall->name};
    double roof_m = 0.0;
    if (upper != NULL) {
        roof_m = upper->tip_m;
    } else if (under && !usi_creep_hangs(section, wall)) {
        roof_m = fmin(usi_section_surface(section, wall->x_m, false),
                      usi_section_surface(section, wall->x_m, true));
    } else {
        return;
    }
    double height_m = roof_m - wall->top_m;
    if (height_m <= usi_section_tolerance(section)) {
        return;
    }
    opening.size_m = exact(height_m);
    place at = {{wall->x_m, roof_m}, {wall->x_m, wall->top_m}, true, true, false};
    add(of, opening, &at);
}

/* Slots and rows of holes in a wall. */
static void add_cuts(finder *of, const usi_wall *wall)
{
    for (size_t k = 0; k < wall->opening_count; k++) {
        const usi_opening *cut = &wall->openings[k];
        place at = {{wall->x_m, cut->high_m}, {wall->x_m, cut->low_m}, true, true, false};
        add(of,
            (us_opening_result){.kind = cut->holes ? US_OPENING_HOLE : US_OPENING_SLOT,
                                .name = wall->name,
                                .size_m =
                                    exact(cut->holes ? cut->diameter_m : cut->high_m - cut->low_m)},
            &at);
    }
}

us_status usi_openings_find(us_context *context, const us_section *section, const bool *open,
                            usi_openings *openings)
{
    *openings = (usi_openings){0, NULL};
    finder of = {context, section, openings, US_OK};
    add_drains(&of, open);
    for (size_t i = 0; i < section->permeable_count; i++) {
        add_permeable(&of, &section->permeable[i]);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        add_hole(&of, &section->walls[i]);
        add_above(&of, &section->walls[i]);
        add_cuts(&of, &section->walls[i]);
    }
    return of.status;
}
