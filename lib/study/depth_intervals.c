/* Where tip levels begin and cease to pass. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/depth.h"

/* An end is found to this share of the range. */
static const double FOUND = 2e-4;
enum { HALVINGS_MOST = 20 };

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

/* Between a point that passes and a neighbour that does not. */
static us_status find_end(us_context *context, const usi_depth_solver *solver,
                          const usi_depth_point *in, const usi_depth_point *out, us_depth_end *end)
{
    double in_m = in->tip_m;
    double out_m = out->tip_m;
    double found_m = FOUND * (solver->high_m - solver->low_m);
    us_status status = US_OK;
    for (int k = 0; status == US_OK && k < HALVINGS_MOST && fabs(in_m - out_m) > found_m; k++) {
        usi_depth_point middle;
        double middle_m = 0.5 * (in_m + out_m);
        status = usi_depth_point_solve(context, solver, middle_m, &middle);
        if (status == US_OK && middle.passes) {
            in_m = middle_m;
        } else {
            out_m = middle_m;
        }
        usi_depth_point_free(&middle);
    }
    usi_depth_point beyond;
    if (status == US_OK) {
        status = usi_depth_point_solve(context, solver, out_m, &beyond);
        if (status == US_OK) {
            const char *water = NULL;
            const us_check_result *check = find_worst(beyond.solution, &water);
            *end = (us_depth_end){.tip_m = in_m};
            if (check != NULL) {
                end->check = check->name;
                end->water = water;
                end->error_m =
                    find_error(check, find_same(in->solution, check, water), in->tip_m - out_m);
            }
            end->error_m = fmax(end->error_m, fabs(in_m - out_m));
        }
        usi_depth_point_free(&beyond);
    }
    return status;
}

us_status usi_depth_intervals_find(us_context *context, const usi_depth_solver *solver,
                                   const usi_depth_point *points, size_t count,
                                   usi_depth_list *found)
{
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
