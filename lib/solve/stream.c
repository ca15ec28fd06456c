#include "solve/stream.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/links.h"
#include "solve/problem.h"
#include "solve/ties.h"

static bool is_impervious(usi_border border)
{
    switch (border) {
    case USI_BORDER_WALL:
    case USI_BORDER_STRUCTURE:
    case USI_BORDER_BASE:
    case USI_BORDER_CLOSED:
    case USI_BORDER_LEFT_END:  /* closed here, fixed in the head problem: */
    case USI_BORDER_RIGHT_END: /* only then do both bound the endless soil */
        return true;
    default:
        return false;
    }
}

static size_t node_at(const usi_grid *grid, size_t i, size_t j)
{
    return j * (grid->columns + 1) + i;
}

/* Ties the nodes of every impervious piece; reports one node of the structure's
 * piece and one of the base's. */
static void tie_pieces(const usi_grid *grid, int32_t *ties, int32_t *structure, int32_t *base)
{
    *structure = -1;
    *base = -1;
    for (size_t j = 0; j < grid->rows; j++) {
        for (size_t i = 0; i < grid->columns; i++) {
            if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) < 0) {
                continue;
            }
            for (int d = 0; d < 4; d++) {
                usi_border border = usi_grid_border(grid, i, j, (usi_direction)d);
                if (!is_impervious(border)) {
                    continue;
                }
                usi_corner corners[2];
                usi_links_corners((usi_direction)d, corners);
                int32_t node = usi_links_node(grid, i, j, corners[0]);
                usi_ties_join(ties, node, usi_links_node(grid, i, j, corners[1]));
                *structure = border == USI_BORDER_STRUCTURE ? node : *structure;
                *base = border == USI_BORDER_BASE ? node : *base;
            }
        }
    }
    if (*structure < 0) {
        /* A bare wall between equal beds: the node where it leaves the bed. */
        double x_m = grid->section->left_end_m;
        double bed_m = usi_section_surface(grid->section, x_m, true);
        *structure =
            (int32_t)node_at(grid, usi_grid_x_line(grid, x_m), usi_grid_z_line(grid, bed_m));
    }
}

static bool node_in_soil(const usi_grid *grid, size_t i, size_t j)
{
    for (int c = 0; c < 4; c++) {
        usi_cell cell = usi_grid_cell_at(i, j, (usi_corner)c);
        if (usi_grid_soil(grid, cell.i, cell.j) >= 0) {
            return true;
        }
    }
    return false;
}

/* Numbers the free pieces and nodes; returns how many there are. */
static size_t number_places(const usi_grid *grid, int32_t *ties, const int32_t ends[2],
                            int32_t *places)
{
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    for (size_t n = 0; n < nodes; n++) {
        places[n] = USI_PLACE_NONE;
    }
    places[usi_ties_find(ties, ends[0])] = USI_PLACE_ZERO;
    places[usi_ties_find(ties, ends[1])] = USI_PLACE_ONE;
    int32_t next = 0;
    for (size_t j = 0; j <= grid->rows; j++) {
        for (size_t i = 0; i <= grid->columns; i++) {
            size_t node = node_at(grid, i, j);
            if (!node_in_soil(grid, i, j)) {
                continue;
            }
            int32_t root = usi_ties_find(ties, (int32_t)node);
            if (places[root] == USI_PLACE_NONE) {
                places[root] = next++;
            }
            places[node] = places[root];
        }
    }
    return (size_t)next;
}

static double smallest_conductivity(const us_section *section)
{
    double smallest_m_s = HUGE_VAL;
    for (size_t s = 0; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            smallest_m_s = fmin(smallest_m_s, section->soils[s].kh_m_s);
            smallest_m_s = fmin(smallest_m_s, section->soils[s].kv_m_s);
        }
    }
    return smallest_m_s;
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){scale_m_s / soil->kv_m_s, scale_m_s / soil->kh_m_s};
}

static us_status solve_places(us_context *context, usi_field *field, const int32_t *places,
                              size_t free_count)
{
    const usi_grid *grid = field->grid;
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    usi_problem problem;
    us_status status =
        usi_problem_begin(context, &problem, free_count, 4 * grid->rows * grid->columns);
    double *values = usi_memory_array(context, free_count, sizeof *values);
    double *stream = usi_memory_array(context, nodes, sizeof *stream);
    if (values == NULL || stream == NULL) {
        status = US_ERROR_MEMORY;
    }
    if (status == US_OK) {
        double scale_m_s = smallest_conductivity(grid->section);
        usi_network network = {grid, scale_m_s, coefficient, usi_links_node, places, true};
        usi_links_add(&network, &problem);
        status = usi_problem_solve(context, &problem, values);
        if (status == US_OK) {
            /* Leading errors cancel in the geometric mean. */
            double other_m_s = scale_m_s / usi_problem_energy(&problem, values);
            double one_m_s = field->flow_m_s;
            field->flow_m_s = sqrt(one_m_s * other_m_s);
            field->spread = fabs(one_m_s - other_m_s) / field->flow_m_s;
            field->leaky = field->leaky || problem.leaky;
            field->lower_m_s = scale_m_s / usi_links_energy(&network, values);
            for (size_t n = 0; n < nodes; n++) {
                stream[n] = usi_problem_value(values, places[n]);
            }
        }
    }
    free(values);
    usi_problem_free(&problem);
    if (status == US_OK) {
        field->stream = stream;
    } else {
        free(stream);
    }
    return status;
}

us_status usi_stream_solve(us_context *context, usi_field *field)
{
    const usi_grid *grid = field->grid;
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    int32_t *ties = usi_ties_begin(context, nodes);
    int32_t *places = usi_memory_array(context, nodes, sizeof *places);
    us_status status = ties != NULL && places != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        int32_t ends[2];
        tie_pieces(grid, ties, &ends[0], &ends[1]);
        if (usi_ties_find(ties, ends[0]) != usi_ties_find(ties, ends[1])) {
            size_t free_count = number_places(grid, ties, ends, places);
            status = solve_places(context, field, places, free_count);
        }
    }
    free(places);
    free(ties);
    return status;
}
