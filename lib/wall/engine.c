#include "wall/engine.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "wall/engine_parts.h"

static size_t head_stitches(const usi_engine *engine)
{
    return engine->pair_count + usi_strips_head_count(&engine->strips) + engine->gates.count;
}

static size_t stream_stitches(const usi_engine *engine)
{
    return engine->segments.count + engine->strips.count + engine->gates.side_count;
}

/* Stitches of the head problem, one a pair, by `places` of the unknowns; then those of strips. */
static usi_stitch *stitch_pairs(us_context *context, const usi_engine *engine,
                                const int32_t *places)
{
    usi_stitch *stitches = usi_memory_array(context, head_stitches(engine) + 1, sizeof *stitches);
    for (size_t p = 0; stitches != NULL && p < engine->pair_count; p++) {
        const usi_face_pair *pair = &engine->pairs[p];
        stitches[p] = (usi_stitch){places[pair->left], places[pair->right]};
    }
    if (stitches != NULL) {
        usi_strips_head_stitches(&engine->strips, &engine->segments, places,
                                 stitches + engine->pair_count);
        if (engine->gates.count > 0) {
            usi_gates_head_stitches(&engine->heads,
                                    stitches + head_stitches(engine) - engine->gates.count);
        }
    }
    return stitches;
}

/* Stitches of the stream-function problem, one a segment: where it is closed its ends are
 * tied. */
static usi_stitch *stitch_segments(us_context *context, const usi_engine *engine,
                                   const int32_t *places)
{
    usi_stitch *stitches = usi_memory_array(context, stream_stitches(engine) + 1, sizeof *stitches);
    for (size_t k = 0; stitches != NULL && k < engine->segments.count; k++) {
        const usi_segment *of = &engine->segments.list[k];
        stitches[k] = (usi_stitch){places[of->place[0]], places[of->place[1]]};
    }
    if (stitches != NULL) {
        usi_strips_stream_stitches(&engine->strips, &engine->segments, places,
                                   stitches + engine->segments.count);
        if (engine->gates.count > 0) {
            usi_gates_stream_stitches(&engine->gates, &engine->streams,
                                      stitches + stream_stitches(engine) -
                                          engine->gates.side_count);
        }
    }
    return stitches;
}

/* Links that end at a water. */
static us_status list_edges(us_context *context, usi_engine *engine)
{
    const usi_problem *problem = &engine->head.problem;
    size_t count = 0;
    for (size_t k = 0; k < problem->link_count; k++) {
        count += problem->links[k].a < 0 || problem->links[k].b < 0 ? 1 : 0;
    }
    us_status status = usi_problem_begin(context, &engine->edges, 0, count + 1);
    for (size_t k = 0; status == US_OK && k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        if (link->a < 0 || link->b < 0) {
            usi_problem_link(&engine->edges, link->a, link->b, link->conductance);
        }
    }
    return status;
}

static us_status make_head(us_context *context, usi_engine *engine)
{
    us_status status = usi_head_lay(context, engine->grid, 0, &engine->head);
    if (status != US_OK) {
        return status;
    }
    usi_stitch *stitches = stitch_pairs(context, engine, engine->head.places);
    status = stitches != NULL ? usi_seam_make(context, &engine->head.problem, stitches,
                                              head_stitches(engine), &engine->head_seam)
                              : US_ERROR_MEMORY;
    free(stitches);
    if (status == US_OK) {
        status = usi_seam_load(context, engine->head_seam, (usi_seam_key){NULL, 0}, NULL, NULL,
                               engine->head.free_count);
    }
    if (status == US_OK) {
        const double *values = usi_seam_base(engine->head_seam, 0);
        engine->head_energy = usi_problem_energy(&engine->head.problem, values);
        status = list_edges(context, engine);
    }
    return status;
}

static us_status make_stream(us_context *context, usi_engine *engine)
{
    us_status status = usi_stream_lay(context, &engine->open.grid, 0, &engine->stream);
    if (status != US_OK || engine->stream.sealed) {
        return status;
    }
    usi_stitch *stitches = stitch_segments(context, engine, engine->stream.places);
    status = stitches != NULL ? usi_seam_make(context, &engine->stream.problem, stitches,
                                              stream_stitches(engine), &engine->stream_seam)
                              : US_ERROR_MEMORY;
    free(stitches);
    if (status == US_OK) {
        status = usi_seam_load(context, engine->stream_seam, (usi_seam_key){NULL, 0}, NULL, NULL,
                               engine->stream.free_count);
    }
    if (status == US_OK) {
        const double *values = usi_seam_base(engine->stream_seam, 0);
        engine->stream_energy = usi_problem_energy(&engine->stream.problem, values);
    }
    return status;
}

static void open_gates(usi_supply *supply)
{
    for (size_t g = 0; g < supply->gate_count; g++) {
        supply->gates[g].open = true;
    }
}

/* True where no stitch of a wall touches a gate: what flows out by it is then what its links
 * bring. */
static bool stand_apart(const usi_engine *engine)
{
    const int32_t *gate_of = engine->closed_supply.gate_of;
    bool apart = engine->closed_supply.gate_count == engine->open_supply.gate_count;
    for (size_t p = 0; apart && p < engine->pair_count; p++) {
        apart = gate_of[engine->pairs[p].left] < 0 && gate_of[engine->pairs[p].right] < 0;
    }
    return apart;
}

/* What holds the heads, with the walls closed and without. */
static us_status make_supplies(us_context *context, usi_engine *engine)
{
    us_status status = usi_supply_make(context, engine->grid, &engine->closed_supply);
    if (status == US_OK) {
        open_gates(&engine->closed_supply);
        status = usi_supply_make(context, &engine->open.grid, &engine->open_supply);
    }
    if (status == US_OK) {
        open_gates(&engine->open_supply);
    }
    if (status == US_OK && engine->closed_supply.gate_count > 0 && stand_apart(engine)) {
        status = usi_gate_seams_list(context, &engine->open_supply, &engine->gates);
    }
    return status;
}

static us_status make_supplied_heads(us_context *context, usi_engine *engine)
{
    us_status status =
        usi_heads_lay(&engine->closed_supply, engine->gates.count > 0, &engine->heads);
    usi_stitch *stitches = NULL;
    if (status == US_OK) {
        stitches = stitch_pairs(context, engine, engine->heads.places);
        status = stitches != NULL ? usi_heads_sew(&engine->heads, stitches, head_stitches(engine))
                                  : US_ERROR_MEMORY;
    }
    free(stitches);
    return status;
}

static us_status make_supplied(us_context *context, usi_engine *engine)
{
    us_status status = make_supplies(context, engine);
    if (status == US_OK) {
        status = make_supplied_heads(context, engine);
    }
    if (status != US_OK || engine->grid->section->situation->inner) {
        return status;
    }
    status = usi_streams_lay(&engine->open_supply, &engine->streams);
    usi_stitch *stitches = NULL;
    if (status == US_OK) {
        stitches = stitch_segments(context, engine, engine->streams.places);
        status = stitches != NULL
                     ? usi_streams_sew(&engine->streams, stitches, stream_stitches(engine))
                     : US_ERROR_MEMORY;
    }
    free(stitches);
    return status;
}

/* Room for what is set of either seam. */
static us_status make_room(us_context *context, usi_engine *engine)
{
    size_t most = head_stitches(engine) + stream_stitches(engine);
    engine->tie = usi_memory_array(context, most + 1, sizeof *engine->tie);
    engine->gates.push = usi_memory_array(context, most + 1, sizeof *engine->gates.push);
    return engine->tie != NULL && engine->gates.push != NULL ? US_OK : US_ERROR_MEMORY;
}

us_status usi_engine_make(us_context *context, const usi_grid *grid, const usi_wall_span *spans,
                          size_t span_count, usi_engine **made)
{
    usi_engine *engine = usi_memory_array(context, 1, sizeof *engine);
    if (engine == NULL) {
        return US_ERROR_MEMORY;
    }
    engine->grid = grid;
    engine->supplied = grid->section->situation != NULL;
    us_status status =
        usi_segments_list(context, engine->grid, spans, span_count, &engine->segments);
    if (status == US_OK) {
        status = usi_segments_pair(context, &engine->segments, &engine->pairs, &engine->pair_count);
    }
    if (status == US_OK) {
        status = usi_strips_list(context, &engine->segments, spans, span_count, &engine->strips);
    }
    if (status == US_OK) {
        status = usi_walled_make(context, engine->grid, &engine->segments, NULL, &engine->open);
    }
    if (status == US_OK && engine->supplied) {
        status = make_supplied(context, engine);
    } else if (status == US_OK) {
        status = make_head(context, engine);
        status = status == US_OK ? make_stream(context, engine) : status;
    }
    if (status == US_OK) {
        status = make_room(context, engine);
    }
    if (status == US_OK) {
        *made = engine;
    } else {
        usi_engine_free(engine);
    }
    return status;
}

void usi_engine_free(usi_engine *engine)
{
    if (engine == NULL) {
        return;
    }
    usi_seam_free(engine->head_seam);
    usi_seam_free(engine->stream_seam);
    usi_problem_free(&engine->edges);
    usi_head_free(&engine->head);
    usi_stream_free(&engine->stream);
    usi_heads_free(&engine->heads);
    usi_streams_free(&engine->streams);
    usi_supply_free(&engine->closed_supply);
    usi_supply_free(&engine->open_supply);
    usi_walled_free(&engine->open);
    free(engine->segments.list);
    free(engine->pairs);
    free(engine->strips.list);
    usi_gate_seams_free(&engine->gates);
    free(engine->tie);
    free(engine);
}

const usi_segments *usi_engine_segments(const usi_engine *engine)
{
    return &engine->segments;
}

usi_seam *usi_engine_heads(const usi_engine *engine)
{
    return engine->supplied ? engine->heads.seam : engine->head_seam;
}

usi_seam *usi_engine_streams(const usi_engine *engine)
{
    return engine->supplied ? engine->streams.seam : engine->stream_seam;
}

double usi_engine_head_scale(const usi_engine *engine)
{
    return engine->supplied ? engine->heads.scale_m_s : engine->head.scale_m_s;
}

double usi_engine_stream_scale(const usi_engine *engine)
{
    return engine->supplied ? engine->streams.scale_m_s : engine->stream.scale_m_s;
}

/* What a segment passes between the ends of its faces. */
static double pass_across(const usi_engine *engine, const double *pass_m_s, int32_t segment)
{
    if (segment < 0) {
        return 0.0;
    }
    if (pass_m_s[segment] < 0.0) {
        return usi_strips_joined(&engine->strips, (size_t)segment) ? HUGE_VAL : 0.0;
    }
    return pass_m_s[segment];
}

us_status usi_engine_set_heads(usi_engine *engine, const double *pass_m_s)
{
    double scale_m_s = usi_engine_head_scale(engine);
    for (size_t p = 0; p < engine->pair_count; p++) {
        const usi_face_pair *pair = &engine->pairs[p];
        double below_m_s = pass_across(engine, pass_m_s, pair->below);
        double above_m_s = pass_across(engine, pass_m_s, pair->above);
        engine->tie[p] = 0.5 * (below_m_s + above_m_s) / scale_m_s;
    }
    usi_strips_set_heads(&engine->strips, pass_m_s, scale_m_s, engine->tie + engine->pair_count);
    if (engine->gates.count > 0) {
        usi_gates_set_heads(&engine->closed_supply,
                            engine->tie + head_stitches(engine) - engine->gates.count);
    }
    return usi_seam_set(usi_engine_heads(engine), engine->tie);
}

us_status usi_engine_set_streams(usi_engine *engine, const double *pass_m_s)
{
    usi_seam *streams = usi_engine_streams(engine);
    if (streams == NULL) {
        return US_OK;
    }
    double scale_m_s = usi_engine_stream_scale(engine);
    for (size_t k = 0; k < engine->segments.count; k++) {
        double closed = pass_m_s[k] < 0.0 ? 0.0 : HUGE_VAL;
        engine->tie[k] = pass_m_s[k] > 0.0 ? scale_m_s / pass_m_s[k] : closed;
    }
    usi_strips_set_streams(&engine->strips, pass_m_s, scale_m_s,
                           engine->tie + engine->segments.count);
    if (engine->gates.count > 0) {
        usi_gates_set_streams(&engine->gates, &engine->closed_supply, &engine->open_supply,
                              engine->tie + stream_stitches(engine) - engine->gates.side_count);
    }
    return usi_seam_set(streams, engine->tie);
}
