#include "solve/heads.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/conductivity_range.h"
#include "solve/reach.h"

/* Until the number of free values is known those that are given count down from
 * USI_PLACE_NONE; gates come before terminals. */
static int32_t terminal_code(const usi_supply *supply, const int32_t *shared, int32_t owner)
{
    int32_t given = (int32_t)supply->gate_count + owner;
    return shared[owner] >= 0 ? shared[owner] : USI_PLACE_NONE - given - 1;
}

/* Faces of strips that touch a terminal have its head; the others get their numbers later. */
static void begin_faces(const usi_supply *supply, const int32_t *shared, int32_t *faces)
{
    for (size_t f = 0; f < 2 * supply->passages.strip_count; f++) {
        faces[f] = USI_PLACE_NONE;
    }
    for (size_t u = 0; u < supply->passages.unknowns; u++) {
        if (supply->passages.face[u] >= 0 && supply->owner[u] >= 0) {
            faces[supply->passages.face[u]] = terminal_code(supply, shared, supply->owner[u]);
        }
    }
}

/* Numbers an unknown that no terminal owns. */
static int32_t number_one(const usi_supply *supply, size_t unknown, int32_t *faces, int32_t *next)
{
    int32_t gate = supply->gate_of[unknown];
    int32_t face = supply->passages.face != NULL ? supply->passages.face[unknown] : -1;
    if (gate >= 0) {
        return USI_PLACE_NONE - gate - 1;
    }
    if (face < 0) {
        return (*next)++;
    }
    faces[face] = faces[face] == USI_PLACE_NONE ? (*next)++ : faces[face];
    return faces[face];
}

static void number_all(usi_heads *heads, int32_t *shared, int32_t *faces)
{
    const usi_supply *supply = heads->supply;
    int32_t next = 0;
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        bool own = usi_supply_is_free(&supply->situation->terminals[t]) && supply->touched[t];
        shared[t] = own ? next++ : -1;
    }
    begin_faces(supply, shared, faces);
    for (size_t u = 0; u < supply->grid->unknowns; u++) {
        int32_t owner = supply->owner[u];
        heads->places[u] =
            owner >= 0 ? terminal_code(supply, shared, owner) : number_one(supply, u, faces, &next);
    }
    int32_t gates = (int32_t)supply->gate_count;
    for (size_t u = 0; u < supply->grid->unknowns; u++) {
        if (heads->places[u] < USI_PLACE_NONE) {
            int32_t rank = USI_PLACE_NONE - heads->places[u] - 1;
            heads->places[u] = next + rank + (heads->loose && rank >= gates ? gates : 0);
        }
    }
    heads->free_count = (size_t)next + (heads->loose ? supply->gate_count : 0);
}

/* Numbers what is free; terminals with a free head have a number each, and so have the faces
 * of strips. */
static us_status number(usi_heads *heads)
{
    const usi_supply *supply = heads->supply;
    size_t terminals = supply->situation->terminal_count;
    int32_t *shared = usi_memory_array(supply->context, terminals, sizeof *shared);
    int32_t *faces =
        usi_memory_array(supply->context, 2 * supply->passages.strip_count, sizeof *faces);
    bool done = shared != NULL && faces != NULL;
    if (done) {
        number_all(heads, shared, faces);
    }
    free(shared);
    free(faces);
    return done ? US_OK : US_ERROR_MEMORY;
}

/* Place of what is given of a terminal. */
static int32_t terminal_place(const usi_heads *heads, size_t terminal)
{
    return (int32_t)(heads->free_count + heads->supply->gate_count + terminal);
}

/* Through a leaky face: half of a side's conductance at each end. */
static void link_faces(usi_heads *heads)
{
    const usi_supply *supply = heads->supply;
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        int terminal = usi_border_terminal(contact->border);
        if (terminal <= 1 || supply->situation->terminals[terminal].resistance_s == 0.0) {
            continue;
        }
        double half = 0.5 * usi_contact_length(supply->grid, contact) /
                      supply->situation->terminals[terminal].resistance_s / heads->scale_m_s;
        for (int end = 0; end < 2; end++) {
            usi_problem_link(&heads->problem, heads->places[contact->unknown[end]],
                             terminal_place(heads, (size_t)terminal), half);
        }
    }
}

/* From the strip of a row of weeps to their outlet. */
static void link_series(usi_heads *heads)
{
    const usi_supply *supply = heads->supply;
    int32_t shared = 0;
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        const usi_terminal *terminal = &supply->situation->terminals[t];
        if (!usi_supply_is_free(terminal) || !supply->touched[t]) {
            continue;
        }
        if (!terminal->floating) {
            usi_problem_link(&heads->problem, shared, terminal_place(heads, t),
                             1.0 / (terminal->series_s_m * heads->scale_m_s));
        }
        shared++;
    }
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){soil->kh_m_s / scale_m_s, soil->kv_m_s / scale_m_s};
}

static usi_network network_of(const usi_heads *heads)
{
    return (usi_network){heads->supply->grid, heads->scale_m_s, coefficient,
                         usi_grid_unknown,    heads->places,    false};
}

/* Which unknowns hang on water at once; the others must hang on these. */
static us_status check_reach(const usi_supply *supply)
{
    const usi_grid *grid = supply->grid;
    int32_t *wet = usi_memory_array(supply->context, grid->unknowns, sizeof *wet);
    if (wet == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t u = 0; u < grid->unknowns; u++) {
        int32_t owner = supply->owner[u];
        bool held = supply->gate_of[u] >= 0 ||
                    (owner >= 0 && !supply->situation->terminals[owner].floating);
        wet[u] = held ? USI_PLACE_ZERO : USI_PLACE_NONE;
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        if (usi_border_terminal(contact->border) > 1 && !usi_supply_tight(supply, contact) &&
            !supply->situation->terminals[usi_border_terminal(contact->border)].floating) {
            wet[contact->unknown[0]] = USI_PLACE_ZERO;
        }
    }
    us_status status = usi_reach_check(supply->context, grid, &supply->passages, wet);
    free(wet);
    return status;
}

us_status usi_heads_lay(const usi_supply *supply, bool loose, usi_heads *heads)
{
    const usi_grid *grid = supply->grid;
    *heads = (usi_heads){
        .supply = supply,
        .loose = loose,
        .scale_m_s = usi_conductivity_largest(grid->section),
        .places = usi_memory_array(supply->context, grid->unknowns, sizeof *heads->places)};
    us_status status = heads->places != NULL ? check_reach(supply) : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = number(heads);
    }
    if (status != US_OK) {
        return status;
    }
    size_t room = usi_links_count(grid) + 2 * supply->contacts.count +
                  supply->situation->terminal_count + usi_passages_count(&supply->passages);
    status = usi_problem_begin(supply->context, &heads->problem, heads->free_count, room);
    if (status == US_OK) {
        usi_network network = network_of(heads);
        status = usi_links_add(supply->context, &network, &heads->problem);
    }
    if (status == US_OK) {
        heads->soil_links = heads->problem.link_count;
        link_faces(heads);
        link_series(heads);
        usi_passages_add_heads(&supply->passages, heads->places, heads->scale_m_s, &heads->problem);
    }
    return status;
}

us_status usi_heads_make(usi_supply *supply, usi_heads *heads)
{
    us_status status = usi_heads_lay(supply, false, heads);
    if (status == US_OK) {
        heads->problem.gate_count = supply->gate_count;
        status = supply->gate_count == 0
                     ? usi_factor_make(supply->context, &heads->problem, &heads->factor)
                     : usi_gated_make(supply->context, &heads->problem, &heads->gated);
    }
    return status;
}

us_status usi_heads_sew(usi_heads *heads, const usi_stitch *stitches, size_t count)
{
    return usi_seam_make(heads->supply->context, &heads->problem, stitches, count, &heads->seam);
}

void usi_heads_free(usi_heads *heads)
{
    usi_factor_free(heads->factor);
    usi_gated_free(heads->gated);
    usi_seam_free(heads->seam);
    usi_problem_free(&heads->problem);
    free(heads->places);
    *heads = (usi_heads){0};
}

size_t usi_heads_count(const usi_heads *heads)
{
    return heads->free_count + heads->supply->situation->terminal_count + heads->supply->gate_count;
}

/* What is given, and which gates are open: the caller's. */
static bool *give(const usi_heads *heads, const double *terminal_heads, double *values)
{
    const usi_supply *supply = heads->supply;
    double *given = values + heads->free_count;
    bool *open = usi_memory_array(supply->context, supply->gate_count, sizeof *open);
    for (size_t g = 0; open != NULL && g < supply->gate_count; g++) {
        open[g] = supply->gates[g].open;
        *given++ = supply->gates[g].level;
    }
    for (size_t t = 0; open != NULL && t < supply->situation->terminal_count; t++) {
        *given++ = terminal_heads[t];
    }
    return open;
}

/* In the state of the seam. `values` has what is given. */
static us_status solve_seam(usi_heads *heads, const double *terminal_heads, double *values)
{
    us_context *context = heads->supply->context;
    size_t terminals = heads->supply->situation->terminal_count;
    size_t column = usi_seam_find(heads->seam, terminal_heads, terminals);
    us_status status = US_OK;
    if (column == usi_seam_columns(heads->seam)) {
        usi_seam_key key = {terminal_heads, terminals};
        status = usi_seam_load(context, heads->seam, key, NULL, values, usi_heads_count(heads));
    }
    return status == US_OK ? usi_seam_values(context, heads->seam, column, values) : status;
}

us_status usi_heads_solve(usi_heads *heads, const double *terminal_heads, double *values)
{
    us_context *context = heads->supply->context;
    bool *open = give(heads, terminal_heads, values);
    us_status status = US_ERROR_MEMORY;
    if (open != NULL && heads->seam != NULL) {
        status = solve_seam(heads, terminal_heads, values);
    } else if (open != NULL && heads->gated != NULL) {
        status = usi_gated_solve(context, heads->gated, open, values);
    } else if (open != NULL) {
        status = usi_factor_solve(context, heads->factor, NULL, values);
    }
    free(open);
    return status;
}

us_status usi_heads_look(usi_heads *heads, const double *terminal_heads, double *values,
                         double *outflows)
{
    const usi_supply *supply = heads->supply;
    bool *open = give(heads, terminal_heads, values);
    us_status status = US_ERROR_MEMORY;
    if (open != NULL) {
        for (size_t t = 0; t < supply->situation->terminal_count; t++) {
            outflows[t] = 0.0;
        }
        status = usi_gated_look(supply->context, heads->gated, open, values,
                                outflows + supply->situation->terminal_count);
    }
    free(open);
    return status;
}

us_status usi_heads_rest(usi_heads *heads, const double *values, double *rest)
{
    const usi_supply *supply = heads->supply;
    for (size_t k = 0; k < usi_heads_count(heads); k++) {
        rest[k] = 0.0;
    }
    if (heads->gated == NULL) {
        return usi_factor_rest(supply->context, heads->factor, values, rest);
    }
    bool *open = usi_memory_array(supply->context, supply->gate_count, sizeof *open);
    for (size_t g = 0; open != NULL && g < supply->gate_count; g++) {
        open[g] = supply->gates[g].open;
    }
    us_status status = open != NULL
                           ? usi_gated_rest(supply->context, heads->gated, open, values, rest)
                           : US_ERROR_MEMORY;
    free(open);
    return status;
}

static void add_outflow(const usi_heads *heads, int32_t place, double flow, double *outflows)
{
    size_t terminals = heads->supply->situation->terminal_count;
    size_t middle = heads->free_count + heads->supply->gate_count;
    size_t at = (size_t)place;
    size_t gates = heads->supply->gate_count;
    if (heads->loose && at < heads->free_count && at + gates >= heads->free_count) {
        outflows[terminals + at + gates - heads->free_count] += flow; /* what its tie takes */
    }
    if (at >= heads->free_count) {
        outflows[at >= middle ? at - middle : terminals + at - heads->free_count] += flow;
    }
}

/* What reaches a free place by links of the problem. */
static double net_inflow(const usi_heads *heads, const double *values, int32_t place)
{
    double sum = 0.0;
    for (size_t k = 0; k < heads->problem.link_count; k++) {
        const usi_link *link = &heads->problem.links[k];
        double flow = link->conductance * (values[link->a] - values[link->b]);
        sum += link->b == place ? flow : 0.0;
        sum -= link->a == place ? flow : 0.0;
    }
    return sum;
}

/* What stitches bring to given places: a tie all that reaches the free one. */
static void add_stitches(const usi_heads *heads, const double *values, double *outflows)
{
    for (size_t k = 0; k < usi_seam_count(heads->seam); k++) {
        const usi_stitch *stitch = usi_seam_stitch(heads->seam, k);
        double conductance = usi_seam_conductance(heads->seam, k);
        bool free_a = (size_t)stitch->a < heads->free_count;
        bool free_b = (size_t)stitch->b < heads->free_count;
        bool gate = heads->loose && (size_t)stitch->b >= heads->free_count &&
                    (size_t)stitch->b < heads->free_count + heads->supply->gate_count;
        if (!(conductance > 0.0) || (free_a && free_b) || gate) {
            continue;
        }
        double flow = 0.0; /* from a to b */
        if (isfinite(conductance)) {
            flow = conductance * (values[stitch->a] - values[stitch->b]);
        } else if (free_a) {
            flow = net_inflow(heads, values, stitch->a);
        } else if (free_b) {
            flow = -net_inflow(heads, values, stitch->b);
        }
        add_outflow(heads, stitch->b, flow, outflows);
        add_outflow(heads, stitch->a, -flow, outflows);
    }
}

void usi_heads_outflows(const usi_heads *heads, const double *values, double *outflows)
{
    const usi_supply *supply = heads->supply;
    size_t terminals = supply->situation->terminal_count;
    for (size_t k = 0; k < terminals + supply->gate_count; k++) {
        outflows[k] = 0.0;
    }
    for (size_t k = 0; k < heads->problem.link_count; k++) {
        const usi_link *link = &heads->problem.links[k];
        double flow = link->conductance * (values[link->a] - values[link->b]);
        add_outflow(heads, link->b, flow, outflows);
        add_outflow(heads, link->a, -flow, outflows);
    }
    if (heads->seam != NULL) {
        add_stitches(heads, values, outflows);
    }
    for (size_t g = 0; g < supply->gate_count; g++) {
        outflows[terminals + g] = supply->gates[g].open ? outflows[terminals + g] : 0.0;
    }
}

double usi_heads_product(const usi_heads *heads, const double *one, const double *other)
{
    usi_network network = network_of(heads);
    double sum = usi_links_product(&network, one, other);
    for (size_t k = heads->soil_links; k < heads->problem.link_count; k++) {
        const usi_link *link = &heads->problem.links[k];
        sum +=
            link->conductance * (one[link->a] - one[link->b]) * (other[link->a] - other[link->b]);
    }
    return heads->seam != NULL ? sum + usi_seam_beside(heads->seam, one, other) : sum;
}

static double product_of(const void *problem, const double *one, const double *other)
{
    return usi_heads_product(problem, one, other);
}

double usi_heads_form(usi_heads *heads, const double *terminal_heads[2], const double *values[2])
{
    const usi_supply *supply = heads->supply;
    if (heads->seam == NULL || supply->grid->local_count > 0) {
        return usi_heads_product(heads, values[0], values[1]);
    }
    usi_seam_product by = {product_of, heads, USI_HEADS_FORM_SIGN};
    return usi_seam_form_of(supply->context, heads->seam, &by, terminal_heads,
                            supply->situation->terminal_count, values);
}
