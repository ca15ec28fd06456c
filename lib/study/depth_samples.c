#include "study/depth_samples.h"

#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"

enum { TURNS_MOST = 16, TURN_STEPS = 12 };
static const double GOLDEN = 0.38196601125010515;

static int downwards(const void *one, const void *other)
{
    const usi_depth_point *a = one;
    const usi_depth_point *b = other;
    return (a->tip_m < b->tip_m) - (a->tip_m > b->tip_m);
}

/* One more level; left out where it may be and no states have it. */
static us_status add(us_context *context, const usi_depth_solver *solver, double tip_m, bool wanted,
                     usi_depth_samples *to)
{
    if (to->count == USI_DEPTH_SAMPLES_MOST) {
        return US_OK;
    }
    usi_depth_point *grown =
        usi_memory_resize(context, to->points, to->count + 1, sizeof *to->points);
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    to->points = grown;
    usi_depth_point *point = &to->points[to->count];
    us_status status = wanted ? usi_depth_point_refine(context, solver, tip_m, point)
                              : usi_depth_point_look(context, solver, tip_m, point);
    if (status == US_OK && point->solution != NULL) {
        point->wanted = wanted;
        to->count++;
    } else {
        usi_depth_point_free(point);
    }
    return status;
}

double usi_depth_margin(const usi_depth_point *point)
{
    const us_solution *solution = point->solution;
    for (size_t k = 0; k < solution->register_count; k++) {
        const us_register_entry *entry = &solution->entries[k];
        if (entry->governs && entry->check->margin.present) {
            return entry->check->margin.value;
        }
    }
    return (double)NAN;
}

/* True where margins turn between the neighbours of a level, all on one side of the limit, and
 * may reach over to the other. */
static bool turns(const usi_depth_samples *samples, size_t k)
{
    const usi_depth_point *at = &samples->points[k];
    if (at[-1].passes != at->passes || at[1].passes != at->passes) {
        return false;
    }
    double sign = at->passes ? -1.0 : 1.0; /* a dip, or a peak */
    double here = usi_depth_margin(at);
    double one = sign * (here - usi_depth_margin(at - 1));
    double other = sign * (here - usi_depth_margin(at + 1));
    return one >= 0.0 && other >= 0.0 && sign * (here - 1.0) + fmax(one, other) >= 0.0;
}

/* Looks for a level on the other side of the limit between two that have a turn between them. */
static us_status seek(us_context *context, const usi_depth_solver *solver, double high_m,
                      double low_m, bool passes, usi_depth_samples *to)
{
    double sign = passes ? -1.0 : 1.0;
    double at_m[2] = {high_m - GOLDEN * (high_m - low_m), low_m + GOLDEN * (high_m - low_m)};
    double margin[2] = {(double)NAN, (double)NAN};
    us_status status = US_OK;
    for (int step = 0; status == US_OK && step < TURN_STEPS; step++) {
        int k = isnan(margin[0]) ? 0 : 1;
        size_t before = to->count;
        status = add(context, solver, at_m[k], false, to);
        if (status != US_OK || to->count == before || to->points[before].passes != passes) {
            return status; /* found, or not to be had */
        }
        margin[k] = sign * usi_depth_margin(&to->points[before]);
        if (isnan(margin[k])) {
            return status;
        }
        if (isnan(margin[1])) {
            continue;
        }
        if (margin[0] > margin[1]) {
            low_m = at_m[1];
            at_m[1] = at_m[0];
            margin[1] = margin[0];
            at_m[0] = high_m - GOLDEN * (high_m - low_m);
            margin[0] = (double)NAN;
        } else {
            high_m = at_m[0];
            at_m[0] = at_m[1];
            margin[0] = margin[1];
            at_m[1] = low_m + GOLDEN * (high_m - low_m);
            margin[1] = (double)NAN;
        }
    }
    return status;
}

static us_status look_at_turns(us_context *context, const usi_depth_solver *solver,
                               usi_depth_samples *samples)
{
    size_t count = samples->count;
    size_t turn_count = 0;
    double high_m[TURNS_MOST];
    double low_m[TURNS_MOST];
    bool passes[TURNS_MOST];
    for (size_t k = 1; k + 1 < count && turn_count < TURNS_MOST; k++) {
        if (turns(samples, k)) {
            high_m[turn_count] = samples->points[k - 1].tip_m;
            low_m[turn_count] = samples->points[k + 1].tip_m;
            passes[turn_count++] = samples->points[k].passes;
        }
    }
    us_status status = US_OK;
    for (size_t t = 0; status == US_OK && t < turn_count; t++) {
        status = seek(context, solver, high_m[t], low_m[t], passes[t], samples);
    }
    qsort(samples->points, samples->count, sizeof *samples->points, downwards);
    return status;
}

us_status usi_depth_samples_take(us_context *context, const usi_depth_solver *solver,
                                 const usi_depth_wanted *wanted, usi_depth_samples *samples)
{
    double apart_m = (solver->high_m - solver->low_m) / (double)wanted->most;
    us_status status = US_OK;
    *samples = (usi_depth_samples){0, NULL};
    for (size_t k = 0; status == US_OK && k < wanted->count; k++) {
        double tip_m = fmin(fmax(wanted->levels_m[k], solver->low_m), solver->high_m);
        double next_m = k + 1 < wanted->count ? wanted->levels_m[k + 1] : tip_m;
        size_t between = (size_t)fmax(0.0, (tip_m - next_m) / apart_m - 1e-6);
        status = usi_context_pulse(context, "looking at tips", wanted->count,
                                   (double)k / (double)wanted->count);
        if (status == US_OK) {
            status = add(context, solver, tip_m, true, samples);
        }
        for (size_t i = 1; status == US_OK && i <= between; i++) {
            double share = (double)i / (double)(between + 1);
            status = add(context, solver, tip_m + share * (next_m - tip_m), false, samples);
        }
    }
    return status == US_OK && samples->count > 2 ? look_at_turns(context, solver, samples) : status;
}

void usi_depth_samples_free(usi_depth_samples *samples)
{
    for (size_t k = 0; k < samples->count; k++) {
        usi_depth_point_free(&samples->points[k]);
    }
    free(samples->points);
    *samples = (usi_depth_samples){0, NULL};
}
