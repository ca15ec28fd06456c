#include "solve/stream.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/conductivity_range.h"
#include "solve/passages.h"
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

/* One place of the structure's piece and one of the base's; -1 for none. */
typedef struct two_ends {
    int32_t structure;
    int32_t base;
} two_ends;

/* What pieces are tied by, and with. */
typedef struct tying {
    const usi_passages *passages;
    int32_t *ties;
    two_ends *ends;
} tying;

static void tie_side(const tying *of, int32_t a, int32_t b, usi_border border)
{
    int32_t *ties = of->ties;
    two_ends *ends = of->ends;
    if (is_impervious(border) && !usi_passages_open(of->passages, a, b)) {
        usi_ties_join(ties, a, b);
        ends->structure = border == USI_BORDER_STRUCTURE ? a : ends->structure;
        ends->base = border == USI_BORDER_BASE ? a : ends->base;
    }
}

static size_t node_at(const usi_grid *grid, size_t i, size_t j)
{
    return j * (grid->columns + 1) + i;
}

/* Ties the places of every impervious piece. */
static two_ends tie_pieces(const usi_grid *grid, const usi_passages *passages, int32_t *ties)
{
    two_ends ends = {-1, -1};
    tying of = {passages, ties, &ends};
    for (size_t j = 0; j < grid->rows; j++) {
        for (size_t i = 0; i < grid->columns; i++) {
            for (int d = 0; usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) >= 0 && d < 4; d++) {
                usi_corner corners[2];
                usi_links_corners((usi_direction)d, corners);
                tie_side(&of, usi_links_node(grid, i, j, corners[0]),
                         usi_links_node(grid, i, j, corners[1]),
                         usi_grid_border(grid, i, j, (usi_direction)d));
            }
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            tie_side(&of, triangle->place[k], triangle->place[(k + 1) % 3],
                     (usi_border)triangle->border[k]);
        }
    }
    if (ends.structure < 0) {
        /* A bare wall between equal beds: the node where it leaves the bed. */
        double x_m = grid->section->left_end_m;
        double bed_m = usi_section_surface(grid->section, x_m, true);
        ends.structure =
            (int32_t)node_at(grid, usi_grid_x_line(grid, x_m), usi_grid_z_line(grid, bed_m));
    }
    return ends;
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

/* Gives a place the number of its piece, a new one where it has none. */
static void number_place(int32_t *ties, size_t place, int32_t *next, int32_t *places)
{
    int32_t root = usi_ties_find(ties, (int32_t)place);
    if (places[root] == USI_PLACE_NONE) {
        places[root] = (*next)++;
    }
    places[place] = places[root];
}

size_t usi_stream_number(const usi_grid *grid, int32_t *ties, int32_t zero, int32_t one,
                         int32_t *places)
{
    for (size_t n = 0; n < usi_grid_place_count(grid); n++) {
        places[n] = USI_PLACE_NONE;
    }
    places[usi_ties_find(ties, zero)] = USI_PLACE_ZERO;
    if (one >= 0) {
        places[usi_ties_find(ties, one)] = USI_PLACE_ONE;
    }
    int32_t next = 0;
    for (size_t j = 0; j <= grid->rows; j++) {
        for (size_t i = 0; i <= grid->columns; i++) {
            if (node_in_soil(grid, i, j)) {
                number_place(ties, node_at(grid, i, j), &next, places);
            }
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        for (int k = 0; k < 3; k++) {
            number_place(ties, (size_t)grid->triangles[t].place[k], &next, places);
        }
    }
    return (size_t)next;
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){scale_m_s / soil->kv_m_s, scale_m_s / soil->kh_m_s};
}

static usi_network network_of(const usi_stream *stream)
{
    return (usi_network){stream->grid,   stream->scale_m_s, coefficient,
                         usi_links_node, stream->places,    true};
}

/* Lays the problem once it is known where water passes the walls. */
static us_status lay(us_context *context, const usi_passages *passages, size_t extra,
                     usi_stream *stream)
{
    const usi_grid *grid = stream->grid;
    int32_t *ties = usi_ties_begin(context, usi_grid_place_count(grid));
    if (ties == NULL) {
        return US_ERROR_MEMORY;
    }
    two_ends ends = tie_pieces(grid, passages, ties);
    stream->sealed = usi_ties_find(ties, ends.structure) == usi_ties_find(ties, ends.base);
    if (!stream->sealed) {
        stream->free_count =
            usi_stream_number(grid, ties, ends.structure, ends.base, stream->places);
    }
    free(ties);
    if (stream->sealed) {
        return US_OK;
    }
    us_status status =
        usi_problem_begin(context, &stream->problem, stream->free_count,
                          usi_links_count(grid) + usi_passages_count(passages) + extra);
    if (status == US_OK) {
        usi_network network = network_of(stream);
        status = usi_links_add(context, &network, &stream->problem);
    }
    if (status == US_OK) {
        stream->soil_links = stream->problem.link_count;
        usi_passages_add_streams(passages, stream->places, stream->scale_m_s, &stream->problem);
    }
    return status;
}

us_status usi_stream_lay(us_context *context, const usi_grid *grid, size_t extra,
                         usi_stream *stream)
{
    size_t count = usi_grid_place_count(grid);
    *stream = (usi_stream){.grid = grid,
                           .scale_m_s = usi_conductivity_smallest(grid->section),
                           .places = usi_memory_array(context, count, sizeof *stream->places)};
    if (stream->places == NULL) {
        return US_ERROR_MEMORY;
    }
    usi_passages passages;
    us_status status = usi_passages_find(context, grid, &passages);
    if (status == US_OK) {
        status = lay(context, &passages, extra, stream);
    }
    usi_passages_free(&passages);
    return status;
}

void usi_stream_free(usi_stream *stream)
{
    usi_problem_free(&stream->problem);
    free(stream->places);
    *stream = (usi_stream){0};
}

/* `energy` is that of the problem, `bound` that of linear elements. */
static us_status take(us_context *context, const usi_stream *stream, const double *values,
                      double energy, double bound, usi_field *field)
{
    size_t count = usi_grid_place_count(stream->grid);
    double *taken = usi_memory_array(context, count, sizeof *taken);
    if (taken == NULL) {
        return US_ERROR_MEMORY;
    }
    /* Leading errors cancel in the geometric mean. */
    double other_m_s = stream->scale_m_s / energy;
    double one_m_s = field->flow_m_s;
    field->flow_m_s = sqrt(one_m_s * other_m_s);
    field->spread = fabs(one_m_s - other_m_s) / field->flow_m_s;
    field->leaky = field->leaky || stream->problem.leaky;
    field->lower_m_s = stream->scale_m_s / bound;
    for (size_t n = 0; n < count; n++) {
        taken[n] = usi_problem_value(values, stream->places[n]);
    }
    field->stream = taken;
    return US_OK;
}

double usi_stream_energy(const usi_stream *stream, const double *values)
{
    usi_network network = network_of(stream);
    return usi_links_energy(&network, values) +
           usi_problem_energy_from(&stream->problem, stream->soil_links, values);
}

us_status usi_stream_take(us_context *context, const usi_stream *stream, const double *values,
                          usi_field *field)
{
    return take(context, stream, values, usi_problem_energy(&stream->problem, values),
                usi_stream_energy(stream, values), field);
}

us_status usi_stream_take_known(us_context *context, const usi_stream *stream, const double *values,
                                double energy, usi_field *field)
{
    return take(context, stream, values, energy, energy, field);
}

us_status usi_stream_find(us_context *context, const usi_grid *grid, usi_stream *stream,
                          double **values)
{
    *values = NULL;
    us_status status = usi_stream_lay(context, grid, 0, stream);
    if (status == US_OK && !stream->sealed) {
        *values = usi_memory_array(context, stream->free_count, sizeof **values);
        status = *values != NULL ? usi_problem_solve(context, &stream->problem, *values)
                                 : US_ERROR_MEMORY;
    }
    return status;
}

us_status usi_stream_solve(us_context *context, usi_field *field)
{
    usi_stream stream;
    double *values = NULL;
    us_status status = usi_stream_find(context, field->grid, &stream, &values);
    if (status == US_OK && !stream.sealed) {
        status = usi_stream_take(context, &stream, values, field);
    }
    free(values);
    usi_stream_free(&stream);
    return status;
}
