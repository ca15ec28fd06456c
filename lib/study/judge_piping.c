/* Piping: critical gradient over exit gradient. */
#include <stdio.h>

#include "study/judge.h"
#include "study/text.h"

/* The gradient that the check goes by, at the far end of its error. */
static double steepest(const us_exit_result *exit)
{
    us_value steep = exit->bounded ? exit->gradient : exit->mean;
    return steep.value + steep.error;
}

/* How the factor came about, in words; `text` has USI_JUDGE_ROOM bytes. */
static void tell_basis(const us_section *section, const us_exit_result *exit, char *text)
{
    char depth[USI_TEXT_ROOM];
    char critical[USI_TEXT_ROOM];
    char factor[USI_TEXT_ROOM];
    (void)usi_text_plain(exit->critical.value, critical);
    if (!exit->present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "no downstream bed is used in this section");
    } else if (!exit->critical.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "soil %s has no unit weight", exit->soil);
    } else if (!exit->piping_factor.present && steepest(exit) > 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "the error is over half the exit gradient: the factor is at least %s, "
                       "critical gradient %s of %s over both together",
                       usi_text_plain(exit->critical.value / steepest(exit), factor), critical,
                       exit->soil);
    } else if (!exit->piping_factor.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "no water leaves the bed");
    } else if (exit->bounded) {
        (void)snprintf(text, USI_JUDGE_ROOM, "critical gradient %s of %s over the exit gradient",
                       critical, exit->soil);
    } else {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "critical gradient %s of %s over the mean gradient across %s below the "
                       "bed, as the gradient at the point itself is unbounded",
                       critical, exit->soil, usi_text_length(section, exit->mean_depth_m, depth));
    }
}

static void tell_place(const us_section *section, const us_exit_result *exit, char *text)
{
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    /* No comma: in CSV it would need quotes, and plain tools split there. */
    (void)snprintf(text, USI_JUDGE_ROOM, exit->present ? "bed at x = %s and level %s" : "nowhere",
                   usi_text_length(section, exit->x_m, x),
                   usi_text_length(section, exit->level_m, level));
}

static us_verdict judge(const us_section *section, const us_exit_result *exit)
{
    usi_requirement limit = section->require.piping;
    if (!limit.given || exit->piping_factor.present) {
        return US_NOT_REQUIRED;
    }
    /* No factor means no exit flow, or one that its error hides: the reader has seen
     * to the unit weight. */
    return exit->critical.value >= limit.value * steepest(exit) ? US_PASS : US_FAIL;
}

us_status usi_judge_piping(const usi_judge *of)
{
    const us_exit_result *exit = &of->result->exit;
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    tell_place(of->section, exit, where);
    tell_basis(of->section, exit, basis);
    us_check_result check = {.name = "piping",
                             .value = exit->piping_factor,
                             .required = usi_judge_limit(of->section->require.piping),
                             .verdict = judge(of->section, exit),
                             .where = where,
                             .basis = basis};
    return usi_judge_add(of, &check);
}
