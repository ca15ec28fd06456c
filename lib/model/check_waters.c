/* Water cases against the beds, and what the requirements need. */
#include <math.h>
#include <string.h>

#include "model/check.h"

static bool bed_used(const us_section *section, bool upstream)
{
    bool left = upstream != section->flows_left;
    const usi_side *side = left ? &section->left : &section->right;
    double end_m = left ? section->left_end_m : section->right_end_m;
    return side->kind == USI_SIDE_ENDLESS || side->x_m != end_m;
}

/* False after an error. */
static bool check_upstream(usi_check *check, usi_water *water, const usi_raw_water *raw)
{
    const us_section *section = check->section;
    const usi_line *bed = usi_section_upstream_bed(section);
    double lowest_m = usi_line_lowest(bed, -HUGE_VAL, HUGE_VAL);
    if (!bed_used(section, true)) {
        return true;
    }
    if (fabs(water->upstream_m - lowest_m) <= check->tolerance_m) {
        water->upstream_m = lowest_m;
    }
    if (water->upstream_m < lowest_m) {
        usi_check_error(check, &raw->upstream.at, "give the level of its surface, not its depth",
                        "the upstream water, %s, lies below the upstream bed, %s",
                        usi_words_length(section, water->upstream_m).text,
                        usi_words_length(section, lowest_m).text);
        return false;
    }
    return true;
}

/* No water stands on the bed: what comes out leaves at its surface. The level at the
 * toe then stands for the water. */
static void come_out_at_bed(usi_check *check, usi_water *water, const usi_raw_water *raw,
                            double lowest_m)
{
    const us_section *section = check->section;
    if (!raw->downstream.word && water->downstream_m < lowest_m - check->tolerance_m) {
        usi_check_note(check,
                       "Water case %s: the downstream level, %s, lies below the bed, %s; water "
                       "comes out at the bed surface (at_bed).",
                       water->name, usi_words_length(section, water->downstream_m).text,
                       usi_words_length(section, lowest_m).text);
    }
    water->at_bed = true;
    water->downstream_m = usi_line_level(usi_section_downstream_bed(section),
                                         usi_section_toe_x(section), !section->flows_left);
}

static void check_downstream(usi_check *check, usi_water *water, const usi_raw_water *raw)
{
    const us_section *section = check->section;
    const usi_line *bed = usi_section_downstream_bed(section);
    double lowest_m = usi_line_lowest(bed, -HUGE_VAL, HUGE_VAL);
    if (!bed_used(section, false)) {
        if (raw->downstream.word) {
            usi_check_error(check, &raw->downstream.at, "give a level",
                            "at_bed needs a downstream bed: the side stands at the end of the "
                            "works and leaves none");
        }
        return;
    }
    if (!raw->downstream.word && fabs(water->downstream_m - lowest_m) <= check->tolerance_m) {
        water->downstream_m = lowest_m;
    }
    bool level_with = bed->count == 1 && water->downstream_m == lowest_m;
    if (raw->downstream.word || level_with || water->downstream_m < lowest_m) {
        come_out_at_bed(check, water, raw, lowest_m);
    }
}

static void check_order(usi_check *check, usi_water *water, const usi_raw_water *raw)
{
    const us_section *section = check->section;
    if (fabs(water->upstream_m - water->downstream_m) <= check->tolerance_m) {
        water->downstream_m = water->upstream_m;
    }
    if (water->downstream_m > water->upstream_m) {
        usi_check_error(check, &raw->downstream.at,
                        section->flows_left ? "does the water run the other way? leave out "
                                              "`flow_toward: left`"
                                            : "does the water run the other way? set "
                                              "`flow_toward: left`",
                        "the downstream water, %s, stands above the upstream water, %s",
                        usi_words_length(section, water->downstream_m).text,
                        usi_words_length(section, water->upstream_m).text);
    }
}

/* Names of drains that are shut in this case. */
static void check_shut(usi_check *check, size_t index)
{
    const us_section *section = check->section;
    const usi_raw_water *raw = (const usi_raw_water *)check->raw->waters.items + index;
    bool *shut = section->waters[index].shut;
    if (raw->drains.given && raw->shut.at.line > 0) {
        usi_check_error(check, &raw->shut.at, "leave one of them out",
                        "`drains: off` shuts all drains: there is none left to name");
        return;
    }
    for (size_t i = 0; i < raw->shut.count && shut != NULL; i++) {
        const usi_raw_text *name = &raw->shut.items[i];
        size_t k = 0;
        while (k < section->drain_count && name->text != NULL &&
               strcmp(section->drains[k].name, name->text) != 0) {
            k++;
        }
        if (k < section->drain_count) {
            shut[k] = true;
        } else if (name->text != NULL) {
            usi_check_error(check, &name->at, "give the `name` of an entry of `drains`",
                            "there is no drain called %s", name->text);
        }
    }
}

/* Sealed stretches by growing x, those that meet made one. */
static void check_seals(usi_check *check, usi_water *water, const usi_raw_water *raw)
{
    for (size_t i = 0; i < water->seal_count; i++) {
        if (!usi_check_stretch(check, &raw->seal.items[i], &water->seals[i])) {
            return;
        }
    }
    usi_stretches_sort(water->seals, water->seal_count);
    size_t kept = 0;
    for (size_t i = 1; i < water->seal_count; i++) {
        if (water->seals[i].from_m <= water->seals[kept].to_m) {
            water->seals[kept].to_m = fmax(water->seals[kept].to_m, water->seals[i].to_m);
        } else {
            water->seals[++kept] = water->seals[i];
        }
    }
    water->seal_count = water->seal_count > 0 ? kept + 1 : 0;
}

/* Whether water can pass on the left or right of the works. */
static bool is_open(const us_section *section, const usi_water *water, bool left)
{
    const usi_side *side = left ? &section->left : &section->right;
    double from_m = left ? side->x_m : section->right_end_m;
    double to_m = left ? section->left_end_m : side->x_m;
    bool open = side->kind != USI_SIDE_CLOSED;
    if (!open) {
        open = true;
        for (size_t i = 0; i < water->seal_count; i++) {
            open = open && !(water->seals[i].from_m <= from_m && water->seals[i].to_m >= to_m);
        }
    }
    return open;
}

/* With every opening sealed, nothing would say what the head is. */
static void check_openings(usi_check *check, const usi_water *water, const usi_raw_water *raw)
{
    const us_section *section = check->section;
    bool other = section->artesian.acts || section->permeable_count > 0 || section->drain_count > 0;
    if (water->seal_count > 0 && !other && !is_open(section, water, true) &&
        !is_open(section, water, false)) {
        usi_check_error(check, &raw->seal.at, "leave a stretch of bed open",
                        "the seals close both beds from end to side: nothing sets the head");
    }
}

static void check_water(usi_check *check, size_t index)
{
    usi_water *water = &check->section->waters[index];
    const usi_raw_water *raw = (const usi_raw_water *)check->raw->waters.items + index;
    bool own_beds = raw->beds.at.line > 0;
    bool up = raw->upstream.given && !raw->upstream.word;
    if (raw->upstream.word) {
        usi_check_error(check, &raw->upstream.at, "give the upstream water level",
                        "at_bed is not allowed upstream");
    }
    check_shut(check, index);
    check_seals(check, water, raw);
    if (check->ended) {
        check_openings(check, water, raw);
    }
    if (own_beds) {
        return; /* the levels are judged with those beds */
    }
    if (check->ended && up) {
        up = check_upstream(check, water, raw);
    }
    if (check->ended && raw->downstream.given) {
        check_downstream(check, water, raw);
    }
    bool down = raw->downstream.given && (water->at_bed || !raw->downstream.word);
    if (up && down) {
        check_order(check, water, raw);
    }
}

/* The piping factor needs the weight of the soil on the downstream bed. */
static void check_piping(usi_check *check)
{
    const us_section *section = check->section;
    const usi_line *bed = usi_section_downstream_bed(section);
    if (!check->ended || !section->require.piping.given || section->soil_count == 0 ||
        !bed_used(section, false)) {
        return;
    }
    for (size_t i = 0; i < bed->count; i++) {
        size_t layer = usi_section_soil_at(section, bed->points[i], !section->flows_left, false);
        const usi_raw_soil *raw = (const usi_raw_soil *)check->raw->soils.items + layer;
        if (!section->soils[layer].weighs && raw->unit_weight.at.line == 0) {
            usi_check_error(check, &check->raw->require.piping.at, "give its unit_weight",
                            "the piping factor needs the unit weight of soil %s at the "
                            "downstream bed",
                            section->soils[layer].name);
            return;
        }
    }
}

void usi_check_waters(usi_check *check)
{
    for (size_t i = 0; i < check->section->water_count; i++) {
        check_water(check, i);
    }
    check_piping(check);
}
