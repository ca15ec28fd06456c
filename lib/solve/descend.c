#include "solve/descend.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

enum { STEPS = 60 };

typedef struct descent {
    usi_factor *factor;
    size_t count;
    const double *load;
    double *values;
    double *inflow; /* what is not yet balanced, rows of the matrix */
    double *ahead;  /* direction */
    double gain;    /* inflow times its correction */
} descent;

static double product(const double *one, const double *other, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum += one[i] * other[i];
    }
    return sum;
}

/* Energy of a direction, in which what is given does not change. */
static double energy(const descent *of)
{
    const usi_problem *problem = of->factor->problem;
    double sum = 0.0;
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        double a = link->a >= 0 && (size_t)link->a < of->count ? of->ahead[link->a] : 0.0;
        double b = link->b >= 0 && (size_t)link->b < of->count ? of->ahead[link->b] : 0.0;
        sum += link->conductance * (a - b) * (a - b);
    }
    return sum;
}

/* Turns the direction: towards the correction of what is left now, and along the last as
 * far as the correction was one of rounding. False when memory is short. */
static bool turn(descent *of, bool first)
{
    double *load = of->factor->load->x;
    for (size_t i = 0; i < of->factor->rows; i++) {
        load[i] = i < of->count ? of->inflow[i] : 0.0;
    }
    const double *correction = usi_factor_substitute(of->factor, CHOLMOD_A);
    if (correction == NULL) {
        return false;
    }
    double gain = product(of->inflow, correction, of->count);
    double along = first || !(of->gain > 0.0) ? 0.0 : gain / of->gain;
    for (size_t i = 0; i < of->count; i++) {
        of->ahead[i] = correction[i] + along * of->ahead[i];
    }
    of->gain = gain;
    return true;
}

/* One step; gives the largest change, NaN when memory is short. */
static double step(descent *of, bool first)
{
    usi_factor_net_inflow(of->factor->problem, of->load, of->values, of->inflow);
    if (!turn(of, first)) {
        return NAN;
    }
    double by = of->gain / energy(of);
    if (!(fabs(by) < HUGE_VAL)) {
        return 0.0; /* nothing is left to balance */
    }
    for (size_t i = 0; i < of->count; i++) {
        of->values[i] += by * of->ahead[i];
    }
    return fabs(by) * usi_factor_largest(of->ahead, of->count) /
           fmax(1.0, usi_factor_largest(of->values, of->count));
}

us_status usi_descend(us_context *context, usi_factor *factor, const double *load, double *values,
                      double *change)
{
    descent of = {.factor = factor,
                  .count = factor->problem->free_count,
                  .load = load,
                  .values = values,
                  .inflow = usi_memory_array(context, factor->rows, sizeof *of.inflow),
                  .ahead = usi_memory_array(context, factor->rows, sizeof *of.ahead)};
    us_status status = of.inflow != NULL && of.ahead != NULL ? US_OK : US_ERROR_MEMORY;
    for (int k = 0; status == US_OK && k < STEPS; k++) {
        *change = step(&of, k == 0);
        if (!(*change > USI_FACTOR_SETTLED)) {
            break;
        }
    }
    free(of.inflow);
    free(of.ahead);
    return status;
}
