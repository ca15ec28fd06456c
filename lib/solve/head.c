#include "solve/head.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/conductivity_range.h"
#include "solve/links.h"
#include "solve/problem.h"
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

/* Numbers the free unknowns; returns how many there are. */
static size_t number_free(const usi_grid *grid, int32_t *places)
{
    int32_t next = 0;
    for (size_t u = 0; u < grid->unknowns; u++) {
        if (places[u] == USI_PLACE_NONE) {
            places[u] = next++;
        }
    }
    return (size_t)next;
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){soil->kh_m_s / scale_m_s, soil->kv_m_s / scale_m_s};
}

/* Inflow minus outflow, per scale conductivity and unit head difference. */
static double find_imbalance(const usi_problem *problem, const double *values)
{
    double in = 0.0;
    double out = 0.0;
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

static us_status check_balance(double energy, double imbalance)
{
    /* A sealed structure passes nothing but rounding. */
    bool sound = imbalance <= IMBALANCE_LIMIT * energy || energy < 1e-12;
    return sound ? US_OK : US_NOT_CONVERGED;
}

static us_status solve_places(us_context *context, usi_field *field, int32_t *places)
{
    const usi_grid *grid = field->grid;
    us_status status = usi_reach_check(context, grid, places);
    if (status != US_OK) {
        return status;
    }
    usi_problem problem;
    size_t free_count = number_free(grid, places);
    status = usi_problem_begin(context, &problem, free_count, usi_links_count(grid));
    double *values = usi_memory_array(context, free_count, sizeof *values);
    if (values == NULL) {
        status = US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        double scale_m_s = usi_conductivity_largest(grid->section);
        usi_network network = {grid, scale_m_s, coefficient, usi_grid_unknown, places, false};
        usi_links_add(&network, &problem);
        status = usi_problem_solve(context, &problem, values);
        if (status == US_OK) {
            double energy = usi_problem_energy(&problem, values);
            field->flow_m_s = scale_m_s * energy;
            field->leaky = problem.leaky || grid->beyond;
            field->upper_m_s = scale_m_s * usi_links_energy(&network, values);
            field->imbalance = find_imbalance(&problem, values);
            status = check_balance(energy, field->imbalance);
            for (size_t u = 0; u < grid->unknowns; u++) {
                field->reduced[u] = usi_problem_value(values, places[u]);
            }
        }
    }
    free(values);
    usi_problem_free(&problem);
    return status;
}

us_status usi_head_solve(us_context *context, usi_field *field)
{
    int32_t *places = usi_memory_array(context, field->grid->unknowns, sizeof *places);
    if (places == NULL) {
        return US_ERROR_MEMORY;
    }
    fix_places(field->grid, places);
    us_status status = solve_places(context, field, places);
    free(places);
    return status;
}
