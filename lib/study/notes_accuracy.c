/* Notes on the accuracy that was asked for and what became of it. */
#include <math.h>
#include <stdio.h>

#include "study/criterion.h"
#include "study/notes.h"
#include "study/text.h"

enum { LIST_ROOM = 768 };

typedef struct list {
    char text[LIST_ROOM];
    size_t used;
} list;

/* Adds "WHAT: error X % of OF, Y % asked for". */
static void add_item(list *to, const char *what, double error, const char *of, double asked)
{
    const double finest = 1e-4; /* of a per cent; rounded up */
    char stated[USI_TEXT_ROOM];
    char wanted[USI_TEXT_ROOM];
    (void)usi_text_plain(ceil(100.0 * error / finest) * finest, stated);
    (void)usi_text_plain(100.0 * asked, wanted);
    if (to->used < sizeof to->text) {
        int more = snprintf(to->text + to->used, sizeof to->text - to->used,
                            "%s%s: error %s %% of %s, %s %% asked for", to->used > 0 ? "; " : "",
                            what, stated, of, wanted);
        to->used += more > 0 ? (size_t)more : 0;
    }
}

static void add_words(list *to, const char *words)
{
    if (to->used < sizeof to->text) {
        int more = snprintf(to->text + to->used, sizeof to->text - to->used, "%s%s",
                            to->used > 0 ? "; " : "", words);
        to->used += more > 0 ? (size_t)more : 0;
    }
}

static void add_value(list *to, const char *what, us_value value, double asked)
{
    if (value.value > value.error) {
        add_item(to, what, value.error / value.value, "the value", asked);
    } else {
        add_item(to, what, 1.0, "the value or more", asked);
    }
}

static void add_target(list *to, const us_section *section, const usi_target *target)
{
    char what[192];
    if (target->error <= target->allowed) {
        return;
    }
    if (target->driver == USI_DRIVER_HEADS) {
        (void)snprintf(what, sizeof what, "heads at wall `%s`", section->walls[target->index].name);
        add_item(to, what, target->error, "the head difference", target->allowed);
    } else if (target->driver == USI_DRIVER_UPLIFT) {
        (void)snprintf(what, sizeof what, "uplift of `%s`", section->waters[target->index].name);
        add_item(to, what, target->error, "what the full head difference would give",
                 target->allowed);
    }
}

/* The results of a water case with a head difference; the unit fields are the
 * same for all. */
static const us_water_result *any_flowing(const us_solution *solution)
{
    for (size_t w = 0; w < solution->water_count; w++) {
        if (solution->water[w].head_difference_m > 0.0) {
            return &solution->water[w];
        }
    }
    return &solution->water[0];
}

us_status usi_notes_accuracy(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_water_result *water = any_flowing(solution);
    us_status status = US_OK;
    if (water->flow.accuracy == US_ACCURACY_ON_SCALE) {
        status = usi_note_add(context, solution,
                              "Flow tends to zero: its error is within the accuracy on the scale "
                              "of k H, not relative to the flow.");
    }
    if (status == US_OK && water->exit.accuracy == US_ACCURACY_ON_SCALE) {
        status = usi_note_add(context, solution,
                              "The exit gradient tends to zero: its error is within the accuracy "
                              "on the scale of the head difference over the depth of the mean, "
                              "not relative to the gradient.");
    }
    if (status != US_OK || nest->converged) {
        return status;
    }
    list missed = {.used = 0};
    if (water->flow.accuracy == US_ACCURACY_MISSED) {
        add_value(&missed, "flow", water->flow.rate_m2_s, nest->accuracy);
    }
    if (water->exit.accuracy == US_ACCURACY_MISSED) {
        bool bounded = water->exit.gradient.present;
        add_value(&missed, bounded ? "exit gradient" : "mean exit gradient",
                  bounded ? water->exit.gradient : water->exit.mean, nest->accuracy);
    }
    usi_target targets[USI_TARGET_MOST];
    size_t count = usi_criterion_targets(solution->section, nest, targets);
    for (size_t k = 0; k < count; k++) {
        add_target(&missed, solution->section, &targets[k]);
    }
    if (usi_nest_finest(nest)->leaky) {
        add_words(&missed, "a wall end where soils meet, beside which the grid does not follow "
                           "the solution (bounds of the flow hold, errors near that end are less "
                           "sure)");
    }
    return usi_note_add(context, solution,
                        "NOT CONVERGED: the grid could not be refined to the accuracy asked for. "
                        "Values are the best there are; go by their stated errors. Short of it: "
                        "%s.",
                        missed.text);
}
