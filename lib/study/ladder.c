#include "study/ladder.h"

#include <stdlib.h>

#include "base/context.h"

/* Coarser than where solving starts: the ladder shows where the order sets in. */
static const double FIRST_CELLS = 4.0;
/* What the finest accuracy of us_section_solve() asks of far cuts. */
static const double TRUNCATION = 1e-7;
/* A peak elsewhere has to be steeper by more than rounding. */
static const double PEAK_MARGIN = 1e-9;

const usi_reading *usi_ladder_finest(const usi_ladder *ladder)
{
    return &ladder->readings[ladder->count - 1];
}

usi_point usi_ladder_exit(const usi_ladder *ladder)
{
    if (ladder->peak_governs) {
        const usi_bed_peak *peak = &usi_ladder_finest(ladder)->peak;
        return (usi_point){peak->x_m, peak->level_m};
    }
    return ladder->exits[ladder->governing].at;
}

static void find_governing(usi_ladder *ladder)
{
    const usi_reading *fine = usi_ladder_finest(ladder);
    for (size_t e = 1; e < ladder->exit_count; e++) {
        if (fine->exits[e].mean_1_m > fine->exits[ladder->governing].mean_1_m) {
            ladder->governing = e;
        }
    }
    if (ladder->exit_count == 0 || !fine->exits[ladder->governing].bounded) {
        return;
    }
    double there = fine->exits[ladder->governing].gradient_1_m;
    ladder->peak_governs = fine->peak.gradient_1_m > there * (1.0 + PEAK_MARGIN);
    for (size_t k = 0; k < ladder->count; k++) {
        ladder->peak_governs = ladder->peak_governs && ladder->readings[k].peak.found;
    }
}

/* Unknowns that the next grid will have, to within those on walls. */
static double next_unknowns(const usi_reading *reading)
{
    double columns = (double)reading->columns;
    double rows = (double)reading->rows;
    double growth = (2.0 * columns + 1.0) * (2.0 * rows + 1.0) / ((columns + 1.0) * (rows + 1.0));
    return growth * (double)reading->unknowns;
}

static us_status add_reading(us_context *context, usi_ladder *ladder)
{
    usi_grid_options options = {
        .cells = FIRST_CELLS, .halvings = (int)ladder->count, .truncation = TRUNCATION};
    us_status status = usi_reading_take(context, ladder->section, &options, ladder->exits,
                                        ladder->exit_count, &ladder->readings[ladder->count]);
    if (status == US_OK) {
        ladder->count++;
    }
    return status;
}

static us_status add_others(us_context *context, const us_converge_options *options,
                            usi_ladder *ladder)
{
    while (ladder->count < options->rungs) {
        if (next_unknowns(usi_ladder_finest(ladder)) > (double)options->unknowns_most) {
            ladder->end = USI_LADDER_UNKNOWNS;
            return US_OK;
        }
        us_status status = add_reading(context, ladder);
        if (status == US_NOT_CONVERGED) {
            ladder->end = USI_LADDER_LIMIT;
            return US_OK;
        }
        if (status != US_OK) {
            return status;
        }
    }
    return US_OK;
}

us_status usi_ladder_climb(us_context *context, const us_section *section,
                           const us_converge_options *options, usi_ladder *ladder)
{
    *ladder = (usi_ladder){.section = section, .end = USI_LADDER_WHOLE};
    us_status status = usi_exits_list(context, section, &ladder->exits, &ladder->exit_count);
    if (status == US_OK) {
        status = add_reading(context, ladder);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    if (status == US_OK) {
        status = add_others(context, options, ladder);
    }
    if (status != US_OK) {
        usi_ladder_free(ladder);
        return status;
    }
    find_governing(ladder);
    return US_OK;
}

void usi_ladder_free(usi_ladder *ladder)
{
    for (size_t k = 0; k < ladder->count; k++) {
        usi_reading_free(&ladder->readings[k]);
    }
    free(ladder->exits);
    *ladder = (usi_ladder){0};
}
