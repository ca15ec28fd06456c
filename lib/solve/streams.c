#include "solve/streams.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/conductivity_range.h"
#include "solve/stream.h"
#include "solve/ties.h"

static bool is_far(usi_border border)
{
    return border == USI_BORDER_LEFT_END || border == USI_BORDER_RIGHT_END;
}

/* First and last place of the face of a terminal, which is one chain of contacts. */
static void find_ends(const usi_supply *supply, size_t terminal, int32_t ends[2])
{
    const usi_contacts *all = &supply->contacts;
    ends[0] = -1;
    ends[1] = -1;
    for (size_t k = 0; k < all->count; k++) {
        if (usi_border_terminal(all->list[k].border) != (int)terminal) {
            continue;
        }
        bool first = true;
        bool last = true;
        for (size_t m = 0; m < all->count; m++) {
            if (usi_border_terminal(all->list[m].border) == (int)terminal) {
                first = first && all->list[m].place[1] != all->list[k].place[0];
                last = last && all->list[m].place[0] != all->list[k].place[1];
            }
        }
        ends[0] = first ? all->list[k].place[0] : ends[0];
        ends[1] = last ? all->list[k].place[1] : ends[1];
    }
}

/* Ties what no water passes: tight pieces, far cuts, and the two ends of a void, into
 * which as much flows as comes out. Returns a place of the structure. */
static int32_t tie(const usi_supply *supply, int32_t *ties)
{
    int32_t structure = -1;
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        if (usi_supply_tight(supply, contact) || is_far(contact->border)) {
            usi_ties_join(ties, contact->place[0], contact->place[1]);
        }
        if (contact->border == USI_BORDER_STRUCTURE) {
            structure = contact->place[0];
        }
    }
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        int32_t ends[2];
        if (supply->situation->terminals[t].floating && supply->touched[t]) {
            find_ends(supply, t, ends);
            usi_ties_join(ties, ends[0], ends[1]);
        }
    }
    return structure;
}

static us_status number(usi_streams *streams)
{
    const usi_supply *supply = streams->supply;
    int32_t *ties = usi_ties_begin(supply->context, usi_grid_place_count(supply->grid));
    if (ties == NULL) {
        return US_ERROR_MEMORY;
    }
    int32_t structure = tie(supply, ties);
    if (structure < 0) {
        /* Any place will do for zero. */
        structure = supply->contacts.list[0].place[0];
    }
    streams->free_count = usi_stream_number(supply->grid, ties, structure, -1, streams->places);
    free(ties);
    return US_OK;
}

static int32_t place_at(const usi_streams *streams, int32_t place)
{
    return streams->places[place];
}

/* Water that passes a leaky face loses head in proportion to its flow. */
static void link_resistances(usi_streams *streams)
{
    const usi_supply *supply = streams->supply;
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        int terminal = usi_border_terminal(contact->border);
        if (terminal > 1 && supply->situation->terminals[terminal].resistance_s > 0.0) {
            usi_problem_link(&streams->problem, place_at(streams, contact->place[0]),
                             place_at(streams, contact->place[1]),
                             streams->scale_m_s *
                                 supply->situation->terminals[terminal].resistance_s /
                                 usi_contact_length(supply->grid, contact));
        }
    }
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        const usi_terminal *terminal = &supply->situation->terminals[t];
        int32_t ends[2];
        if (terminal->series_s_m > 0.0 && supply->touched[t]) {
            find_ends(supply, t, ends);
            usi_problem_link(&streams->problem, place_at(streams, ends[0]),
                             place_at(streams, ends[1]), streams->scale_m_s * terminal->series_s_m);
        }
    }
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){scale_m_s / soil->kv_m_s, scale_m_s / soil->kh_m_s};
}

static usi_network network_of(const usi_streams *streams)
{
    return (usi_network){streams->supply->grid, streams->scale_m_s, coefficient,
                         usi_links_node,        streams->places,    true};
}

us_status usi_streams_lay(const usi_supply *supply, usi_streams *streams)
{
    const usi_grid *grid = supply->grid;
    *streams = (usi_streams){.supply = supply,
                             .scale_m_s = usi_conductivity_smallest(grid->section),
                             .places = usi_memory_array(supply->context, usi_grid_place_count(grid),
                                                        sizeof *streams->places)};
    us_status status = streams->places != NULL ? number(streams) : US_ERROR_MEMORY;
    if (status != US_OK) {
        return status;
    }
    size_t room = usi_links_count(grid) + supply->contacts.count +
                  supply->situation->terminal_count + usi_passages_count(&supply->passages);
    status = usi_problem_begin(supply->context, &streams->problem, streams->free_count, room);
    if (status == US_OK) {
        usi_network network = network_of(streams);
        status = usi_links_add(supply->context, &network, &streams->problem);
    }
    if (status == US_OK) {
        streams->soil_links = streams->problem.link_count;
        link_resistances(streams);
        usi_passages_add_streams(&supply->passages, streams->places, streams->scale_m_s,
                                 &streams->problem);
    }
    return status;
}

us_status usi_streams_make(usi_supply *supply, usi_streams *streams)
{
    us_status status = usi_streams_lay(supply, streams);
    if (status == US_OK) {
        status = usi_factor_make(supply->context, &streams->problem, &streams->factor);
    }
    return status;
}

us_status usi_streams_sew(usi_streams *streams, const usi_stitch *stitches, size_t count)
{
    return usi_seam_make(streams->supply->context, &streams->problem, stitches, count,
                         &streams->seam);
}

void usi_streams_free(usi_streams *streams)
{
    usi_factor_free(streams->factor);
    usi_seam_free(streams->seam);
    usi_problem_free(&streams->problem);
    free(streams->places);
    *streams = (usi_streams){0};
}

/* Mean head along a contact; false where no head acts on it. */
static bool head_on(const usi_supply *supply, const usi_contact *contact,
                    const double *terminal_heads, const double *reduced, double *head)
{
    int terminal = usi_border_terminal(contact->border);
    if (usi_supply_tight(supply, contact) || is_far(contact->border)) {
        return false;
    }
    bool gate = contact->border == USI_BORDER_LEFT_DRY || contact->border == USI_BORDER_RIGHT_DRY ||
                (terminal > 1 && supply->situation->terminals[terminal].one_way);
    if (gate) {
        if (reduced == NULL) {
            return false;
        }
        *head = 0.5 * (reduced[contact->unknown[0]] + reduced[contact->unknown[1]]);
        return true;
    }
    if (terminal < 0 || supply->situation->terminals[terminal].floating) {
        return false;
    }
    *head = terminal_heads[terminal];
    return true;
}

/* In the state of the seam. */
static us_status solve_seam(usi_streams *streams, const double *terminal_heads, const double *load,
                            double *values)
{
    us_context *context = streams->supply->context;
    size_t terminals = streams->supply->situation->terminal_count;
    size_t column = usi_seam_find(streams->seam, terminal_heads, terminals);
    us_status status = US_OK;
    if (column == usi_seam_columns(streams->seam)) {
        usi_seam_key key = {terminal_heads, terminals};
        status = usi_seam_load(context, streams->seam, key, load, values, streams->free_count);
    }
    return status == US_OK ? usi_seam_values(context, streams->seam, column, values) : status;
}

us_status usi_streams_solve(usi_streams *streams, const double *terminal_heads,
                            const double *reduced, double *values)
{
    const usi_supply *supply = streams->supply;
    double *load = usi_memory_array(supply->context, streams->free_count, sizeof *load);
    if (load == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        double head;
        if (!head_on(supply, contact, terminal_heads, reduced, &head)) {
            continue;
        }
        int32_t from = place_at(streams, contact->place[0]);
        int32_t to = place_at(streams, contact->place[1]);
        if (from >= 0) {
            load[from] += head;
        }
        if (to >= 0) {
            load[to] -= head;
        }
    }
    us_status status = streams->seam != NULL
                           ? solve_seam(streams, terminal_heads, load, values)
                           : usi_factor_solve(supply->context, streams->factor, load, values);
    free(load);
    return status;
}

void usi_streams_outflows(const usi_streams *streams, const double *values, double *outflows)
{
    const usi_supply *supply = streams->supply;
    size_t terminals = supply->situation->terminal_count;
    for (size_t t = 0; t < terminals + 2; t++) {
        outflows[t] = 0.0;
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        int terminal = usi_border_terminal(contact->border);
        double growth = usi_problem_value(values, place_at(streams, contact->place[1])) -
                        usi_problem_value(values, place_at(streams, contact->place[0]));
        if (terminal >= 0) {
            outflows[terminal] += growth;
        } else if (contact->border == USI_BORDER_LEFT_DRY) {
            outflows[terminals] += growth;
        } else if (contact->border == USI_BORDER_RIGHT_DRY) {
            outflows[terminals + 1] += growth;
        }
    }
}

double usi_streams_product(const usi_streams *streams, const double *one, const double *other)
{
    usi_network network = network_of(streams);
    double sum = usi_links_product(&network, one, other);
    for (size_t k = streams->soil_links; k < streams->problem.link_count; k++) {
        const usi_link *link = &streams->problem.links[k];
        sum += link->conductance *
               (usi_problem_value(one, link->a) - usi_problem_value(one, link->b)) *
               (usi_problem_value(other, link->a) - usi_problem_value(other, link->b));
    }
    return streams->seam != NULL ? sum + usi_seam_beside(streams->seam, one, other) : sum;
}

static double product_of(const void *problem, const double *one, const double *other)
{
    return usi_streams_product(problem, one, other);
}

double usi_streams_form(usi_streams *streams, const double *terminal_heads[2],
                        const double *values[2])
{
    const usi_supply *supply = streams->supply;
    if (streams->seam == NULL || supply->grid->local_count > 0) {
        return usi_streams_product(streams, values[0], values[1]);
    }
    usi_seam_product by = {product_of, streams, USI_STREAMS_FORM_SIGN};
    return usi_seam_form_of(supply->context, streams->seam, &by, terminal_heads,
                            supply->situation->terminal_count, values);
}
