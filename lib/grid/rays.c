#include "grid/rays.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/stations.h"

bool usi_piece_meets(const usi_piece *piece, int vertex)
{
    return piece->from == vertex || piece->to == vertex;
}

static bool is_far(const us_section *section, usi_edge_kind kind)
{
    return (kind == USI_EDGE_LEFT_SIDE && section->left.kind == USI_SIDE_ENDLESS) ||
           (kind == USI_EDGE_RIGHT_SIDE && section->right.kind == USI_SIDE_ENDLESS);
}

static bool is_fixed(const us_section *section, usi_edge_kind kind)
{
    switch (kind) {
    case USI_EDGE_LEFT_BED:
    case USI_EDGE_RIGHT_BED:
        return true;
    case USI_EDGE_LEFT_SIDE:
        return section->left.kind != USI_SIDE_CLOSED;
    case USI_EDGE_RIGHT_SIDE:
        return section->right.kind != USI_SIDE_CLOSED;
    case USI_EDGE_INTERFACE:
    case USI_EDGE_STRUCTURE:
    case USI_EDGE_BASE:
        break;
    }
    return false;
}

static void add_edges(const usi_plan *plan, usi_pieces *pieces)
{
    for (size_t e = 0; e < plan->edge_count; e++) {
        const usi_edge *edge = &plan->edges[e];
        pieces->list[pieces->count++] = (usi_piece){.from = edge->a,
                                                    .to = edge->b,
                                                    .a = plan->vertices[edge->a],
                                                    .b = plan->vertices[edge->b],
                                                    .far = is_far(pieces->section, edge->kind),
                                                    .fixed = is_fixed(pieces->section, edge->kind),
                                                    .open = edge->left >= 0 && edge->right >= 0,
                                                    .left = edge->left,
                                                    .right = edge->right};
    }
}

/* A vertex at a point, a new one where there is none. */
static int vertex_at(usi_pieces *pieces, usi_point at)
{
    double tolerance_m = usi_section_tolerance(pieces->section);
    for (size_t v = 0; v < pieces->vertex_count; v++) {
        usi_point there = pieces->vertices[v];
        if (fabs(there.x_m - at.x_m) <= tolerance_m && fabs(there.z_m - at.z_m) <= tolerance_m) {
            return (int)v;
        }
    }
    pieces->vertices[pieces->vertex_count] = at;
    return (int)pieces->vertex_count++;
}

/* The next vertex on a wall below a level, its tip at the latest. */
static int next_below(const usi_pieces *pieces, double x_m, double from_m, int tip)
{
    double tolerance_m = usi_section_tolerance(pieces->section);
    int found = tip;
    for (size_t v = 0; v < pieces->vertex_count; v++) {
        usi_point at = pieces->vertices[v];
        if (fabs(at.x_m - x_m) <= tolerance_m && at.z_m < from_m - tolerance_m &&
            at.z_m > pieces->vertices[found].z_m) {
            found = (int)v;
        }
    }
    return found;
}

/* A wall's pieces run between the vertices on it, the ends apart from what lies
 * above the soil. */
static void add_wall(const usi_wall *wall, bool sealed, usi_pieces *pieces)
{
    usi_point tip = {wall->x_m, usi_stations_tip(wall, sealed)};
    int last = vertex_at(pieces, tip);
    int at = vertex_at(pieces, (usi_point){wall->x_m, wall->top_m});
    while (at != last) {
        int next = next_below(pieces, wall->x_m, pieces->vertices[at].z_m, last);
        usi_point a = pieces->vertices[next];
        usi_point b = pieces->vertices[at];
        usi_point middle = {wall->x_m, 0.5 * (a.z_m + b.z_m)};
        double beside_m = 1e3 * usi_section_tolerance(pieces->section);
        usi_point left = {middle.x_m - beside_m, middle.z_m};
        usi_point right = {middle.x_m + beside_m, middle.z_m};
        if (usi_plan_soil(pieces->section, left) >= 0 ||
            usi_plan_soil(pieces->section, right) >= 0) {
            pieces->list[pieces->count++] = (usi_piece){
                .from = next, .to = at, .a = a, .b = b, .wall = true, .left = -2, .right = -2};
        }
        at = next;
    }
}

static us_status sort_around(us_context *context, usi_pieces *pieces)
{
    pieces->first = usi_memory_array(context, pieces->vertex_count + 1, sizeof *pieces->first);
    pieces->around = usi_memory_array(context, 2 * pieces->count, sizeof *pieces->around);
    if (pieces->first == NULL || pieces->around == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < pieces->count; k++) {
        pieces->first[pieces->list[k].from + 1]++;
        pieces->first[pieces->list[k].to + 1]++;
    }
    for (size_t v = 0; v < pieces->vertex_count; v++) {
        pieces->first[v + 1] += pieces->first[v];
    }
    /* Counted from 1 while 0 marks what is free. */
    for (size_t k = 0; k < pieces->count; k++) {
        int ends[2] = {pieces->list[k].from, pieces->list[k].to};
        for (int e = 0; e < 2; e++) {
            size_t slot = pieces->first[ends[e]];
            while (pieces->around[slot] != 0) {
                slot++;
            }
            pieces->around[slot] = (int)k + 1;
        }
    }
    for (size_t k = 0; k < 2 * pieces->count; k++) {
        pieces->around[k]--;
    }
    return US_OK;
}

us_status usi_pieces_list(us_context *context, const us_section *section, const usi_plan *plan,
                          bool sealed, usi_pieces *pieces)
{
    *pieces = (usi_pieces){.section = section};
    size_t most_vertices = plan->vertex_count + 2 * section->wall_count;
    size_t most = plan->edge_count + section->wall_count + plan->vertex_count + 1;
    pieces->vertices = usi_memory_array(context, most_vertices + 1, sizeof *pieces->vertices);
    pieces->list = usi_memory_array(context, most, sizeof *pieces->list);
    us_status status = pieces->vertices != NULL && pieces->list != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        for (size_t v = 0; v < plan->vertex_count; v++) {
            pieces->vertices[pieces->vertex_count++] = plan->vertices[v];
        }
        add_edges(plan, pieces);
        for (size_t w = 0; w < section->wall_count; w++) {
            add_wall(&section->walls[w], sealed, pieces);
        }
        status = sort_around(context, pieces);
    }
    if (status != US_OK) {
        usi_pieces_free(pieces);
    }
    return status;
}

void usi_pieces_free(usi_pieces *pieces)
{
    free(pieces->vertices);
    free(pieces->list);
    free(pieces->first);
    free(pieces->around);
    *pieces = (usi_pieces){0};
}

bool usi_pieces_far(const usi_pieces *pieces, int vertex)
{
    for (size_t k = pieces->first[vertex]; k < pieces->first[vertex + 1]; k++) {
        if (pieces->list[pieces->around[k]].far) {
            return true;
        }
    }
    return false;
}

/* A piece as seen from a vertex. */
typedef struct ray {
    double angle; /* from 0 to 2 pi */
    const usi_piece *piece;
    int before; /* soil on the clockwise hand; -1 none, -2 not known */
    int after;
} ray;

static int by_angle(const void *a, const void *b)
{
    const ray *x = a;
    const ray *y = b;
    return (x->angle > y->angle) - (x->angle < y->angle);
}

static int gather(const usi_pieces *pieces, int vertex, ray rays[USI_FAN_MOST])
{
    int count = 0;
    for (size_t k = pieces->first[vertex]; k < pieces->first[vertex + 1]; k++) {
        const usi_piece *piece = &pieces->list[pieces->around[k]];
        bool out = piece->from == vertex;
        double dx_m = piece->b.x_m - piece->a.x_m;
        double dz_m = piece->b.z_m - piece->a.z_m;
        double angle = out ? atan2(dz_m, dx_m) : atan2(-dz_m, -dx_m);
        if (count == USI_FAN_MOST) {
            return count;
        }
        rays[count++] = (ray){angle < 0.0 ? angle + 8.0 * atan(1.0) : angle, piece,
                              out ? piece->right : piece->left, out ? piece->left : piece->right};
    }
    qsort(rays, (size_t)count, sizeof *rays, by_angle);
    return count;
}

/* Soil between two rays that follow each other. */
static int soil_between(const usi_pieces *pieces, int vertex, const ray *from, const ray *to,
                        double to_angle)
{
    if (from->after != -2) {
        return from->after;
    }
    if (to->before != -2) {
        return to->before;
    }
    double beside_m = 1e3 * usi_section_tolerance(pieces->section);
    double middle = 0.5 * (from->angle + to_angle);
    usi_point at = pieces->vertices[vertex];
    return usi_plan_soil(pieces->section, (usi_point){at.x_m + beside_m * cos(middle),
                                                      at.z_m + beside_m * sin(middle)});
}

static void add_sector(const us_section *section, int soil, double from, double to, usi_fan *fan)
{
    fan->sectors[fan->count++] =
        (usi_fan_sector){from, to, section->soils[soil].kh_m_s, section->soils[soil].kv_m_s};
}

/* The fan that begins at ray `first`; returns how many sectors it has, 0 where
 * no soil follows that ray. */
static int fan_from(const usi_pieces *pieces, int vertex, const ray *rays, int count, int first,
                    usi_fan *fan)
{
    const double turn = 8.0 * atan(1.0);
    *fan = (usi_fan){.closed = true, .fixed_first = rays[first].piece->fixed};
    for (int k = 0; k < count; k++) {
        const ray *from = &rays[(first + k) % count];
        const ray *to = &rays[(first + k + 1) % count];
        double from_angle = from->angle + (first + k >= count ? turn : 0.0);
        double to_angle = to->angle + (first + k + 1 >= count ? turn : 0.0);
        int soil = soil_between(pieces, vertex, from, to, to_angle - (from_angle - from->angle));
        if (soil < 0) {
            fan->closed = false;
            return fan->count;
        }
        add_sector(pieces->section, soil, from_angle, to_angle, fan);
        if (!to->piece->open) {
            fan->closed = false;
            fan->fixed_last = to->piece->fixed;
            return fan->count;
        }
    }
    return fan->count;
}

double usi_pieces_exponent(const usi_pieces *pieces, int vertex, bool *inside)
{
    ray rays[USI_FAN_MOST];
    int count = gather(pieces, vertex, rays);
    double lambda = 1.0;
    bool any_border = false;
    *inside = count > 0;
    for (int r = 0; r < count; r++) {
        any_border = any_border || !rays[r].piece->open;
    }
    for (int r = 0; r < count; r++) {
        usi_fan fan;
        if (any_border && rays[r].piece->open) {
            continue;
        }
        if (fan_from(pieces, vertex, rays, count, r, &fan) > 0) {
            lambda = fmin(lambda, usi_fan_exponent(&fan));
        } else {
            *inside = false;
        }
        if (!any_border) {
            break;
        }
    }
    return lambda;
}
