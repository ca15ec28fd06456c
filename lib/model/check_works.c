/* What the works are made of: each key in sense with the others. */
#include "model/check.h"

static const double THICKEST_M = 0.5; /* of a sheet */
static const double LEAST_BETA = 0.01;
static const double MOST_BETA = 2.0;
static const double ROUNDING = 1e-9;

static bool stands(const usi_raw_number *raw)
{
    return raw->at.line > 0;
}

static void check_hole(usi_check *check, const usi_raw_wall *wall)
{
    const usi_raw_sheet *raw = &wall->sheet;
    if (stands(&raw->hole_below_top) != stands(&raw->hole_diameter)) {
        usi_check_error(
            check, stands(&raw->hole_diameter) ? &raw->hole_diameter.at : &raw->hole_below_top.at,
            "give both, or neither", "a lifting hole needs `hole_below_top` and `hole_diameter`");
    } else if (raw->hole_treatment.at.line > 0 && !stands(&raw->hole_diameter)) {
        usi_check_error(check, &raw->hole_treatment.at, "give the hole, or leave this out",
                        "there is no hole to treat");
    } else if (raw->hole_below_top.given && wall->top.given && wall->tip.given &&
               wall->top.si > wall->tip.si &&
               raw->hole_below_top.si >= wall->top.si - wall->tip.si) {
        usi_check_error(check, &raw->hole_below_top.at, "measure it down from the top of the wall",
                        "the hole lies below the tip of the wall");
    }
}

static void check_sheet(usi_check *check, const usi_raw_wall *wall)
{
    const usi_raw_sheet *raw = &wall->sheet;
    if (raw->thickness.given && raw->thickness.si > THICKEST_M) {
        usi_check_error(check, &raw->thickness.at, "write 10 mm", "a sheet is not thicker than %s",
                        usi_words_length(check->section, THICKEST_M).text);
    }
    if (stands(&raw->perimeter) && !stands(&raw->width)) {
        usi_check_error(check, &raw->perimeter.at, "give the `width` of one sheet",
                        "the perimeter of a sheet says nothing without its width");
    } else if (raw->perimeter.given && raw->width.given &&
               raw->perimeter.si < 2.0 * raw->width.si * (1.0 - ROUNDING)) {
        usi_check_error(check, &raw->perimeter.at, "measure both faces",
                        "the perimeter of a sheet is at least twice its width, %s",
                        usi_words_length(check->section, raw->width.si).text);
    }
    check_hole(check, wall);
}

static void check_corrosion(usi_check *check, const usi_raw_wall *wall)
{
    const usi_raw_corrosion *raw = &wall->corrosion;
    bool table = raw->environment.at.line > 0;
    if (table && stands(&raw->loss_per_side)) {
        usi_check_error(check, &raw->loss_per_side.at, "leave one of them out",
                        "the loss follows from `environment`, or is given: not both");
    } else if (table && !stands(&raw->life)) {
        usi_check_error(check, &raw->at, "give the years of service",
                        "the loss by `environment` needs a `life`");
    } else if (stands(&raw->loss_per_side) && stands(&raw->life)) {
        usi_check_error(check, &raw->life.at, "leave it out, or give an `environment`",
                        "a loss that is given needs no `life`");
    }
    if (wall->sheet.at.line == 0) {
        usi_check_error(check, &raw->at, "give `sheet: {thickness: ...}`",
                        "corrosion has no sheet to work on");
    }
}

static void check_shaft(usi_check *check, const usi_raw_shaft *raw)
{
    if (stands(&raw->beta) && stands(&raw->undrained_strength)) {
        usi_check_error(check, &raw->undrained_strength.at, "leave one of them out",
                        "friction is by `beta` or by `undrained_strength`: not both");
    } else if (raw->beta.given && (raw->beta.si < LEAST_BETA || raw->beta.si > MOST_BETA)) {
        usi_check_error(check, &raw->beta.at, "sand has 0.3 to 0.6, clay 0.23 to 0.4",
                        "beta lies between 0.01 and 2");
    }
}

static void check_permeable(usi_check *check)
{
    const usi_raw_structure *raw = &check->raw->structure;
    if (raw->permeable.at.line > 0) {
        return;
    }
    if (stands(&raw->permeable_opening)) {
        usi_check_error(check, &raw->permeable_opening.at, "give `permeable` stretches",
                        "there is no permeable stretch for this opening");
    }
    if (raw->permeable_retained.at.line > 0) {
        usi_check_error(check, &raw->permeable_retained.at, "give `permeable` stretches",
                        "there is no permeable stretch that could lose soil");
    }
}

static void check_lengths(usi_check *check)
{
    const us_section *section = check->section;
    const usi_raw_numbers *raw = &check->raw->lengths;
    for (size_t i = 1; i < section->length_count; i++) {
        if (section->lengths_m[i] <= section->lengths_m[i - 1]) {
            usi_check_error(check, &raw->items[i].at, "give the lengths by growing size, each once",
                            "the length %s is not greater than the one before it",
                            usi_words_length(section, section->lengths_m[i]).text);
            return;
        }
    }
}

void usi_check_works(usi_check *check)
{
    const usi_raw_wall *walls = check->raw->walls.items;
    for (size_t i = 0; i < check->section->wall_count; i++) {
        if (walls[i].sheet.at.line > 0) {
            check_sheet(check, &walls[i]);
        }
        if (walls[i].corrosion.at.line > 0) {
            check_corrosion(check, &walls[i]);
        }
    }
    const usi_raw_soil *soils = check->raw->soils.items;
    for (size_t i = 0; i < check->section->soil_count; i++) {
        check_shaft(check, &soils[i].shaft);
    }
    check_permeable(check);
    check_lengths(check);
}
