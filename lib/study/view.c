#include "study/view.h"

#include <stdlib.h>

#include "solve/field.h"
#include "study/nest.h"

/* How often the grid that points on dry bed are found on is drawn together towards those
 * found last. */
static const double SHARPEN_TRUNCATION = 1e-3;
enum { SHARPEN_ROUNDS = 3, SHARPEN_UNKNOWNS = 20000 };

/* Finds where dry bed begins to let water out, so that grids can resolve it. What cannot
 * be solved here is left for the solution itself to report. */
static us_status sharpen(us_context *context, double accuracy, usi_view *view)
{
    usi_grid_options options = {.cells = usi_nest_first_cells(accuracy),
                                .truncation = SHARPEN_TRUNCATION};
    us_status status = US_OK;
    for (int round = 0; status == US_OK && round < SHARPEN_ROUNDS; round++) {
        usi_grid *grid = NULL;
        usi_field *field = NULL;
        status = usi_grid_build(context, &view->section, &options, &grid);
        if (status == US_OK) {
            status = usi_field_solve_heads(context, grid, &field);
        }
        if (status == US_OK) {
            free(view->situation->splits);
            view->situation->splits = field->splits;
            view->situation->split_count = field->split_count;
            field->splits = NULL;
            free(view->situation->seeds);
            view->situation->seeds = field->seeds;
            view->situation->seed_count = field->seed_count;
            field->seeds = NULL;
            options.halvings = round > 0 && grid->unknowns < SHARPEN_UNKNOWNS ? 1 : 0;
        }
        usi_field_free(field);
        usi_grid_free(grid);
    }
    return status == US_NOT_CONVERGED ? US_OK : status;
}

us_status usi_view_make(us_context *context, const us_section *section, size_t water,
                        usi_variant variant, double accuracy, usi_view *view)
{
    usi_water *of = &section->waters[water];
    const us_section *ground = of->ground != NULL ? of->ground : section;
    size_t index = of->ground != NULL ? 0 : water;
    usi_situation *situation = NULL;
    us_status status = usi_situation_make(context, ground, index, variant, &situation);
    if (status == US_OK) {
        *view = (usi_view){.section = *ground, .situation = situation};
        view->section.waters = &ground->waters[index];
        view->section.water_count = 1;
        view->section.situation = situation;
    }
    if (status == US_OK && situation != NULL && situation->dry) {
        status = sharpen(context, accuracy, view);
        if (status != US_OK) {
            usi_view_free(view);
        }
    }
    return status;
}

void usi_view_free(usi_view *view)
{
    usi_situation_free(view->situation);
    view->situation = NULL;
    view->section.situation = NULL;
}

bool usi_view_differs(const usi_view *view, const us_section *section)
{
    return view->situation != NULL || view->section.left_bed.points != section->left_bed.points;
}

bool usi_view_drains(const usi_view *view)
{
    for (size_t t = 0; view->situation != NULL && t < view->situation->terminal_count; t++) {
        if (view->situation->terminals[t].kind == USI_TERMINAL_DRAIN) {
            return true;
        }
    }
    return false;
}
