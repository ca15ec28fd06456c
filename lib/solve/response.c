#include "solve/response.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Of sums of up to millions of products of one sign. */
static const double BOUND_ROUNDING = 1e-11;

bool usi_response_begin(const usi_supply *supply, usi_response *response)
{
    response->count = 0;
    if (supply->situation->terminal_count > USI_RESPONSE_TERMINALS) {
        return false;
    }
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        if (!supply->touched[t] || supply->situation->terminals[t].floating) {
            continue;
        }
        if (response->count == USI_RESPONSE_MOST) {
            return false;
        }
        response->terminal[response->count++] = t;
    }
    return true;
}

/* Solutions of one problem, one after the other. */
typedef struct pile {
    size_t length;
    double *values;
} pile;

static us_status pile_make(us_context *context, size_t count, size_t length, pile *made)
{
    *made = (pile){length, usi_memory_array(context, count * length + 1, sizeof(double))};
    return made->values != NULL ? US_OK : US_ERROR_MEMORY;
}

static void combine(const usi_supply *supply, const usi_response *response, const pile *from,
                    double *combined)
{
    for (size_t k = 0; k < from->length; k++) {
        combined[k] = 0.0;
    }
    for (size_t j = 0; j < response->count; j++) {
        double head = supply->heads[response->terminal[j]];
        for (size_t k = 0; k < from->length; k++) {
            combined[k] += head * from->values[j * from->length + k];
        }
    }
}

/* Head 1 at one terminal of the response, 0 at all others. */
static void unit_heads(const usi_supply *supply, const usi_response *response, size_t j,
                       double *heads)
{
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        heads[t] = t == response->terminal[j] ? 1.0 : 0.0;
    }
}

/* The form of two unit fields in the state of a seam, which is what flows between their terminals
 * too where links are as linear elements have them; NaN where it has to be found. */
static double known_form(const usi_supply *supply, const usi_response *response, usi_seam *seam,
                         const size_t pair[2], double sign)
{
    size_t terminals = supply->situation->terminal_count;
    size_t column[2];
    if (seam == NULL || supply->grid->local_count > 0) {
        return (double)NAN;
    }
    for (int k = 0; k < 2; k++) {
        double heads[USI_RESPONSE_TERMINALS];
        unit_heads(supply, response, pair[k], heads);
        column[k] = usi_seam_find(seam, heads, terminals);
        if (column[k] == usi_seam_columns(seam)) {
            return (double)NAN;
        }
    }
    return usi_seam_form(seam, column[0], column[1], sign);
}

/* Fills a response from forms alone; false where one is not known yet. */
static bool take_known(const usi_supply *supply, usi_seam *seam, double scale_m_s, double sign,
                       usi_response *response)
{
    for (size_t i = 0; i < response->count; i++) {
        for (size_t j = 0; j <= i; j++) {
            double form =
                scale_m_s * known_form(supply, response, seam, (const size_t[2]){i, j}, sign);
            if (isnan(form)) {
                return false;
            }
            response->flow_m_s[i][j] = form;
            response->flow_m_s[j][i] = form;
            response->bound_m_s[i][j] = form;
            response->bound_m_s[j][i] = form;
        }
    }
    return true;
}

us_status usi_response_heads(usi_heads *heads, usi_response *response, double *combined)
{
    const usi_supply *supply = heads->supply;
    size_t given = supply->situation->terminal_count + supply->gate_count;
    if (take_known(supply, heads->seam, heads->scale_m_s, USI_HEADS_FORM_SIGN, response)) {
        return usi_heads_solve(heads, supply->heads, combined);
    }
    pile all;
    double *work =
        usi_memory_array(supply->context, given + supply->situation->terminal_count, sizeof *work);
    us_status status = pile_make(supply->context, response->count, usi_heads_count(heads), &all);
    status = work != NULL ? status : US_ERROR_MEMORY;
    for (size_t j = 0; status == US_OK && j < response->count; j++) {
        double *values = all.values + j * all.length;
        unit_heads(supply, response, j, work + given);
        status = usi_heads_solve(heads, work + given, values);
        if (status == US_OK) {
            usi_heads_outflows(heads, values, work);
        }
        for (size_t i = 0; status == US_OK && i < response->count; i++) {
            response->flow_m_s[i][j] = -heads->scale_m_s * work[response->terminal[i]];
        }
        for (size_t i = 0; status == US_OK && i <= j; i++) {
            double other[USI_RESPONSE_TERMINALS];
            unit_heads(supply, response, i, other);
            const double *given_heads[2] = {other, work + given};
            const double *fields[2] = {all.values + i * all.length, values};
            double product = heads->scale_m_s * usi_heads_form(heads, given_heads, fields);
            response->bound_m_s[i][j] = product;
            response->bound_m_s[j][i] = product;
        }
    }
    if (status == US_OK) {
        combine(supply, response, &all, combined);
    }
    free(all.values);
    free(work);
    return status;
}

/* The dual form of trial fields: what they pass, twice, less what they cost. At the
 * solution both are the same; of any others the form lies below the true one. */
static void bound_streams(usi_streams *streams, const pile *all, usi_response *response)
{
    for (size_t i = 0; i < response->count; i++) {
        for (size_t j = 0; j <= i; j++) {
            double heads[2][USI_RESPONSE_TERMINALS];
            unit_heads(streams->supply, response, i, heads[0]);
            unit_heads(streams->supply, response, j, heads[1]);
            const double *given[2] = {heads[0], heads[1]};
            const double *fields[2] = {all->values + i * all->length,
                                       all->values + j * all->length};
            double cost = streams->scale_m_s * usi_streams_form(streams, given, fields);
            double form = response->flow_m_s[i][j] + response->flow_m_s[j][i] - cost;
            response->bound_m_s[i][j] = form;
            response->bound_m_s[j][i] = form;
        }
    }
}

us_status usi_response_streams(usi_streams *streams, usi_response *response, double *combined)
{
    const usi_supply *supply = streams->supply;
    size_t terminals = supply->situation->terminal_count;
    if (take_known(supply, streams->seam, streams->scale_m_s, USI_STREAMS_FORM_SIGN, response)) {
        return usi_streams_solve(streams, supply->heads, NULL, combined);
    }
    pile all;
    double *work = usi_memory_array(supply->context, 2 * terminals + 2, sizeof *work);
    us_status status = pile_make(supply->context, response->count, streams->free_count, &all);
    status = work != NULL ? status : US_ERROR_MEMORY;
    for (size_t j = 0; status == US_OK && j < response->count; j++) {
        double *values = all.values + j * all.length;
        unit_heads(supply, response, j, work + terminals + 2);
        status = usi_streams_solve(streams, work + terminals + 2, NULL, values);
        if (status == US_OK) {
            usi_streams_outflows(streams, values, work);
        }
        for (size_t i = 0; status == US_OK && i < response->count; i++) {
            response->flow_m_s[i][j] = -streams->scale_m_s * work[response->terminal[i]];
        }
    }
    if (status == US_OK) {
        bound_streams(streams, &all, response);
        combine(supply, response, &all, combined);
    }
    free(all.values);
    free(work);
    return status;
}

void usi_response_outflow(const usi_supply *supply, const usi_response *upper,
                          const usi_response *lower, const bool members[USI_RESPONSE_MOST],
                          usi_outflow *outflow)
{
    double value_m_s = 0.0;
    double middle_m_s = 0.0;
    double form_m_s = 0.0;
    double size_m_s = 0.0;
    double own_m_s = 0.0;
    for (size_t i = 0; i < upper->count; i++) {
        double mine = supply->heads[upper->terminal[i]];
        for (size_t j = 0; j < upper->count; j++) {
            double head = supply->heads[upper->terminal[j]];
            double apart_m_s = upper->bound_m_s[i][j] - lower->bound_m_s[i][j];
            form_m_s += mine * head * apart_m_s;
            if (!members[i]) {
                continue;
            }
            own_m_s += members[j] ? apart_m_s : 0.0;
            value_m_s -= 0.5 * head * (upper->flow_m_s[i][j] + lower->flow_m_s[i][j]);
            middle_m_s -= 0.5 * head * (upper->bound_m_s[i][j] + lower->bound_m_s[i][j]);
            size_m_s += fabs(head * upper->bound_m_s[i][j]);
        }
    }
    double half_m_s =
        0.5 * sqrt(fmax(own_m_s, 0.0) * fmax(form_m_s, 0.0)) + BOUND_ROUNDING * size_m_s;
    outflow->lower_m_s = middle_m_s - half_m_s;
    outflow->upper_m_s = middle_m_s + half_m_s;
    outflow->value_m_s = fmin(fmax(value_m_s, outflow->lower_m_s), outflow->upper_m_s);
}
