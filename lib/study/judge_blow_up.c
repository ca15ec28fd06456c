/* Blow-up: a tight layer over a pervious one that water would lift as a whole. */
#include <stdio.h>

#include "study/judge.h"
#include "study/text.h"

static void tell_place(const us_section *section, const us_blow_up_result *blow_up, char *text)
{
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    if (!blow_up->stress_n_m2.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "nowhere");
        return;
    }
    (void)snprintf(text, USI_JUDGE_ROOM, "border of %s and %s at x = %s and level %s",
                   blow_up->upper,
                   blow_up->lower != NULL ? blow_up->lower : "the water below the base",
                   usi_text_length(section, blow_up->x_m, x),
                   usi_text_length(section, blow_up->level_m, level));
}

static void tell_basis(const us_section *section, const us_blow_up_result *blow_up, char *text)
{
    char stress[USI_TEXT_ROOM];
    char pressure[USI_TEXT_ROOM];
    if (!blow_up->present) {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "no tight layer lies over one at least 10 times as pervious downstream of "
                       "the toe");
    } else if (!blow_up->stress_n_m2.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "soil %s has no unit weight", blow_up->unweighed);
    } else {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "total stress %s of saturated soil and water over pore pressure %s%s%s%s",
                       usi_text_pressure(section, blow_up->stress_n_m2.value, stress),
                       usi_text_pressure(section, blow_up->pressure_n_m2.value, pressure),
                       blow_up->unweighed != NULL ? "; soil " : "",
                       blow_up->unweighed != NULL ? blow_up->unweighed : "",
                       blow_up->unweighed != NULL
                           ? " has no unit weight: what lies below it is not judged"
                           : "");
    }
}

static us_verdict judge(const us_blow_up_result *blow_up, usi_requirement limit)
{
    if (!limit.given) {
        return US_NOT_REQUIRED;
    }
    if (!blow_up->present) {
        return US_PASS;
    }
    us_value pressure = blow_up->pressure_n_m2;
    double most_n_m2 = pressure.value + pressure.error;
    bool holds = blow_up->factor.present ? blow_up->factor.value >= limit.value
                                         : blow_up->stress_n_m2.value >= limit.value * most_n_m2;
    if (!blow_up->stress_n_m2.present || (holds && blow_up->unweighed != NULL)) {
        return US_NOT_CHECKED;
    }
    return holds ? US_PASS : US_FAIL;
}

us_status usi_judge_blow_up(const usi_judge *of)
{
    const us_blow_up_result *blow_up = &of->result->blow_up;
    usi_requirement limit = of->section->require.blow_up;
    if (!blow_up->present && !limit.given) {
        return US_OK; /* the section has no such layers */
    }
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    tell_place(of->section, blow_up, where);
    tell_basis(of->section, blow_up, basis);
    us_check_result check = {.name = "blow_up",
                             .value = blow_up->factor,
                             .required = usi_judge_limit(limit),
                             .verdict = judge(blow_up, limit),
                             .where = where,
                             .basis = basis};
    return usi_judge_add(of, &check);
}
