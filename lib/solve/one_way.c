#include "solve/one_way.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

enum { ROUND_CAP = 60 };
/* Rounding: of a head, and of the largest flow through a gate or a terminal. */
static const double HEAD_ROUNDING = 1e-10;
static const double FLOW_ROUNDING = 1e-10;

/* Closes gates that let water in, opens those that hold it back; counts changes. */
static us_status change_gates(usi_supply *supply, const usi_heads *heads, const double *values,
                              size_t *changes)
{
    size_t terminals = supply->situation->terminal_count;
    size_t count = terminals + supply->gate_count;
    double *outflows = usi_memory_array(supply->context, count, sizeof *outflows);
    if (outflows == NULL) {
        return US_ERROR_MEMORY;
    }
    usi_heads_outflows(heads, values, outflows);
    double most = 0.0;
    for (size_t k = 0; k < count; k++) {
        most = fmax(most, fabs(outflows[k]));
    }
    *changes = 0;
    for (size_t g = 0; g < supply->gate_count; g++) {
        usi_gate *gate = &supply->gates[g];
        double head = values[heads->places[gate->unknown]];
        bool open = gate->open ? outflows[terminals + g] >= -FLOW_ROUNDING * most
                               : head > gate->level + HEAD_ROUNDING;
        *changes += open != gate->open ? 1 : 0;
        gate->open = open;
    }
    free(outflows);
    return US_OK;
}

us_status usi_one_way_solve(usi_supply *supply, usi_heads *heads, double **values, int *rounds)
{
    us_status status = US_OK;
    size_t changes = 1;
    *heads = (usi_heads){0};
    for (*rounds = 0; status == US_OK && changes > 0; (*rounds)++) {
        if (*rounds == ROUND_CAP) {
            return US_NOT_CONVERGED;
        }
        if (*rounds > 0) {
            usi_heads_free(heads);
        }
        free(*values);
        *values = NULL;
        status = usi_heads_make(supply, heads);
        if (status == US_OK) {
            *values = usi_memory_array(supply->context, usi_heads_count(heads), sizeof **values);
            status = *values != NULL ? US_OK : US_ERROR_MEMORY;
        }
        if (status == US_OK) {
            status = usi_heads_solve(heads, supply->heads, false, *values);
        }
        if (status == US_OK) {
            status = change_gates(supply, heads, *values, &changes);
        }
    }
    return status;
}
