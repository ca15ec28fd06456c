/* us_section_solve(): refine, fill in, check, note. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "study/advice.h"
#include "study/checks.h"
#include "study/later.h"
#include "study/notes.h"
#include "study/results.h"
#include "study/solution.h"

static const double FINEST_ACCURACY = 1e-5;
static const double COARSEST_ACCURACY = 0.2;

static us_status fill_all(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_section *section = solution->section;
    solution->water = usi_memory_array(context, section->water_count, sizeof *solution->water);
    if (solution->water == NULL) {
        return US_ERROR_MEMORY;
    }
    solution->water_count = section->water_count;
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        status = usi_results_fill(context, section, nest, w, &solution->water[w]);
        if (status == US_OK) {
            status = usi_checks_fill(context, section, &solution->water[w]);
        }
    }
    solution->grid = (us_grid_result){.unknowns = usi_nest_finest(nest)->unknowns,
                                      .columns = usi_nest_finest(nest)->columns,
                                      .rows = usi_nest_finest(nest)->rows,
                                      .mass_balance = usi_nest_finest(nest)->imbalance,
                                      .converged = nest->converged};
    solution->cells = ldexp(nest->cells, nest->halvings + (int)nest->count - 1);
    if (status == US_OK) {
        status = usi_advice_fill(context, nest, solution);
    }
    if (status == US_OK) {
        status = usi_notes_fill(context, nest, solution);
    }
    return status == US_OK ? usi_notes_sealed(context, nest, solution) : status;
}

us_status us_section_solve(us_context *context, const us_section *section,
                           const us_solve_options *given, us_solution **solution)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    if (context == NULL || section == NULL || solution == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (given != NULL && !usi_options_take(given, &options, sizeof options)) {
        usi_context_report(context, US_ERROR, NULL, NULL,
                           "solve options of a later release, or never initialised");
        return US_ERROR_ARGUMENT;
    }
    if (!(options.accuracy >= FINEST_ACCURACY) || !(options.accuracy <= COARSEST_ACCURACY)) {
        usi_context_report(context, US_ERROR, NULL, NULL,
                           "the accuracy is a share from 1e-5 to 0.2, that is 0.001 %% to 20 %%");
        return US_ERROR_ARGUMENT;
    }
    us_status status = usi_later_refuse(context, section);
    if (status != US_OK) {
        return status;
    }
    us_solution *solved = usi_memory_array(context, 1, sizeof *solved);
    if (solved == NULL) {
        return US_ERROR_MEMORY;
    }
    solved->section = section;
    solved->accuracy = options.accuracy;
    usi_nest nest;
    status = usi_nest_refine(context, section, options.accuracy, &nest);
    if (status == US_OK) {
        status = fill_all(context, &nest, solved);
        bool converged = nest.converged;
        usi_nest_free(&nest);
        if (status == US_OK) {
            *solution = solved;
            return converged ? US_OK : US_NOT_CONVERGED;
        }
    }
    us_solution_free(solved);
    return status;
}
