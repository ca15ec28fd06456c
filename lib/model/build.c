/* Fills the section from what was typed, then lets every rule look at it. */
#include "model/build.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/check.h"
#include "model/conductivity.h"
#include "model/fill.h"
#include "model/ground.h"

static const double WATER_N_M3 = 9810.0;

static void fill_line(usi_check *check, const usi_raw_line *raw, usi_line *line)
{
    if (!raw->given || raw->word) {
        return;
    }
    line->points = usi_fill_array(check, raw->count, sizeof *line->points);
    if (line->points == NULL) {
        return;
    }
    line->count = raw->count;
    for (size_t i = 0; i < raw->count; i++) {
        line->points[i] = raw->points[i].at;
    }
}

static usi_requirement require(const usi_raw_number *raw)
{
    return (usi_requirement){raw->given, raw->si};
}

static void fill_head(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    const char *title = raw->title.text != NULL ? raw->title.text : "";
    section->title = usi_memory_text(check->context, title, strlen(title));
    check->failed = check->failed || section->title == NULL;
    memcpy(section->sha256, raw->sha256, sizeof section->sha256);
    section->units = raw->units.units;
    section->flows_left = raw->flow_toward.index == 1;
    section->width_m = raw->width.si;
    section->water_unit_weight_n_m3 =
        raw->water_unit_weight.given ? raw->water_unit_weight.si : WATER_N_M3;
    section->require.piping = require(&raw->require.piping);
    section->require.heave = require(&raw->require.heave);
    section->require.blow_up = require(&raw->require.blow_up);
    section->require.uplift = require(&raw->require.uplift);
    usi_fill_limit_states(check);
    usi_fill_work_limits(&raw->require, &section->require);
}

static void fill_side(const usi_raw_side *raw, usi_side *side)
{
    if (usi_check_has_side(raw)) {
        side->kind = raw->kind.index == 0 ? USI_SIDE_CLOSED : USI_SIDE_FIXED_HEAD;
        side->x_m = raw->x.si;
        side->has_head = raw->head.given;
        side->head_m = raw->head.si;
    }
}

static void fill_lines(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    bool left = section->flows_left;
    fill_line(check, &raw->bed.upstream, left ? &section->right_bed : &section->left_bed);
    fill_line(check, &raw->bed.downstream, left ? &section->left_bed : &section->right_bed);
    fill_line(check, &raw->base.level, &section->base);
    section->has_base = section->base.count > 0;
    section->has_structure = raw->structure.at.line > 0;
    fill_line(check, &raw->structure.underside, &section->underside);
    fill_line(check, &raw->structure.top, &section->structure_top);
    section->structure_weighs = raw->structure.unit_weight.given;
    section->structure_unit_weight_n_m3 = raw->structure.unit_weight.si;
    fill_side(&raw->sides.left, &section->left);
    fill_side(&raw->sides.right, &section->right);
}

static void fill_walls(usi_check *check)
{
    const usi_raw_wall *raw = check->raw->walls.items;
    us_section *section = check->section;
    section->walls = usi_fill_array(check, check->raw->walls.count, sizeof *section->walls);
    check->walled = check->raw->walls.given || check->raw->walls.at.line == 0;
    for (size_t i = 0; i < check->raw->walls.count && !check->failed; i++) {
        usi_wall *wall = &section->walls[section->wall_count++];
        wall->name = usi_fill_name(check, &raw[i].name, "wall_", i);
        wall->x_m = raw[i].x.si;
        wall->top_m = raw[i].top.si;
        wall->tip_m = raw[i].tip.si;
        wall->keyed = raw[i].keyed.value;
        check->walled = check->walled && usi_check_has_wall(check, i) && wall->top_m > wall->tip_m;
    }
}

static void fill_soils(usi_check *check)
{
    const usi_raw_soil *raw = check->raw->soils.items;
    us_section *section = check->section;
    section->soils = usi_fill_array(check, check->raw->soils.count, sizeof *section->soils);
    for (size_t i = 0; i < check->raw->soils.count && !check->failed; i++) {
        usi_soil *soil = &section->soils[section->soil_count++];
        soil->name = usi_fill_name(check, &raw[i].name, "soil_", i);
        soil->layer = i == 0 || raw[i].top.given;
        if (i > 0) {
            fill_line(check, &raw[i].top, &soil->top);
        }
        usi_conductivity_fill(&raw[i], soil);
        soil->weighs = raw[i].unit_weight.given;
        soil->unit_weight_n_m3 = raw[i].unit_weight.si;
        soil->friction_rad = raw[i].friction_angle.given ? raw[i].friction_angle.si : 0.0;
        soil->stores = raw[i].specific_storage.given;
        soil->specific_storage_1_m = raw[i].specific_storage.si;
    }
}

static void fill_zones(usi_check *check)
{
    const usi_raw_zone *raw = check->raw->zones.items;
    us_section *section = check->section;
    section->zones = usi_fill_array(check, check->raw->zones.count, sizeof *section->zones);
    for (size_t i = 0; i < check->raw->zones.count && !check->failed; i++) {
        usi_line outline = {0, NULL};
        fill_line(check, &raw[i].outline, &outline);
        section->zones[section->zone_count++] =
            (usi_zone){.count = outline.count, .outline = outline.points};
    }
}

static void fill_waters(usi_check *check)
{
    const usi_raw_water *raw = check->raw->waters.items;
    us_section *section = check->section;
    section->waters = usi_fill_array(check, check->raw->waters.count, sizeof *section->waters);
    for (size_t i = 0; i < check->raw->waters.count && !check->failed; i++) {
        usi_water *water = &section->waters[section->water_count++];
        water->name = usi_fill_name(check, &raw[i].name, "case_", i);
        water->upstream_m = raw[i].upstream.si;
        water->downstream_m = raw[i].downstream.si;
        fill_line(check, &raw[i].surface, &water->surface);
        usi_fill_case(check, &raw[i], water);
    }
}

static void fill_piezometers(usi_check *check)
{
    const usi_raw_piezometer *raw = check->raw->piezometers.items;
    us_section *section = check->section;
    section->piezometers =
        usi_fill_array(check, check->raw->piezometers.count, sizeof *section->piezometers);
    for (size_t i = 0; i < check->raw->piezometers.count && !check->failed; i++) {
        usi_piezometer *piezometer = &section->piezometers[section->piezometer_count++];
        piezometer->name = usi_fill_name(check, &raw[i].name, "P", i);
        piezometer->at = raw[i].point.at;
        if (raw[i].side.given) {
            piezometer->side = raw[i].side.index == 0 ? USI_FACE_LEFT : USI_FACE_RIGHT;
        }
    }
}

/* Ends that only serve to measure the section before the true ends are known. */
static void guess_ends(us_section *section)
{
    double x_m = section->wall_count > 0 ? section->walls[0].x_m : 0.0;
    if (section->underside.count > 0) {
        x_m = section->underside.points[0].x_m;
    }
    section->left_end_m = x_m;
    section->right_end_m = x_m;
}

static void note_depths(us_section *section)
{
    for (size_t i = 0; i < section->wall_count; i++) {
        section->walls[i].solved_tip_m = section->walls[i].tip_m;
    }
}

static void judge(usi_check *check)
{
    usi_check_snap(check);
    usi_check_lines(check);
    usi_check_cap_gaps(check);
    usi_check_zones(check);
    usi_check_ends(check);
    note_depths(check->section);
    usi_check_names(check);
    usi_check_ground(check);
    usi_check_walls(check);
    usi_check_steps(check);
    usi_check_soils(check);
    usi_check_classes(check);
    usi_check_edges(check);
    usi_check_drains(check);
    usi_check_meetings(check);
    usi_check_own_beds(check);
    usi_check_waters(check);
    usi_check_uplift(check);
    usi_check_piezometers(check);
    usi_check_shares(check);
    usi_check_limit_states(check);
    usi_check_works(check);
    usi_check_openings(check);
}

us_status usi_section_build_own(us_context *context, const usi_raw_section *raw, usi_own *own,
                                us_section **section)
{
    usi_check check = {.context = context, .raw = raw, .own = own};
    check.section = usi_memory_array(context, 1, sizeof *check.section);
    if (check.section == NULL) {
        return US_ERROR_MEMORY;
    }
    fill_head(&check);
    fill_lines(&check);
    fill_walls(&check);
    usi_fill_openings(&check);
    fill_soils(&check);
    fill_zones(&check);
    usi_fill_edges(&check);
    usi_fill_works(&check);
    fill_waters(&check);
    fill_piezometers(&check);
    guess_ends(check.section);
    if (!check.failed) {
        judge(&check);
    }
    us_status status = check.failed ? US_ERROR_MEMORY : US_OK;
    if (status == US_OK && usi_context_error_count(context) > raw->errors_before) {
        status = US_ERROR_INPUT;
    }
    if (status == US_OK && own == NULL) {
        status = usi_ground_lay(context, raw, check.section);
    }
    if (status == US_OK) {
        *section = check.section;
    } else {
        us_section_free(check.section);
    }
    return status;
}

us_status usi_section_build(us_context *context, const usi_raw_section *raw, us_section **section)
{
    return usi_section_build_own(context, raw, NULL, section);
}
