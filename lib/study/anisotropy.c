#include "study/anisotropy.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "base/number.h"
#include "model/scale.h"
#include "study/nest.h"
#include "study/results.h"
#include "study/text.h"
#include "study/view.h"

enum { RATIOS = 2, COLUMNS = RATIOS + 1, DIGITS = 3, LIST_ROOM = 768, NAME_SHOWN = 120 };
static const double ROUGHLY = 0.1; /* the accuracy that where dry bed begins is found for */
static const double RATIO[RATIOS] = {4.0, 10.0};

/* The case with the largest head difference; the count where nothing is solved. */
static size_t find_steepest(const us_solution *solution)
{
    size_t found = solution->water_count;
    double largest_m = 0.0;
    for (size_t w = 0; w < solution->water_count; w++) {
        const us_water_result *water = &solution->water[w];
        if (water->undermined == NULL && water->head_difference_m > largest_m) {
            largest_m = water->head_difference_m;
            found = w;
        }
    }
    return found;
}

/* The soils of a section with another ratio; NULL when memory is short. */
static usi_soil *with_ratio(us_context *context, const us_section *section, double ratio)
{
    usi_soil *soils = usi_memory_array(context, section->soil_count, sizeof *soils);
    if (soils == NULL) {
        return NULL;
    }
    memcpy(soils, section->soils, section->soil_count * sizeof *soils);
    for (size_t s = 0; s < section->soil_count; s++) {
        double mean_m_s = sqrt(soils[s].kh_m_s * soils[s].kv_m_s);
        soils[s].kh_m_s = mean_m_s * sqrt(ratio);
        soils[s].kv_m_s = mean_m_s / sqrt(ratio);
    }
    return soils;
}

static us_status solve_with(us_context *context, const us_solution *solution, size_t water,
                            double ratio, us_water_result *result)
{
    usi_view view;
    usi_nest nest;
    us_status status =
        usi_view_make(context, solution->section, water, USI_VARIANT_NONE, ROUGHLY, &view);
    if (status != US_OK) {
        return status;
    }
    usi_soil *soils = with_ratio(context, &view.section, ratio);
    view.section.soils = soils;
    status = soils != NULL ? usi_nest_rough(context, &view.section, &nest) : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = usi_results_fill(context, &view.section, &nest, 0, result);
        usi_nest_free(&nest);
    }
    usi_view_free(&view);
    free(soils);
    return status;
}

/* Appends "; WHAT A, B and C UNIT" where all of them are there. */
static void add(char *list, const char *what, const us_value values[COLUMNS], double unit,
                const char *unit_name)
{
    char numbers[COLUMNS][USI_NUMBER_ROOM];
    size_t used = strlen(list);
    for (size_t k = 0; k < COLUMNS; k++) {
        if (!values[k].present) {
            return;
        }
        (void)usi_number_write(numbers[k], values[k].value / unit, DIGITS);
    }
    (void)snprintf(list + used, LIST_ROOM - used, "; %s %s, %s and %s%s%s", what, numbers[0],
                   numbers[1], numbers[2], unit_name[0] != '\0' ? " " : "", unit_name);
}

/* Absent as well where some exit could not be judged: what is left says little. */
static us_value smallest_factor(const us_exit_result *exit)
{
    for (size_t k = 0; k < exit->exit_count; k++) {
        if (exit->exits[k].lacks != NULL && !exit->exits[k].retained) {
            return (us_value){0.0, 0.0, false};
        }
    }
    return exit->worst < exit->exit_count ? exit->exits[exit->worst].factor
                                          : (us_value){0.0, 0.0, false};
}

static us_status note(us_context *context, us_solution *solution,
                      const us_water_result *const results[COLUMNS])
{
    usi_scale scale = usi_scale_of(solution->section);
    us_value flow[COLUMNS];
    us_value gradient[COLUMNS];
    us_value mean[COLUMNS];
    us_value factor[COLUMNS];
    us_value uplift[COLUMNS];
    char list[LIST_ROOM] = "";
    for (size_t k = 0; k < COLUMNS; k++) {
        flow[k] = results[k]->flow.rate_m2_s;
        gradient[k] = results[k]->exit.gradient;
        mean[k] = results[k]->exit.mean;
        factor[k] = smallest_factor(&results[k]->exit);
        uplift[k] = results[k]->uplift.force_n_m;
    }
    add(list, "flow", flow, scale.flow_m2_s, scale.flow);
    add(list, "exit gradient", gradient, 1.0, "");
    if (!gradient[0].present) {
        add(list, "mean below the exit", mean, 1.0, "");
    }
    add(list, "smallest piping factor", factor, 1.0, "");
    add(list, "uplift", uplift, scale.force_n_m, scale.force);
    if (list[0] == '\0') {
        return US_OK;
    }
    return usi_note_add(context, solution,
                        "What kh / kv does, in `%.*s`: as given, and roughly what it would be at 4 "
                        "and at 10 in every soil (sqrt(kh kv) kept)%s. Water-laid soil often has "
                        "2 to 10 (from memory).",
                        NAME_SHOWN, results[0]->name, list);
}

us_status usi_anisotropy_note(us_context *context, us_solution *solution)
{
    size_t water = find_steepest(solution);
    if (water == solution->water_count) {
        return US_OK;
    }
    us_water_result variants[RATIOS] = {{0}, {0}};
    const us_water_result *results[COLUMNS] = {&solution->water[water]};
    /* What keeps a variant from being solved is no mistake of the file. */
    us_context *quiet = usi_context_create_aside(context);
    us_status status = quiet != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < RATIOS; k++) {
        status = solve_with(quiet, solution, water, RATIO[k], &variants[k]);
        results[k + 1] = &variants[k];
    }
    usi_context_close_aside(quiet, context, status);
    if (status == US_OK) {
        status = note(context, solution, results);
    } else if (status == US_ERROR_INPUT || status == US_ERROR_NUMERICAL ||
               status == US_NOT_CONVERGED) {
        status = US_OK;
    }
    for (size_t k = 0; k < RATIOS; k++) {
        usi_results_release(&variants[k]);
    }
    return status;
}
