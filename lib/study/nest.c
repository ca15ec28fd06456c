#include "study/nest.h"

#include <math.h>
#include <stdlib.h>

#include "study/criterion.h"

/* Along the shortest length at a hard point, on the first grid. Whoever asks for little gets
 * less: on sections with many corners the first pair is what takes the time. */
static const double FIRST_CELLS = 7.0;
static const double FIRST_CELLS_ROUGH = 4.0;
static const double ROUGH = 0.1;  /* accuracy */
static const double GUESS = 0.05; /* accuracy that a rough nest is good for */
/* Rounding in a solve, relative to the value. */
static const double ROUNDING = 1e-11;
static const double SPREAD_SHARE = 0.01;
static const double BOUNDS_SHARE = 0.02;
/* Of the largest error of a head, what any other has at least on two grids: where
 * errors from several points cancel, their difference may vanish by chance. */
static const double LARGEST_SHARE = 0.1;
static const double LARGEST_SHARE_SUPPLIED = 0.15; /* where a situation acts */
static const double LARGEST_SHARE_BLENDED = 0.35;
/* What passes a wall hangs on the stream function at its very tip, where blended grids may agree
 * by chance: its error is twice what they say, and at least a share of the accuracy asked for
 * (up to 1.3, and 0.2, were measured). */
static const double BLENDED_THROUGH = 2.0;
static const double BLENDED_THROUGH_LEAST = 0.3;
/* Of the accuracy asked for, how much of the head difference cutting endless
 * soil may take: little, since an exit sees only a small part of that. */
static const double CUT_SHARE = 0.01;
/* A pair that has to grow by more than this is given a third grid instead. */
static const double PAIR_GROWTH = 1.6;
/* Three new grids cost more than halving the finest once again, beyond this. */
static const double TRIPLE_GROWTH = 1.6;
enum { ROUND_CAP = 10, STALLS = 2 };

const usi_reading *usi_nest_finest(const usi_nest *nest)
{
    return &nest->readings[nest->count - 1];
}

usi_estimate usi_nest_estimate(const usi_nest *nest, usi_pick pick, size_t index)
{
    double values[USI_NEST_MOST];
    for (size_t k = 0; k < nest->count; k++) {
        values[k] = pick(&nest->readings[k], index);
    }
    return usi_estimate_nested(values, nest->count);
}

static us_value with_cut(const usi_nest *nest, usi_estimate found)
{
    const usi_reading *reading = usi_nest_finest(nest);
    double cut = (reading->truncation + ROUNDING) * fabs(found.value);
    if (reading->leaky) {
        cut += reading->spread * fabs(found.value);
    }
    return (us_value){found.value, found.error + cut, true};
}

us_value usi_nest_value(const usi_nest *nest, usi_pick pick, size_t index)
{
    return with_cut(nest, usi_nest_estimate(nest, pick, index));
}

/* Half the distance of the bounds is some 75 times the error of what lies in the middle. */
static us_value with_bounds(us_value found, double lower_m_s, double upper_m_s)
{
    found.error = fmax(found.error, BOUNDS_SHARE * (upper_m_s - lower_m_s));
    return found;
}

us_value usi_nest_flow(const usi_nest *nest)
{
    const usi_reading *fine = usi_nest_finest(nest);
    us_value found = usi_nest_value(nest, usi_pick_flow, 0);
    if (nest->blended) {
        found.error = fmax(found.error, BOUNDS_SHARE * fine->spread * fabs(found.value));
    }
    return fine->outflows == NULL && !fine->stands_in
               ? found
               : with_bounds(found, fine->lower_m_s, fine->upper_m_s);
}

us_value usi_nest_outflow(const usi_nest *nest, size_t index)
{
    const usi_outflow *fine = &usi_nest_finest(nest)->outflows[index];
    return with_bounds(usi_nest_value(nest, usi_pick_outflow, index), fine->lower_m_s,
                       fine->upper_m_s);
}

us_value usi_nest_through(const usi_nest *nest, size_t wall)
{
    const usi_reading *fine = usi_nest_finest(nest);
    us_value found = usi_nest_value(nest, usi_pick_through, wall);
    if (nest->blended) {
        double least = BLENDED_THROUGH_LEAST * nest->accuracy * fabs(found.value);
        found.error = fmax(BLENDED_THROUGH * found.error, least);
    }
    return fine->bracketed || fine->stands_in ? with_bounds(found, fine->lower_m_s, fine->upper_m_s)
                                              : found;
}

double usi_nest_head_least(const usi_nest *nest)
{
    const usi_reading *reading = usi_nest_finest(nest);
    double largest = reading->outflows != NULL ? LARGEST_SHARE_SUPPLIED : LARGEST_SHARE;
    largest = nest->blended ? LARGEST_SHARE_BLENDED : largest;
    double least = nest->count == 2 ? largest * nest->largest_head_error : 0.0;
    if (reading->bracketed && reading->outflows == NULL && reading->flow_m_s > 0.0) {
        double share = reading->leaky ? 1.0 : SPREAD_SHARE;
        least = fmax(least, share * fmin(reading->spread, 1.0));
    }
    return least;
}

/* The largest error that two grids or more give to any head that is read. */
static double find_largest_head_error(const usi_nest *nest)
{
    static const usi_pick picks[] = {usi_pick_tip, usi_pick_left_top, usi_pick_right_top,
                                     usi_pick_piezometer};
    const size_t counts[] = {nest->wall_count, nest->wall_count, nest->wall_count,
                             nest->piezometer_count};
    double largest = 0.0;
    for (size_t p = 0; p < sizeof picks / sizeof picks[0]; p++) {
        for (size_t k = 0; k < counts[p]; k++) {
            largest = fmax(largest, usi_nest_estimate(nest, picks[p], k).error);
        }
    }
    return largest;
}

/* `unit` is what a reduced head of 1 makes of the value. */
static us_value from_head(const usi_nest *nest, usi_estimate found, double unit)
{
    double error = found.error + usi_nest_finest(nest)->truncation * unit;
    return (us_value){found.value, fmax(error, usi_nest_head_least(nest) * unit), true};
}

us_value usi_nest_head(const usi_nest *nest, usi_pick pick, size_t index)
{
    return from_head(nest, usi_nest_estimate(nest, pick, index), 1.0);
}

/* `one` and `other` are two routes to the finest value. The nested difference may
 * vanish by chance; two routes to one value do not agree by chance at the same time. */
static us_value with_routes(const usi_nest *nest, usi_estimate found, double one, double other)
{
    us_value value = with_cut(nest, found);
    if (!found.extrapolated) {
        value.error = fmax(value.error, fabs(one - other));
    }
    return value;
}

us_value usi_nest_exit_gradient(const usi_nest *nest, size_t exit)
{
    const usi_exit_reading *fine = &usi_nest_finest(nest)->exits[exit];
    if (!fine->bounded) {
        return (us_value){0.0, 0.0, false};
    }
    usi_estimate found = usi_nest_estimate(nest, usi_pick_gradient, exit);
    return with_routes(nest, found, fine->gradient_1_m, fine->second_1_m);
}

us_value usi_nest_gradient(const usi_nest *nest)
{
    if (nest->exit_count == 0) {
        return (us_value){0.0, 0.0, false};
    }
    return nest->governing.peak ? usi_nest_value(nest, usi_pick_peak, 0)
                                : usi_nest_exit_gradient(nest, nest->governing.exit);
}

us_value usi_nest_worst(const usi_nest *nest, usi_bed_worst_kind kind)
{
    for (size_t k = 0; k < nest->count; k++) {
        if (!nest->readings[k].worst[kind].found) {
            return (us_value){0.0, 0.0, false};
        }
    }
    return usi_nest_value(nest, usi_pick_worst, kind);
}

size_t usi_nest_profile_count(const usi_nest *nest)
{
    return nest->exit_count > 0 ? usi_nest_finest(nest)->exits[nest->governing.exit].profile_count
                                : 0;
}

us_value usi_nest_profile(const usi_nest *nest, size_t point)
{
    const usi_exit_reading *fine = &usi_nest_finest(nest)->exits[nest->governing.exit];
    for (size_t k = 0; k < nest->count; k++) {
        if (!nest->readings[k].exits[nest->governing.exit].profile_known[point]) {
            return (us_value){0.0, 0.0, false};
        }
    }
    usi_estimate found =
        usi_nest_estimate(nest, usi_pick_profile, nest->governing.exit * USI_PROFILE_MOST + point);
    return with_routes(nest, found, fine->profile_doubt_1_m[point], 0.0);
}

us_value usi_nest_exit_mean(const usi_nest *nest, size_t exit)
{
    usi_estimate found = usi_nest_estimate(nest, usi_pick_mean, exit);
    return from_head(nest, found, 1.0 / nest->exits[exit].mean_depth_m);
}

us_value usi_nest_mean(const usi_nest *nest)
{
    if (nest->exit_count == 0) {
        return (us_value){0.0, 0.0, false};
    }
    if (!nest->governing.peak) {
        return usi_nest_exit_mean(nest, nest->governing.exit);
    }
    double depth_m = usi_nest_mean_depth(nest);
    for (size_t k = 0; k < nest->count; k++) {
        if (!nest->readings[k].peak.has_mean) {
            return (us_value){0.0, 0.0, false};
        }
    }
    return from_head(nest, usi_nest_estimate(nest, usi_pick_peak_mean, 0), 1.0 / depth_m);
}

double usi_nest_mean_depth(const usi_nest *nest)
{
    return nest->exits[nest->governing.peak ? 0 : nest->governing.exit].mean_depth_m;
}

void usi_nest_settle(usi_nest *nest)
{
    nest->largest_head_error = find_largest_head_error(nest);
    nest->governing = usi_governing_find(nest->readings, nest->count);
}

static void drop_readings(usi_nest *nest)
{
    for (size_t k = 0; k < nest->count; k++) {
        usi_reading_free(&nest->readings[k]);
    }
    nest->count = 0;
}

/* Takes one reading on the next finer grid and appends it. */
static us_status add_reading(us_context *context, const us_section *section, bool sealed,
                             usi_nest *nest)
{
    usi_grid_options options = {.cells = nest->cells,
                                .halvings = nest->halvings + (int)nest->count,
                                .truncation = nest->truncation,
                                .sealed = sealed};
    usi_places places = {nest->exit_count, nest->exits,       nest->prism_count,
                         nest->prisms,     nest->tight_count, nest->tights};
    us_status status =
        usi_reading_take(context, section, &options, &places, &nest->readings[nest->count]);
    if (status == US_OK) {
        nest->count++;
    }
    return status;
}

/* Fills a nest without readings with `count` of them, or leaves it empty. */
static us_status take_readings(us_context *context, const us_section *section, bool sealed,
                               size_t count, usi_nest *nest)
{
    us_status status = US_OK;
    while (status == US_OK && nest->count < count) {
        status = add_reading(context, section, sealed, nest);
    }
    if (status != US_OK) {
        drop_readings(nest);
        return status;
    }
    usi_nest_settle(nest);
    return US_OK;
}

/* A new nest of `count` grids, `growth` times as fine, replaces the present one,
 * unless it would be too large. */
static us_status replace(us_context *context, const us_section *section, double growth,
                         usi_nest *nest)
{
    usi_nest next = *nest;
    next.cells = nest->cells * growth;
    next.count = 0;
    us_status status = take_readings(context, section, false, nest->count, &next);
    if (status == US_OK) {
        drop_readings(nest);
        *nest = next;
    }
    return status;
}

/* Halves the finest grid once more; of more than three grids the coarsest goes. */
static us_status extend(us_context *context, const us_section *section, usi_nest *nest)
{
    usi_reading oldest = {0};
    usi_nest next = *nest;
    if (nest->count == USI_NEST_MOST) {
        oldest = nest->readings[0];
        for (size_t k = 1; k < USI_NEST_MOST; k++) {
            next.readings[k - 1] = nest->readings[k];
        }
        next.count--;
        next.halvings++;
    }
    us_status status = add_reading(context, section, false, &next);
    if (status == US_OK) {
        usi_reading_free(&oldest);
        *nest = next;
        usi_nest_settle(nest);
    }
    return status;
}

/* One step towards an error `ratio` times smaller; `*finer` says by how much the
 * finest grid has changed. */
static us_status step(us_context *context, const us_section *section, double ratio, usi_nest *nest,
                      double *finer)
{
    /* Second order of a pair, third of what is extrapolated from three. */
    bool pair = nest->count == 2;
    double growth = fmax(1.1 * (pair ? sqrt(ratio) : cbrt(ratio)), 1.25);
    if (growth > (pair ? PAIR_GROWTH : TRIPLE_GROWTH)) {
        *finer = 2.0;
        return extend(context, section, nest);
    }
    *finer = growth;
    return replace(context, section, growth, nest);
}

static us_status list_places(us_context *context, const us_section *section, usi_nest *nest)
{
    us_status status = usi_exits_list(context, section, &nest->exits, &nest->exit_count);
    if (status != US_OK || nest->gradient_alone) {
        return status;
    }
    status = usi_prisms_list(context, section, nest->exits, nest->exit_count, &nest->prisms,
                             &nest->prism_count);
    if (status == US_OK) {
        status = usi_tights_list(context, section, nest->exits, nest->exit_count, &nest->tights,
                                 &nest->tight_count);
    }
    return status;
}

double usi_nest_first_cells(double accuracy)
{
    return accuracy < ROUGH ? FIRST_CELLS : FIRST_CELLS_ROUGH;
}

static usi_nest first_nest(const us_section *section, double accuracy)
{
    return (usi_nest){.cells = usi_nest_first_cells(accuracy),
                      .accuracy = accuracy,
                      .truncation = CUT_SHARE * accuracy,
                      .wall_count = section->wall_count,
                      .piezometer_count = section->piezometer_count};
}

us_status usi_nest_begin(us_context *context, const us_section *section, double accuracy,
                         usi_nest *nest)
{
    *nest = first_nest(section, accuracy);
    us_status status = list_places(context, section, nest);
    if (status != US_OK) {
        usi_nest_free(nest);
    }
    return status;
}

static us_status refine(us_context *context, const us_section *section, usi_nest *nest)
{
    us_status status = list_places(context, section, nest);
    if (status == US_OK) {
        status = take_readings(context, section, false, 2, nest);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    double before = HUGE_VAL;
    double finer = 1.0;
    int stalls = 0;
    for (int round = 0; status == US_OK && round < ROUND_CAP; round++) {
        double ratio = usi_criterion_excess(section, nest);
        nest->converged = ratio <= 1.0;
        /* A point that no grid resolves shows by an error that hardly falls, slower
         * than the square root of the cells where the square is due. Once may be
         * chance: a difference that was too small. */
        stalls = ratio >= before / sqrt(finer) ? stalls + 1 : 0;
        if (nest->converged || stalls == STALLS) {
            break;
        }
        before = ratio;
        status = step(context, section, ratio, nest, &finer);
    }
    if (status == US_NOT_CONVERGED) {
        status = US_OK;
    }
    if (status != US_OK) {
        usi_nest_free(nest);
    }
    return status;
}

us_status usi_nest_refine(us_context *context, const us_section *section, double accuracy,
                          usi_nest *nest)
{
    *nest = first_nest(section, accuracy);
    return refine(context, section, nest);
}

us_status usi_nest_pair(us_context *context, const us_section *section, double accuracy,
                        usi_nest *nest)
{
    us_status status = usi_nest_begin(context, section, accuracy, nest);
    if (status != US_OK) {
        return status;
    }
    nest->cells *= 0.5;
    status = take_readings(context, section, false, 2, nest);
    nest->converged = true; /* what misses the accuracy says so itself */
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    if (status != US_OK) {
        usi_nest_free(nest);
    }
    return status;
}

us_status usi_nest_refine_gradient(us_context *context, const us_section *section, double accuracy,
                                   usi_nest *nest)
{
    *nest = first_nest(section, accuracy);
    nest->gradient_alone = true;
    return refine(context, section, nest);
}

us_status usi_nest_rough(us_context *context, const us_section *section, usi_nest *nest)
{
    *nest = (usi_nest){.cells = 0.5 * FIRST_CELLS,
                       .accuracy = GUESS,
                       .truncation = CUT_SHARE * GUESS,
                       .wall_count = section->wall_count,
                       .piezometer_count = section->piezometer_count};
    us_status status = usi_exits_list(context, section, &nest->exits, &nest->exit_count);
    if (status == US_OK) {
        status = take_readings(context, section, false, 2, nest);
    }
    if (status != US_OK) {
        usi_nest_free(nest);
    }
    return status;
}

us_status usi_nest_sealed(us_context *context, const us_section *section, const usi_nest *nest,
                          usi_nest *sealed)
{
    *sealed = (usi_nest){.cells = nest->cells,
                         .halvings = nest->halvings,
                         .accuracy = nest->accuracy,
                         .truncation = nest->truncation,
                         .converged = nest->converged,
                         .wall_count = nest->wall_count,
                         .piezometer_count = nest->piezometer_count};
    us_status status = usi_exits_list(context, section, &sealed->exits, &sealed->exit_count);
    if (status == US_OK) {
        status = take_readings(context, section, true, nest->count, sealed);
    }
    if (status != US_OK) {
        usi_nest_free(sealed);
    }
    return status;
}

void usi_nest_free(usi_nest *nest)
{
    drop_readings(nest);
    free(nest->exits);
    free(nest->prisms);
    free(nest->tights);
    *nest = (usi_nest){0};
}
