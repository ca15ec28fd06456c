/* Uplift of the structure and its panels, and the limit state UPL. */
#include <stdio.h>

#include "study/judge.h"
#include "study/text.h"

/* The structure, or a panel of it. */
typedef struct body {
    bool whole;
    double from_m;
    double to_m;
    us_value force_n_m;
    double weight_n_m;
    double water_n_m;
    us_value factor;
} body;

static size_t body_count(const us_uplift_result *uplift)
{
    return uplift->panel_count > 1 ? uplift->panel_count + 1 : 1;
}

/* The whole first, then its panels where there are several. */
static body body_at(const usi_judge *of, size_t index)
{
    const us_uplift_result *uplift = &of->result->uplift;
    if (index == 0) {
        return (body){true,
                      of->section->left_end_m,
                      of->section->right_end_m,
                      uplift->force_n_m,
                      uplift->weight_n_m.value,
                      uplift->water_on_top_n_m.value,
                      uplift->factor};
    }
    const us_uplift_panel *panel = &uplift->panels[index - 1];
    return (body){false,
                  panel->from_m,
                  panel->to_m,
                  panel->force_n_m,
                  panel->weight_n_m.value,
                  panel->water_on_top_n_m.value,
                  panel->factor};
}

static void tell_place(const us_section *section, const body *of, char *text)
{
    char from[USI_TEXT_ROOM];
    char until[USI_TEXT_ROOM];
    (void)snprintf(text, USI_JUDGE_ROOM, "%s from x = %s to x = %s",
                   of->whole ? "structure" : "panel", usi_text_length(section, of->from_m, from),
                   usi_text_length(section, of->to_m, until));
}

/* "weight 300 kN/m and water on it 20 kN/m", and whose pore pressure lifts. */
static void tell_holding(const usi_judge *of, const body *one, char *text)
{
    char weight[USI_TEXT_ROOM];
    char water[USI_TEXT_ROOM];
    (void)usi_text_force(of->section, one->weight_n_m, weight);
    if (one->water_n_m > 0.0) {
        (void)snprintf(text, USI_JUDGE_ROOM, "weight %s and water on it %s", weight,
                       usi_text_force(of->section, one->water_n_m, water));
    } else {
        (void)snprintf(text, USI_JUDGE_ROOM, "weight %s", weight);
    }
}

static void tell_source(const us_uplift_result *uplift, char *text)
{
    const char *name = uplift->pressures_from;
    (void)snprintf(text, USI_JUDGE_ROOM, "%s%.200s",
                   name != NULL ? " by the pore pressure of " : "", name != NULL ? name : "");
}

/* Why nothing can be said; NULL where something can. */
static const char *missing(const usi_judge *of)
{
    const us_uplift_result *uplift = &of->result->uplift;
    if (!uplift->weight_n_m.present) {
        return "the weight of the structure is not known: give its `top` and `unit_weight`";
    }
    if (!uplift->force_n_m.present) {
        return "the case that its pore pressure is to be taken from is undermined";
    }
    return NULL;
}

static us_status not_checked(const usi_judge *of, us_check_result check, const char *why)
{
    char where[USI_JUDGE_ROOM];
    body whole = body_at(of, 0);
    tell_place(of->section, &whole, where);
    check.verdict = US_NOT_CHECKED;
    check.where = where;
    check.basis = why;
    return usi_judge_add(of, &check);
}

/* The factor at the far end of the error of U; what is not lifted at all has none. */
static bool may_fail(const body *of, double least)
{
    double most_n_m = of->force_n_m.value + of->force_n_m.error;
    return of->weight_n_m + of->water_n_m < least * most_n_m;
}

/* Whichever has the smallest factor; of those without one, which may fail. */
static body worst_factor(const usi_judge *of, bool *fails)
{
    usi_requirement least = of->section->require.uplift;
    body worst = body_at(of, 0);
    *fails = false;
    for (size_t k = 0; k < body_count(&of->result->uplift); k++) {
        body one = body_at(of, k);
        if (!one.factor.present) {
            bool bad = least.given && may_fail(&one, least.value);
            worst = bad && !*fails ? one : worst;
            *fails = *fails || bad;
        } else if (!*fails && (!worst.factor.present || one.factor.value < worst.factor.value)) {
            worst = one;
        }
    }
    return worst;
}

us_status usi_judge_uplift(const usi_judge *of)
{
    const us_uplift_result *uplift = &of->result->uplift;
    usi_requirement least = of->section->require.uplift;
    us_check_result check = {.name = "uplift", .required = usi_judge_limit(least)};
    if (!uplift->present) {
        return US_OK;
    }
    const char *why = missing(of);
    if (why != NULL) {
        return not_checked(of, check, why);
    }
    bool fails = false;
    body worst = worst_factor(of, &fails);
    char where[USI_JUDGE_ROOM];
    char holding[USI_JUDGE_ROOM];
    char source[USI_JUDGE_ROOM];
    char lifting[USI_TEXT_ROOM];
    char basis[3 * USI_JUDGE_ROOM];
    tell_place(of->section, &worst, where);
    tell_holding(of, &worst, holding);
    tell_source(uplift, source);
    (void)usi_text_force(of->section, worst.force_n_m.value, lifting);
    (void)snprintf(basis, sizeof basis,
                   worst.factor.present
                       ? "%s over uplift %s%s; suction counts as none%s; trough of a hydraulic "
                         "jump, pressure fluctuation and stagnation pressure at open joints are "
                         "not included"
                       : "%s against uplift %s%s, which is not known well enough to divide by, or "
                         "may be none%s",
                   holding, lifting, source,
                   body_count(uplift) > 1 ? "; the least of the structure and its panels" : "");
    check.value = worst.factor;
    check.where = where;
    check.basis = basis;
    if (fails) {
        check.verdict = US_FAIL;
    } else if (!worst.factor.present && least.given) {
        check.verdict = US_PASS;
    }
    return usi_judge_add(of, &check);
}

/* dst U over stb (W + Ww); absent where nothing holds. */
static us_value utilisation(const usi_partial_factors *factors, const body *of)
{
    double holding_n_m = factors->stb * (of->weight_n_m + of->water_n_m);
    if (!(holding_n_m > 0.0)) {
        return (us_value){0.0, 0.0, false};
    }
    double share = factors->dst / holding_n_m;
    return (us_value){share * of->force_n_m.value, share * of->force_n_m.error, true};
}

/* What is used most; what weighs nothing comes before all, unless nothing lifts it. */
static body worst_use(const usi_judge *of, us_value *use)
{
    const usi_partial_factors *factors = &of->section->limit_states.upl;
    body worst = body_at(of, 0);
    *use = utilisation(factors, &worst);
    for (size_t k = 1; k < body_count(&of->result->uplift) && use->present; k++) {
        body one = body_at(of, k);
        us_value found = utilisation(factors, &one);
        bool lifted = one.force_n_m.value > one.force_n_m.error;
        if (found.present ? found.value > use->value : lifted) {
            worst = one;
            *use = found;
        }
    }
    return worst;
}

us_status usi_judge_upl(const usi_judge *of)
{
    const us_uplift_result *uplift = &of->result->uplift;
    const usi_partial_factors *factors = &of->section->limit_states.upl;
    us_check_result check = {.name = "upl", .required = {1.0, 0.0, true}, .at_most = true};
    if (!uplift->present || !factors->asked) {
        return US_OK;
    }
    const char *why = missing(of);
    if (why != NULL) {
        return not_checked(of, check, why);
    }
    body worst = worst_use(of, &check.value);
    char where[USI_JUDGE_ROOM];
    char holding[USI_JUDGE_ROOM];
    char source[USI_JUDGE_ROOM];
    char lifting[USI_TEXT_ROOM];
    char dst[USI_TEXT_ROOM];
    char stb[USI_TEXT_ROOM];
    char basis[4 * USI_JUDGE_ROOM];
    tell_place(of->section, &worst, where);
    tell_holding(of, &worst, holding);
    tell_source(uplift, source);
    (void)snprintf(basis, sizeof basis,
                   "EN 1997-1 (2.8) with permanent actions and without friction or anchors: %s "
                   "times uplift %s%s over %s times %s%s%s",
                   usi_text_plain(factors->dst, dst),
                   usi_text_force(of->section, worst.force_n_m.value, lifting), source,
                   usi_text_plain(factors->stb, stb), holding,
                   factors->own ? ""
                                : "; partial factors that the file leaves open are the standard's "
                                  "recommended values (from memory)",
                   check.value.present ? "" : "; nothing holds this part down");
    if (!check.value.present) {
        check.verdict = worst.force_n_m.value > worst.force_n_m.error ? US_FAIL : US_PASS;
    }
    check.where = where;
    check.basis = basis;
    return usi_judge_add(of, &check);
}
