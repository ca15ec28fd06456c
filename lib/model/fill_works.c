/* What the works are made of, from what was typed. */
#include <string.h>

#include "base/memory.h"
#include "model/fill.h"
#include "model/works.h"

static usi_sheeting fill_sheet(const usi_raw_sheet *raw)
{
    return (usi_sheeting){.given = raw->at.line > 0,
                          .thickness_m = raw->thickness.si,
                          .width_m = raw->width.si,
                          .perimeter_m = raw->perimeter.si,
                          .mass_kg_m2 = raw->mass.si,
                          .hole_below_top_m = raw->hole_below_top.si,
                          .hole_m = raw->hole_diameter.si,
                          .treatment = (usi_treatment)raw->hole_treatment.index};
}

static usi_corrosion fill_corrosion(const usi_raw_corrosion *raw)
{
    usi_corrosion made = {.given = raw->at.line > 0,
                          .by_table = raw->environment.given,
                          .environment = (size_t)raw->environment.index,
                          .life_years = raw->life.si};
    made.loss_m = made.by_table ? usi_environment_loss(made.environment, made.life_years)
                                : raw->loss_per_side.si;
    return made;
}

static usi_shaft fill_shaft(const usi_raw_shaft *raw)
{
    return (usi_shaft){.by_beta = raw->beta.given,
                       .beta = raw->beta.si,
                       .by_strength = raw->undrained_strength.given,
                       .strength_pa = raw->undrained_strength.si};
}

static usi_length length_of(const usi_raw_number *raw)
{
    return (usi_length){raw->given, raw->si};
}

static usi_requirement limit_of(const usi_raw_number *raw)
{
    return (usi_requirement){raw->given, raw->si};
}

static usi_retained retained_of(usi_check *check, const usi_raw_retained *raw)
{
    usi_retained made = {NULL, length_of(&raw->opening)};
    if (raw->by.text != NULL) {
        made.by = usi_memory_text(check->context, raw->by.text, strlen(raw->by.text));
        check->failed = check->failed || made.by == NULL;
    }
    return made;
}

void usi_fill_works(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    section->permeable_opening = length_of(&raw->structure.permeable_opening);
    section->permeable_retained = retained_of(check, &raw->structure.permeable_retained);
    const usi_raw_drain *drains = raw->drains.items;
    for (size_t i = 0; i < section->drain_count; i++) {
        section->drains[i].retained = retained_of(check, &drains[i].retained);
    }
    const usi_raw_soil *soils = raw->soils.items;
    for (size_t i = 0; i < section->soil_count; i++) {
        usi_soil *soil = &section->soils[i];
        soil->d85 = length_of(&soils[i].d85);
        soil->has_creep_class = soils[i].creep_class.given;
        soil->creep_class = (size_t)soils[i].creep_class.index;
        soil->shaft = fill_shaft(&soils[i].shaft);
    }
    const usi_raw_wall *walls = raw->walls.items;
    for (size_t i = 0; i < section->wall_count; i++) {
        usi_wall *wall = &section->walls[i];
        wall->sheet = fill_sheet(&walls[i].sheet);
        wall->corrosion = fill_corrosion(&walls[i].corrosion);
        wall->loaded = walls[i].load.given;
        wall->load_n_m = walls[i].load.si;
    }
    section->banks = (usi_banks){raw->banks.at.line > 0, length_of(&raw->banks.left.key_in),
                                 length_of(&raw->banks.right.key_in)};
    section->next_drop =
        (usi_next_drop){length_of(&raw->next_drop.upstream), length_of(&raw->next_drop.downstream)};
}

void usi_fill_work_limits(const usi_raw_require *raw, usi_requirements *require)
{
    require->creep = (usi_require_creep){
        raw->creep.rule.given, (usi_creep_rule)raw->creep.rule.index, limit_of(&raw->creep.ratio)};
    require->retention = limit_of(&raw->retention);
    require->banks = limit_of(&raw->banks);
    require->wall_embedment = limit_of(&raw->wall_embedment);
    require->corrosion = limit_of(&raw->corrosion);
    require->wall_load = limit_of(&raw->wall_load);
}
