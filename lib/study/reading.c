#include "study/reading.h"

#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "model/panes.h"
#include "model/situation.h"
#include "quantity/bed_profile.h"
#include "quantity/wall_flow.h"

static us_status make_room(us_context *context, const us_section *section, const usi_places *places,
                           usi_reading *reading)
{
    reading->exits = usi_memory_array(context, places->exit_count, sizeof *reading->exits);
    reading->prisms = usi_memory_array(context, places->prism_count, sizeof *reading->prisms);
    reading->tights = usi_memory_array(context, places->tight_count, sizeof *reading->tights);
    reading->walls = usi_memory_array(context, section->wall_count, sizeof *reading->walls);
    reading->piezometers =
        usi_memory_array(context, section->piezometer_count, sizeof *reading->piezometers);
    bool done = reading->exits != NULL && reading->walls != NULL && reading->piezometers != NULL &&
                reading->prisms != NULL && reading->tights != NULL;
    if (done && section->has_structure) {
        size_t panels = section->water_count * usi_uplift_panel_count(section);
        reading->uplift = usi_memory_array(context, section->water_count, sizeof *reading->uplift);
        reading->panels = usi_memory_array(context, panels, sizeof *reading->panels);
        done = reading->uplift != NULL && reading->panels != NULL;
    }
    return done ? US_OK : US_ERROR_MEMORY;
}

static us_status read_bed(us_context *context, const usi_field *field, const usi_exit *exits,
                          size_t exit_count, usi_reading *reading)
{
    usi_bed bed;
    reading->exit_count = exit_count;
    for (size_t e = 0; e < exit_count; e++) {
        reading->exits[e] = usi_exit_read(field, &exits[e]);
    }
    us_status status = usi_bed_open(context, field, exits, reading->exits, exit_count, &bed);
    if (status == US_OK) {
        usi_bed_profile_read(&bed, exits, reading->exits, exit_count);
        reading->peak = usi_bed_peak_find(&bed, exits, reading->exits, exit_count);
        usi_bed_worst_find(&bed, exits, reading->exits, exit_count, reading->worst);
        usi_bed_close(&bed);
    }
    return status;
}

/* What lifts the structure and each panel in every water case, and the heads along it. */
static us_status read_uplift(us_context *context, const usi_field *field, usi_reading *reading)
{
    const us_section *section = field->grid->section;
    usi_underside_point *points = NULL;
    usi_underside underside;
    us_status status = usi_underside_read(context, field, &underside);
    if (status != US_OK) {
        return status;
    }
    size_t panels = usi_uplift_panel_count(section);
    for (size_t w = 0; w < section->water_count; w++) {
        usi_datum datum = usi_datum_of(section, w);
        reading->uplift[w] = usi_uplift_read(&underside, usi_uplift_whole(section), datum);
        for (size_t p = 0; p < panels; p++) {
            reading->panels[w * panels + p] =
                usi_uplift_read(&underside, usi_uplift_panel(section, p), datum);
        }
    }
    size_t count = 0;
    status = usi_underside_points(context, section, &points, &count);
    if (status == US_OK) {
        reading->floor_heads = usi_memory_array(context, count, sizeof *reading->floor_heads);
        status = reading->floor_heads != NULL ? US_OK : US_ERROR_MEMORY;
    }
    for (size_t k = 0; status == US_OK && k < count; k++) {
        reading->floor_heads[k] = usi_underside_head(&underside, points[k].at.x_m, points[k].right);
    }
    free(points);
    usi_underside_free(&underside);
    return status;
}

static void read_field(usi_field *field, usi_reading *reading)
{
    const us_section *section = field->grid->section;
    reading->flow_m_s = field->flow_m_s;
    reading->spread = field->spread;
    reading->leaky = field->leaky;
    reading->lower_m_s = field->lower_m_s;
    reading->upper_m_s = field->upper_m_s;
    reading->sealed = field->sealed;
    reading->bracketed = field->certified && !reading->sealed;
    reading->stands_in = usi_panes_stand_in(section) && !reading->sealed;
    reading->open_m = field->open_m;
    reading->closed_m = field->closed_m;
    reading->doubt_m = field->doubt_m;
    reading->rounds = field->rounds;
    for (size_t w = 0; w < section->wall_count; w++) {
        reading->walls[w] = usi_wall_read(field, &section->walls[w]);
        reading->walls[w].through_m_s = usi_wall_flow(field, &section->walls[w]);
    }
    for (size_t p = 0; p < section->piezometer_count; p++) {
        const usi_piezometer *piezometer = &section->piezometers[p];
        reading->piezometers[p] = usi_head_at(field, piezometer->at, piezometer->side);
    }
    reading->outflow_count = field->outflow_count;
    reading->outflows = field->outflows;
    field->outflows = NULL;
    if (section->situation != NULL) {
        size_t bed = section->flows_left ? 0 : 1;
        size_t dry = section->situation->terminal_count + bed;
        reading->bed_closed =
            reading->outflows[bed].value_m_s == 0.0 && reading->outflows[dry].value_m_s == 0.0;
    }
    reading->unknowns = field->grid->unknowns;
    reading->columns = field->grid->columns;
    reading->rows = field->grid->rows;
    reading->imbalance = field->imbalance;
    reading->truncation = field->grid->truncation;
}

static void read_blocks(const usi_field *field, const usi_places *places, usi_reading *reading)
{
    for (size_t k = 0; k < places->prism_count; k++) {
        reading->prisms[k] = usi_prism_read(field, &places->prisms[k]);
    }
    for (size_t k = 0; k < places->tight_count; k++) {
        const usi_tight *tight = &places->tights[k];
        usi_point at = {tight->x_m, tight->level_m};
        reading->tights[k] = usi_head_at(field, at, tight->side);
    }
}

us_status usi_reading_fill(us_context *context, usi_field *field, const usi_places *places,
                           usi_reading *reading)
{
    *reading = (usi_reading){0};
    us_status status = make_room(context, field->grid->section, places, reading);
    if (status == US_OK) {
        read_field(field, reading);
        read_blocks(field, places, reading);
        status = read_bed(context, field, places->exits, places->exit_count, reading);
    }
    if (status == US_OK && field->grid->section->has_structure) {
        status = read_uplift(context, field, reading);
    }
    if (status != US_OK) {
        usi_reading_free(reading);
    }
    return status;
}

us_status usi_reading_take(us_context *context, const us_section *section,
                           const usi_grid_options *options, const usi_places *places,
                           usi_reading *reading)
{
    *reading = (usi_reading){0};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    us_status status = usi_context_pulse(context, "building a grid", 0, 0.0);
    if (status == US_OK) {
        status = usi_grid_build(context, section, options, &grid);
    }
    if (status == US_OK) {
        status = usi_field_solve(context, grid, &field);
    }
    if (status == US_OK) {
        status = usi_reading_fill(context, field, places, reading);
    }
    usi_field_free(field);
    usi_grid_free(grid);
    return status;
}

void usi_reading_report_limit(us_context *context)
{
    usi_context_report(context, US_ERROR, NULL,
                       "leave out detail, or look for conductivities and lengths many orders of "
                       "magnitude apart",
                       "no grid of up to %d nodes resolves this section within rounding",
                       USI_GRID_LIMIT);
}

void usi_reading_free(usi_reading *reading)
{
    free(reading->exits);
    free(reading->uplift);
    free(reading->panels);
    free(reading->floor_heads);
    free(reading->walls);
    free(reading->piezometers);
    free(reading->outflows);
    free(reading->prisms);
    free(reading->tights);
    *reading = (usi_reading){0};
}
