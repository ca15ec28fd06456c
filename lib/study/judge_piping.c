/* Piping: critical gradient over exit gradient, at the exit where that is smallest. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "study/exit_places.h"
#include "study/judge.h"
#include "study/text.h"

/* Room for the name of a soil or drain that a check mentions. */
enum { NAME_SHOWN = 120 };

static const char *what_is(const us_exit_place *place)
{
    static const char *const words[][2] = {{"toe", "bed beside the toe"},
                                           {"wall", "bed beside wall"},
                                           {"step", "foot of a step in the bed"},
                                           {"seal", "end of sealed bed"},
                                           {"waterline", "bed where it rises out of the water"},
                                           {"drain", "drain"},
                                           {"weeps", "weeps"},
                                           {"permeable", "permeable stretch of the underside"}};
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        if (strcmp(place->kind, words[k][0]) == 0) {
            return words[k][1];
        }
    }
    return "bed";
}

static void tell_place(const us_section *section, const us_exit_place *place, char *text)
{
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    /* No comma: in CSV it would need quotes, and plain tools split there. */
    (void)snprintf(text, USI_JUDGE_ROOM, "%s%s%.*s%s at x = %s and level %s", what_is(place),
                   place->name != NULL ? " `" : "", NAME_SHOWN,
                   place->name != NULL ? place->name : "", place->name != NULL ? "`" : "",
                   usi_text_length(section, place->x_m, x),
                   usi_text_length(section, place->level_m, level));
}

/* "the exit gradient", and what it is a mean of. */
static void tell_gradient(const us_section *section, const us_exit_place *place, char *text)
{
    char depth[USI_TEXT_ROOM];
    if (place->gradient.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "the exit gradient");
    } else if (place->mean_depth_m > 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "the mean gradient across %s below the bed, as the gradient at the point "
                       "itself is unbounded",
                       usi_text_length(section, place->mean_depth_m, depth));
    } else if (strcmp(place->kind, "weeps") == 0) {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "the mean gradient over its open holes; no filter is counted");
    } else {
        (void)snprintf(
            text, USI_JUDGE_ROOM,
            "the mean gradient over its face, as it is unbounded at the edges; no filter "
            "is counted");
    }
}

/* " on a slope of 18.43 degrees under water", or nothing on level bed. */
static void tell_slope(const us_exit_place *place, char *text)
{
    const double degree_rad = 3.14159265358979323846 / 180.0;
    char angle[USI_TEXT_ROOM];
    text[0] = '\0';
    if (place->slope_rad > 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM, " on a slope of %s degrees%s",
                       usi_text_plain(place->slope_rad / degree_rad, angle),
                       place->emerges ? " out of the water" : "");
    }
}

static void tell_basis(const us_section *section, const us_exit_place *place, char *text)
{
    char gradient[USI_JUDGE_ROOM];
    char slope[USI_JUDGE_ROOM];
    char critical[USI_TEXT_ROOM];
    char factor[USI_TEXT_ROOM];
    (void)usi_text_plain(place->critical.value, critical);
    tell_gradient(section, place, gradient);
    tell_slope(place, slope);
    if (place->critical.value <= 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "%.*s%.100s slides at any gradient: no water may leave it there", NAME_SHOWN,
                       place->soil, slope);
    } else if (place->factor.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "critical gradient %s of %.*s%.100s over %.300s",
                       critical, NAME_SHOWN, place->soil, slope, gradient);
    } else {
        (void)snprintf(
            text, USI_JUDGE_ROOM,
            "the error is over half the exit gradient: the factor is at least %s, critical "
            "gradient %s of %.*s%.100s over both together",
            usi_text_plain(usi_exit_place_least(place), factor), critical, NAME_SHOWN, place->soil,
            slope);
    }
}

/* The first place where something is lacking and water may leave. */
static const us_exit_place *find_lacking(const us_exit_result *exit)
{
    for (size_t k = 0; exit->exits != NULL && k < exit->exit_count; k++) {
        us_value steep = usi_exit_place_steep(&exit->exits[k]);
        bool open = exit->exits[k].lacks != NULL && !exit->exits[k].retained;
        if (open && steep.present && steep.value + steep.error > 0.0) {
            return &exit->exits[k];
        }
    }
    return NULL;
}

static us_status add_lacking(const usi_judge *of, us_check_result check, const us_exit_place *place)
{
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    char slope[USI_JUDGE_ROOM];
    tell_place(of->section, place, where);
    tell_slope(place, slope);
    bool angle = strcmp(place->lacks, "friction_angle") == 0;
    (void)snprintf(basis, sizeof basis, "soil %.*s has no %s%s%.100s%s", NAME_SHOWN, place->soil,
                   place->lacks, angle ? ", and the bed lies" : "", angle ? slope : "",
                   angle ? ": what gradient it bears there is not known" : "");
    check.value = (us_value){0.0, 0.0, false};
    check.verdict = US_NOT_CHECKED;
    check.where = where;
    check.basis = basis;
    return usi_judge_add(of, &check);
}

/* No place at which a factor could be formed. */
static us_status add_none(const usi_judge *of, us_check_result *check)
{
    bool exits = of->result->exit.present || of->result->exit.exit_count > 0;
    if (check->required.present) {
        check->verdict = exits ? US_PASS : US_NOT_CHECKED;
    }
    check->where = exits ? "bed downstream" : "nowhere";
    check->basis = exits ? "no water leaves the bed" : "no downstream bed is used in this section";
    return usi_judge_add(of, check);
}

us_status usi_judge_piping(const usi_judge *of)
{
    const us_exit_result *exit = &of->result->exit;
    usi_requirement limit = of->section->require.piping;
    us_check_result check = {.name = "piping", .required = usi_judge_limit(limit)};
    const us_exit_place *worst = exit->worst < exit->exit_count ? &exit->exits[exit->worst] : NULL;
    double least = HUGE_VAL;
    if (worst != NULL) {
        least = worst->factor.present ? worst->factor.value : usi_exit_place_least(worst);
    }
    bool fails = limit.given && least < limit.value;
    const us_exit_place *lacking = find_lacking(exit);
    if (lacking != NULL && !fails) {
        return add_lacking(of, check, lacking);
    }
    if (worst == NULL) {
        return add_none(of, &check);
    }
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    tell_place(of->section, worst, where);
    tell_basis(of->section, worst, basis);
    check.value = worst->factor;
    if (limit.given && !worst->factor.present) {
        /* Hidden by its error: it is at least that. */
        check.verdict = fails ? US_FAIL : US_PASS;
    }
    check.where = where;
    check.basis = basis;
    return usi_judge_add(of, &check);
}
