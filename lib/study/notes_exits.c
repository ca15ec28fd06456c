/* Notes on exits where the gradient has no bound, or holds for one spot alone. */
#include <stdio.h>

#include "model/situation.h"
#include "study/notes.h"
#include "study/text.h"

/* Why the gradient has no bound: the words after "as". */
static const char *cause(const usi_exit *exit)
{
    if (exit->kind == USI_EXIT_WATERLINE) {
        return "the bed rises out of the water there, and water comes out above it too";
    }
    if (exit->kind == USI_EXIT_SEAL) {
        return "water gathers at the end of the sealed bed";
    }
    if (exit->growth.kind == USI_GROWTH_LOG) {
        return "water passes through the wall down to the bed";
    }
    if (exit->growth.kind != USI_GROWTH_POWER) {
        return "the soils that meet there differ";
    }
    if (exit->kind == USI_EXIT_STEP) {
        return "water leaves at the foot of a step in the bed";
    }
    return exit->embedment_m > 0.0
               ? "the bed rises from there, and the soil fills more than a right angle"
               : "water leaves beside an edge that ends flush on the bed, with no face going "
                 "down into the soil";
}

/* What would help: the words at the end, a sentence. */
static const char *remedy(const usi_exit *exit)
{
    if (exit->kind == USI_EXIT_WATERLINE || exit->kind == USI_EXIT_SEAL) {
        return "A filter holds the soil there.";
    }
    if (exit->growth.kind == USI_GROWTH_LOG) {
        return "Interlocks sealed near the bed bound it.";
    }
    if (exit->kind == USI_EXIT_STEP) {
        return "A wall that holds the step and goes on below bounds it; a rounded or filtered "
               "step removes the peak.";
    }
    if (exit->embedment_m > 0.0) {
        return "A level berm beside it bounds it.";
    }
    return "A cut-off or an embedded end bounds it, however shallow.";
}

static us_status note_unbounded(us_context *context, const usi_exit *exit, us_solution *solution)
{
    char x[USI_TEXT_ROOM];
    char depth[USI_TEXT_ROOM];
    return usi_note_add(context, solution,
                        "At x = %s the exit gradient is unbounded in theory, as %s: no number "
                        "stands for it, and its mean over %s below the bed is used instead. %s",
                        usi_text_length(solution->section, exit->at.x_m, x), cause(exit),
                        usi_text_length(solution->section, exit->mean_depth_m, depth),
                        remedy(exit));
}

/* The case whose heads differ most, whose numbers are the largest too; NULL where no
 * heads differ. Where a situation acts they may, though the waters stand level. */
static const us_water_result *steepest_case(const us_solution *solution)
{
    const us_water_result *found = NULL;
    double most_m = 0.0;
    for (size_t w = 0; w < solution->water_count; w++) {
        double unit_m = usi_datum_of(solution->section, w).unit_m;
        if (unit_m > most_m) {
            found = &solution->water[w];
            most_m = unit_m;
        }
    }
    return found;
}

static us_status note_cutoff(us_context *context, us_solution *solution)
{
    const us_water_result *water = steepest_case(solution);
    if (water == NULL || !water->exit.with_cutoff.present) {
        return US_OK;
    }
    const us_exit_result *exit = &water->exit;
    char x[USI_TEXT_ROOM];
    char depth[USI_TEXT_ROOM];
    char gradient[USI_TEXT_ROOM];
    return usi_note_add(context, solution,
                        "With a tight cut-off at x = %s down to %s below the bed, all else as it "
                        "is, the largest exit gradient would be %s in water case %s.",
                        usi_text_length(solution->section, exit->x_m, x),
                        usi_text_length(solution->section, exit->cutoff_m, depth),
                        usi_text_plain(exit->with_cutoff.value, gradient), water->name);
}

static us_status note_fall(us_context *context, us_solution *solution)
{
    const us_water_result *water = steepest_case(solution);
    if (water == NULL || !water->exit.falls_fast) {
        return US_OK;
    }
    const us_exit_result *exit = &water->exit;
    char x[USI_TEXT_ROOM];
    char fall[USI_TEXT_ROOM];
    return usi_note_add(context, solution,
                        "The exit gradient at x = %s holds for that spot alone: within %s along "
                        "the bed it falls by more than half, and it rises as fast where scour "
                        "takes some of the embedment. See how it falls along the bed, and weigh "
                        "its mean beside it.",
                        usi_text_length(solution->section, exit->x_m, x),
                        usi_text_length(solution->section, exit->fall_m, fall));
}

/* Where a situation acts, water may go in where it would come out. The governing exit is
 * judged with its error, others by their means. */
static bool lets_out(const usi_nest *nest, size_t exit, const us_solution *solution)
{
    if (solution->section->situation == NULL) {
        return true;
    }
    if (exit == nest->governing.exit) {
        return !solution->water[0].exit.enters;
    }
    return usi_nest_finest(nest)->exits[exit].mean_1_m >= 0.0;
}

us_status usi_notes_exits(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const usi_reading *fine = usi_nest_finest(nest);
    us_status status = US_OK;
    for (size_t e = 0;
         status == US_OK && e < nest->exit_count && !fine->sealed && !fine->bed_closed; e++) {
        if (!fine->exits[e].bounded && lets_out(nest, e, solution)) {
            status = note_unbounded(context, &nest->exits[e], solution);
        }
    }
    if (status == US_OK) {
        status = note_cutoff(context, solution);
    }
    return status == US_OK ? note_fall(context, solution) : status;
}
