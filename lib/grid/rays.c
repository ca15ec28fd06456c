#include "grid/rays.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/cut.h"
#include "grid/stations.h"

bool usi_leg_meets(const usi_leg *leg, int vertex)
{
    return leg->from == vertex || leg->to == vertex;
}

static bool is_far(const us_section *section, const usi_edge *edge)
{
    return (edge->kind == USI_EDGE_LEFT_SIDE && section->left.kind == USI_SIDE_ENDLESS) ||
           (edge->kind == USI_EDGE_RIGHT_SIDE && section->right.kind == USI_SIDE_ENDLESS);
}

static void add_edges(const usi_plan *plan, usi_legs *legs)
{
    usi_edge_kind entry = legs->section->flows_left ? USI_EDGE_RIGHT_BED : USI_EDGE_LEFT_BED;
    for (size_t e = 0; e < plan->edge_count; e++) {
        const usi_edge *edge = &plan->edges[e];
        usi_border border = usi_cut_border(legs->section, plan, edge);
        bool held = usi_border_holds(legs->section, border);
        legs->list[legs->count++] = (usi_leg){.from = edge->a,
                                              .to = edge->b,
                                              .a = plan->vertices[edge->a],
                                              .b = plan->vertices[edge->b],
                                              .structure = edge->kind == USI_EDGE_STRUCTURE,
                                              .exit = held && edge->kind != entry,
                                              .far = is_far(legs->section, edge),
                                              .fixed = held,
                                              .open = border == USI_BORDER_NONE,
                                              .left = edge->left,
                                              .right = edge->right};
    }
}

/* A vertex at a point, a new one where there is none. */
static int vertex_at(usi_legs *legs, usi_point at)
{
    double tolerance_m = usi_section_tolerance(legs->section);
    for (size_t v = 0; v < legs->vertex_count; v++) {
        usi_point there = legs->vertices[v];
        if (fabs(there.x_m - at.x_m) <= tolerance_m && fabs(there.z_m - at.z_m) <= tolerance_m) {
            return (int)v;
        }
    }
    legs->vertices[legs->vertex_count] = at;
    return (int)legs->vertex_count++;
}

/* The next vertex on a wall below a level, its tip at the latest. */
static int next_below(const usi_legs *legs, double x_m, double from_m, int tip)
{
    double tolerance_m = usi_section_tolerance(legs->section);
    int found = tip;
    for (size_t v = 0; v < legs->vertex_count; v++) {
        usi_point at = legs->vertices[v];
        if (fabs(at.x_m - x_m) <= tolerance_m && at.z_m < from_m - tolerance_m &&
            at.z_m > legs->vertices[found].z_m) {
            found = (int)v;
        }
    }
    return found;
}

/* The legs of a part of a wall run between the vertices on it, the ends apart from what
 * lies above the soil. */
static void add_pane(double x_m, const usi_pane *pane, usi_legs *legs)
{
    int last = vertex_at(legs, (usi_point){x_m, pane->low_m});
    int at = vertex_at(legs, (usi_point){x_m, pane->high_m});
    while (at != last) {
        int next = next_below(legs, x_m, legs->vertices[at].z_m, last);
        usi_point a = legs->vertices[next];
        usi_point b = legs->vertices[at];
        usi_point middle = {x_m, 0.5 * (a.z_m + b.z_m)};
        double beside_m = 1e3 * usi_section_tolerance(legs->section);
        usi_point left = {middle.x_m - beside_m, middle.z_m};
        usi_point right = {middle.x_m + beside_m, middle.z_m};
        if (usi_plan_soil(legs->section, left) >= 0 || usi_plan_soil(legs->section, right) >= 0) {
            legs->list[legs->count++] = (usi_leg){.from = next,
                                                  .to = at,
                                                  .a = a,
                                                  .b = b,
                                                  .wall = true,
                                                  .leaky = pane->kind == USI_PANE_LEAKY,
                                                  .fixed = pane->kind == USI_PANE_STRIP,
                                                  .left = -2,
                                                  .right = -2};
        }
        at = next;
    }
}

static size_t count_panes(const us_section *section)
{
    size_t count = 0;
    for (size_t w = 0; w < section->wall_count; w++) {
        count += usi_stations_pane_count(&section->walls[w]);
    }
    return count;
}

static void add_walls(const us_section *section, bool sealed, usi_legs *legs)
{
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        for (size_t p = 0; p < usi_stations_pane_count(wall); p++) {
            usi_pane pane = usi_stations_pane(wall, p, sealed);
            add_pane(wall->x_m, &pane, legs);
        }
    }
}

static us_status sort_around(us_context *context, usi_legs *legs)
{
    legs->first = usi_memory_array(context, legs->vertex_count + 1, sizeof *legs->first);
    legs->around = usi_memory_array(context, 2 * legs->count, sizeof *legs->around);
    if (legs->first == NULL || legs->around == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < legs->count; k++) {
        legs->first[legs->list[k].from + 1]++;
        legs->first[legs->list[k].to + 1]++;
    }
    for (size_t v = 0; v < legs->vertex_count; v++) {
        legs->first[v + 1] += legs->first[v];
    }
    /* Counted from 1 while 0 marks what is free. */
    for (size_t k = 0; k < legs->count; k++) {
        int ends[2] = {legs->list[k].from, legs->list[k].to};
        for (int e = 0; e < 2; e++) {
            size_t slot = legs->first[ends[e]];
            while (legs->around[slot] != 0) {
                slot++;
            }
            legs->around[slot] = (int)k + 1;
        }
    }
    for (size_t k = 0; k < 2 * legs->count; k++) {
        legs->around[k]--;
    }
    return US_OK;
}

us_status usi_legs_list(us_context *context, const us_section *section, const usi_plan *plan,
                        bool sealed, usi_legs *legs)
{
    *legs = (usi_legs){.section = section};
    size_t panes = count_panes(section);
    size_t most_vertices = plan->vertex_count + 2 * panes;
    size_t most = plan->edge_count + panes + most_vertices + 1;
    legs->vertices = usi_memory_array(context, most_vertices + 1, sizeof *legs->vertices);
    legs->list = usi_memory_array(context, most, sizeof *legs->list);
    us_status status = legs->vertices != NULL && legs->list != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        for (size_t v = 0; v < plan->vertex_count; v++) {
            legs->vertices[legs->vertex_count++] = plan->vertices[v];
        }
        add_edges(plan, legs);
        add_walls(section, sealed, legs);
        status = sort_around(context, legs);
    }
    if (status != US_OK) {
        usi_legs_free(legs);
    }
    return status;
}

void usi_legs_free(usi_legs *legs)
{
    free(legs->vertices);
    free(legs->list);
    free(legs->first);
    free(legs->around);
    *legs = (usi_legs){0};
}

bool usi_legs_far(const usi_legs *legs, int vertex)
{
    for (size_t k = legs->first[vertex]; k < legs->first[vertex + 1]; k++) {
        if (legs->list[legs->around[k]].far) {
            return true;
        }
    }
    return false;
}

/* Where more legs meet than a fan holds: graded like a wall tip. */
static const double CROWDED_LAMBDA = 0.5;
/* Where a leaky part of a wall ends the gradient grows like log(1/r): r log r in head. */
static const double LEAKY_LAMBDA = 0.75;

/* A leg as seen from a vertex. */
typedef struct ray {
    double angle; /* from 0 to 2 pi */
    const usi_leg *leg;
    int before; /* soil on the clockwise hand; -1 none, -2 not known */
    int after;
} ray;

static int by_angle(const void *a, const void *b)
{
    const ray *x = a;
    const ray *y = b;
    return (x->angle > y->angle) - (x->angle < y->angle);
}

static int gather(const usi_legs *legs, int vertex, ray rays[USI_FAN_MOST])
{
    int count = 0;
    for (size_t k = legs->first[vertex]; k < legs->first[vertex + 1]; k++) {
        const usi_leg *leg = &legs->list[legs->around[k]];
        bool out = leg->from == vertex;
        double dx_m = leg->b.x_m - leg->a.x_m;
        double dz_m = leg->b.z_m - leg->a.z_m;
        double angle = out ? atan2(dz_m, dx_m) : atan2(-dz_m, -dx_m);
        rays[count++] = (ray){angle < 0.0 ? angle + 8.0 * atan(1.0) : angle, leg,
                              out ? leg->right : leg->left, out ? leg->left : leg->right};
    }
    qsort(rays, (size_t)count, sizeof *rays, by_angle);
    return count;
}

/* Soil between two rays that follow each other. */
static int soil_between(const usi_legs *legs, int vertex, const ray *from, const ray *to,
                        double to_angle)
{
    if (from->after != -2) {
        return from->after;
    }
    if (to->before != -2) {
        return to->before;
    }
    double beside_m = 1e3 * usi_section_tolerance(legs->section);
    double middle = 0.5 * (from->angle + to_angle);
    usi_point at = legs->vertices[vertex];
    return usi_plan_soil(legs->section, (usi_point){at.x_m + beside_m * cos(middle),
                                                    at.z_m + beside_m * sin(middle)});
}

static void add_sector(const us_section *section, int soil, double from, double to, usi_fan *fan)
{
    fan->sectors[fan->count++] =
        (usi_fan_sector){from, to, section->soils[soil].kh_m_s, section->soils[soil].kv_m_s};
}

/* The fan that begins at ray `first`; returns how many sectors it has, 0 where
 * no soil follows that ray. */
static int fan_from(const usi_legs *legs, int vertex, const ray *rays, int count, int first,
                    usi_fan *fan)
{
    const double turn = 8.0 * atan(1.0);
    *fan = (usi_fan){.closed = true, .fixed_first = rays[first].leg->fixed};
    for (int k = 0; k < count; k++) {
        const ray *from = &rays[(first + k) % count];
        const ray *to = &rays[(first + k + 1) % count];
        double from_angle = from->angle + (first + k >= count ? turn : 0.0);
        double to_angle = to->angle + (first + k + 1 >= count ? turn : 0.0);
        int soil = soil_between(legs, vertex, from, to, to_angle - (from_angle - from->angle));
        if (soil < 0) {
            fan->closed = false;
            return fan->count;
        }
        add_sector(legs->section, soil, from_angle, to_angle, fan);
        if (!to->leg->open) {
            fan->closed = false;
            fan->fixed_last = to->leg->fixed;
            return fan->count;
        }
    }
    return fan->count;
}

/* True where something else than leaky wall meets a leaky one. */
static bool leaks_end(const ray *rays, int count)
{
    for (int r = 0; r < count; r++) {
        if (!rays[r].leg->open && !rays[r].leg->leaky) {
            return true;
        }
    }
    return false;
}

double usi_legs_exponent(const usi_legs *legs, int vertex, bool *inside)
{
    ray rays[USI_FAN_MOST];
    *inside = false;
    if (legs->first[vertex + 1] - legs->first[vertex] > USI_FAN_MOST) {
        return CROWDED_LAMBDA;
    }
    int count = gather(legs, vertex, rays);
    double lambda = 1.0;
    bool any_border = false;
    *inside = count > 0;
    for (int r = 0; r < count; r++) {
        any_border = any_border || !rays[r].leg->open;
        lambda = rays[r].leg->leaky && leaks_end(rays, count) ? LEAKY_LAMBDA : lambda;
    }
    for (int r = 0; r < count; r++) {
        usi_fan fan;
        if (any_border && rays[r].leg->open) {
            continue;
        }
        if (fan_from(legs, vertex, rays, count, r, &fan) > 0) {
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
