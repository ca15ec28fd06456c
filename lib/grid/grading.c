#include "grid/grading.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Samples between two stations: spaced so that a third-power grading from either
 * end is sampled evenly, which makes linear interpolation accurate. */
enum { SAMPLES = 512 };
/* Stations that were set at equal distances still are, but for rounding. */
static const double MIRROR_SLACK = 1e-6;

static double sample_at(double u)
{
    return u * u * u * (10.0 - u * (15.0 - 6.0 * u));
}

/* Far from everything growth is the same whatever the power near the point. */
static const double FAR_GROWTH = 3.0;

/* Lines per metre at distance d from a pull, for one cell per unit of t, where that is more
 * than `most`. The growth beyond the length continues the grading's own slope; what it
 * comes to there is the most that it can be within, and saves the power. */
static double pull_density(const usi_pull *pull, double d_m, double most)
{
    double p = pull->power;
    if (d_m >= pull->length_m) {
        return fmax(most, pull->weight * (1.0 / (FAR_GROWTH * d_m)));
    }
    d_m = fmax(d_m, 1e-300);
    if (pull->weight * (1.0 / (p * d_m)) <= most) {
        return most;
    }
    return fmax(most, pull->weight * (pow(d_m / pull->length_m, 1.0 / p) / (p * d_m)));
}

double usi_tip_range_depth(const usi_tip_range *range, double level_m)
{
    double depth_m = range->high_m - level_m;
    for (size_t k = 0; k < range->floor_count; k++) {
        depth_m = fmin(depth_m, fabs(level_m - range->floors_m[k]));
    }
    return depth_m;
}

static double density(const usi_grading *grading, double x_m)
{
    double most = 0.0;
    for (size_t k = 0; k < grading->pull_count; k++) {
        const usi_pull *pull = &grading->pulls[k];
        most = pull_density(pull, fabs(x_m - pull->at_m), most);
    }
    for (size_t k = 0; k < grading->range_count; k++) {
        const usi_tip_range *range = &grading->ranges[k];
        double depth_m = usi_tip_range_depth(range, x_m);
        if (x_m <= range->high_m && x_m >= range->low_m) {
            most = fmax(most, 1.0 / (range->first_m + range->growth * depth_m));
        }
    }
    most *= grading->cells;
    if (grading->largest_m > 0.0 && x_m >= grading->window_low_m && x_m <= grading->window_high_m) {
        most = fmax(most, 1.0 / grading->largest_m);
    }
    return most;
}

/* Cumulative number of cells at the samples between a and b. */
static void accumulate(const usi_grading *grading, double a_m, double b_m, double *sums)
{
    sums[0] = 0.0;
    for (int s = 0; s < SAMPLES; s++) {
        double u0 = (double)s / SAMPLES;
        double u1 = (double)(s + 1) / SAMPLES;
        double middle_m = a_m + (b_m - a_m) * sample_at(0.5 * (u0 + u1));
        double width_m = (b_m - a_m) * (sample_at(u1) - sample_at(u0));
        sums[s + 1] = sums[s] + density(grading, middle_m) * width_m;
    }
}

/* Position where the cumulative count reaches `share` of the whole. */
static double position(const double *sums, double share, double a_m, double b_m)
{
    double target = share * sums[SAMPLES];
    int low = 0;
    int high = SAMPLES;
    while (high - low > 1) {
        int middle = (low + high) / 2;
        if (sums[middle] <= target) {
            low = middle;
        } else {
            high = middle;
        }
    }
    double within = (target - sums[low]) / (sums[low + 1] - sums[low]);
    return a_m + (b_m - a_m) * sample_at((low + within) / SAMPLES);
}

static size_t cells_between(const usi_grading *grading, double a_m, double b_m, double *sums)
{
    accumulate(grading, a_m, b_m, sums);
    double cells = ceil(sums[SAMPLES] - 0.05);
    cells = fmax(cells, grading->least);
    return (size_t)cells << grading->halvings;
}

static void fill_between(const double *sums, double a_m, double b_m, size_t cells, double *lines_m)
{
    for (size_t k = 1; k < cells; k++) {
        double share = (double)k / (double)cells;
        lines_m[k - 1] =
            sums[SAMPLES] > 0.0 ? position(sums, share, a_m, b_m) : a_m + (b_m - a_m) * share;
    }
}

/* True where the intervals on both sides of station s are to be alike. */
static bool mirrors(const usi_grading *grading, const usi_axis *stations, size_t s)
{
    double before_m = stations->at_m[s] - stations->at_m[s - 1];
    double after_m = stations->at_m[s + 1] - stations->at_m[s];
    for (size_t k = 0; k < grading->pull_count; k++) {
        const usi_pull *pull = &grading->pulls[k];
        double slack_m = MIRROR_SLACK * pull->mirror_m;
        if (pull->mirror_m > 0.0 && fabs(stations->at_m[s] - pull->at_m) <= slack_m &&
            fabs(before_m - pull->mirror_m) <= slack_m &&
            fabs(after_m - pull->mirror_m) <= slack_m) {
            return true;
        }
    }
    return false;
}

/* Intervals alike on both sides of a pull take the larger number of cells. */
static void match_cells(const usi_axis *stations, const usi_grading *grading, size_t *cells)
{
    for (size_t s = 1; s + 1 < stations->count; s++) {
        if (mirrors(grading, stations, s)) {
            size_t most = cells[s - 1] > cells[s] ? cells[s - 1] : cells[s];
            cells[s - 1] = most;
            cells[s] = most;
        }
    }
}

/* Lines of interval s - 1 follow those of interval s, which begins at line `at`. */
static void mirror_lines(double *lines_m, size_t at, size_t cells)
{
    for (size_t k = 1; k < cells; k++) {
        lines_m[at - k] = 2.0 * lines_m[at] - lines_m[at + k];
    }
}

/* Cells between stations, and what they were counted by. */
typedef struct counts {
    size_t *cells;
    double *sums; /* SAMPLES + 1 an interval */
} counts;

static us_status fill(us_context *context, const usi_grading *grading, const usi_axis *stations,
                      size_t most, const counts *by, usi_axis *lines)
{
    for (size_t s = 0; s + 1 < stations->count; s++) {
        by->cells[s] = cells_between(grading, stations->at_m[s], stations->at_m[s + 1],
                                     by->sums + s * (SAMPLES + 1));
    }
    match_cells(stations, grading, by->cells);
    size_t total = 1;
    for (size_t s = 0; s + 1 < stations->count; s++) {
        total += by->cells[s];
        if (total > most) {
            return US_NOT_CONVERGED;
        }
    }
    double *filled = usi_memory_array(context, total, sizeof *filled);
    if (filled == NULL) {
        return US_ERROR_MEMORY;
    }
    size_t next = 0;
    for (size_t s = 0; s + 1 < stations->count; s++) {
        filled[next++] = stations->at_m[s];
        fill_between(by->sums + s * (SAMPLES + 1), stations->at_m[s], stations->at_m[s + 1],
                     by->cells[s], filled + next);
        if (s > 0 && mirrors(grading, stations, s)) {
            mirror_lines(filled, next - 1, by->cells[s]);
        }
        next += by->cells[s] - 1;
    }
    filled[next++] = stations->at_m[stations->count - 1];
    lines->at_m = filled;
    lines->count = next;
    return US_OK;
}

us_status usi_grading_fill(us_context *context, const usi_grading *grading,
                           const usi_axis *stations, size_t most, usi_axis *lines)
{
    counts by = {usi_memory_array(context, stations->count, sizeof *by.cells),
                 usi_memory_array(context, stations->count * (SAMPLES + 1), sizeof *by.sums)};
    us_status status = by.cells != NULL && by.sums != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = fill(context, grading, stations, most, &by, lines);
    }
    free(by.cells);
    free(by.sums);
    return status;
}
