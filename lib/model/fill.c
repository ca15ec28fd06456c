#include "model/fill.h"

#include <stdio.h>
#include <string.h>

#include "base/memory.h"

char *usi_fill_name(usi_check *check, const usi_raw_text *raw, const char *what, size_t index)
{
    char made[USI_NUMBER_ROOM];
    (void)snprintf(made, sizeof made, "%s%zu", what, index + 1);
    const char *name = raw->text != NULL ? raw->text : made;
    char *copy = usi_memory_text(check->context, name, strlen(name));
    check->failed = check->failed || copy == NULL;
    return copy;
}

void *usi_fill_array(usi_check *check, size_t count, size_t size)
{
    void *items = usi_memory_array(check->context, count, size);
    check->failed = check->failed || items == NULL;
    return items;
}

static void fill_stretches(usi_check *check, const usi_raw_stretches *raw, usi_stretch **stretches,
                           size_t *count)
{
    if (!raw->given) {
        return;
    }
    *stretches = usi_fill_array(check, raw->count, sizeof **stretches);
    for (size_t i = 0; i < raw->count && *stretches != NULL; i++) {
        (*stretches)[(*count)++] = raw->items[i].at;
    }
}

static void fill_joints(usi_check *check, const usi_raw_numbers *raw)
{
    us_section *section = check->section;
    if (!raw->given) {
        return;
    }
    section->joints_m = usi_fill_array(check, raw->count, sizeof *section->joints_m);
    for (size_t i = 0; i < raw->count && section->joints_m != NULL; i++) {
        section->joints_m[section->joint_count++] = raw->items[i].si;
    }
}

static void fill_lengths(usi_check *check)
{
    const usi_raw_numbers *raw = &check->raw->lengths;
    us_section *section = check->section;
    if (!raw->given) {
        return;
    }
    section->lengths_m = usi_fill_array(check, raw->count, sizeof *section->lengths_m);
    for (size_t i = 0; i < raw->count && section->lengths_m != NULL; i++) {
        section->lengths_m[section->length_count++] = raw->items[i].si;
    }
}

static bool later_point(usi_point a, usi_point b)
{
    return a.x_m != b.x_m ? a.x_m > b.x_m : a.z_m > b.z_m;
}

static void fill_drain(usi_check *check, const usi_raw_drain *raw, size_t index, usi_drain *drain)
{
    drain->name = usi_fill_name(check, &raw->name, "drain_", index);
    drain->weeps = raw->point.mark.line > 0;
    bool turned = later_point(raw->from.at, raw->to.at);
    drain->from = drain->weeps ? raw->point.at : turned ? raw->to.at : raw->from.at;
    drain->to = drain->weeps ? raw->point.at : turned ? raw->from.at : raw->to.at;
    drain->diameter_m = raw->diameter.si;
    drain->spacing_m = raw->spacing.si;
    drain->tailwater = raw->outlet.word;
    drain->outlet_m = raw->outlet.si;
    if (raw->clogging.thickness.given && raw->clogging.conductivity.given) {
        drain->clogging_s = raw->clogging.thickness.si / raw->clogging.conductivity.si;
    }
    drain->shut = raw->state.index == 1;
}

void usi_fill_edges(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    section->artesian.acts = raw->base.head.given;
    section->artesian.head_m = raw->base.head.si;
    if (raw->base.thickness.given && raw->base.kv.given) {
        section->artesian.resistance_s = raw->base.thickness.si / raw->base.kv.si;
    }
    fill_joints(check, &raw->structure.joints);
    fill_lengths(check);
    fill_stretches(check, &raw->structure.permeable, &section->permeable,
                   &section->permeable_count);
    fill_stretches(check, &raw->structure.contact_lost, &section->voids, &section->void_count);
    const usi_raw_drain *drains = raw->drains.items;
    section->drains = usi_fill_array(check, raw->drains.count, sizeof *section->drains);
    for (size_t i = 0; i < raw->drains.count && !check->failed; i++) {
        fill_drain(check, &drains[i], i, &section->drains[section->drain_count++]);
    }
}

void usi_fill_case(usi_check *check, const usi_raw_water *raw, usi_water *water)
{
    const us_section *section = check->section;
    fill_stretches(check, &raw->seal, &water->seals, &water->seal_count);
    water->flood = (usi_flood){raw->discharge.given, raw->discharge.si, raw->return_period.given,
                               raw->return_period.si};
    if (raw->pressures_from.text != NULL) {
        water->pressures_from = usi_fill_name(check, &raw->pressures_from, "", 0);
    }
    bool told = raw->drains.given || raw->shut.given;
    water->shut = told ? usi_fill_array(check, section->drain_count, sizeof *water->shut) : NULL;
    for (size_t i = 0; i < section->drain_count && water->shut != NULL; i++) {
        water->shut[i] = raw->drains.given || section->drains[i].shut;
    }
}
