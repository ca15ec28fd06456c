/* Freeing a section, and the few things said about it in public. */
#include "model/section.h"

#include <stdlib.h>

void usi_origin_free(usi_origin *origin)
{
    for (size_t i = 0; i < origin->change_count; i++) {
        free(origin->changes[i].key);
        free(origin->changes[i].text);
    }
    free(origin->changes);
    free(origin->text);
    free(origin->name);
    free(origin->cases);
    free(origin->cases_name);
    *origin = (usi_origin){0};
}

static void free_water(usi_water *water)
{
    us_section_free(water->ground);
    us_section_free(water->lost);
    free(water->name);
    free(water->undermined);
    free(water->seals);
    free(water->shut);
    free(water->surface.points);
    free(water->pressures_from);
}

void us_section_free(us_section *section)
{
    if (section == NULL) {
        return;
    }
    usi_origin_free(&section->origin);
    free(section->title);
    free(section->left_bed.points);
    free(section->right_bed.points);
    free(section->base.points);
    free(section->underside.points);
    free(section->structure_top.points);
    for (size_t i = 0; i < section->wall_count; i++) {
        free(section->walls[i].name);
        free(section->walls[i].openings);
        free(section->walls[i].panes);
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        free(section->soils[i].name);
        free(section->soils[i].top.points);
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        free(section->zones[i].outline);
    }
    for (size_t i = 0; i < section->water_count; i++) {
        free_water(&section->waters[i]);
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        free(section->drains[i].name);
        free(section->drains[i].retained.by);
    }
    for (size_t i = 0; i < section->piezometer_count; i++) {
        free(section->piezometers[i].name);
    }
    for (size_t i = 0; i < section->note_count; i++) {
        free(section->notes[i]);
    }
    free(section->permeable_retained.by);
    free(section->joints_m);
    free(section->lengths_m);
    free(section->permeable);
    free(section->voids);
    free(section->drains);
    free(section->walls);
    free(section->soils);
    free(section->zones);
    free(section->waters);
    free(section->piezometers);
    free(section->notes);
    free(section);
}

const char *us_section_title(const us_section *section)
{
    return section != NULL ? section->title : "";
}

const char *us_section_sha256(const us_section *section)
{
    return section != NULL ? section->sha256 : "";
}

bool us_section_flows_left(const us_section *section)
{
    return section != NULL && section->flows_left;
}

double us_section_width(const us_section *section)
{
    return section != NULL ? section->width_m : 0.0;
}

size_t us_section_water_count(const us_section *section)
{
    return section != NULL ? section->water_count : 0;
}

const char *us_section_water_name(const us_section *section, size_t index)
{
    return section != NULL && index < section->water_count ? section->waters[index].name : NULL;
}
