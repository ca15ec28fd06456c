#include "study/ladder.h"

#include <stdlib.h>

#include "base/context.h"

/* Coarser than where solving starts: the ladder shows where the order sets in. */
static const double FIRST_CELLS = 4.0;
/* What the finest accuracy of us_section_solve() asks of far cuts. */
static const double TRUNCATION = 1e-7;

const usi_reading *usi_ladder_finest(const usi_ladder *ladder)
{
    return &ladder->readings[ladder->count - 1];
}

usi_point usi_ladder_exit(const usi_ladder *ladder)
{
    return usi_governing_place(ladder->governing, ladder->exits, usi_ladder_finest(ladder));
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
    usi_grid_options options = {.cells = FIRST_CELLS,
                                .halvings = (int)ladder->count,
                                .truncation = TRUNCATION,
                                .most = USI_GRID_MOST};
    usi_places places = {.exit_count = ladder->exit_count, .exits = ladder->exits};
    us_status status = usi_reading_take(context, ladder->section, &options, &places,
                                        &ladder->readings[ladder->count]);
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
    ladder->governing = usi_governing_find(ladder->readings, ladder->count);
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
