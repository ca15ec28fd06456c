#include "study/results_works.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "quantity/creep.h"
#include "quantity/openings.h"
#include "quantity/wall_works.h"

static const double GRAVITY_M_S2 = 9.80665; /* as for the pound in base/units.c */

static us_value exact(double value)
{
    return (us_value){value, 0.0, true};
}

/* A way that ends at a place, if it is worse than the worst so far. */
typedef struct way_end {
    const char *name; /* NULL: the downstream bed */
    usi_point at;
    double head_m;
} way_end;

static us_status try_end(const usi_judge *of, const usi_creep_path *path, usi_creep_rule rule,
                         const way_end *end, us_creep_way *worst)
{
    usi_creep_length length;
    us_status status = usi_creep_measure(of->context, of->section, path, rule, end->at, &length);
    us_creep_way way = {.head_m = end->head_m,
                        .x_m = end->at.x_m,
                        .level_m = end->at.z_m,
                        .end = end->name,
                        .cut_across = length.cut_across};
    if (status != US_OK || path->count < 2) {
        return status;
    }
    way.length_m = exact(length.length_m);
    if (end->head_m > 0.0) {
        way.ratio = exact(length.length_m / end->head_m);
    }
    bool worse =
        !worst->length_m.present ||
        (way.ratio.present && (!worst->ratio.present || way.ratio.value < worst->ratio.value));
    if (worse) {
        *worst = way;
    }
    return US_OK;
}

static us_status try_both(const usi_judge *of, const usi_creep_path *path, const way_end *end,
                          us_works_result *works)
{
    us_status status = try_end(of, path, USI_CREEP_BLIGH, end, &works->bligh);
    return status == US_OK ? try_end(of, path, USI_CREEP_LANE, end, &works->lane) : status;
}

/* A stretch of the underside where water comes up: it runs off over the structure. */
static us_status try_stretch(const usi_judge *of, const usi_creep_path *path, double from_m,
                             double to_m, us_works_result *works)
{
    const us_section *section = of->section;
    const usi_line *top =
        section->structure_top.count > 0 ? &section->structure_top : &section->underside;
    double spill_m = fmax(usi_line_highest(top, from_m, to_m), of->result->downstream_m);
    bool left = section->flows_left;
    double x_m = left ? to_m : from_m;
    way_end end = {"permeable",
                   {x_m, usi_line_level(&section->underside, x_m, !left)},
                   of->result->upstream_m - spill_m};
    return end.head_m > 0.0 ? try_both(of, path, &end, works) : US_OK;
}

static us_status try_stretches(const usi_judge *of, const usi_creep_path *path,
                               us_works_result *works)
{
    const us_section *section = of->section;
    bool bare = of->result == of->solution->water[of->water].without_apron;
    us_status status = US_OK;
    if (bare) { /* a stretch for each part of the structure */
        const usi_line *top = &section->structure_top;
        double from_m = section->left_end_m;
        for (size_t k = 0; status == US_OK && k <= top->count; k++) {
            double to_m = k < top->count ? top->points[k].x_m : section->right_end_m;
            if (to_m > from_m) {
                status = try_stretch(of, path, from_m, to_m, works);
                from_m = to_m;
            }
        }
        return status;
    }
    for (size_t k = 0; status == US_OK && k < section->permeable_count; k++) {
        if (section->permeable_retained.by == NULL) {
            status = try_stretch(of, path, section->permeable[k].from_m, section->permeable[k].to_m,
                                 works);
        }
    }
    return status;
}

static us_status try_drains(const usi_judge *of, const usi_creep_path *path, const bool *open,
                            us_works_result *works)
{
    const us_section *section = of->section;
    us_status status = US_OK;
    for (size_t k = 0; status == US_OK && k < section->drain_count; k++) {
        const usi_drain *drain = &section->drains[k];
        double outlet_m = drain->tailwater ? of->result->downstream_m
                                           : fmax(drain->outlet_m, of->result->downstream_m);
        way_end end = {drain->name, section->flows_left ? drain->to : drain->from,
                       of->result->upstream_m - outlet_m};
        if (open[k] && !drain->inside && drain->retained.by == NULL && end.head_m > 0.0) {
            status = try_both(of, path, &end, works);
        }
    }
    return status;
}

static us_status fill_creep(const usi_judge *of, const bool *open, us_works_result *works)
{
    const us_section *section = of->section;
    usi_creep_path path;
    us_status status = usi_creep_make(of->context, section, &path);
    if (status == US_OK && path.count > 0) {
        way_end toe = {NULL, path.points[path.count - 1].at, of->result->head_difference_m};
        status = try_both(of, &path, &toe, works);
    }
    if (status == US_OK) {
        status = try_stretches(of, &path, works);
    }
    if (status == US_OK) {
        status = try_drains(of, &path, open, works);
    }
    usi_creep_clear(&path);
    return status;
}

static void fill_cap(const us_section *section, const usi_wall *wall, us_wall_works *works)
{
    usi_wall_cap cap = usi_wall_in_cap(section, wall);
    if (!cap.under) {
        return;
    }
    works->embedment_m = exact(cap.embedment_m);
    if (cap.gap_m > 0.0) {
        works->gap_m = exact(cap.gap_m);
    }
    if (cap.has_thickness) {
        works->cap_m = exact(cap.thickness_m);
        works->embedment_share = exact(cap.embedment_m / cap.thickness_m);
    } else if (cap.embedment_m <= 0.0) {
        works->embedment_share = exact(0.0);
    }
}

static void fill_rust(const usi_wall *wall, us_wall_works *works)
{
    if (!wall->corrosion.given) {
        return;
    }
    double thickness_m = wall->sheet.thickness_m;
    double left_m = fmax(thickness_m - 2.0 * wall->corrosion.loss_m, 0.0);
    works->loss_m = exact(wall->corrosion.loss_m);
    works->left_m = exact(left_m);
    works->left_share = exact(left_m / thickness_m);
}

static us_status fill_load(const usi_judge *of, const usi_wall *wall, us_wall_works *works)
{
    static const char *const lacks[] = {
        [USI_SHAFT_KNOWN] = NULL,
        [USI_SHAFT_NO_WEIGHT] = "a soil at the wall has no unit weight",
        [USI_SHAFT_NO_FRICTION] = "a soil at the wall has no `shaft`",
    };
    usi_wall_friction friction;
    us_status status = US_OK;
    if (wall->sheet.mass_kg_m2 > 0.0) {
        works->weight_n_m =
            exact(wall->sheet.mass_kg_m2 * GRAVITY_M_S2 * (wall->top_m - wall->tip_m));
    }
    if (!wall->loaded) {
        return US_OK;
    }
    works->load_n_m = exact(wall->load_n_m);
    status = usi_wall_hold(of->context, of->section, wall, &friction);
    if (status != US_OK) {
        return status;
    }
    works->lacks = lacks[friction.lack];
    if (friction.lack == USI_SHAFT_KNOWN) {
        works->friction_n_m = exact(friction.friction_n_m);
        if (works->weight_n_m.present) {
            works->load_factor =
                exact(friction.friction_n_m / (wall->load_n_m + works->weight_n_m.value));
        } else {
            works->lacks = "the sheet has no `mass`";
        }
    }
    return US_OK;
}

static us_status fill_walls(const usi_judge *of, us_works_result *works)
{
    const us_section *section = of->section;
    us_wall_works *walls = usi_memory_array(of->context, section->wall_count, sizeof *walls);
    us_status status = walls != NULL ? US_OK : US_ERROR_MEMORY;
    works->walls = walls;
    for (size_t i = 0; status == US_OK && i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        walls[i].name = wall->name;
        works->wall_count++;
        fill_cap(section, wall, &walls[i]);
        fill_rust(wall, &walls[i]);
        status = fill_load(of, wall, &walls[i]);
    }
    return status;
}

/* Which drains are open in this case, or in the variant of it that is looked at. */
static void find_open(const usi_judge *of, bool *open)
{
    const us_water_result *result = of->result;
    for (size_t i = 0; i < of->section->drain_count; i++) {
        bool solved = i < result->drain_count; /* else nothing acts on the edges */
        open[i] = solved ? result->drains[i].open : !of->section->drains[i].shut;
    }
}

us_status usi_works_fill(const usi_judge *of)
{
    us_works_result *works = usi_memory_array(of->context, 1, sizeof *works);
    bool *open = usi_memory_array(of->context, of->section->drain_count, sizeof *open);
    us_status status = works != NULL && open != NULL ? US_OK : US_ERROR_MEMORY;
    of->result->works = works; /* freed with the result whatever happens */
    if (status == US_OK) {
        find_open(of, open);
        status = fill_creep(of, open, works);
    }
    if (status == US_OK) {
        usi_openings openings;
        status = usi_openings_find(of->context, of->section, open, &openings);
        works->openings = openings.items;
        works->opening_count = openings.count;
    }
    if (status == US_OK) {
        status = fill_walls(of, works);
    }
    free(open);
    return status;
}

void usi_works_free(us_works_result *works)
{
    if (works != NULL) {
        free((us_opening_result *)works->openings);
        free((us_wall_works *)works->walls);
        free(works);
    }
}
