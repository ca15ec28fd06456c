/* Heave: prisms of soil that seepage would lift, by one factor and by partial factors. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "study/judge.h"
#include "study/text.h"

/* Prisms that are alike in theory: the first is taken, whatever rounding says. */
static const double TIE = 1e-6;

/* Seepage force over submerged weight, whatever the error. */
static double danger_of(const us_prism_result *prism)
{
    return prism->seepage_n_m.value / prism->submerged_n_m.value;
}

/* The prism with the least effective-stress factor; NULL where none could be weighed. */
static const us_prism_result *find_worst(const us_heave_result *heave)
{
    const us_prism_result *worst = NULL;
    for (size_t k = 0; k < heave->prism_count; k++) {
        const us_prism_result *prism = &heave->prisms[k];
        bool known = prism->submerged_n_m.present;
        if (known &&
            (worst == NULL || danger_of(prism) - danger_of(worst) > TIE * fabs(danger_of(worst)))) {
            worst = prism;
        }
    }
    return worst;
}

/* Three digits of a depth are enough for where a prism is, of a head for how large. */
static double rounded(double value_m, double size_m)
{
    const double share = 1e-3;
    double step_m = share * pow(10.0, floor(log10(size_m)));
    return step_m > 0.0 ? step_m * round(value_m / step_m) : value_m;
}

static void tell_place(const us_section *section, const us_prism_result *prism, char *text)
{
    static const char *const kinds[] = {[US_PRISM_TOE] = "beside the toe down to its tip",
                                        [US_PRISM_DEPTH] = "beside the toe",
                                        [US_PRISM_BED] = "along the bed"};
    char from[USI_TEXT_ROOM];
    char until[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    if (prism == NULL) {
        (void)snprintf(text, USI_JUDGE_ROOM, "nowhere");
        return;
    }
    (void)snprintf(text, USI_JUDGE_ROOM, "prism %s from x = %s to %s above level %s%s",
                   kinds[prism->kind],
                   usi_text_length(section, rounded(prism->from_m, prism->depth_m), from),
                   usi_text_length(section, rounded(prism->to_m, prism->depth_m), until),
                   usi_text_length(section, rounded(prism->level_m, prism->depth_m), level),
                   prism->narrow ? " (kept narrow by a wall or a side)" : "");
}

/* Adds to what a text says already. */
static void tell_more(char *text, const char *before, const char *name, const char *after)
{
    size_t used = strlen(text);
    (void)snprintf(text + used, USI_JUDGE_ROOM - used, "%s%s%s", before, name, after);
}

/* Why there is no prism to judge; NULL prism. */
static void tell_lack(const usi_judge *of, char *text)
{
    const char *unweighed = of->result->heave.unweighed;
    if (unweighed != NULL) {
        (void)snprintf(text, USI_JUDGE_ROOM, "soil %s has no unit weight", unweighed);
    } else {
        (void)snprintf(text, USI_JUDGE_ROOM, "%s",
                       of->result->exit.present ? "no prism fits below the bed"
                                                : "no downstream bed is used in this section");
    }
}

static void tell_unweighed(const usi_judge *of, char *text)
{
    if (of->result->heave.unweighed != NULL) {
        tell_more(text, "; soil ", of->result->heave.unweighed,
                  " has no unit weight: prisms that reach into it are not judged");
    }
}

static void tell_effective(const usi_judge *of, const us_prism_result *prism, char *text)
{
    char weight[USI_TEXT_ROOM];
    char force[USI_TEXT_ROOM];
    char excess[USI_TEXT_ROOM];
    const us_section *section = of->section;
    double excess_m = prism->head_m.value - prism->water_m;
    if (prism->seepage_n_m.value + prism->seepage_n_m.error <= 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM, "no water rises through it");
    } else {
        (void)snprintf(text, USI_JUDGE_ROOM,
                       "submerged weight %s over seepage force %s (mean excess head %s): effective "
                       "stress; soil above the water counts as saturated",
                       usi_text_force(section, prism->submerged_n_m.value, weight),
                       usi_text_force(section, prism->seepage_n_m.value, force),
                       usi_text_length(section, rounded(excess_m, fabs(excess_m)), excess));
        if (!prism->factor.present) {
            char factor[USI_TEXT_ROOM];
            double most_n_m = prism->seepage_n_m.value + prism->seepage_n_m.error;
            tell_more(text, "; the error is over half the force: the factor is at least ",
                      usi_text_plain(prism->submerged_n_m.value / most_n_m, factor), "");
        }
    }
}

/* A limit on `value`, or on what it is at the far end of its error where it has no number; what
 * could not be judged is no pass. */
static us_verdict judge(const usi_judge *of, const us_prism_result *prism, usi_requirement limit)
{
    const us_heave_result *heave = &of->result->heave;
    if (!limit.given) {
        return US_NOT_REQUIRED;
    }
    if (prism == NULL) {
        return of->result->exit.present ? US_NOT_CHECKED : US_PASS;
    }
    double most_n_m = prism->seepage_n_m.value + prism->seepage_n_m.error;
    bool holds = prism->factor.present ? prism->factor.value >= limit.value
                                       : prism->submerged_n_m.value >= limit.value * most_n_m;
    if (holds && heave->unweighed != NULL) {
        return US_NOT_CHECKED;
    }
    return holds ? US_PASS : US_FAIL;
}

static us_status judge_effective(const usi_judge *of, const us_prism_result *prism)
{
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    usi_requirement limit = of->section->require.heave;
    tell_place(of->section, prism, where);
    if (prism == NULL) {
        tell_lack(of, basis);
    } else {
        tell_effective(of, prism, basis);
        tell_unweighed(of, basis);
    }
    us_check_result check = {.name = "heave",
                             .required = usi_judge_limit(limit),
                             .verdict = judge(of, prism, limit),
                             .where = where,
                             .basis = basis};
    if (prism != NULL) {
        check.value = prism->factor;
    }
    return usi_judge_add(of, &check);
}

static us_status judge_total(const usi_judge *of, const us_prism_result *prism)
{
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    char weight[USI_TEXT_ROOM];
    char pressure[USI_TEXT_ROOM];
    if (prism == NULL) {
        return US_OK;
    }
    tell_place(of->section, prism, where);
    (void)snprintf(
        basis, USI_JUDGE_ROOM,
        "weight of saturated soil and water %s over pore pressure %s: total stress. CAUTION: the "
        "water above stands in both; under deep tailwater this factor tends to 1 and hides how "
        "near the soil is to lifting; require.heave does not go by it",
        usi_text_force(of->section, prism->weight_n_m.value + prism->water_n_m, weight),
        usi_text_force(of->section, prism->pressure_n_m.value, pressure));
    us_check_result check = {
        .name = "heave_total", .value = prism->total_factor, .where = where, .basis = basis};
    return usi_judge_add(of, &check);
}

us_status usi_judge_heave(const usi_judge *of)
{
    const us_prism_result *prism = find_worst(&of->result->heave);
    us_status status = judge_effective(of, prism);
    return status == US_OK ? judge_total(of, prism) : status;
}

/* --- HYD, EN 1997-1 --- */

/* Where the recommended values come from. */
static const char *origin_of(const usi_partial_factors *factors)
{
    return factors->own ? ""
                        : "; what the file leaves open is recommended by EN 1997-1 (from memory): "
                          "your country may have chosen another";
}

/* `value` at most 1; what could not be worked out is no pass. */
static us_status add_utilisation(const usi_judge *of, us_check_result *check)
{
    check->at_most = true;
    check->required = (us_value){1.0, 0.0, true};
    if (!check->value.present) {
        check->verdict = US_NOT_CHECKED;
    }
    return usi_judge_add(of, check);
}

/* The prism that 2.9a is applied to: beside the toe where there is an embedment; every other
 * depth would only show the factor on hydrostatic pressure. */
static const us_prism_result *total_prism(const us_heave_result *heave)
{
    for (size_t k = 0; k < heave->prism_count; k++) {
        if (heave->prisms[k].weight_n_m.present) {
            return &heave->prisms[k];
        }
        if (heave->prisms[k].kind == US_PRISM_TOE) {
            return NULL;
        }
    }
    return NULL;
}

/* A pore pressure, as head over the lower side, over the stress there, both with their factors. */
static us_value utilisation(const usi_judge *of, const us_prism_result *prism, us_value head_m)
{
    const usi_partial_factors *factors = &of->section->limit_states.hyd;
    double water_n_m3 = of->section->water_unit_weight_n_m3;
    double width_m = prism->to_m - prism->from_m;
    double stress_pa = factors->stb * (prism->weight_n_m.value + prism->water_n_m) / width_m;
    double unit = factors->dst * water_n_m3 / stress_pa;
    return (us_value){fmax(unit * (head_m.value - prism->level_m), 0.0), unit * head_m.error,
                      head_m.present};
}

static us_status judge_hyd_total(const usi_judge *of)
{
    const us_prism_result *prism = total_prism(&of->result->heave);
    const usi_partial_factors *factors = &of->section->limit_states.hyd;
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    us_check_result check = {.name = "hyd_total", .where = where, .basis = basis};
    tell_place(of->section, prism, where);
    if (prism == NULL) {
        tell_lack(of, basis);
        return add_utilisation(of, &check);
    }
    us_value mean = utilisation(of, prism, prism->head_m);
    us_value tip = utilisation(of, prism, prism->corner_m);
    check.value = tip.value > mean.value ? tip : mean;
    char words[6][USI_TEXT_ROOM];
    double width_m = prism->to_m - prism->from_m;
    double water_n_m3 = of->section->water_unit_weight_n_m3;
    double stress_pa = (prism->weight_n_m.value + prism->water_n_m) / width_m;
    (void)snprintf(
        basis, USI_JUDGE_ROOM,
        "EN 1997-1 (2.9a): %s times pore pressure over %s times total stress %s; %s with the mean "
        "pressure over the prism and %s with the %s at its corner by the wall; the worse decides. "
        "The "
        "factor is on hydrostatic pressure too: deep tailwater uses it up%s",
        usi_text_plain(factors->dst, words[0]), usi_text_plain(factors->stb, words[1]),
        usi_text_pressure(of->section, stress_pa, words[2]), usi_text_plain(mean.value, words[3]),
        usi_text_plain(tip.value, words[4]),
        usi_text_pressure(of->section, water_n_m3 * (prism->corner_m.value - prism->level_m),
                          words[5]),
        origin_of(factors));
    return add_utilisation(of, &check);
}

static us_status judge_hyd_effective(const usi_judge *of)
{
    const us_prism_result *prism = find_worst(&of->result->heave);
    const usi_partial_factors *factors = &of->section->limit_states.hyd;
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    us_check_result check = {.name = "hyd_effective", .where = where, .basis = basis};
    tell_place(of->section, prism, where);
    if (prism == NULL) {
        tell_lack(of, basis);
        return add_utilisation(of, &check);
    }
    double unit = factors->dst / (factors->stb * prism->submerged_n_m.value);
    check.value = (us_value){fmax(unit * prism->seepage_n_m.value, 0.0),
                             unit * prism->seepage_n_m.error, true};
    char words[4][USI_TEXT_ROOM];
    (void)snprintf(
        basis, USI_JUDGE_ROOM,
        "EN 1997-1 (2.9b): %s times seepage force %s over %s times submerged weight %s%s",
        usi_text_plain(factors->dst, words[0]),
        usi_text_force(of->section, prism->seepage_n_m.value, words[1]),
        usi_text_plain(factors->stb, words[2]),
        usi_text_force(of->section, prism->submerged_n_m.value, words[3]), origin_of(factors));
    tell_unweighed(of, basis);
    bool keeps = check.value.value <= 1.0;
    if (keeps && of->result->heave.unweighed != NULL) {
        check.verdict = US_NOT_CHECKED;
    }
    return add_utilisation(of, &check);
}

us_status usi_judge_hyd(const usi_judge *of)
{
    if (!of->section->limit_states.hyd.asked) {
        return US_OK;
    }
    us_status status = judge_hyd_total(of);
    return status == US_OK ? judge_hyd_effective(of) : status;
}
