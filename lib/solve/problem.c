#include "solve/problem.h"

#include <stdlib.h>

#include "base/memory.h"

/* Measured: below it what surrounds the blocks costs more than they save. */
static const size_t DENSE_FROM = 500;

us_status usi_problem_begin(us_context *context, usi_problem *problem, size_t free_count,
                            size_t room)
{
    *problem = (usi_problem){.free_count = free_count, .dense_from = DENSE_FROM, .link_room = room};
    problem->links = usi_memory_room(context, room, sizeof *problem->links);
    problem->spots = usi_memory_array(context, free_count, sizeof *problem->spots);
    return problem->links != NULL && problem->spots != NULL ? US_OK : US_ERROR_MEMORY;
}

void usi_problem_free(usi_problem *problem)
{
    free(problem->links);
    free(problem->spots);
    *problem = (usi_problem){0};
}

void usi_problem_link(usi_problem *problem, int32_t a, int32_t b, double conductance)
{
    if (a != b && problem->link_count < problem->link_room) {
        problem->links[problem->link_count++] = (usi_link){a, b, conductance};
    }
}

static void widen(int32_t *first, int32_t *end, int32_t to)
{
    *first = to < *first || *end == 0 ? to : *first;
    *end = to < *end ? *end : to + 1;
}

void usi_problem_touch(usi_problem *problem, int32_t place, size_t column, size_t row)
{
    if (place >= 0 && (size_t)place < problem->free_count) {
        usi_spot *spot = &problem->spots[place];
        widen(&spot->first_column, &spot->end_column, (int32_t)column);
        widen(&spot->first_row, &spot->end_row, (int32_t)row);
    }
}

double usi_problem_energy(const usi_problem *problem, const double *values)
{
    return usi_problem_energy_from(problem, 0, values);
}

double usi_problem_energy_from(const usi_problem *problem, size_t first, const double *values)
{
    double sum = 0.0;
    for (size_t k = first; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        double drop = usi_problem_value(values, link->a) - usi_problem_value(values, link->b);
        sum += link->conductance * drop * drop;
    }
    return sum;
}
