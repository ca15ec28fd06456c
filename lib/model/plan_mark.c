#include "model/plan_mark.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/situation.h"
#include "model/strand.h"

/* A plan while edges are parted: they name vertices by number, in any order. */
typedef struct marker {
    us_context *context;
    double tolerance_m;
    usi_plan *plan;
    size_t vertex_room;
    size_t edge_room;
} marker;

int usi_plan_edge_order(const void *a, const void *b)
{
    const usi_edge *first = a;
    const usi_edge *second = b;
    if (first->a != second->a) {
        return first->a < second->a ? -1 : 1;
    }
    return (first->b > second->b) - (first->b < second->b);
}

/* What part of an edge lies in a box, as shares of its length from a; false for none. */
static bool clip(usi_point a, usi_point b, const usi_mark *mark, double *from, double *to)
{
    const double start[2] = {a.x_m, a.z_m};
    const double along[2] = {b.x_m - a.x_m, b.z_m - a.z_m};
    const double low[2] = {mark->low.x_m, mark->low.z_m};
    const double high[2] = {mark->high.x_m, mark->high.z_m};
    *from = 0.0;
    *to = 1.0;
    for (int k = 0; k < 2; k++) {
        if (along[k] == 0.0) {
            /* What only touches the box, such as a step where a stretch ends, lies outside. */
            if (start[k] <= low[k] || start[k] >= high[k]) {
                return false;
            }
            continue;
        }
        double in = (low[k] - start[k]) / along[k];
        double out = (high[k] - start[k]) / along[k];
        *from = fmax(*from, fmin(in, out));
        *to = fmin(*to, fmax(in, out));
    }
    return *to > *from;
}

/* A coordinate that some vertex has already, where one is near. */
static double settle(const marker *of, double value_m, bool upright)
{
    for (size_t v = 0; v < of->plan->vertex_count; v++) {
        usi_point at = of->plan->vertices[v];
        double known_m = upright ? at.z_m : at.x_m;
        if (fabs(known_m - value_m) <= of->tolerance_m) {
            return known_m;
        }
    }
    return value_m;
}

/* The vertex at a share of an edge: an end where that is as near. */
static bool vertex_on(marker *of, const usi_edge *edge, double share, int *vertex)
{
    usi_point a = of->plan->vertices[edge->a];
    usi_point b = of->plan->vertices[edge->b];
    double length_m = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    if (share * length_m <= of->tolerance_m) {
        *vertex = edge->a;
        return true;
    }
    if ((1.0 - share) * length_m <= of->tolerance_m) {
        *vertex = edge->b;
        return true;
    }
    void *items = of->plan->vertices;
    if (!usi_list_grow(of->context, &items, of->plan->vertex_count, &of->vertex_room,
                       sizeof(usi_point))) {
        return false;
    }
    of->plan->vertices = items;
    usi_point at = {a.x_m == b.x_m ? a.x_m : settle(of, a.x_m + share * (b.x_m - a.x_m), false),
                    a.z_m == b.z_m ? a.z_m : settle(of, a.z_m + share * (b.z_m - a.z_m), true)};
    *vertex = (int)of->plan->vertex_count;
    of->plan->vertices[of->plan->vertex_count++] = at;
    return true;
}

/* Cuts an edge short at a vertex and appends what lies beyond. */
static bool part(marker *of, size_t edge, int vertex)
{
    void *items = of->plan->edges;
    if (!usi_list_grow(of->context, &items, of->plan->edge_count, &of->edge_room,
                       sizeof(usi_edge))) {
        return false;
    }
    of->plan->edges = items;
    usi_edge rest = of->plan->edges[edge];
    rest.a = vertex;
    of->plan->edges[edge].b = vertex;
    of->plan->edges[of->plan->edge_count++] = rest;
    return true;
}

static bool mark_edge(marker *of, size_t edge, const usi_mark *mark, int number)
{
    usi_edge before = of->plan->edges[edge];
    double from;
    double to;
    int first;
    int last;
    if (before.kind != mark->on ||
        !clip(of->plan->vertices[before.a], of->plan->vertices[before.b], mark, &from, &to)) {
        return true;
    }
    if (!vertex_on(of, &before, from, &first) || !vertex_on(of, &before, to, &last)) {
        return false;
    }
    if (first == last) {
        return true;
    }
    bool done = true;
    if (last != before.b) {
        done = part(of, edge, last);
    }
    size_t marked = edge;
    if (done && first != before.a) {
        marked = of->plan->edge_count;
        done = part(of, edge, first);
    }
    if (done) {
        of->plan->edges[marked].mark = number;
    }
    return done;
}

typedef struct seat {
    usi_point at;
    size_t was;
} seat;

static int by_place(const void *a, const void *b)
{
    return usi_point_order(((const seat *)a)->at, ((const seat *)b)->at);
}

/* Puts vertices and edges back into order. */
static bool restore_order(marker *of)
{
    usi_plan *plan = of->plan;
    seat *seats = usi_memory_array(of->context, plan->vertex_count, sizeof *seats);
    int *now = usi_memory_array(of->context, plan->vertex_count, sizeof *now);
    bool done = seats != NULL && now != NULL;
    for (size_t v = 0; done && v < plan->vertex_count; v++) {
        seats[v] = (seat){plan->vertices[v], v};
    }
    if (done) {
        qsort(seats, plan->vertex_count, sizeof *seats, by_place);
    }
    for (size_t v = 0; done && v < plan->vertex_count; v++) {
        plan->vertices[v] = seats[v].at;
        now[seats[v].was] = (int)v;
    }
    for (size_t e = 0; done && e < plan->edge_count; e++) {
        plan->edges[e].a = now[plan->edges[e].a];
        plan->edges[e].b = now[plan->edges[e].b];
    }
    if (done) {
        qsort(plan->edges, plan->edge_count, sizeof *plan->edges, usi_plan_edge_order);
    }
    free(seats);
    free(now);
    return done;
}

/* True where a bed ends at a side of the window and water of one level stands on it. */
static bool open_at_end(const usi_plan *plan, bool left)
{
    usi_edge_kind kind = left ? USI_EDGE_LEFT_BED : USI_EDGE_RIGHT_BED;
    const usi_edge *last = NULL;
    for (size_t e = 0; e < plan->edge_count; e++) {
        const usi_edge *edge = &plan->edges[e];
        if (edge->kind != kind) {
            continue;
        }
        bool further =
            last == NULL || (left ? plan->vertices[edge->a].x_m < plan->vertices[last->a].x_m
                                  : plan->vertices[edge->b].x_m > plan->vertices[last->b].x_m);
        last = further ? edge : last;
    }
    return last != NULL && last->mark == 0;
}

us_status usi_plan_mark(us_context *context, const us_section *section, usi_plan *plan)
{
    const usi_situation *situation = section->situation;
    marker of = {context, usi_section_tolerance(section), plan, plan->vertex_count,
                 plan->edge_count};
    for (size_t m = 0; m < situation->mark_count; m++) {
        size_t count = plan->edge_count;
        for (size_t e = 0; e < count; e++) {
            if (!mark_edge(&of, e, &situation->marks[m], (int)m + 1)) {
                return US_ERROR_MEMORY;
            }
        }
    }
    plan->left_closed = situation->endless_base || !open_at_end(plan, true);
    plan->right_closed = situation->endless_base || !open_at_end(plan, false);
    return restore_order(&of) ? US_OK : US_ERROR_MEMORY;
}
