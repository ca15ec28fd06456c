#include "study/depth_notes.h"

#include <math.h>

#include "study/text.h"

static us_status note(us_context *context, us_depth *depth, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static us_status note(us_context *context, us_depth *depth, const char *format, ...)
{
    usi_note_list list = {&depth->notes, &depth->note_count};
    va_list arguments;
    va_start(arguments, format);
    us_status status = usi_note_append(context, list, format, arguments);
    va_end(arguments);
    return status;
}

static us_status note_levels(us_context *context, us_depth *depth)
{
    char high[USI_TEXT_ROOM];
    char low[USI_TEXT_ROOM];
    const char *why =
        depth->section->has_base
            ? "below, a wall reaches the base, and all hangs on how well it seals there: the "
              "lowest level stands for an open contact (else `keyed`)"
            : "without a base, three times the depth that is drawn";
    return note(context, depth, "Tips from %s down to %s were looked at; %s.",
                usi_text_length(depth->section, depth->solver.high_m, high),
                usi_text_length(depth->section, depth->solver.low_m, low), why);
}

static us_status note_drawn(us_context *context, us_depth *depth)
{
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    bool inside = wall->tip_m <= depth->solver.high_m && wall->tip_m >= depth->solver.low_m;
    if (inside && !wall->keyed && !wall->open_contact) {
        return US_OK;
    }
    if (wall->open_contact) {
        return note(context, depth,
                    "The tip that is drawn reaches the base: the lowest level stands for it.");
    }
    return note(context, depth,
                "The tip that is drawn is none of these levels: `undersill solve` tells of it.");
}

static us_status note_openings(us_context *context, us_depth *depth)
{
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    size_t count = 0;
    for (size_t k = 0; k < depth->row_count; k++) {
        const us_section *section = depth->rows[k].solution->section;
        count += section->walls[depth->solver.levels.wall].opening_count < wall->opening_count;
    }
    if (count == 0) {
        return US_OK;
    }
    return note(context, depth,
                "At %zu of %zu levels the tip lies above an opening, or in it: there the opening "
                "is no part of the wall, which ends at the tip or at the opening's upper edge.",
                count, depth->row_count);
}

/* True where flow or exit gradient of some case is not known to the accuracy asked for. */
static bool is_missed(const us_solution *solution)
{
    bool missed = !solution->grid.converged;
    for (size_t w = 0; w < solution->water_count; w++) {
        missed = missed || solution->water[w].flow.accuracy == US_ACCURACY_MISSED ||
                 solution->water[w].exit.accuracy == US_ACCURACY_MISSED;
    }
    return missed;
}

static us_status note_afresh(us_context *context, us_depth *depth)
{
    size_t count = 0;
    size_t missed = 0;
    for (size_t k = 0; k < depth->row_count; k++) {
        count += depth->rows[k].afresh ? 1 : 0;
        missed += is_missed(depth->rows[k].solution) ? 1 : 0;
    }
    us_status status = US_OK;
    if (count > 0) {
        status = note(context, depth,
                      "%zu of %zu levels were solved by themselves: there something is not "
                      "linear (bed that lets water out only, say), what is looked at changes, an "
                      "opening or other soil begins, or the others were not accurate enough.",
                      count, depth->row_count);
    }
    if (status == US_OK && missed > 0) {
        status =
            note(context, depth,
                 "At %zu of %zu levels flow or exit gradient is not known to the accuracy asked "
                 "for: look at the errors.",
                 missed, depth->row_count);
    }
    return status;
}

static us_status note_pairs(us_context *context, us_depth *depth)
{
    char error[USI_TEXT_ROOM];
    double largest_m = 0.0;
    size_t count = 0;
    for (size_t k = 0; k < depth->pair_count; k++) {
        count += depth->pairs[k].afresh ? 1 : 0;
        for (size_t i = 0; i < depth->pair_lists[k].count; i++) {
            const us_depth_interval *passing = &depth->pair_lists[k].list[i];
            largest_m = fmax(largest_m, fmax(passing->high.error_m, passing->low.error_m));
        }
    }
    us_status status =
        note(context, depth,
             "Pairs are looked at on coarser grids: ends are known to within %s here (CSV and "
             "JSON have each). Solve the pair that is chosen.",
             usi_text_length(depth->section, largest_m, error));
    if (status == US_OK && count > 0) {
        status = note(context, depth,
                      "Of %zu levels of the second wall %zu had something that was solved by "
                      "itself, not from the states of pairs.",
                      depth->pair_count, count);
    }
    return status;
}

static us_status note_limits(us_context *context, us_depth *depth, bool ratio)
{
    if (!depth->requires_any) {
        return note(context, depth,
                    "The section requires nothing (`require`): no level fails, none is shown to be "
                    "enough.");
    }
    us_status status = note(context, depth,
                            "Deeper is not always better: behind a deeper wall downstream, uplift "
                            "grows. Levels pass where every required check does, in every water "
                            "case; check the one that is built with `undersill solve`.");
    if (status == US_OK && ratio) {
        status = note(context, depth,
                      "kh / kv doubled means twice the ratio in every soil, sqrt(kh kv) kept, on "
                      "coarser grids.");
    }
    return status;
}

us_status usi_depth_notes_fill(us_context *context, us_depth *depth, bool ratio)
{
    us_status status = note_levels(context, depth);
    if (status == US_OK) {
        status = note_drawn(context, depth);
    }
    if (status == US_OK) {
        status = note_openings(context, depth);
    }
    if (status == US_OK) {
        status = note_afresh(context, depth);
    }
    if (status == US_OK && depth->pair_count > 0) {
        status = note_pairs(context, depth);
    }
    return status == US_OK ? note_limits(context, depth, ratio) : status;
}
