#include "study/solution.h"

#include <stdlib.h>

#include "study/results.h"
#include "study/results_works.h"

size_t us_solution_water_count(const us_solution *solution)
{
    return solution == NULL ? 0 : solution->water_count;
}

const us_water_result *us_solution_water(const us_solution *solution, size_t index)
{
    return solution != NULL && index < solution->water_count ? &solution->water[index] : NULL;
}

const us_grid_result *us_solution_grid(const us_solution *solution)
{
    return solution == NULL ? NULL : &solution->grid;
}

size_t us_solution_note_count(const us_solution *solution)
{
    return solution == NULL ? 0 : solution->note_count;
}

const char *us_solution_note(const us_solution *solution, size_t index)
{
    return solution != NULL && index < solution->note_count ? solution->notes[index] : NULL;
}

double us_solution_accuracy(const us_solution *solution)
{
    return solution == NULL ? 0.0 : solution->accuracy;
}

size_t us_solution_register_count(const us_solution *solution)
{
    return solution == NULL ? 0 : solution->register_count;
}

const us_register_entry *us_solution_register(const us_solution *solution, size_t index)
{
    return solution != NULL && index < solution->register_count ? &solution->entries[index] : NULL;
}

bool us_solution_fails(const us_solution *solution)
{
    for (size_t w = 0; solution != NULL && w < solution->water_count; w++) {
        for (size_t c = 0; c < solution->water[w].check_count; c++) {
            const us_check_result *check = &solution->water[w].checks[c];
            bool open = check->verdict == US_NOT_CHECKED && check->required.present;
            if (check->verdict == US_FAIL || open) {
                return true;
            }
        }
    }
    return false;
}

void usi_results_release(us_water_result *result)
{
    for (size_t c = 0; c < result->check_count; c++) {
        free((char *)result->checks[c].where);
        free((char *)result->checks[c].basis);
    }
    free((us_check_result *)result->checks);
    free((us_profile_point *)result->exit.profile);
    free((us_uplift_panel *)result->uplift.panels);
    free((us_thickness *)result->uplift.thickness);
    free((us_exit_place *)result->exit.exits);
    free((us_wall_result *)result->walls);
    free((us_piezometer_result *)result->piezometers);
    free((us_drain_result *)result->drains);
    free((us_stretch_result *)result->stretches);
    usi_works_free((us_works_result *)result->works);
    us_water_result *beside[2] = {(us_water_result *)result->drains_shut,
                                  (us_water_result *)result->without_apron};
    for (size_t k = 0; k < 2; k++) {
        if (beside[k] != NULL) {
            usi_results_release(beside[k]);
            free(beside[k]);
        }
    }
}

void us_solution_free(us_solution *solution)
{
    if (solution == NULL) {
        return;
    }
    for (size_t w = 0; solution->water != NULL && w < solution->water_count; w++) {
        usi_results_release(&solution->water[w]);
    }
    for (size_t n = 0; n < solution->note_count; n++) {
        free(solution->notes[n]);
    }
    free(solution->notes);
    free(solution->entries);
    free(solution->water);
    free(solution);
}
