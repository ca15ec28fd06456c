#include "solve/one_way.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Of looks at the gates alone, then of whole solutions. */
enum { LOOK_CAP = 40, SOLVE_CAP = 20 };
/* Rounding: of a head, and of the largest flow through a gate or a terminal. */
static const double HEAD_ROUNDING = 1e-10;
static const double FLOW_ROUNDING = 1e-10;

static double largest(const double *flows, size_t count)
{
    double most = 0.0;
    for (size_t k = 0; k < count; k++) {
        most = fmax(most, fabs(flows[k]));
    }
    return most;
}

size_t usi_one_way_change(usi_supply *supply, const usi_heads *heads, const double *values,
                          const double *outflows)
{
    size_t terminals = supply->situation->terminal_count;
    double most = largest(outflows, terminals + supply->gate_count);
    size_t changes = 0;
    for (size_t g = 0; g < supply->gate_count; g++) {
        usi_gate *gate = &supply->gates[g];
        double head = values[heads->places[gate->unknown]];
        bool open = gate->open ? outflows[terminals + g] >= -FLOW_ROUNDING * most
                               : head > gate->level + HEAD_ROUNDING;
        changes += open != gate->open ? 1 : 0;
        gate->open = open;
    }
    return changes;
}

/* Goes on until no gate changes. What rounding keeps looks from settling is left to whole
 * solutions. */
us_status usi_one_way_settle(usi_supply *supply, usi_heads *heads, double *values, double *outflows,
                             int *rounds)
{
    us_status status = US_OK;
    size_t changes = supply->gate_count;
    for (int look = 0; status == US_OK && changes > 0 && look < LOOK_CAP; look++) {
        status = usi_heads_look(heads, supply->heads, values, outflows);
        if (status == US_OK) {
            changes = usi_one_way_change(supply, heads, values, outflows);
            *rounds += changes > 0 ? 1 : 0;
        }
    }
    changes = 1;
    for (int solve = 0; status == US_OK && changes > 0; solve++) {
        if (solve == SOLVE_CAP) {
            return US_NOT_CONVERGED;
        }
        status = usi_heads_solve(heads, supply->heads, values);
        if (status == US_OK) {
            usi_heads_outflows(heads, values, outflows);
            changes = usi_one_way_change(supply, heads, values, outflows);
            (*rounds)++;
        }
    }
    return status;
}

us_status usi_one_way_solve(usi_supply *supply, usi_heads *heads, double **values, int *rounds)
{
    *rounds = 0;
    us_status status = usi_heads_make(supply, heads);
    if (status != US_OK) {
        return status;
    }
    size_t count = supply->situation->terminal_count + supply->gate_count;
    double *outflows = usi_memory_array(supply->context, count, sizeof *outflows);
    *values = usi_memory_array(supply->context, usi_heads_count(heads), sizeof **values);
    status = *values != NULL && outflows != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = usi_one_way_settle(supply, heads, *values, outflows, rounds);
    }
    free(outflows);
    return status;
}
