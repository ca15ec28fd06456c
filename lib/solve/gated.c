#include "solve/gated.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/dense.h"
#include "solve/factor.h"
#include "solve/tail.h"

/* Of a diagonal, what rounding may leave of it where nothing else holds a head. */
static const double SINGULAR = 1e-12;

/* Gates are numbered as the factor has them. */
struct usi_gated {
    usi_factor *factor;
    size_t count;
    size_t *gate;   /* which one each is */
    int *rank;      /* of each row of the factor: the gate, -1 for none */
    double *lower;  /* the end of the factor, by rows */
    double *links;  /* what gates see of each other: the matrix that it is the factor of */
    double *square; /* room for the factor of the closed ones */
    double *load;   /* what flows to each from given values, gates apart, at head zero */
    size_t *closed; /* which are free, and how many */
    size_t closed_count;
};

/* Where in the factor the gates stand. */
static void rank_gates(usi_gated *gated)
{
    const usi_problem *problem = gated->factor->problem;
    const int32_t *order = gated->factor->order;
    for (size_t row = 0; row < gated->factor->rows; row++) {
        bool is_gate = (size_t)order[row] >= problem->free_count;
        gated->rank[row] = is_gate ? (int)gated->count : -1;
        if (is_gate) {
            gated->gate[gated->count++] = (size_t)order[row] - problem->free_count;
        }
    }
}

/* What hangs on gates themselves, which fill() in factor.c adds, is taken off again. */
static us_status take_links(us_context *context, usi_gated *gated)
{
    const usi_problem *problem = gated->factor->problem;
    double *own = usi_memory_array(context, gated->factor->rows, sizeof *own);
    if (own == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        int32_t ends[2] = {problem->links[k].a, problem->links[k].b};
        for (int e = 0; e < 2; e++) {
            if (ends[e] >= 0 && (size_t)ends[e] < gated->factor->rows) {
                own[ends[e]] += problem->links[k].conductance;
            }
        }
    }
    size_t count = gated->count;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j <= i; j++) {
            double sum = usi_dense_dot(gated->lower + i * count, gated->lower + j * count, j + 1);
            sum -= i == j ? own[problem->free_count + gated->gate[i]] : 0.0;
            gated->links[i * count + j] = sum;
            gated->links[j * count + i] = sum;
        }
    }
    free(own);
    return US_OK;
}

/* One half of the way through the factor, to `values` by rows of the matrix or, where
 * `back`, from there. */
static us_status pass(us_context *context, usi_gated *gated, bool back, double *values)
{
    usi_factor *factor = gated->factor;
    const int32_t *order = factor->order;
    double *load = factor->load->x;
    for (size_t row = 0; row < factor->rows; row++) {
        load[row] = back ? values[row] : values[order[row]];
    }
    const double *solution = usi_factor_substitute(factor, back ? CHOLMOD_Lt : CHOLMOD_L);
    if (solution == NULL) {
        return usi_factor_report(context, &factor->common);
    }
    for (size_t row = 0; row < factor->rows; row++) {
        values[back ? (size_t)order[row] : row] = solution[row];
    }
    return US_OK;
}

/* From net inflows (`rows`, by places) to what of them reaches the gates (`at_gates`); the
 * first half of the way to values remains in `rows`. */
static us_status condense(us_context *context, usi_gated *gated, double *rows, double *at_gates)
{
    const usi_problem *problem = gated->factor->problem;
    size_t count = gated->count;
    for (size_t i = 0; i < count; i++) {
        double *row = rows + problem->free_count + gated->gate[i];
        at_gates[i] = *row;
        *row = 0.0;
    }
    us_status status = pass(context, gated, false, rows);
    for (size_t row = 0; status == US_OK && row < gated->factor->rows; row++) {
        for (size_t i = (size_t)gated->rank[row]; gated->rank[row] >= 0 && i < count; i++) {
            at_gates[i] += gated->lower[i * count + (size_t)gated->rank[row]] * rows[row];
        }
    }
    return status;
}

/* From what the gates are to be changed by to the same of all places. */
static us_status expand(us_context *context, usi_gated *gated, const double *at_gates, double *rows)
{
    size_t count = gated->count;
    for (size_t row = 0; row < gated->factor->rows; row++) {
        if (gated->rank[row] < 0) {
            continue;
        }
        size_t column = (size_t)gated->rank[row];
        rows[row] = 0.0;
        for (size_t i = column; i < count; i++) {
            rows[row] += gated->lower[i * count + column] * at_gates[i];
        }
    }
    return pass(context, gated, true, rows);
}

/* Factorises the links between closed gates. */
static us_status close_gates(usi_gated *gated, const bool *open)
{
    size_t count = gated->count;
    gated->closed_count = 0;
    for (size_t i = 0; i < count; i++) {
        if (open[gated->gate[i]]) {
            continue;
        }
        size_t k = gated->closed_count++;
        gated->closed[k] = i;
        double *row = gated->square + k * count;
        for (size_t j = 0; j <= k; j++) {
            const double *other = gated->square + j * count;
            row[j] = gated->links[i * count + gated->closed[j]] - usi_dense_dot(row, other, j);
            if (j < k) {
                row[j] /= other[j];
            }
        }
        double scale = gated->links[i * count + i];
        if (!(row[k] > SINGULAR * scale)) {
            return US_NOT_CONVERGED;
        }
        row[k] = sqrt(row[k]);
    }
    return US_OK;
}

/* Net inflows of closed gates become changes of their values, those of open ones zero. */
static void solve_closed(const usi_gated *gated, const bool *open, double *at_gates)
{
    size_t count = gated->count;
    for (size_t k = 0; k < gated->closed_count; k++) {
        const double *row = gated->square + k * count;
        double sum = at_gates[gated->closed[k]];
        for (size_t j = 0; j < k; j++) {
            sum -= row[j] * at_gates[gated->closed[j]];
        }
        at_gates[gated->closed[k]] = sum / row[k];
    }
    for (size_t k = gated->closed_count; k-- > 0;) {
        const double *row = gated->square + k * count;
        double value = at_gates[gated->closed[k]] / row[k];
        at_gates[gated->closed[k]] = value;
        for (size_t j = 0; j < k; j++) {
            at_gates[gated->closed[j]] -= row[j] * value;
        }
    }
    for (size_t i = 0; i < count; i++) {
        at_gates[i] = open[gated->gate[i]] ? 0.0 : at_gates[i];
    }
}

static bool make_room(us_context *context, usi_gated *gated, size_t gates)
{
    gated->gate = usi_memory_array(context, gates, sizeof *gated->gate);
    gated->rank = usi_memory_array(context, gated->factor->rows, sizeof *gated->rank);
    gated->lower = usi_memory_array(context, gates * gates, sizeof *gated->lower);
    gated->links = usi_memory_array(context, gates * gates, sizeof *gated->links);
    gated->square = usi_memory_array(context, gates * gates, sizeof *gated->square);
    gated->closed = usi_memory_array(context, gates, sizeof *gated->closed);
    return gated->gate != NULL && gated->rank != NULL && gated->lower != NULL &&
           gated->links != NULL && gated->square != NULL && gated->closed != NULL;
}

us_status usi_gated_make(us_context *context, const usi_problem *problem, usi_gated **made)
{
    usi_gated *gated = usi_memory_array(context, 1, sizeof *gated);
    if (gated == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = usi_factor_make(context, problem, &gated->factor);
    if (status == US_OK && !make_room(context, gated, problem->gate_count)) {
        status = US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        rank_gates(gated);
        usi_tail_take(gated->factor, gated->rank, gated->lower, gated->count);
        status = take_links(context, gated);
    }
    if (status == US_OK) {
        *made = gated;
    } else {
        usi_gated_free(gated);
    }
    return status;
}

void usi_gated_free(usi_gated *gated)
{
    if (gated != NULL) {
        usi_factor_free(gated->factor);
        free(gated->gate);
        free(gated->rank);
        free(gated->lower);
        free(gated->links);
        free(gated->square);
        free(gated->load);
        free(gated->closed);
        free(gated);
    }
}

/* What given values bring to the gates: the same whichever are open. */
static us_status take_load(us_context *context, usi_gated *gated, double *values)
{
    const usi_problem *problem = gated->factor->problem;
    double *given = usi_memory_array(context, gated->count, sizeof *given);
    double *rows = usi_memory_array(context, gated->factor->rows, sizeof *rows);
    gated->load = usi_memory_array(context, gated->count, sizeof *gated->load);
    us_status status =
        given != NULL && rows != NULL && gated->load != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t g = 0; status == US_OK && g < gated->count; g++) {
        given[g] = values[problem->free_count + g];
        values[problem->free_count + g] = 0.0;
    }
    for (size_t i = 0; status == US_OK && i < problem->free_count; i++) {
        values[i] = 0.0;
    }
    if (status == US_OK) {
        usi_factor_net_inflow(problem, NULL, values, rows);
        status = condense(context, gated, rows, gated->load);
    }
    for (size_t g = 0; status == US_OK && g < gated->count; g++) {
        values[problem->free_count + g] = given[g];
    }
    free(given);
    free(rows);
    return status;
}

/* At the gates: what comes from given values, less what goes to the other gates, is what
 * flows out. */
static void flow_out(const usi_gated *gated, const double *values, double *at_gates)
{
    const double *heads = values + gated->factor->problem->free_count;
    size_t count = gated->count;
    for (size_t i = 0; i < count; i++) {
        double sum = gated->load[i];
        for (size_t j = 0; j < count; j++) {
            sum -= gated->links[i * count + j] * heads[gated->gate[j]];
        }
        at_gates[i] = sum;
    }
}

us_status usi_gated_look(us_context *context, usi_gated *gated, const bool *open, double *values,
                         double *outflows)
{
    double *heads = values + gated->factor->problem->free_count;
    double *at_gates = usi_memory_array(context, gated->count, sizeof *at_gates);
    us_status status = at_gates != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK && gated->load == NULL) {
        status = take_load(context, gated, values);
    }
    if (status == US_OK) {
        status = close_gates(gated, open);
    }
    if (status == US_OK) {
        for (size_t g = 0; g < gated->count; g++) {
            heads[g] = open[g] ? heads[g] : 0.0;
        }
        flow_out(gated, values, at_gates);
        solve_closed(gated, open, at_gates);
        for (size_t i = 0; i < gated->count; i++) {
            heads[gated->gate[i]] += at_gates[i];
        }
        flow_out(gated, values, at_gates);
        for (size_t i = 0; i < gated->count; i++) {
            outflows[gated->gate[i]] = open[gated->gate[i]] ? at_gates[i] : 0.0;
        }
    }
    free(at_gates);
    return status;
}

us_status usi_gated_rest(us_context *context, usi_gated *gated, const bool *open,
                         const double *values, double *rest)
{
    const usi_problem *problem = gated->factor->problem;
    double *at_gates = usi_memory_array(context, gated->count, sizeof *at_gates);
    us_status status = at_gates != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        usi_factor_net_inflow(problem, NULL, values, rest);
        status = condense(context, gated, rest, at_gates);
    }
    if (status == US_OK) {
        solve_closed(gated, open, at_gates);
        status = expand(context, gated, at_gates, rest);
    }
    for (size_t g = 0; status == US_OK && g < gated->count; g++) {
        rest[problem->free_count + g] = open[g] ? 0.0 : rest[problem->free_count + g];
    }
    free(at_gates);
    return status;
}

/* One correction, of free places and closed gates. */
static us_status correct(us_context *context, usi_gated *gated, const bool *open, double *values,
                         double *change)
{
    size_t rows = gated->factor->rows;
    double *rest = usi_memory_array(context, rows, sizeof *rest);
    us_status status = rest != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = usi_gated_rest(context, gated, open, values, rest);
    }
    *change = NAN;
    if (status == US_OK) {
        for (size_t i = 0; i < rows; i++) {
            values[i] += rest[i];
        }
        double size = fmax(1.0, usi_factor_largest(values, rows));
        *change = usi_factor_largest(rest, rows) / size;
    }
    free(rest);
    return status;
}

us_status usi_gated_solve(us_context *context, usi_gated *gated, const bool *open, double *values)
{
    const usi_problem *problem = gated->factor->problem;
    for (size_t i = 0; i < gated->factor->rows; i++) {
        bool given = i >= problem->free_count && open[i - problem->free_count];
        values[i] = given ? values[i] : 0.0;
    }
    us_status status = close_gates(gated, open);
    double before = HUGE_VAL;
    double change = DBL_MAX;
    for (int round = 0; status == US_OK && usi_factor_goes_on(round, before, change); round++) {
        before = change;
        status = correct(context, gated, open, values, &change);
    }
    return status != US_OK || change < USI_FACTOR_UNSETTLED ? status : US_NOT_CONVERGED;
}
