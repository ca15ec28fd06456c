#include "solve/head.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/conductivity_range.h"
#include "solve/passages.h"
#include "solve/reach.h"

/* Flow that came in and did not go out again, as a share of the flow, above
 * which rounding has spoilt the solution. */
static const double IMBALANCE_LIMIT = 1e-5;

/* Marks the ends of the sides of triangles that lie under water. */
static void fix_triangles(const usi_grid *grid, int upstream, int32_t *places)
{
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            int side = usi_border_water((usi_border)triangle->border[k]);
            if (side != 0) {
                int32_t place = side == upstream ? USI_PLACE_ONE : USI_PLACE_ZERO;
                places[triangle->unknown[k]] = place;
                places[triangle->unknown[(k + 1) % 3]] = place;
            }
        }
    }
}

/* Marks every fixed unknown with its place, the others with USI_PLACE_NONE. */
static void fix_places(const usi_grid *grid, int32_t *places)
{
    for (size_t u = 0; u < grid->unknowns; u++) {
        places[u] = USI_PLACE_NONE;
    }
    int upstream = grid->section->flows_left ? 1 : -1;
    for (size_t j = 0; j < grid->rows; j++) {
        for (size_t i = 0; i < grid->columns; i++) {
            if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) < 0) {
                continue;
            }
            for (int d = 0; d < 4; d++) {
                int side = usi_border_water(usi_grid_border(grid, i, j, (usi_direction)d));
                if (side != 0) {
                    int32_t place = side == upstream ? USI_PLACE_ONE : USI_PLACE_ZERO;
                    usi_corner corners[2];
                    usi_links_corners((usi_direction)d, corners);
                    places[usi_grid_unknown(grid, i, j, corners[0])] = place;
                    places[usi_grid_unknown(grid, i, j, corners[1])] = place;
                }
            }
        }
    }
    fix_triangles(grid, upstream, places);
}

/* Numbers the free unknowns, one number for a face of a strip; returns how many there
 * are. */
static size_t number_free(const usi_grid *grid, const usi_passages *passages, int32_t *faces,
                          int32_t *places)
{
    int32_t next = 0;
    for (size_t f = 0; f < 2 * passages->strip_count; f++) {
        faces[f] = USI_PLACE_NONE;
    }
    for (size_t u = 0; u < passages->unknowns; u++) {
        if (passages->face[u] >= 0 && places[u] != USI_PLACE_NONE) {
            faces[passages->face[u]] = places[u];
        }
    }
    for (size_t u = 0; u < grid->unknowns; u++) {
        int32_t face = passages->face != NULL ? passages->face[u] : -1;
        if (places[u] != USI_PLACE_NONE) {
            continue;
        }
        if (face >= 0) {
            faces[face] = faces[face] == USI_PLACE_NONE ? next++ : faces[face];
        }
        places[u] = face >= 0 ? faces[face] : next++;
    }
    return (size_t)next;
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){soil->kh_m_s / scale_m_s, soil->kv_m_s / scale_m_s};
}

static usi_network network_of(const usi_head *head)
{
    return (usi_network){head->grid,       head->scale_m_s, coefficient,
                         usi_grid_unknown, head->places,    false};
}

/* Inflow minus outflow, per scale conductivity and unit head difference. */
static double find_imbalance(const usi_problem *problem, const double *values, usi_known known)
{
    double in = known.in;
    double out = known.out;
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        double a = usi_problem_value(values, link->a);
        double b = usi_problem_value(values, link->b);
        double flow = link->conductance * (a - b);
        in += link->a == USI_PLACE_ONE ? flow : 0.0;
        in -= link->b == USI_PLACE_ONE ? flow : 0.0;
        out += link->b == USI_PLACE_ZERO ? flow : 0.0;
        out -= link->a == USI_PLACE_ZERO ? flow : 0.0;
    }
    return fabs(in - out);
}

/* What flows by the rest of a solution (usi_problem_solve_rest()): across cells a billionth of
 * a metre wide the last digit of a head carries more than all else in the balance. */
static usi_known flows_of_rest(const usi_problem *problem, const double *rest)
{
    usi_known sum = {0};
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        double a = link->a >= 0 ? rest[link->a] : 0.0;
        double b = link->b >= 0 ? rest[link->b] : 0.0;
        double flow = link->conductance * (a - b);
        sum.in += link->a == USI_PLACE_ONE ? flow : 0.0;
        sum.in -= link->b == USI_PLACE_ONE ? flow : 0.0;
        sum.out += link->b == USI_PLACE_ZERO ? flow : 0.0;
        sum.out -= link->a == USI_PLACE_ZERO ? flow : 0.0;
    }
    return sum;
}

static us_status check_balance(double energy, double imbalance)
{
    /* A sealed structure passes nothing but rounding. */
    bool sound = imbalance <= IMBALANCE_LIMIT * energy || energy < 1e-12;
    return sound ? US_OK : US_NOT_CONVERGED;
}

/* Lays the problem once it is known where water passes the walls. */
static us_status lay(us_context *context, const usi_passages *passages, size_t extra,
                     usi_head *head)
{
    const usi_grid *grid = head->grid;
    us_status status = usi_reach_check(context, grid, passages, head->places);
    int32_t *faces = NULL;
    if (status == US_OK) {
        faces = usi_memory_array(context, 2 * passages->strip_count, sizeof *faces);
        status = faces != NULL ? US_OK : US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        head->free_count = number_free(grid, passages, faces, head->places);
        status = usi_problem_begin(context, &head->problem, head->free_count,
                                   usi_links_count(grid) + usi_passages_count(passages) + extra);
    }
    free(faces);
    if (status == US_OK) {
        usi_network network = network_of(head);
        status = usi_links_add(context, &network, &head->problem);
    }
    if (status == US_OK) {
        head->soil_links = head->problem.link_count;
        usi_passages_add_heads(passages, head->places, head->scale_m_s, &head->problem);
    }
    return status;
}

us_status usi_head_lay(us_context *context, const usi_grid *grid, size_t extra, usi_head *head)
{
    *head = (usi_head){.grid = grid,
                       .scale_m_s = usi_conductivity_largest(grid->section),
                       .places = usi_memory_array(context, grid->unknowns, sizeof *head->places)};
    if (head->places == NULL) {
        return US_ERROR_MEMORY;
    }
    fix_places(grid, head->places);
    usi_passages passages;
    us_status status = usi_passages_find(context, grid, &passages);
    if (status == US_OK) {
        status = lay(context, &passages, extra, head);
    }
    usi_passages_free(&passages);
    return status;
}

void usi_head_free(usi_head *head)
{
    usi_problem_free(&head->problem);
    free(head->places);
    *head = (usi_head){0};
}

static us_status take(const usi_head *head, const usi_problem *edges, const double *values,
                      usi_known known, usi_field *field)
{
    field->flow_m_s = head->scale_m_s * known.energy;
    field->leaky = head->problem.leaky || head->grid->beyond;
    field->imbalance = find_imbalance(edges, values, known);
    for (size_t u = 0; u < head->grid->unknowns; u++) {
        field->reduced[u] = usi_problem_value(values, head->places[u]);
    }
    return check_balance(known.energy, field->imbalance);
}

double usi_head_bound(const usi_head *head, const double *values)
{
    usi_network network = network_of(head);
    return head->scale_m_s * (usi_links_energy(&network, values) +
                              usi_problem_energy_from(&head->problem, head->soil_links, values));
}

us_status usi_head_take(const usi_head *head, const double *values, const double *rest,
                        usi_field *field)
{
    usi_known known = rest != NULL ? flows_of_rest(&head->problem, rest) : (usi_known){0};
    known.energy = usi_problem_energy(&head->problem, values);
    field->upper_m_s = usi_head_bound(head, values);
    return take(head, &head->problem, values, known, field);
}

us_status usi_head_take_known(const usi_head *head, const usi_problem *edges, const double *values,
                              usi_known known, usi_field *field)
{
    field->upper_m_s = head->scale_m_s * known.energy;
    return take(head, edges, values, known, field);
}

us_status usi_head_solve(us_context *context, usi_field *field)
{
    usi_head head;
    double *values = NULL;
    double *rest = NULL;
    us_status status = usi_head_lay(context, field->grid, 0, &head);
    if (status == US_OK) {
        values = usi_memory_array(context, head.free_count, sizeof *values);
        rest = usi_memory_array(context, head.free_count, sizeof *rest);
        status = values != NULL && rest != NULL
                     ? usi_problem_solve_rest(context, &head.problem, values, rest)
                     : US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        status = usi_head_take(&head, values, rest, field);
    }
    free(values);
    free(rest);
    usi_head_free(&head);
    return status;
}
