/* us_section_solve(): its arguments. */
#include "base/context.h"
#include "base/memory.h"
#include "base/options.h"
#include "study/parts.h"

static const double FINEST_ACCURACY = 1e-5;
static const double COARSEST_ACCURACY = 0.2;

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
    us_solution *solved = usi_memory_array(context, 1, sizeof *solved);
    if (solved == NULL) {
        return US_ERROR_MEMORY;
    }
    solved->section = section;
    solved->accuracy = options.accuracy;
    solved->without_apron = options.without_apron;
    solved->other_ratios = options.other_ratios;
    us_status status = usi_parts_solve(context, section, solved);
    if (status == US_OK) {
        *solution = solved;
        return solved->grid.converged ? US_OK : US_NOT_CONVERGED;
    }
    us_solution_free(solved);
    return status;
}
