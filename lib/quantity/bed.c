#include "quantity/bed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "quantity/bed_runs.h"
#include "quantity/slope_fit.h"

enum { POINTS = 4 };                     /* of a cubic */
enum { FIT_POINTS = 10, FIT_LEAST = 6 }; /* places that a slope is found from */

/* A place on the bed. */
typedef struct spot {
    const usi_bed *bed;
    const usi_bed_run *run;
    size_t side;
    double x_m;
    double along_m; /* from the left end of the run */
    double end_m;   /* of the nearer end of the run */
    double power;   /* of the gradient towards that */
    bool skips[2];  /* the left and right end are left out */
} spot;

us_status usi_bed_open(us_context *context, const usi_field *field, const usi_exit *exits,
                       const usi_exit_reading *readings, size_t exit_count, usi_bed *bed)
{
    usi_border border =
        field->grid->section->flows_left ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED;
    usi_bed opened = {.field = field};
    us_status status = usi_edge_list(context, field->grid, border, &opened.sides);
    if (status == US_OK) {
        status = usi_bed_split(context, exits, readings, exit_count, &opened);
    }
    if (status == US_OK) {
        status = usi_bed_pass(context, &opened);
    }
    if (status != US_OK) {
        usi_bed_close(&opened);
        return status;
    }
    *bed = opened;
    return US_OK;
}

void usi_bed_close(usi_bed *bed)
{
    free(bed->sides.list);
    free(bed->along_m);
    free(bed->passed);
    free(bed->runs);
    memset(bed, 0, sizeof *bed);
}

/* Beside the end of a run nothing need be smooth in r, the distance from it, but all is
 * in r^(power + 1): the variable that curves are fitted in. */
static double smooth(const spot *on, double along_m)
{
    return pow(fabs(along_m - on->end_m), on->power + 1.0);
}

/* r^power, which the gradient follows. */
static double growth(const spot *on, double along_m)
{
    return on->power != 0.0 ? pow(fabs(along_m - on->end_m), on->power) : 1.0;
}

static double end_along(const usi_bed *bed, const usi_bed_run *run)
{
    return bed->along_m[run->last - 1] + usi_edge_length(&bed->sides.list[run->last - 1]);
}

/* A spot on a side of a run, at a share of its length. */
static spot lay_spot(const usi_bed *bed, const usi_bed_run *run, size_t side, double share)
{
    const usi_edge_side *at = &bed->sides.list[side];
    spot on = {.bed = bed,
               .run = run,
               .side = side,
               .x_m = at->ends[0].x_m + share * (at->ends[1].x_m - at->ends[0].x_m),
               .along_m = bed->along_m[side] + share * usi_edge_length(at),
               .skips = {run->skips[0], run->skips[1]}};
    double length_m = end_along(bed, run);
    int end = on.along_m > 0.5 * length_m ? 1 : 0;
    on.end_m = end == 1 ? length_m : 0.0;
    on.power = run->power[end];
    return on;
}

/* Weights of the cubic through four points at x, or of its slope there. */
static void weigh(const double *at, double x, bool slope, double weights[POINTS])
{
    for (int k = 0; k < POINTS; k++) {
        double product = 1.0;
        double sum = 0.0;
        for (int m = 0; m < POINTS; m++) {
            if (m == k) {
                continue;
            }
            double reach = at[k] - at[m];
            sum = (sum * (x - at[m]) + product) / reach;
            product *= (x - at[m]) / reach;
        }
        weights[k] = slope ? sum : product;
    }
}

/* Four nodes around the spot, the first of them, on sides of whole cells at one level;
 * node k is the left end of side k. False where there are no four. */
static bool find_nodes(const spot *on, size_t *from)
{
    const usi_edge_side *sides = on->bed->sides.list;
    size_t row = sides[on->side].row;
    size_t low = on->side;
    size_t high = on->side;
    if (!sides[on->side].whole) {
        return false;
    }
    while (low > on->run->first && sides[low - 1].whole && sides[low - 1].row == row) {
        low--;
    }
    while (high < on->run->last && sides[high].whole && sides[high].row == row) {
        high++;
    }
    low += low == on->run->first && on->skips[0] ? 1 : 0;
    high -= high == on->run->last && on->skips[1] ? 1 : 0;
    if (high < low + POINTS - 1) {
        return false;
    }
    size_t k = low;
    while (k + POINTS - 1 < high && sides[k + POINTS / 2].ends[0].x_m <= on->x_m) {
        k++;
    }
    *from = k;
    return true;
}

/* The four nodes as left ends of sides, or right ends of those before. */
static double node_along(const spot *on, size_t node)
{
    return node < on->run->last ? on->bed->along_m[node] : end_along(on->bed, on->run);
}

static int32_t node_place(const spot *on, size_t node)
{
    const usi_edge_side *sides = on->bed->sides.list;
    return node < on->run->last ? sides[node].places[0] : sides[node - 1].places[1];
}

/* Gradient from the heads below a level bed. */
static double level_heads(const spot *on, size_t from)
{
    double at[POINTS];
    double weights[POINTS];
    double gradient = 0.0;
    for (size_t k = 0; k < POINTS; k++) {
        at[k] = smooth(on, node_along(on, from + k));
    }
    weigh(at, smooth(on, on->along_m), false, weights);
    for (size_t k = 0; k < POINTS; k++) {
        size_t node = from + k;
        bool right = node == on->run->last || !on->bed->sides.list[node].whole ||
                     on->bed->sides.list[node].row != on->bed->sides.list[on->side].row;
        const usi_edge_side *side = &on->bed->sides.list[right ? node - 1 : node];
        double below = usi_exit_below(on->bed->field, side->column, side->row,
                                      right ? USI_UPPER_RIGHT : USI_UPPER_LEFT);
        gradient += weights[k] * below / growth(on, node_along(on, node));
    }
    return gradient * growth(on, on->along_m);
}

/* What a slope in the variable of the fit means for the gradient. */
static double across_bed(const spot *on, double slope)
{
    const usi_edge_side *side = &on->bed->sides.list[on->side];
    const usi_soil *soil = &on->bed->field->grid->section->soils[side->soil];
    double length_m = usi_edge_length(side);
    double nx = (side->ends[1].z_m - side->ends[0].z_m) / length_m;
    double nz = (side->ends[1].x_m - side->ends[0].x_m) / length_m;
    double across_m_s = soil->kh_m_s * nx * nx + soil->kv_m_s * nz * nz;
    double towards = on->end_m > 0.0 ? -1.0 : 1.0; /* the variable grows away from that end */
    return towards * (on->power + 1.0) * growth(on, on->along_m) * slope / across_m_s;
}

/* What leaves the bed where the stream function grows by 1 to the right. */
static double outward(const usi_field *field)
{
    return field->grid->section->flows_left ? -field->stream_unit_m_s : field->stream_unit_m_s;
}

/* The same from the stream function along it. */
static double level_stream(const spot *on, size_t from)
{
    const usi_field *field = on->bed->field;
    double at[POINTS];
    double weights[POINTS];
    double slope = 0.0;
    for (size_t k = 0; k < POINTS; k++) {
        at[k] = smooth(on, node_along(on, from + k));
    }
    weigh(at, smooth(on, on->along_m), true, weights);
    for (size_t k = 0; k < POINTS; k++) {
        slope += weights[k] * field->stream[node_place(on, from + k)];
    }
    return outward(field) * across_bed(on, slope);
}

/* Nodes [first, last] that a fit may take. */
typedef struct reach {
    size_t first;
    size_t last;
} reach;

static bool aligned(const usi_edge_side *a, const usi_edge_side *b)
{
    double dx = a->ends[1].x_m - a->ends[0].x_m;
    double dz = a->ends[1].z_m - a->ends[0].z_m;
    double next_dx = b->ends[1].x_m - b->ends[0].x_m;
    double next_dz = b->ends[1].z_m - b->ends[0].z_m;
    return fabs(dx * next_dz - dz * next_dx) <= 1e-9 * (dx * next_dx + dz * next_dz);
}

/* The straight piece around the spot where that has enough nodes, else its whole run,
 * less the ends that are left out. */
static reach find_reach(const spot *on)
{
    const usi_edge_side *sides = on->bed->sides.list;
    const usi_bed_run *run = on->run;
    reach found = {on->side, on->side + 1};
    while (found.first > run->first && aligned(&sides[found.first - 1], &sides[found.first])) {
        found.first--;
    }
    while (found.last < run->last && aligned(&sides[found.last - 1], &sides[found.last])) {
        found.last++;
    }
    if (found.last - found.first < FIT_LEAST) {
        found = (reach){run->first, run->last};
    }
    found.first += found.first == run->first && on->skips[0] ? 1 : 0;
    found.last -= found.last == run->last && on->skips[1] ? 1 : 0;
    return found;
}

/* The first of FIT_POINTS around `middle` out of `count` from `first` on, which is made
 * fewer. */
static size_t find_window(size_t first, size_t *count, size_t middle)
{
    if (*count <= FIT_POINTS) {
        return first;
    }
    size_t from = middle > first + FIT_POINTS / 2 ? middle - FIT_POINTS / 2 : first;
    size_t most = first + *count - FIT_POINTS;
    *count = FIT_POINTS;
    return from < most ? from : most;
}

static bool fit_stream(const spot *on, double *gradient)
{
    const usi_field *field = on->bed->field;
    reach within = find_reach(on);
    double at[FIT_POINTS];
    double values[FIT_POINTS];
    if (within.last < within.first + 1) {
        return false;
    }
    size_t count = within.last - within.first + 1;
    size_t from = find_window(within.first, &count, on->side + 1);
    for (size_t k = 0; k < count; k++) {
        at[k] = smooth(on, node_along(on, from + k));
        values[k] = field->stream[node_place(on, from + k)];
    }
    double slope = usi_slope_fit(at, values, count, smooth(on, on->along_m));
    *gradient = outward(field) * across_bed(on, slope);
    return true;
}

static bool fit_heads(const spot *on, double *gradient)
{
    const usi_bed *bed = on->bed;
    reach within = find_reach(on);
    double at[FIT_POINTS];
    double values[FIT_POINTS];
    if (bed->passed == NULL || within.last < within.first + 2) {
        return false;
    }
    size_t count = within.last - within.first;
    size_t from = find_window(within.first, &count, on->side);
    for (size_t k = 0; k < count; k++) {
        double middle_m = 0.5 * (node_along(on, from + k) + node_along(on, from + k + 1));
        at[k] = smooth(on, middle_m);
        values[k] = bed->passed[from + k];
    }
    *gradient = across_bed(on, usi_slope_fit(at, values, count, smooth(on, on->along_m)));
    return true;
}

/* Flow through one side alone. */
static double through_side(const spot *on)
{
    const usi_field *field = on->bed->field;
    const usi_edge_side *side = &on->bed->sides.list[on->side];
    spot plain = *on;
    plain.power = 0.0;
    plain.end_m = 0.0;
    double share = field->stream[side->places[1]] - field->stream[side->places[0]];
    return outward(field) * across_bed(&plain, share / usi_edge_length(side));
}

/* Without a stream function. */
static usi_bed_gradient read_heads(const spot *on)
{
    size_t from;
    double heads = 0.0;
    if (find_nodes(on, &from)) {
        return (usi_bed_gradient){true, level_heads(on, from), 0.0};
    }
    return fit_heads(on, &heads) ? (usi_bed_gradient){true, heads, 0.0}
                                 : (usi_bed_gradient){false, 0.0, 0.0};
}

static usi_bed_gradient read_spot(const spot *on)
{
    size_t from;
    double heads = 0.0;
    double stream = 0.0;
    if (on->bed->field->sealed) {
        return (usi_bed_gradient){true, 0.0, 0.0};
    }
    if (on->bed->field->stream == NULL) {
        return read_heads(on);
    }
    if (find_nodes(on, &from)) {
        heads = level_heads(on, from);
        return (usi_bed_gradient){true, heads, fabs(heads - level_stream(on, from))};
    }
    if (!fit_stream(on, &stream) || !fit_heads(on, &heads)) {
        return (usi_bed_gradient){true, through_side(on), 0.0};
    }
    /* Their leading errors are opposite. */
    return (usi_bed_gradient){true, 0.5 * (heads + stream), fabs(heads - stream)};
}

usi_bed_gradient usi_bed_gradient_at(const usi_bed *bed, double x_m, usi_face side)
{
    for (size_t r = 0; r < bed->run_count; r++) {
        const usi_bed_run *run = &bed->runs[r];
        for (size_t k = run->first; k < run->last; k++) {
            double low_m = bed->sides.list[k].ends[0].x_m;
            double high_m = bed->sides.list[k].ends[1].x_m;
            bool here = x_m > low_m && x_m < high_m;
            if (here || (x_m == low_m && side == USI_FACE_RIGHT) ||
                (x_m == high_m && side != USI_FACE_RIGHT)) {
                spot on = lay_spot(bed, run, k, (x_m - low_m) / (high_m - low_m));
                bool unbounded = (k == run->first && run->power[0] < 0.0) ||
                                 (k + 1 == run->last && run->power[1] < 0.0);
                return unbounded ? (usi_bed_gradient){0} : read_spot(&on);
            }
        }
    }
    return (usi_bed_gradient){0};
}

/* At an end of a side; where the gradient has no limit, within the side. */
static double end_value(const usi_bed *bed, const usi_bed_run *run, size_t side, int end)
{
    const double within = 0.25;
    const usi_edge_side *at = &bed->sides.list[side];
    if (at->whole) {
        return usi_exit_below(bed->field, at->column, at->row,
                              end == 0 ? USI_UPPER_LEFT : USI_UPPER_RIGHT);
    }
    bool outer = side == (end == 0 ? run->first : run->last - 1);
    bool unbounded = outer && run->power[end] < 0.0;
    spot on = lay_spot(bed, run, side, fabs((unbounded ? within : 0.0) - end));
    return read_spot(&on).value_1_m;
}

size_t usi_bed_samples(const usi_bed *bed, size_t run, size_t side, usi_bed_sample samples[2])
{
    const usi_bed_run *on = &bed->runs[run];
    const usi_edge_side *at = &bed->sides.list[side];
    if (at->whole) {
        for (int end = 0; end < 2; end++) {
            samples[end] = (usi_bed_sample){at->ends[end], end_value(bed, on, side, end)};
        }
        return 2;
    }
    spot middle = lay_spot(bed, on, side, 0.5);
    double level_m = 0.5 * (at->ends[0].z_m + at->ends[1].z_m);
    samples[0] = (usi_bed_sample){{middle.x_m, level_m}, read_spot(&middle).value_1_m};
    return 1;
}

us_status usi_bed_course(us_context *context, const usi_bed *bed, usi_edge_course *course)
{
    us_status status = usi_edge_begin(context, &bed->sides, course);
    for (size_t r = 0; status == US_OK && r < bed->run_count; r++) {
        const usi_bed_run *run = &bed->runs[r];
        double values[2] = {0.0, end_value(bed, run, run->first, 0)};
        for (size_t k = run->first; k < run->last; k++) {
            values[0] = values[1];
            values[1] = end_value(bed, run, k, 1);
            if (k + 1 < run->last) {
                /* Found from either side: the same but for the points it is found from. */
                values[1] = 0.5 * (values[1] + end_value(bed, run, k + 1, 0));
            }
            usi_edge_add(course, &bed->sides.list[k], values);
        }
    }
    return status;
}
