/* Openings, ends of the wall, walls as pieces of steel. */
#include <math.h>
#include <stdio.h>

#include "model/works.h"
#include "quantity/creep.h"
#include "study/judge.h"
#include "study/results_works.h"
#include "study/text.h"

/* The worst of several candidates goes into the register: one that fails before one that is not
 * known, that before one that keeps to the limit. */
typedef struct worst {
    us_check_result check;
    int rank; /* -1: none yet */
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
} worst;

static worst begin(const char *name, usi_requirement limit, bool at_most)
{
    return (worst){.check = {.name = name, .required = usi_judge_limit(limit), .at_most = at_most},
                   .rank = -1};
}

/* True when a candidate is the worst so far: then its words have to be told. */
static bool take(worst *of, us_value value, us_verdict verdict)
{
    const us_check_result *check = &of->check;
    double limit = check->required.value;
    bool fails = value.present && check->required.present &&
                 (check->at_most ? value.value > limit : value.value < limit);
    int rank = fails ? 3 : verdict == US_NOT_CHECKED ? 2 : value.present ? 1 : 0;
    bool beyond =
        check->at_most ? value.value > check->value.value : value.value < check->value.value;
    if (rank < of->rank || (rank == of->rank && (!value.present || !beyond))) {
        return false;
    }
    of->rank = rank;
    of->check.value = value;
    of->check.verdict = fails ? US_NOT_REQUIRED : verdict;
    return true;
}

static us_status finish(const usi_judge *of, worst *found)
{
    found->check.where = found->where;
    found->check.basis = found->basis;
    return usi_judge_add(of, &found->check);
}

/* Where there is nothing to judge: only said when a limit was set. */
static us_status nothing(const usi_judge *of, worst *found, us_verdict verdict, const char *why)
{
    if (!found->check.required.present) {
        return US_OK;
    }
    found->check.verdict = verdict;
    (void)snprintf(found->where, USI_JUDGE_ROOM, "nowhere");
    (void)snprintf(found->basis, USI_JUDGE_ROOM, "%s", why);
    return finish(of, found);
}

/* A small length in mm. */
static char *text_mm(double length_m, char *text)
{
    const double mm = 1e3;
    char number[USI_TEXT_ROOM];
    (void)snprintf(text, USI_TEXT_ROOM, "%.40s mm", usi_text_plain(length_m * mm, number));
    return text;
}

static void tell_opening(const us_section *section, const us_opening_result *opening, worst *found)
{
    static const char *const kinds[] = {
        [US_OPENING_WEEPS] = "weeps",       [US_OPENING_DRAIN] = "drain",
        [US_OPENING_PERMEABLE] = "stretch", [US_OPENING_HOLE] = "hole in wall",
        [US_OPENING_SLOT] = "slot at wall", [US_OPENING_GAP] = "gap above wall",
    };
    char x[USI_TEXT_ROOM];
    char level[USI_TEXT_ROOM];
    char size[USI_TEXT_ROOM];
    char grain[USI_TEXT_ROOM];
    (void)snprintf(found->where, USI_JUDGE_ROOM, "%s %.200s at x = %s and level %s",
                   kinds[opening->kind], opening->name, usi_text_length(section, opening->x_m, x),
                   usi_text_length(section, opening->level_m, level));
    const char *held = opening->retained_by != NULL
                           ? ""
                           : "; nothing is said to retain the soil there and a small exit gradient "
                             "does not make up for that";
    if (opening->ratio.present) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM, "opening %s%s%.120s over d85 %s of %.200s%s",
                       text_mm(opening->size_m.value, size),
                       opening->retained_by != NULL ? " of " : "",
                       opening->retained_by != NULL ? opening->retained_by : "",
                       text_mm(opening->d85_m.value, grain), opening->soil, held);
    } else if (opening->retained_by != NULL && !opening->size_m.present) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM,
                       "retained by %.120s as the section file says; the rules for it are not "
                       "checked",
                       opening->retained_by);
    } else {
        (void)snprintf(found->basis, USI_JUDGE_ROOM, "%s%s%.200s%s%s",
                       opening->size_m.present ? "" : "the size of the opening is not known",
                       opening->size_m.present  ? "the d85 of soil "
                       : opening->d85_m.present ? ""
                                                : "; neither is the d85 of soil ",
                       opening->d85_m.present ? "" : opening->soil,
                       opening->size_m.present ? " is not known" : "", held);
    }
}

us_status usi_judge_retention(const usi_judge *of)
{
    const us_works_result *works = of->result->works;
    worst found = begin("retention", of->section->require.retention, true);
    for (size_t i = 0; i < works->opening_count; i++) {
        const us_opening_result *opening = &works->openings[i];
        bool on_word = opening->retained_by != NULL && !opening->size_m.present;
        us_verdict verdict = US_NOT_REQUIRED;
        if (on_word && found.check.required.present) {
            verdict = US_PASS;
        } else if (!on_word && !opening->ratio.present) {
            verdict = US_NOT_CHECKED;
        }
        if (take(&found, opening->ratio, verdict)) {
            tell_opening(of->section, opening, &found);
        }
    }
    return found.rank >= 0 ? finish(of, &found)
                           : nothing(of, &found, US_PASS,
                                     "the works have no opening that soil is lost through");
}

/* From the higher bed where it meets the works down to the deepest tip; 0 without a wall. */
static double wall_depth(const us_section *section)
{
    double bed_m = fmax(usi_section_surface(section, section->left_end_m, false),
                        usi_section_surface(section, section->right_end_m, true));
    double tip_m = bed_m;
    for (size_t i = 0; i < section->wall_count; i++) {
        tip_m = fmin(tip_m, section->walls[i].tip_m);
    }
    return bed_m - tip_m;
}

us_status usi_judge_banks(const usi_judge *of)
{
    const us_section *section = of->section;
    const usi_length *banks[2] = {&section->banks.left, &section->banks.right};
    static const char *const names[2] = {"left bank", "right bank"};
    worst found = begin("banks", section->require.banks, false);
    double depth_m = wall_depth(section);
    if (depth_m <= 0.0) {
        return nothing(of, &found, US_NOT_CHECKED, "there is no wall below the bed");
    }
    for (size_t k = 0; section->banks.given && k < 2; k++) {
        us_value ratio = {banks[k]->given ? banks[k]->m / depth_m : 0.0, 0.0, banks[k]->given};
        if (take(&found, ratio, banks[k]->given ? US_NOT_REQUIRED : US_NOT_CHECKED)) {
            char key[USI_TEXT_ROOM];
            char depth[USI_TEXT_ROOM];
            (void)snprintf(found.where, USI_JUDGE_ROOM, "%s", names[k]);
            (void)snprintf(found.basis, USI_JUDGE_ROOM,
                           "%s over %s from the higher bed down to the deepest tip; flow round the "
                           "end itself is not worked out",
                           banks[k]->given ? usi_text_length(section, banks[k]->m, key)
                                           : "a key-in that is not given",
                           usi_text_length(section, depth_m, depth));
        }
    }
    return found.rank >= 0 ? finish(of, &found)
                           : nothing(of, &found, US_NOT_CHECKED, "the section file has no `banks`");
}

static void tell_wall(const us_section *section, size_t wall, worst *found)
{
    char x[USI_TEXT_ROOM];
    (void)snprintf(found->where, USI_JUDGE_ROOM, "wall %.200s at x = %s", section->walls[wall].name,
                   usi_text_length(section, section->walls[wall].x_m, x));
}

static void tell_embedment(const us_section *section, const us_wall_works *wall, worst *found)
{
    char length[USI_TEXT_ROOM];
    char cap[USI_TEXT_ROOM];
    if (wall->gap_m.present) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM,
                       "the wall ends %s below the underside: water passes between them",
                       usi_text_length(section, wall->gap_m.value, length));
    } else if (wall->embedment_m.value <= 0.0) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM,
                       "the wall ends at the underside and does not reach into the structure");
    } else {
        (void)snprintf(found->basis, USI_JUDGE_ROOM, "%s of wall in %s of structure",
                       usi_text_length(section, wall->embedment_m.value, length),
                       wall->cap_m.present ? usi_text_length(section, wall->cap_m.value, cap)
                                           : "an unknown thickness");
    }
}

us_status usi_judge_embedment(const usi_judge *of)
{
    const us_works_result *works = of->result->works;
    worst found = begin("wall_embedment", of->section->require.wall_embedment, false);
    for (size_t i = 0; i < works->wall_count; i++) {
        const us_wall_works *wall = &works->walls[i];
        bool unknown = !wall->embedment_share.present && found.check.required.present;
        if (wall->embedment_m.present &&
            take(&found, wall->embedment_share, unknown ? US_NOT_CHECKED : US_NOT_REQUIRED)) {
            tell_wall(of->section, i, &found);
            tell_embedment(of->section, wall, &found);
        }
    }
    return found.rank >= 0
               ? finish(of, &found)
               : nothing(of, &found, US_NOT_CHECKED, "no wall stands under a structure");
}

static void tell_rust(const usi_wall *wall, const us_wall_works *works, worst *found)
{
    char left[USI_TEXT_ROOM];
    char whole[USI_TEXT_ROOM];
    char loss[USI_TEXT_ROOM];
    char years[USI_TEXT_ROOM];
    char from[USI_JUDGE_ROOM / 2] = "as given";
    if (!wall->corrosion.given) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM, "the wall has no `corrosion`");
        return;
    }
    if (wall->corrosion.by_table) {
        (void)snprintf(from, sizeof from, "%s in %s years by EN 1993-5 table %s",
                       usi_environments[wall->corrosion.environment],
                       usi_text_plain(wall->corrosion.life_years, years),
                       usi_environment_is_soil(wall->corrosion.environment) ? "4-1" : "4-2");
    }
    (void)snprintf(found->basis, USI_JUDGE_ROOM,
                   "%s of %s are left when each side has lost %s (%s)",
                   text_mm(works->left_m.value, left), text_mm(wall->sheet.thickness_m, whole),
                   text_mm(works->loss_m.value, loss), from);
}

us_status usi_judge_corrosion(const usi_judge *of)
{
    const us_works_result *works = of->result->works;
    worst found = begin("corrosion", of->section->require.corrosion, false);
    for (size_t i = 0; i < works->wall_count; i++) {
        bool known = works->walls[i].left_share.present;
        bool asked = known || found.check.required.present;
        if (asked &&
            take(&found, works->walls[i].left_share, known ? US_NOT_REQUIRED : US_NOT_CHECKED)) {
            tell_wall(of->section, i, &found);
            tell_rust(&of->section->walls[i], &works->walls[i], &found);
        }
    }
    return found.rank >= 0 ? finish(of, &found)
                           : nothing(of, &found, US_NOT_CHECKED, "there is no wall");
}

static void tell_load(const us_section *section, const us_wall_works *works, worst *found)
{
    char friction[USI_TEXT_ROOM];
    char load[USI_TEXT_ROOM];
    char weight[USI_TEXT_ROOM];
    if (works->lacks != NULL) {
        (void)snprintf(found->basis, USI_JUDGE_ROOM, "not worked out: %s", works->lacks);
        return;
    }
    (void)snprintf(
        found->basis, USI_JUDGE_ROOM,
        "friction %s on both faces over load %s and weight %s; overburden is the weight of "
        "the soil under water without seepage; nothing counts at the tip",
        usi_text_force(section, works->friction_n_m.value, friction),
        usi_text_force(section, works->load_n_m.value, load),
        usi_text_force(section, works->weight_n_m.value, weight));
}

us_status usi_judge_load(const usi_judge *of)
{
    const us_works_result *works = of->result->works;
    worst found = begin("wall_load", of->section->require.wall_load, false);
    for (size_t i = 0; i < works->wall_count; i++) {
        const us_wall_works *wall = &works->walls[i];
        if (wall->load_n_m.present &&
            take(&found, wall->load_factor,
                 wall->lacks != NULL ? US_NOT_CHECKED : US_NOT_REQUIRED)) {
            tell_wall(of->section, i, &found);
            tell_load(of->section, wall, &found);
        }
    }
    return found.rank >= 0 ? finish(of, &found)
                           : nothing(of, &found, US_NOT_CHECKED, "no wall has a `load`");
}
