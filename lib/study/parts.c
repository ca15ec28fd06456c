#include "study/parts.h"

#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/advice.h"
#include "study/anisotropy.h"
#include "study/checks.h"
#include "study/notes.h"
#include "study/register.h"
#include "study/results.h"
#include "study/text.h"
#include "study/view.h"

/* Results, grid and notes of one nest. */
static us_status fill_part(us_context *context, const usi_nest *nest, us_solution *part)
{
    const us_section *section = part->section;
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        status = usi_results_fill(context, section, nest, w, &part->water[w]);
    }
    part->grid = (us_grid_result){.unknowns = usi_nest_finest(nest)->unknowns,
                                  .columns = usi_nest_finest(nest)->columns,
                                  .rows = usi_nest_finest(nest)->rows,
                                  .mass_balance = usi_nest_finest(nest)->imbalance,
                                  .converged = nest->converged};
    part->cells = ldexp(nest->cells, nest->halvings + (int)nest->count - 1);
    if (status == US_OK) {
        status = usi_advice_fill(context, nest, part);
    }
    if (status == US_OK) {
        status = usi_notes_fill(context, nest, part);
    }
    return status == US_OK ? usi_notes_sealed(context, nest, part) : status;
}

static void release(us_solution *part)
{
    for (size_t w = 0; part->water != NULL && w < part->water_count; w++) {
        usi_results_release(&part->water[w]);
    }
    for (size_t n = 0; n < part->note_count; n++) {
        free(part->notes[n]);
    }
    free(part->notes);
    free(part->water);
    *part = (us_solution){0};
}

static us_status solve_part(us_context *context, const us_section *section, double accuracy,
                            us_solution *part)
{
    *part = (us_solution){.section = section,
                          .accuracy = accuracy,
                          .water_count = section->water_count,
                          .water =
                              usi_memory_array(context, section->water_count, sizeof *part->water)};
    if (part->water == NULL) {
        return US_ERROR_MEMORY;
    }
    usi_nest nest;
    us_status status = usi_nest_refine(context, section, accuracy, &nest);
    if (status == US_OK) {
        status = fill_part(context, &nest, part);
        usi_nest_free(&nest);
    }
    if (status != US_OK) {
        release(part);
    }
    return status;
}

/* Notes that the whole does not have yet, and what its grids come to. */
static us_status take_over(us_context *context, us_solution *part, us_solution *whole)
{
    us_status status = US_OK;
    for (size_t n = 0; status == US_OK && n < part->note_count; n++) {
        status = usi_note_once(context, whole, part->notes[n]);
    }
    us_grid_result *grid = &whole->grid;
    bool first = grid->unknowns == 0;
    bool converged = part->grid.converged && (first || grid->converged);
    double balance = fmax(part->grid.mass_balance, grid->mass_balance);
    if (part->grid.unknowns > grid->unknowns) {
        *grid = part->grid;
    }
    grid->converged = converged;
    grid->mass_balance = balance;
    whole->cells = fmax(whole->cells, part->cells);
    return status;
}

/* A variant of a case, kept in `*beside`. */
static us_status solve_variant(us_context *context, size_t water, usi_variant variant,
                               us_solution *whole, const us_water_result **beside)
{
    usi_view view;
    us_solution part = {0};
    us_status status =
        usi_view_make(context, whole->section, water, variant, whole->accuracy, &view);
    if (status != US_OK) {
        return status;
    }
    us_water_result *found = usi_memory_array(context, 1, sizeof *found);
    status = found != NULL ? solve_part(context, &view.section, whole->accuracy, &part)
                           : US_ERROR_MEMORY;
    if (status == US_OK) {
        *found = part.water[0];
        part.water[0] = (us_water_result){0};
        *beside = found;
        found = NULL;
        whole->grid.converged = whole->grid.converged && part.grid.converged;
    }
    free(found);
    release(&part);
    usi_view_free(&view);
    return status;
}

/* The case without credit for the apron, where that was asked for and has a meaning. */
static us_status solve_bare(us_context *context, size_t water, us_solution *whole)
{
    const usi_water *of = &whole->section->waters[water];
    const us_section *ground = of->ground != NULL ? of->ground : whole->section;
    if (!whole->without_apron || !ground->has_structure || of->undermined != NULL) {
        return US_OK;
    }
    if (!usi_situation_can_open(ground)) {
        return usi_note_add(context, whole,
                            "%s: without credit for the apron the flow would have no limit, as no "
                            "wall and no face closes the soil at its upstream end.",
                            of->name);
    }
    /* What keeps this from being solved is no mistake of the file. */
    us_context *quiet = usi_context_create_aside(context);
    us_status status = quiet != NULL ? solve_variant(quiet, water, USI_VARIANT_NO_APRON, whole,
                                                     &whole->water[water].without_apron)
                                     : US_ERROR_MEMORY;
    usi_context_close_aside(quiet, context, status);
    if (status == US_ERROR_INPUT || status == US_ERROR_NUMERICAL) {
        status = usi_note_add(context, whole,
                              "%s: without credit for the apron the case could not be solved.",
                              of->name);
    }
    return status;
}

/* A case that needs a field of its own. */
static us_status solve_case(us_context *context, const usi_view *view, size_t water,
                            us_solution *whole)
{
    us_solution part = {0};
    us_status status = solve_part(context, &view->section, whole->accuracy, &part);
    if (status == US_OK) {
        whole->water[water] = part.water[0];
        part.water[0] = (us_water_result){0};
        status = take_over(context, &part, whole);
    }
    release(&part);
    if (status == US_OK && usi_view_drains(view)) {
        status = solve_variant(context, water, USI_VARIANT_DRAINS_SHUT, whole,
                               &whole->water[water].drains_shut);
    }
    return status;
}

/* The cases that share one field: `common` lists them. */
static us_status solve_common(us_context *context, const size_t *common, size_t count,
                              us_solution *whole)
{
    us_section section = *whole->section;
    us_solution part = {0};
    section.waters = usi_memory_array(context, count, sizeof *section.waters);
    if (section.waters == NULL) {
        return US_ERROR_MEMORY;
    }
    section.water_count = count;
    for (size_t k = 0; k < count; k++) {
        section.waters[k] = whole->section->waters[common[k]];
    }
    us_status status = solve_part(context, &section, whole->accuracy, &part);
    for (size_t k = 0; status == US_OK && k < count; k++) {
        whole->water[common[k]] = part.water[k];
        part.water[k] = (us_water_result){0};
    }
    if (status == US_OK) {
        status = take_over(context, &part, whole);
    }
    release(&part);
    free(section.waters);
    return status;
}

static us_status note_undermined(us_context *context, size_t water, us_solution *whole)
{
    const usi_water *of = &whole->section->waters[water];
    usi_results_name(whole->section, water, &whole->water[water]);
    return usi_note_add(context, whole, "%s: undermined. %s Nothing was solved for this case.",
                        of->name, of->undermined);
}

/* Solves a case, or leaves it for the common ones. */
static us_status sort_case(us_context *context, size_t water, us_solution *whole, bool *common)
{
    *common = false;
    if (whole->section->waters[water].undermined != NULL) {
        return note_undermined(context, water, whole);
    }
    usi_view view;
    us_status status =
        usi_view_make(context, whole->section, water, USI_VARIANT_NONE, whole->accuracy, &view);
    if (status != US_OK) {
        return status;
    }
    *common = !usi_view_differs(&view, whole->section);
    if (!*common) {
        status = solve_case(context, &view, water, whole);
    }
    usi_view_free(&view);
    return status;
}

us_status usi_parts_solve(us_context *context, const us_section *section, us_solution *solution)
{
    solution->water = usi_memory_array(context, section->water_count, sizeof *solution->water);
    size_t *common = usi_memory_array(context, section->water_count, sizeof *common);
    size_t count = 0;
    us_status status = solution->water != NULL && common != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        solution->water_count = section->water_count;
    }
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        bool with_others = false;
        status = sort_case(context, w, solution, &with_others);
        if (with_others) {
            common[count++] = w;
        }
    }
    if (status == US_OK && count > 0) {
        status = solve_common(context, common, count, solution);
    }
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        status = solve_bare(context, w, solution);
    }
    if (status == US_OK) {
        usi_results_share_pressures(solution);
        status = usi_notes_works(context, solution);
    }
    if (status == US_OK) {
        status = usi_checks_fill(context, solution);
    }
    if (status == US_OK) {
        status = usi_register_fill(context, solution);
    }
    if (status == US_OK && solution->other_ratios) {
        status = usi_anisotropy_note(context, solution);
    }
    if (status == US_OK) {
        status = usi_notes_cases(context, solution);
    }
    if (solution->grid.unknowns == 0) {
        solution->grid.converged = true; /* nothing to solve */
    }
    free(common);
    return status;
}
