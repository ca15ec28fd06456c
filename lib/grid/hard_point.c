#include "grid/hard_point.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/fan.h"
#include "grid/rays.h"

static double distance(usi_point at, const usi_leg *leg)
{
    double dx_m = leg->b.x_m - leg->a.x_m;
    double dz_m = leg->b.z_m - leg->a.z_m;
    double along =
        ((at.x_m - leg->a.x_m) * dx_m + (at.z_m - leg->a.z_m) * dz_m) / (dx_m * dx_m + dz_m * dz_m);
    along = fmin(fmax(along, 0.0), 1.0);
    return hypot(at.x_m - leg->a.x_m - along * dx_m, at.z_m - leg->a.z_m - along * dz_m);
}

/* The length within which nothing else disturbs the local solution: to the ends of
 * the legs that meet here, and to all others. Far cuts are no feature. */
static double free_length(const usi_legs *legs, int vertex, usi_point at)
{
    double length_m = HUGE_VAL;
    for (size_t k = 0; k < legs->count; k++) {
        const usi_leg *leg = &legs->list[k];
        if (leg->far) {
            continue;
        }
        double here_m = usi_leg_meets(leg, vertex)
                            ? hypot(leg->b.x_m - leg->a.x_m, leg->b.z_m - leg->a.z_m)
                            : distance(at, leg);
        length_m = fmin(length_m, here_m);
    }
    return length_m;
}

/* Points away from the structure take fewer cells, at least this share: lines that
 * crowd towards them run through the whole section. */
static const double WEIGHT_LEAST = 0.5;

/* Of what flows by a point away from the structure, little is bent within its length,
 * less where lambda is near 1. Where water leaves the bed its gradient is asked for:
 * nothing is saved there. */
static double weight(const usi_legs *legs, int vertex, const usi_hard_point *point)
{
    double away_m = HUGE_VAL;
    for (size_t k = 0; k < legs->count; k++) {
        const usi_leg *leg = &legs->list[k];
        bool structure = leg->wall || leg->structure;
        if ((structure || leg->exit) && usi_leg_meets(leg, vertex)) {
            return 1.0;
        }
        if (structure) {
            away_m = fmin(away_m, distance(point->at, leg));
        }
    }
    double share = isfinite(away_m) ? point->length_m / fmax(away_m, point->length_m) : 1.0;
    double strength = fmin(2.0 * (1.0 - point->lambda), 1.0);
    return fmax(sqrt(strength * share), WEIGHT_LEAST);
}

us_status usi_hard_points_find(us_context *context, const us_section *section, const usi_plan *plan,
                               bool sealed, usi_hard_point **points, size_t *count)
{
    usi_legs legs;
    us_status status = usi_legs_list(context, section, plan, sealed, &legs);
    if (status != US_OK) {
        return status;
    }
    usi_hard_point *list = usi_memory_array(context, legs.vertex_count, sizeof *list);
    size_t used = 0;
    for (size_t v = 0; list != NULL && v < legs.vertex_count; v++) {
        bool inside = false;
        usi_point at = legs.vertices[v];
        double lambda = usi_legs_exponent(&legs, (int)v, &inside);
        if (lambda <= 0.999 && !usi_legs_far(&legs, (int)v)) {
            usi_hard_point *point = &list[used++];
            *point =
                (usi_hard_point){at, free_length(&legs, (int)v, at), lambda, 1.0, inside, false};
            point->weight = weight(&legs, (int)v, point);
        }
    }
    usi_legs_free(&legs);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    *points = list;
    *count = used;
    return US_OK;
}
