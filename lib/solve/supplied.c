#include "solve/supplied.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/panes.h"
#include "solve/one_way.h"
#include "solve/response.h"
#include "solve/split.h"

/* Flow that came in and did not go out again, as a share of the flow, above which
 * rounding has spoilt the solution. */
static const double IMBALANCE_LIMIT = 1e-5;
static const double NO_FLOW = 1e-12;

/* One problem's outflows: of terminals, then of the left and the right dry bed. */
typedef struct work {
    us_context *context;
    usi_field *field;
    usi_supply supply;    /* borrowed where `sewn` is there */
    const usi_sewn *sewn; /* NULL: problems are made here */
    double *upper_m_s;    /* as the head problem gives them */
    double *lower_m_s;    /* as the stream-function problem gives them */
} work;

/* True where there is a stream function to be solved for. */
static bool has_stream(const work *of)
{
    return !of->supply.situation->inner && !of->field->heads_alone;
}

static size_t outflow_count(const work *of)
{
    return of->supply.situation->terminal_count + 2;
}

static void take_heads(work *of, const usi_heads *heads, const double *values)
{
    for (size_t u = 0; u < of->field->grid->unknowns; u++) {
        of->field->reduced[u] = values[heads->places[u]];
    }
    size_t shared = 0;
    for (size_t t = 0; t < of->supply.situation->terminal_count; t++) {
        bool own = usi_supply_is_free(&of->supply.situation->terminals[t]) && of->supply.touched[t];
        of->field->outflows[t].face = own ? values[shared++] : of->supply.heads[t];
    }
    of->field->leaky = of->field->leaky || heads->problem.leaky || of->field->grid->beyond;
}

/* Outflows of terminals and gates. Across cells a billionth of a metre wide the last digit of
 * a head carries more than all the rest of the balance. */
static us_status list_outflows(work *of, usi_heads *heads, const double *values, double *each)
{
    usi_heads_outflows(heads, values, each);
    if (heads->seam != NULL) {
        return US_OK;
    }
    size_t count = of->supply.situation->terminal_count + of->supply.gate_count;
    double *rest = usi_memory_array(of->context, usi_heads_count(heads), sizeof *rest);
    double *more = usi_memory_array(of->context, count, sizeof *more);
    us_status status =
        rest != NULL && more != NULL ? usi_heads_rest(heads, values, rest) : US_ERROR_MEMORY;
    if (status == US_OK) {
        usi_heads_outflows(heads, rest, more);
        for (size_t k = 0; k < count; k++) {
            each[k] += more[k];
        }
    }
    free(rest);
    free(more);
    return status;
}

/* Outflows of the head problem: those of gates count with their terminal or bed. */
static us_status take_outflows(work *of, usi_heads *heads, const double *values)
{
    const usi_supply *supply = &of->supply;
    size_t terminals = supply->situation->terminal_count;
    double *each = usi_memory_array(of->context, terminals + supply->gate_count, sizeof *each);
    if (each == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = list_outflows(of, heads, values, each);
    double net = 0.0;
    double size = 0.0;
    for (size_t k = 0; k < terminals + supply->gate_count; k++) {
        net += each[k];
        size += fabs(each[k]);
        size_t to = k;
        if (k >= terminals) {
            const usi_gate *gate = &supply->gates[k - terminals];
            int terminal = usi_border_terminal(gate->border);
            to = gate->border == USI_BORDER_LEFT_DRY    ? terminals
                 : gate->border == USI_BORDER_RIGHT_DRY ? terminals + 1
                                                        : (size_t)terminal;
        }
        of->upper_m_s[to] += heads->scale_m_s * each[k];
    }
    usi_splits splits = {0};
    if (status == US_OK) {
        status = usi_splits_find(supply, of->field->reduced, &splits);
    }
    of->field->open_m = splits.open_m;
    of->field->closed_m = splits.closed_m;
    of->field->doubt_m = splits.doubt_m;
    of->field->split_count = splits.count;
    of->field->splits = splits.points;
    free(each);
    if (status != US_OK) {
        return status;
    }
    of->field->imbalance = fabs(net) / fmax(1.0, 0.5 * size);
    return fabs(net) <= IMBALANCE_LIMIT * size || size < NO_FLOW ? US_OK : US_NOT_CONVERGED;
}

/* From 0 to 1, whatever the flow. Over the downstream bed it grows away from the works
 * where water comes out, as it does without a situation. */
static us_status take_streams(work *of, const usi_streams *streams, const double *values)
{
    usi_field *field = of->field;
    size_t count = usi_grid_place_count(field->grid);
    double *stream = usi_memory_array(of->context, count, sizeof *stream);
    if (stream == NULL) {
        return US_ERROR_MEMORY;
    }
    double least = HUGE_VAL;
    double most = -HUGE_VAL;
    for (size_t n = 0; n < count; n++) {
        if (streams->places[n] != USI_PLACE_NONE) {
            stream[n] = usi_problem_value(values, streams->places[n]);
            least = fmin(least, stream[n]);
            most = fmax(most, stream[n]);
        }
    }
    field->stream_unit_m_s = streams->scale_m_s * (most - least);
    field->leaky = field->leaky || streams->problem.leaky;
    for (size_t n = 0; n < count; n++) {
        bool soil = streams->places[n] != USI_PLACE_NONE && most > least;
        double share = soil ? (stream[n] - least) / (most - least) : 0.0;
        stream[n] = soil && !field->grid->section->flows_left ? 1.0 - share : share;
    }
    field->stream = stream;
    return US_OK;
}

/* Heads for the load of a seam: open gates have their level; what closed ones have is pushed. */
static double *levels_of(const work *of, const double *reduced)
{
    size_t count = of->field->grid->unknowns;
    double *levels = usi_memory_array(of->context, count, sizeof *levels);
    for (size_t u = 0; levels != NULL && u < count; u++) {
        int32_t gate = of->supply.gate_of[u];
        levels[u] = gate >= 0 ? of->supply.gates[gate].level : reduced[u];
    }
    return levels;
}

static us_status solve_streams(work *of, const double *reduced)
{
    usi_streams own = {0};
    usi_streams *streams = of->sewn != NULL ? of->sewn->streams : &own;
    us_status status = of->sewn != NULL ? US_OK : usi_streams_make(&of->supply, &own);
    bool loose = of->sewn != NULL && of->sewn->heads->loose;
    double *values = NULL;
    double *levels = NULL;
    if (status == US_OK) {
        levels = loose ? levels_of(of, reduced) : NULL;
        values = usi_memory_array(of->context, streams->free_count + 1, sizeof *values);
        status = values != NULL && (levels != NULL || !loose) ? US_OK : US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        const double *loads = loose ? levels : reduced;
        status = usi_streams_solve(streams, of->supply.heads, loads, values);
    }
    free(levels);
    if (status == US_OK) {
        usi_streams_outflows(streams, values, of->lower_m_s);
        for (size_t k = 0; k < outflow_count(of); k++) {
            of->lower_m_s[k] *= streams->scale_m_s;
        }
        status = take_streams(of, streams, values);
    }
    free(values);
    usi_streams_free(&own);
    return status;
}

/* True of the water and the dry bed of a side where one borders on the other: the node
 * between them has one flow in the head problem, of which no one can say whose it is. */
static bool shares_node(const work *of, size_t index)
{
    const usi_situation *situation = of->supply.situation;
    if (situation->inner) {
        return false;
    }
    for (size_t m = 0; m < situation->mark_count; m++) {
        size_t side = situation->marks[m].terminal;
        if (situation->marks[m].kind == USI_MARK_DRY &&
            (index == side || index == situation->terminal_count + side)) {
            return true;
        }
    }
    return false;
}

static us_status take_seeds(work *of)
{
    const usi_supply *supply = &of->supply;
    usi_seed *seeds = usi_memory_array(of->context, supply->gate_count, sizeof *seeds);
    if (seeds == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t g = 0; g < supply->gate_count; g++) {
        seeds[g] = (usi_seed){supply->gates[g].at, supply->gates[g].open};
    }
    of->field->seeds = seeds;
    of->field->seed_count = supply->gate_count;
    return US_OK;
}

/* With gates as a seam has them. */
static us_status solve_open(const work *of, usi_heads *heads, double **values)
{
    *values = usi_memory_array(of->context, usi_heads_count(heads), sizeof **values);
    if (*values == NULL) {
        return US_ERROR_MEMORY;
    }
    of->field->rounds = 1;
    return usi_heads_solve(heads, of->supply.heads, *values);
}

/* Both problems once, for the heads there are: what they give are estimates. */
static us_status estimate(work *of)
{
    usi_heads own = {0};
    usi_heads *heads = of->sewn != NULL ? of->sewn->heads : &own;
    double *values = NULL;
    us_status status = of->sewn != NULL
                           ? solve_open(of, heads, &values)
                           : usi_one_way_solve(&of->supply, &own, &values, &of->field->rounds);
    if (status == US_OK) {
        take_heads(of, heads, values);
        status = take_outflows(of, heads, values);
    }
    if (status == US_OK) {
        status = take_seeds(of);
    }
    free(values);
    usi_heads_free(&own);
    if (status == US_OK && has_stream(of)) {
        status = solve_streams(of, of->field->reduced);
        if (status == US_NOT_CONVERGED) {
            /* Conductivities so far apart that rounding leaves no stream function: flows are
             * estimates here all the same, then by the heads. */
            of->field->heads_alone = true;
            status = US_OK;
        }
    }
    for (size_t k = 0; status == US_OK && k < outflow_count(of); k++) {
        double one = of->upper_m_s[k];
        double other = has_stream(of) ? of->lower_m_s[k] : one;
        usi_outflow *found = &of->field->outflows[k];
        found->value_m_s = shares_node(of, k) ? other : 0.5 * (one + other);
        found->lower_m_s = fmin(one, other);
        found->upper_m_s = fmax(one, other);
    }
    return status;
}

static us_status respond_heads(work *of, usi_heads *heads, usi_response *upper)
{
    double *values = usi_memory_array(of->context, usi_heads_count(heads), sizeof *values);
    us_status status = values != NULL ? usi_response_heads(heads, upper, values) : US_ERROR_MEMORY;
    if (status == US_OK) {
        take_heads(of, heads, values);
        status = take_outflows(of, heads, values);
    }
    free(values);
    return status;
}

static us_status respond_streams(work *of, usi_streams *streams, usi_response *lower)
{
    double *values = usi_memory_array(of->context, streams->free_count + 1, sizeof *values);
    us_status status =
        values != NULL ? usi_response_streams(streams, lower, values) : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = take_streams(of, streams, values);
    }
    free(values);
    return status;
}

static us_status solve_response(work *of, usi_response *upper, usi_response *lower)
{
    if (of->sewn != NULL) {
        us_status status = respond_heads(of, of->sewn->heads, upper);
        return status == US_OK ? respond_streams(of, of->sewn->streams, lower) : status;
    }
    usi_heads heads;
    us_status status = usi_heads_make(&of->supply, &heads);
    if (status == US_OK) {
        status = respond_heads(of, &heads, upper);
    }
    usi_heads_free(&heads);
    if (status == US_OK) {
        usi_streams streams;
        status = usi_streams_make(&of->supply, &streams);
        if (status == US_OK) {
            status = respond_streams(of, &streams, lower);
        }
        usi_streams_free(&streams);
    }
    return status;
}

/* True of what the flow of the section enters by: the upstream water, bed and side. */
static bool is_upstream(const work *of, size_t index)
{
    const usi_situation *situation = of->supply.situation;
    size_t upstream = of->field->grid->section->flows_left ? 1 : 0;
    bool side = index < situation->terminal_count &&
                situation->terminals[index].kind == USI_TERMINAL_SIDE &&
                situation->terminals[index].index == upstream;
    return index == upstream || index == situation->terminal_count + upstream || side;
}

/* The flow of the section from what flows out where it enters. */
static void take_flow(work *of, const usi_outflow *out)
{
    usi_field *field = of->field;
    field->flow_m_s = -out->value_m_s;
    field->upper_m_s = -out->lower_m_s;
    field->lower_m_s = -out->upper_m_s;
    double size_m_s = fmax(fabs(field->flow_m_s), NO_FLOW * field->stream_unit_m_s);
    field->spread = size_m_s > 0.0 ? (field->upper_m_s - field->lower_m_s) / size_m_s : 0.0;
}

/* Flow of the section where no bounds are known: what either problem gives. */
static void add_up_flow(work *of)
{
    double value_m_s = 0.0;
    double one_m_s = 0.0;
    double other_m_s = 0.0;
    for (size_t k = 0; k < outflow_count(of); k++) {
        if (is_upstream(of, k)) {
            value_m_s += of->field->outflows[k].value_m_s;
            one_m_s += of->upper_m_s[k];
            other_m_s += has_stream(of) ? of->lower_m_s[k] : of->upper_m_s[k];
        }
    }
    usi_outflow out = {value_m_s, fmin(one_m_s, other_m_s), fmax(one_m_s, other_m_s), 0.0, false};
    take_flow(of, &out);
}

static us_status estimate_all(work *of)
{
    us_status status = estimate(of);
    if (status == US_OK) {
        add_up_flow(of);
    }
    return status;
}

/* Several pieces of fixed head, linear: true bounds. */
static us_status certify(work *of)
{
    usi_response upper;
    usi_response lower;
    if (!usi_response_begin(&of->supply, &upper) || !usi_response_begin(&of->supply, &lower)) {
        return estimate_all(of);
    }
    us_status status = solve_response(of, &upper, &lower);
    bool entering[USI_RESPONSE_MOST] = {false};
    for (size_t i = 0; status == US_OK && i < upper.count; i++) {
        bool alone[USI_RESPONSE_MOST] = {false};
        alone[i] = true;
        usi_response_outflow(&of->supply, &upper, &lower, alone,
                             &of->field->outflows[upper.terminal[i]]);
        entering[i] = is_upstream(of, upper.terminal[i]);
    }
    if (status == US_OK) {
        usi_outflow out = {0.0, 0.0, 0.0, 0.0, false};
        usi_response_outflow(&of->supply, &upper, &lower, entering, &out);
        take_flow(of, &out);
        of->field->certified = !usi_panes_stand_in(of->field->grid->section);
        of->field->rounds = 1;
    }
    return status;
}

static bool has_clash(const usi_supply *supply)
{
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        if (supply->clashes[t]) {
            return true;
        }
    }
    return false;
}

/* Fills the field for the supply that is there. */
static us_status solve_supply(work *of)
{
    usi_field *field = of->field;
    size_t count = outflow_count(of);
    of->upper_m_s = usi_memory_array(of->context, count, sizeof *of->upper_m_s);
    of->lower_m_s = usi_memory_array(of->context, count, sizeof *of->lower_m_s);
    field->outflows = usi_memory_array(of->context, count, sizeof *field->outflows);
    field->outflow_count = count;
    bool done = of->upper_m_s != NULL && of->lower_m_s != NULL && field->outflows != NULL;
    us_status status = done ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        bool linear = of->supply.gate_count == 0 && has_stream(of) && !has_clash(&of->supply) &&
                      field->grid->section->has_base;
        status = linear ? certify(of) : estimate_all(of);
    }
    for (size_t t = 0; status == US_OK && t < field->outflow_count; t++) {
        field->outflows[t].endless =
            t < of->supply.situation->terminal_count && of->supply.clashes[t];
    }
    free(of->upper_m_s);
    free(of->lower_m_s);
    return status;
}

us_status usi_supplied_solve(us_context *context, usi_field *field)
{
    work of = {.context = context, .field = field};
    us_status status = usi_supply_make(context, field->grid, &of.supply);
    if (status == US_OK) {
        status = solve_supply(&of);
    }
    usi_supply_free(&of.supply);
    return status;
}

us_status usi_supplied_take(us_context *context, const usi_sewn *sewn, usi_field *field)
{
    work of = {.context = context, .field = field, .supply = *sewn->heads->supply, .sewn = sewn};
    return solve_supply(&of);
}
