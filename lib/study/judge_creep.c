/* Creep: length of the way along the works over the head difference. */
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/scale.h"
#include "model/works.h"
#include "quantity/creep.h"
#include "study/judge.h"
#include "study/results_works.h"
#include "study/text.h"

enum { WAY_ROOM = 288 };

static const char *const rule_names[] = {[USI_CREEP_BLIGH] = "Bligh", [USI_CREEP_LANE] = "Lane"};

/* The limit, and where it comes from; `from` has USI_JUDGE_ROOM bytes. */
typedef struct limit {
    us_value ratio;
    bool unknown; /* asked for, and a soil has no ratio */
    char *from;
} limit;

static void take_soil(const usi_soil *soil, usi_creep_rule rule, limit *found)
{
    double ratio = soil->has_creep_class ? usi_creep_ratio(soil->creep_class, rule) : 0.0;
    if (found->unknown) {
        return;
    }
    if (ratio <= 0.0) {
        found->unknown = true;
        found->ratio = (us_value){0};
        (void)snprintf(
            found->from, USI_JUDGE_ROOM,
            soil->has_creep_class
                ? "soil %.200s touches the works and %s's list has no ratio for its class %s"
                : "soil %.200s touches the works and has no creep_class",
            soil->name, rule_names[rule],
            soil->has_creep_class ? usi_creep_classes[soil->creep_class] : "");
    } else if (!found->ratio.present || ratio > found->ratio.value) {
        found->ratio = (us_value){ratio, 0.0, true};
        (void)snprintf(found->from, USI_JUDGE_ROOM,
                       "the ratio required is that of %s's list for %s (soil %.200s)",
                       rule_names[rule], usi_creep_classes[soil->creep_class], soil->name);
    }
}

static us_status find_limit(const usi_judge *of, limit *found)
{
    const us_section *section = of->section;
    const usi_require_creep *require = &section->require.creep;
    found->from[0] = '\0';
    if (!require->given || require->ratio.given) {
        found->ratio = usi_judge_limit(require->ratio);
        return US_OK;
    }
    bool *touched = usi_memory_array(of->context, section->soil_count, sizeof *touched);
    usi_creep_path path = {0};
    us_status status =
        touched != NULL ? usi_creep_make(of->context, section, &path) : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = usi_creep_soils(of->context, section, &path, touched);
    }
    for (size_t i = 0; status == US_OK && i < section->soil_count; i++) {
        if (touched[i]) {
            take_soil(&section->soils[i], require->rule, found);
        }
    }
    usi_creep_clear(&path);
    free(touched);
    return status;
}

/* A length to as many digits as the ratio. */
static const char *tell_length(const us_section *section, double length_m, char *text)
{
    char number[USI_TEXT_ROOM];
    usi_scale scale = usi_scale_of(section);
    (void)snprintf(text, USI_TEXT_ROOM, "%.40s %.20s",
                   usi_text_plain(length_m / scale.length_m, number), scale.length);
    return text;
}

static const char *tell_way(const us_section *section, const us_creep_way *way, const char *name,
                            char *text)
{
    char length[USI_TEXT_ROOM];
    char head[USI_TEXT_ROOM];
    (void)snprintf(text, WAY_ROOM, "%s's length is %s over %s of head%s", name,
                   tell_length(section, way->length_m.value, length),
                   usi_text_length(section, way->head_m, head),
                   way->cut_across ? " with twice the distance of tips that stand close" : "");
    return text;
}

static void tell_basis(const usi_judge *of, const limit *wanted, char *text)
{
    const us_works_result *works = of->result->works;
    char bligh[WAY_ROOM];
    char lane[WAY_ROOM];
    if (!works->lane.length_m.present) {
        (void)snprintf(text, USI_JUDGE_ROOM, "nothing stands in the way of the water");
        return;
    }
    (void)snprintf(text, USI_JUDGE_ROOM, "empirical: %s; %s%s%.400s",
                   tell_way(of->section, &works->bligh, "Bligh", bligh),
                   tell_way(of->section, &works->lane, "Lane", lane),
                   wanted->from[0] != '\0' ? "; " : "", wanted->from);
}

static void tell_place(const us_section *section, const us_creep_way *way, char *text)
{
    char x[USI_TEXT_ROOM];
    const char *end = way->end != NULL ? way->end : "the downstream bed";
    (void)snprintf(text, USI_JUDGE_ROOM,
                   way->length_m.present ? "along the works to %.200s at x = %s" : "nowhere", end,
                   usi_text_length(section, way->x_m, x));
}

us_status usi_judge_creep(const usi_judge *of)
{
    char from[USI_JUDGE_ROOM];
    char where[USI_JUDGE_ROOM];
    char basis[USI_JUDGE_ROOM];
    limit found = {.from = from};
    us_status status = usi_works_fill(of);
    if (status == US_OK) {
        status = find_limit(of, &found);
    }
    if (status != US_OK) {
        return status;
    }
    const usi_require_creep *require = &of->section->require.creep;
    bool by_bligh = require->given && require->rule == USI_CREEP_BLIGH;
    const us_works_result *works = of->result->works;
    const us_creep_way *way = by_bligh ? &works->bligh : &works->lane;
    us_check_result check = {.name = "creep",
                             .value = way->ratio,
                             .required = found.ratio,
                             .verdict = found.unknown ? US_NOT_CHECKED : US_NOT_REQUIRED,
                             .where = where,
                             .basis = basis};
    if (found.ratio.present && !way->ratio.present && way->head_m <= 0.0) {
        check.verdict = US_PASS; /* no head, no creep */
    }
    tell_place(of->section, way, where);
    tell_basis(of, &found, basis);
    return usi_judge_add(of, &check);
}
