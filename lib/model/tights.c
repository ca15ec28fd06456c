#include "model/tights.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/column.h"
#include "model/prisms.h"
#include "model/survey.h"

/* Points of lines that are looked at beside the places of the bed. */
enum { TURNS_MOST = 200, PLACES_MOST = USI_BED_PLACES_MOST + 2 * TURNS_MOST };

typedef struct place {
    double x_m;
    usi_face side;
} place;

typedef struct finder {
    us_context *context;
    const us_section *section;
    double floor_m;
    size_t place_count;
    place *places;
    size_t count;
    size_t room;
    usi_tight *list;
    usi_column column;
} finder;

/* Where a line turns, soil is looked at on both sides. */
static void add_turn(finder *of, double x_m)
{
    const us_section *section = of->section;
    double outward = section->flows_left ? -1.0 : 1.0;
    bool beyond = outward * (x_m - usi_section_toe_x(section)) > usi_section_tolerance(section);
    for (int right = 0; right < 2 && beyond; right++) {
        if (of->place_count < PLACES_MOST && usi_section_spans(section, x_m, right == 1)) {
            of->places[of->place_count++] =
                (place){x_m, right == 1 ? USI_FACE_RIGHT : USI_FACE_LEFT};
        }
    }
}

static void add_turns(finder *of)
{
    const us_section *section = of->section;
    for (size_t i = 1; i < section->soil_count; i++) {
        for (size_t k = 0; k < section->soils[i].top.count; k++) {
            add_turn(of, section->soils[i].top.points[k].x_m);
        }
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        for (size_t k = 0; k < section->zones[i].count; k++) {
            add_turn(of, section->zones[i].outline[k].x_m);
        }
    }
}

static us_status lay_places(finder *of, const usi_exit *exits, size_t exit_count)
{
    usi_bed_place bed[USI_BED_PLACES_MOST];
    size_t used = usi_bed_places_lay(of->section, exits, exit_count, bed);
    of->places = usi_memory_array(of->context, PLACES_MOST, sizeof *of->places);
    if (of->places == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < used; k++) {
        of->places[of->place_count++] = (place){bed[k].x_m, bed[k].bed};
    }
    if (used > 0) {
        add_turns(of);
    }
    return US_OK;
}

static us_status append(finder *of, const usi_tight *tight)
{
    if (of->count == of->room) {
        size_t room = 2 * of->room + 16;
        usi_tight *grown = usi_memory_resize(of->context, of->list, room, sizeof *grown);
        if (grown == NULL) {
            return US_ERROR_MEMORY;
        }
        of->list = grown;
        of->room = room;
    }
    of->list[of->count++] = *tight;
    return US_OK;
}

/* Puts a slice on what lies above it. */
static void load(const us_section *section, const usi_slice *slice, bool first, usi_tight *tight)
{
    const usi_soil *soil = &section->soils[slice->soil];
    if (first || soil->kv_m_s < section->soils[tight->upper].kv_m_s) {
        tight->upper = slice->soil;
    }
    if (soil->weighs) {
        tight->stress_n_m2 += soil->unit_weight_n_m3 * (slice->top_m - slice->bottom_m);
    } else if (tight->unweighed < 0) {
        tight->unweighed = (int)slice->soil;
    }
    tight->level_m = slice->bottom_m;
}

/* True where the soil below is that much looser, and looser than what lies on it. */
static bool is_tight(const us_section *section, const usi_slice *above, const usi_slice *below,
                     size_t tightest)
{
    const usi_soil *lower = &section->soils[below->soil];
    return lower->kv_m_s > section->soils[above->soil].kv_m_s &&
           lower->kv_m_s >= USI_TIGHT_RATIO * section->soils[tightest].kv_m_s;
}

static us_status look_down(finder *of, place at)
{
    const us_section *section = of->section;
    usi_column *column = &of->column;
    bool right = at.side == USI_FACE_RIGHT;
    us_status status = US_OK;
    usi_column_take(section, at.x_m, right, of->floor_m, column);
    usi_tight tight = {.x_m = at.x_m,
                       .side = at.side,
                       .bed_m = usi_section_surface(section, at.x_m, right),
                       .unweighed = -1};
    for (size_t k = 0; status == US_OK && k < column->count; k++) {
        load(section, &column->slices[k], k == 0, &tight);
        bool last = k + 1 == column->count;
        if (!last && is_tight(section, &column->slices[k], &column->slices[k + 1], tight.upper)) {
            tight.lower = (int)column->slices[k + 1].soil;
            status = append(of, &tight);
        }
    }
    bool pressed = section->has_base && section->artesian.acts;
    if (status == US_OK && pressed && section->artesian.resistance_s == 0.0 && column->count > 0) {
        tight.lower = USI_TIGHT_WATER;
        status = append(of, &tight);
    }
    return status;
}

us_status usi_tights_list(us_context *context, const us_section *section, const usi_exit *exits,
                          size_t exit_count, usi_tight **tights, size_t *count)
{
    finder of = {
        .context = context, .section = section, .floor_m = usi_survey_around(section).floor_m};
    us_status status = usi_column_open(context, section, &of.column);
    if (status == US_OK) {
        status = lay_places(&of, exits, exit_count);
    }
    for (size_t k = 0; status == US_OK && k < of.place_count; k++) {
        status = look_down(&of, of.places[k]);
    }
    free(of.places);
    usi_column_close(&of.column);
    if (status != US_OK) {
        free(of.list);
        return status;
    }
    *tights = of.list;
    *count = of.count;
    return US_OK;
}
