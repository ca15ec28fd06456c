#include "study/blend.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "quantity/underside.h"
#include "study/pick.h"

static double sum(const usi_blend *blend, const double *weights, usi_pick pick, size_t index)
{
    double total = 0.0;
    for (size_t k = 0; k < blend->count; k++) {
        total += weights[k] * pick(blend->from[k], index);
    }
    return total;
}

/* Sum of numbers that lie at one distance from the start of an array's items. */
static double sum_at(const usi_blend *blend, const double *weights, size_t array, size_t offset)
{
    double total = 0.0;
    for (size_t k = 0; k < blend->count; k++) {
        const char *items = NULL;
        memcpy(&items, (const char *)blend->from[k] + array, sizeof items);
        double value = 0.0;
        memcpy(&value, items + offset, sizeof value);
        total += weights[k] * value;
    }
    return total;
}

#define ARRAY(name) offsetof(usi_reading, name)
#define ITEM(type, index, member) ((index) * sizeof(type) + offsetof(type, member))

/* A copy of an array of the nearest reading. */
static void *copy_of(us_context *context, const void *from, size_t count, size_t size)
{
    void *copy = usi_memory_array(context, count + 1, size);
    if (copy != NULL && count > 0) {
        memcpy(copy, from, count * size);
    }
    return copy;
}

static us_status copy_nearest(us_context *context, const us_section *section,
                              const usi_places *places, const usi_reading *from, usi_reading *to)
{
    size_t waters = section->water_count;
    size_t panels = waters * usi_uplift_panel_count(section);
    *to = *from;
    to->exits = copy_of(context, from->exits, places->exit_count, sizeof *to->exits);
    to->prisms = copy_of(context, from->prisms, places->prism_count, sizeof *to->prisms);
    to->tights = copy_of(context, from->tights, places->tight_count, sizeof *to->tights);
    to->walls = copy_of(context, from->walls, section->wall_count, sizeof *to->walls);
    to->piezometers =
        copy_of(context, from->piezometers, section->piezometer_count, sizeof *to->piezometers);
    to->outflows = copy_of(context, from->outflows, from->outflow_count, sizeof *to->outflows);
    to->uplift = NULL;
    to->panels = NULL;
    to->floor_heads = NULL;
    bool done = to->exits != NULL && to->prisms != NULL && to->tights != NULL &&
                to->walls != NULL && to->piezometers != NULL && to->outflows != NULL;
    if (done && section->has_structure) {
        to->uplift = copy_of(context, from->uplift, waters, sizeof *to->uplift);
        to->panels = copy_of(context, from->panels, panels, sizeof *to->panels);
        done = to->uplift != NULL && to->panels != NULL;
    }
    if (done && from->outflows == NULL) {
        free(to->outflows);
        to->outflows = NULL;
    }
    return done ? US_OK : US_ERROR_MEMORY;
}

static void blend_exits(const usi_places *places, const usi_blend *blend, usi_reading *to)
{
    for (size_t e = 0; e < to->exit_count; e++) {
        usi_exit_reading *exit = &to->exits[e];
        if (exit->profile_count > places->exits[e].profile_count) {
            exit->profile_count = places->exits[e].profile_count;
        }
#define HEADS(member) sum_at(blend, blend->heads, ARRAY(exits), ITEM(usi_exit_reading, e, member))
        exit->gradient_1_m = HEADS(gradient_1_m);
        exit->mean_1_m = HEADS(mean_1_m);
        exit->watch_1_m = HEADS(watch_1_m);
        exit->second_1_m =
            sum_at(blend, blend->stream, ARRAY(exits), ITEM(usi_exit_reading, e, second_1_m));
        for (size_t p = 0; p < exit->profile_count; p++) {
            exit->profile_1_m[p] = HEADS(profile_1_m[p]);
            exit->profile_doubt_1_m[p] = fabs(HEADS(profile_doubt_1_m[p]));
        }
#undef HEADS
        for (size_t k = 0; k < blend->count; k++) {
            const usi_exit_reading *from = &blend->from[k]->exits[e];
            for (size_t p = 0; p < exit->profile_count; p++) {
                exit->profile_known[p] = exit->profile_known[p] && from->profile_known[p];
            }
        }
    }
}

/* The steepest place jumps from line to line: it is the nearest reading's. */
static void blend_bed(const usi_blend *blend, usi_reading *to)
{
    bool found = true;
    bool mean = true;
    for (size_t k = 0; k < blend->count; k++) {
        found = found && blend->from[k]->peak.found;
        mean = mean && blend->from[k]->peak.has_mean;
    }
    if (found) {
        to->peak.gradient_1_m = sum(blend, blend->heads, usi_pick_peak, 0);
    }
    if (found && mean) {
        to->peak.mean_1_m = sum(blend, blend->heads, usi_pick_peak_mean, 0);
    }
    for (size_t kind = 0; kind < USI_BED_WORST_COUNT; kind++) {
        bool all = true;
        for (size_t k = 0; k < blend->count; k++) {
            all = all && blend->from[k]->worst[kind].found;
        }
        if (all) {
            to->worst[kind].gradient_1_m = sum(blend, blend->heads, usi_pick_worst, kind);
        }
    }
}

static us_status blend_uplift(us_context *context, const us_section *section,
                              const usi_blend *blend, usi_reading *to)
{
    size_t panels = section->water_count * usi_uplift_panel_count(section);
    usi_underside_point *points = NULL;
    size_t count = 0;
    us_status status = usi_underside_points(context, section, &points, &count);
    free(points);
    for (size_t w = 0; w < section->water_count; w++) {
        usi_uplift_reading *uplift = &to->uplift[w];
        uplift->force_n_m =
            sum_at(blend, blend->heads, ARRAY(uplift), ITEM(usi_uplift_reading, w, force_n_m));
        uplift->moment_n =
            sum_at(blend, blend->heads, ARRAY(uplift), ITEM(usi_uplift_reading, w, moment_n));
    }
    for (size_t p = 0; p < panels; p++) {
        usi_uplift_reading *panel = &to->panels[p];
        panel->force_n_m =
            sum_at(blend, blend->heads, ARRAY(panels), ITEM(usi_uplift_reading, p, force_n_m));
        panel->moment_n =
            sum_at(blend, blend->heads, ARRAY(panels), ITEM(usi_uplift_reading, p, moment_n));
    }
    if (status != US_OK) {
        return status;
    }
    to->floor_heads = usi_memory_array(context, count + 1, sizeof *to->floor_heads);
    if (to->floor_heads == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < count; k++) {
        to->floor_heads[k] =
            sum_at(blend, blend->heads, ARRAY(floor_heads), k * sizeof *to->floor_heads);
    }
    return US_OK;
}

static void blend_heads(const us_section *section, const usi_places *places, const usi_blend *blend,
                        usi_reading *to)
{
#define HEADS(array, type, index, member)                                                          \
    sum_at(blend, blend->heads, ARRAY(array), ITEM(type, index, member))
    for (size_t w = 0; w < section->wall_count; w++) {
        usi_wall_reading *wall = &to->walls[w];
        wall->left_face_top.value = HEADS(walls, usi_wall_reading, w, left_face_top.value);
        wall->tip.value = HEADS(walls, usi_wall_reading, w, tip.value);
        wall->right_face_top.value = HEADS(walls, usi_wall_reading, w, right_face_top.value);
        wall->through_m_s.value = sum_at(blend, blend->stream, ARRAY(walls),
                                         ITEM(usi_wall_reading, w, through_m_s.value));
    }
    for (size_t p = 0; p < section->piezometer_count; p++) {
        to->piezometers[p].value = HEADS(piezometers, usi_reduced, p, value);
    }
    for (size_t p = 0; p < places->prism_count; p++) {
        to->prisms[p].mean.value = HEADS(prisms, usi_prism_reading, p, mean.value);
        to->prisms[p].corner.value = HEADS(prisms, usi_prism_reading, p, corner.value);
    }
    for (size_t t = 0; t < places->tight_count; t++) {
        to->tights[t].value = HEADS(tights, usi_reduced, t, value);
    }
#undef HEADS
}

static double pick_lower(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->lower_m_s;
}

static double pick_upper(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->upper_m_s;
}

static void blend_flows(const usi_blend *blend, usi_reading *to)
{
    to->flow_m_s = sum(blend, blend->both, usi_pick_flow, 0);
    to->lower_m_s = sum(blend, blend->stream, pick_lower, 0);
    to->upper_m_s = sum(blend, blend->heads, pick_upper, 0);
    for (size_t k = 0; to->outflows != NULL && k < to->outflow_count; k++) {
        usi_outflow *out = &to->outflows[k];
#define BOTH(member) sum_at(blend, blend->both, ARRAY(outflows), ITEM(usi_outflow, k, member))
        out->value_m_s = BOTH(value_m_s);
        out->lower_m_s = BOTH(lower_m_s);
        out->upper_m_s = BOTH(upper_m_s);
#undef BOTH
        out->face = sum_at(blend, blend->heads, ARRAY(outflows), ITEM(usi_outflow, k, face));
    }
}

us_status usi_blend_make(us_context *context, const us_section *section, const usi_places *places,
                         const usi_blend *blend, usi_reading *reading)
{
    us_status status = copy_nearest(context, section, places, blend->from[blend->nearest], reading);
    if (status == US_OK) {
        blend_exits(places, blend, reading);
        blend_bed(blend, reading);
        blend_heads(section, places, blend, reading);
        blend_flows(blend, reading);
    }
    if (status == US_OK && section->has_structure) {
        status = blend_uplift(context, section, blend, reading);
    }
    if (status != US_OK) {
        usi_reading_free(reading);
    }
    return status;
}
