#include "study/checks.h"

#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "study/text.h"

static const char *copy(us_context *context, const char *text)
{
    return usi_memory_text(context, text, strlen(text));
}

/* The gradient that a check goes by, at the far end of its error. */
static double steepest(const us_exit_result *exit)
{
    us_value steep = exit->bounded ? exit->gradient : exit->mean;
    return steep.value + steep.error;
}

/* How the piping factor came about, in words. */
static const char *piping_basis(us_context *context, const us_section *section,
                                const us_exit_result *exit)
{
    char text[512];
    char depth[USI_TEXT_ROOM];
    char critical[USI_TEXT_ROOM];
    char factor[USI_TEXT_ROOM];
    if (!exit->present) {
        return copy(context, "no downstream bed is used in this section");
    }
    if (!exit->critical.present) {
        (void)snprintf(text, sizeof text, "soil %s has no unit weight", exit->soil);
    } else if (!exit->piping_factor.present && steepest(exit) > 0.0) {
        (void)snprintf(text, sizeof text,
                       "the error is over half the exit gradient: the factor is at least %s, "
                       "critical gradient %s of %s over both together",
                       usi_text_plain(exit->critical.value / steepest(exit), factor),
                       usi_text_plain(exit->critical.value, critical), exit->soil);
    } else if (!exit->piping_factor.present) {
        (void)snprintf(text, sizeof text, "no water leaves the bed");
    } else if (exit->bounded) {
        (void)snprintf(text, sizeof text, "critical gradient %s of %s over the exit gradient",
                       usi_text_plain(exit->critical.value, critical), exit->soil);
    } else {
        (void)snprintf(text, sizeof text,
                       "critical gradient %s of %s over the mean gradient across %s below the "
                       "bed, as the gradient at the point itself is unbounded",
                       usi_text_plain(exit->critical.value, critical), exit->soil,
                       usi_text_length(section, exit->mean_depth_m, depth));
    }
    return copy(context, text);
}

static const char *piping_place(us_context *context, const us_section *section,
                                const us_exit_result *exit)
{
    char text[256];
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    if (!exit->present) {
        return copy(context, "nowhere");
    }
    /* No comma: in CSV it would need quotes, and plain tools split there. */
    (void)snprintf(text, sizeof text, "bed at x = %s and level %s",
                   usi_text_length(section, exit->x_m, x),
                   usi_text_length(section, exit->level_m, level));
    return copy(context, text);
}

static us_verdict judge(const us_section *section, const us_exit_result *exit)
{
    if (!section->requires_piping) {
        return US_NOT_REQUIRED;
    }
    /* No factor means no exit flow, or one that its error hides: the reader has seen
     * to the unit weight. */
    double required = section->required_piping;
    bool passes = exit->piping_factor.present ? exit->piping_factor.value >= required
                                              : exit->critical.value >= required * steepest(exit);
    return passes ? US_PASS : US_FAIL;
}

us_status usi_checks_fill(us_context *context, const us_section *section, us_water_result *result)
{
    us_check_result *check = usi_memory_array(context, 1, sizeof *check);
    if (check == NULL) {
        return US_ERROR_MEMORY;
    }
    check->name = "piping";
    check->value = result->exit.piping_factor;
    check->required = (us_value){section->required_piping, 0.0, section->requires_piping};
    check->verdict = judge(section, &result->exit);
    check->where = piping_place(context, section, &result->exit);
    check->basis = piping_basis(context, section, &result->exit);
    result->checks = check;
    result->check_count = 1;
    return check->where != NULL && check->basis != NULL ? US_OK : US_ERROR_MEMORY;
}
