/* Where tip levels begin and cease to pass. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/depth_samples.h"

/* An end is found to this share of the range at this accuracy, coarser on coarse grids. */
static const double FOUND = 2e-4;
static const double FOUND_ACCURACY = 0.01;
/* Where levels are solved by themselves, which takes long: so many times that, or this share of
 * its error. */
static const double ALONE = 3.0;
static const double ENOUGH = 0.5;
/* What is looked at beyond where it ought to be, so that it lies between two levels. */
static const double BEYOND = 0.4;
enum { STEPS_MOST = 40, SLOW = 2 };

/* The required check that is worst in a solution that fails, and its water case. */
static const us_check_result *find_worst(const us_solution *solution, const char **water)
{
    const us_check_result *worst = NULL;
    for (size_t w = 0; w < solution->water_count; w++) {
        const us_water_result *of = &solution->water[w];
        for (size_t c = 0; c < of->check_count; c++) {
            const us_check_result *check = &of->checks[c];
            bool open = check->verdict == US_NOT_CHECKED && check->required.present;
            if (check->verdict != US_FAIL && !open) {
                continue;
            }
            bool nearer = worst == NULL || (check->margin.present && worst->margin.present &&
                                            check->margin.value < worst->margin.value);
            if (nearer) {
                worst = check;
                *water = of->name;
            }
        }
    }
    return worst;
}

/* The same check of the same case in another solution. */
static const us_check_result *find_same(const us_solution *solution, const us_check_result *check,
                                        const char *water)
{
    for (size_t w = 0; w < solution->water_count; w++) {
        const us_water_result *of = &solution->water[w];
        for (size_t c = 0; of->name == water && c < of->check_count; c++) {
            if (of->checks[c].name == check->name) {
                return &of->checks[c];
            }
        }
    }
    return NULL;
}

/* How far an end moves by the error of the margin that governs: by how it changes with the
 * level. */
static double find_error(const us_check_result *check, const us_check_result *other, double off_m)
{
    if (other == NULL || !check->margin.present || !other->margin.present) {
        return 0.0;
    }
    double change = fabs(other->margin.value - check->margin.value);
    return change > 0.0 ? check->margin.error * fabs(off_m) / change : 0.0;
}

/* Where to look next: where the margin would reach its limit on a straight line, and a trifle
 * beyond as seen from the point that is `newest`; or half way. */
static double next_level(const usi_depth_point *in, const usi_depth_point *out,
                         const usi_depth_point *newest, bool halve, double found_m)
{
    double above = usi_depth_margin(in) - 1.0;
    double below = 1.0 - usi_depth_margin(out);
    double span_m = fabs(out->tip_m - in->tip_m);
    double off_m = 0.5 * span_m;
    if (!halve && above >= 0.0 && below > 0.0) {
        off_m = span_m * above / (above + below);
        off_m += newest == in ? BEYOND * found_m : newest == out ? -BEYOND * found_m : 0.0;
        off_m = fmin(fmax(off_m, 0.5 * found_m), span_m - 0.5 * found_m);
    }
    return in->tip_m + (out->tip_m > in->tip_m ? off_m : -off_m);
}

/* What ends it between two points, and how far its error moves that. */
static us_depth_end end_between(const usi_depth_point *in, const usi_depth_point *out)
{
    const char *water = NULL;
    const us_check_result *check = find_worst(out->solution, &water);
    us_depth_end end = {.tip_m = in->tip_m};
    if (check != NULL) {
        end.check = check->name;
        end.water = water;
        end.error_m =
            find_error(check, find_same(in->solution, check, water), in->tip_m - out->tip_m);
    }
    return end;
}

/* Between a point that passes and a neighbour that does not. */
static us_status find_end(us_context *context, const usi_depth_solver *solver,
                          const usi_depth_point *in, const usi_depth_point *out, us_depth_end *end)
{
    usi_depth_point held[2] = {{.tip_m = 0.0}, {.tip_m = 0.0}};
    const usi_depth_point *sides[2] = {in, out};
    const usi_depth_point *newest = NULL;
    double coarse = fmax(1.0, solver->accuracy / FOUND_ACCURACY);
    double least_m = FOUND * coarse * (solver->high_m - solver->low_m);
    double found_m = least_m;
    double span_m = fabs(in->tip_m - out->tip_m);
    int slow = 0;
    us_status status = US_OK;
    for (int k = 0; status == US_OK && k < STEPS_MOST && span_m > found_m; k++) {
        usi_depth_point middle;
        double next_m = next_level(sides[0], sides[1], newest, slow == SLOW, found_m);
        status = usi_depth_point_solve(context, solver, next_m, &middle);
        int side = middle.passes ? 0 : 1;
        usi_depth_point_free(&held[side]);
        held[side] = middle;
        sides[side] = status == US_OK ? &held[side] : sides[side];
        double before_m = span_m;
        span_m = fabs(sides[0]->tip_m - sides[1]->tip_m);
        slow = slow < SLOW && span_m > 0.5 * before_m ? slow + 1 : 0;
        newest = sides[side];
        if (status == US_OK && middle.afresh) {
            found_m = fmax(ALONE * least_m, ENOUGH * end_between(in, sides[1]).error_m);
        }
    }
    if (status == US_OK) {
        us_depth_end wide = end_between(in, sides[1]);
        *end = wide;
        end->tip_m = sides[0]->tip_m;
        end->error_m = fmax(wide.error_m, span_m);
    }
    usi_depth_point_free(&held[0]);
    usi_depth_point_free(&held[1]);
    return status;
}

us_status usi_depth_intervals_find(us_context *context, const usi_depth_solver *solver,
                                   const usi_depth_samples *samples, usi_depth_list *found)
{
    const usi_depth_point *points = samples->points;
    size_t count = samples->count;
    *found = (usi_depth_list){0, usi_memory_array(context, count + 1, sizeof *found->list)};
    us_status status = found->list != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < count; k++) {
        bool begins = points[k].passes && (k == 0 || !points[k - 1].passes);
        bool ends = points[k].passes && (k + 1 == count || !points[k + 1].passes);
        if (begins) {
            us_depth_interval *now = &found->list[found->count++];
            now->high = (us_depth_end){.tip_m = points[k].tip_m, .edge = k == 0};
            if (k > 0) {
                status = find_end(context, solver, &points[k], &points[k - 1], &now->high);
            }
        }
        if (status == US_OK && ends) {
            us_depth_interval *now = &found->list[found->count - 1];
            now->low = (us_depth_end){.tip_m = points[k].tip_m, .edge = k + 1 == count};
            if (k + 1 < count) {
                status = find_end(context, solver, &points[k], &points[k + 1], &now->low);
            }
        }
    }
    return status;
}
