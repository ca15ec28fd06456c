#include "study/advice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "model/situation.h"

/* Advice is no result: a per cent is enough. */
static const double COARSEST = 0.01;

/* The cut-off: from the bed, or from the top of the step, down by the depth of the
 * mean, or to the next wall below it. */
static usi_wall cutoff_at(const us_section *section, const usi_exit *exit)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double x_m = exit->at.x_m;
    double top_m = exit->at.z_m;
    double tip_m = exit->at.z_m - exit->mean_depth_m;
    if (exit->kind == USI_EXIT_STEP) {
        top_m = fmax(usi_line_level(bed, x_m, false), usi_line_level(bed, x_m, true));
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (fabs(wall->x_m - x_m) <= usi_section_tolerance(section) && wall->top_m < top_m) {
            tip_m = fmax(tip_m, wall->top_m);
        }
    }
    usi_wall cutoff = {.x_m = x_m, .top_m = top_m, .tip_m = tip_m, .solved_tip_m = tip_m};
    if (section->has_base) {
        cutoff.base_m =
            fmax(usi_section_base(section, x_m, false), usi_section_base(section, x_m, true));
    }
    return cutoff;
}

/* Largest gradient on the bed, per unit head difference, with one more wall. */
static us_status solve_with(us_context *context, const us_section *section, usi_wall cutoff,
                            double accuracy, us_value *gradient)
{
    us_section variant = *section;
    variant.walls = usi_memory_array(context, section->wall_count + 1, sizeof *variant.walls);
    if (variant.walls == NULL) {
        return US_ERROR_MEMORY;
    }
    if (section->wall_count > 0) {
        memcpy(variant.walls, section->walls, section->wall_count * sizeof *variant.walls);
    }
    variant.walls[variant.wall_count++] = cutoff;
    usi_nest nest;
    us_status status = usi_nest_refine_gradient(context, &variant, fmax(accuracy, COARSEST), &nest);
    if (status == US_OK) {
        *gradient = usi_nest_gradient(&nest);
        gradient->present = gradient->present && nest.converged;
        usi_nest_free(&nest);
    }
    free(variant.walls);
    return status;
}

us_status usi_advice_fill(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_section *section = solution->section;
    const usi_reading *fine = usi_nest_finest(nest);
    if (nest->exit_count == 0 || fine->sealed || fine->bed_closed ||
        fine->exits[nest->governing.exit].bounded) {
        return US_OK;
    }
    usi_wall cutoff = cutoff_at(section, &nest->exits[nest->governing.exit]);
    us_value unit = {0.0, 0.0, false};
    /* A cut-off that closes the soil or cannot be resolved is no advice, and no
     * mistake of the file: such messages stay in a context of their own. */
    us_context *quiet = usi_context_create_aside(context);
    us_status status =
        quiet != NULL ? solve_with(quiet, section, cutoff, nest->accuracy, &unit) : US_ERROR_MEMORY;
    usi_context_close_aside(quiet, context, status);
    if (status == US_ERROR_INPUT || status == US_ERROR_NUMERICAL) {
        return US_OK;
    }
    for (size_t w = 0; status == US_OK && w < solution->water_count; w++) {
        us_exit_result *exit = &solution->water[w].exit;
        if (exit->enters) {
            continue;
        }
        double head_m = usi_datum_of(section, w).unit_m;
        bool leaves = unit.present && unit.value >= -unit.error;
        exit->cutoff_m = nest->exits[nest->governing.exit].at.z_m - cutoff.tip_m;
        exit->with_cutoff = (us_value){unit.value * head_m, unit.error * head_m, leaves};
    }
    return status;
}
