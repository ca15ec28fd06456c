/* From a state of the walls to a field that any reading can be taken off. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/one_way.h"
#include "wall/engine_parts.h"

/* Of changes to which gates are open. */
enum { ROUNDS_MOST = 40 };

/* The engine's grid with the walls of the state. */
static us_status lay_walls(us_context *context, const usi_engine *engine, const us_section *section,
                           const double *pass_m_s, usi_wall_state *state)
{
    bool *open = usi_memory_array(context, engine->segments.count + 1, sizeof *open);
    if (open == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < engine->segments.count; k++) {
        open[k] = isinf(pass_m_s[k]) != 0;
    }
    us_status status =
        usi_walled_make(context, engine->grid, &engine->segments, open, &state->walled);
    state->walled.grid.section = section;
    free(open);
    return status;
}

/* The energy in the state grows from that without stitches. What a tie brings to a water is
 * all that reaches its free place, which the links of the problem to the water itself do not
 * have. */
static usi_known know_head(const usi_engine *engine)
{
    usi_seam *seam = engine->head_seam;
    usi_known known = {engine->head_energy + usi_seam_growth(seam, 0, 0), 0.0, 0.0};
    for (size_t k = 0; k < usi_seam_count(seam); k++) {
        const usi_stitch *stitch = usi_seam_stitch(seam, k);
        if (stitch->a >= 0 && stitch->b >= 0) {
            continue;
        }
        double flow = usi_seam_flow(seam, 0, k); /* from a to b */
        known.in += stitch->a == USI_PLACE_ONE ? flow : 0.0;
        known.in -= stitch->b == USI_PLACE_ONE ? flow : 0.0;
        known.out += stitch->b == USI_PLACE_ZERO ? flow : 0.0;
        known.out -= stitch->a == USI_PLACE_ZERO ? flow : 0.0;
    }
    return known;
}

static us_status take_head(us_context *context, usi_engine *engine, usi_field *field)
{
    double *values = usi_memory_array(context, engine->head.free_count + 1, sizeof *values);
    us_status status =
        values != NULL ? usi_seam_values(context, engine->head_seam, 0, values) : US_ERROR_MEMORY;
    if (status == US_OK) {
        status =
            usi_head_take_known(&engine->head, &engine->edges, values, know_head(engine), field);
        if (engine->grid->local_count > 0) {
            double beside = usi_seam_beside(engine->head_seam, values, values);
            field->upper_m_s =
                usi_head_bound(&engine->head, values) + engine->head.scale_m_s * beside;
        }
    }
    free(values);
    return status;
}

static us_status take_stream(us_context *context, usi_engine *engine, usi_field *field)
{
    double *values = usi_memory_array(context, engine->stream.free_count + 1, sizeof *values);
    us_status status =
        values != NULL ? usi_seam_values(context, engine->stream_seam, 0, values) : US_ERROR_MEMORY;
    if (status == US_OK) {
        double energy = engine->stream_energy + usi_seam_growth(engine->stream_seam, 0, 0);
        status = usi_stream_take_known(context, &engine->stream, values, energy, field);
        if (status == US_OK && engine->grid->local_count > 0) {
            double beside = usi_seam_beside(engine->stream_seam, values, values);
            field->lower_m_s =
                engine->stream.scale_m_s / (usi_stream_energy(&engine->stream, values) + beside);
        }
    }
    free(values);
    return status;
}

/* Sets both seams, gates as water in the soil has them: the set of the state before is where it
 * begins. `*settled` where that is so at the end; without stitches for gates all are open. */
static us_status settle(us_context *context, usi_engine *engine, const double *pass_m_s,
                        bool *settled)
{
    usi_supply *supply = &engine->closed_supply;
    size_t given = supply->situation->terminal_count + supply->gate_count;
    double *values = usi_memory_array(context, usi_heads_count(&engine->heads), sizeof *values);
    double *flows = usi_memory_array(context, given, sizeof *flows);
    us_status status = values != NULL && flows != NULL ? US_OK : US_ERROR_MEMORY;
    *settled = false;
    for (int round = 0; status == US_OK && !*settled && round < ROUNDS_MOST; round++) {
        status = usi_engine_set_heads(engine, pass_m_s);
        if (status == US_OK) {
            status = usi_heads_solve(&engine->heads, supply->heads, values);
        }
        if (status == US_OK) {
            usi_heads_outflows(&engine->heads, values, flows);
            *settled = usi_one_way_change(supply, &engine->heads, values, flows) == 0;
        }
        if (engine->gates.count == 0) {
            break;
        }
    }
    if (status == US_OK && engine->gates.count > 0 && engine->streams.seam != NULL) {
        size_t first = usi_seam_count(engine->streams.seam) - engine->gates.side_count;
        usi_gates_push(&engine->gates, &engine->heads, &engine->open_supply, values,
                       engine->gates.push + first);
        status = usi_seam_push(context, engine->streams.seam, engine->gates.push);
    }
    if (status == US_OK) {
        status = usi_engine_set_streams(engine, pass_m_s);
    }
    free(values);
    free(flows);
    return status;
}

/* Sets both seams. */
static us_status set(us_context *context, usi_engine *engine, const double *pass_m_s, bool *one_way)
{
    bool settled = true;
    us_status status = US_OK;
    if (engine->supplied && engine->closed_supply.gate_count > 0) {
        status = settle(context, engine, pass_m_s, &settled);
    } else {
        status = usi_engine_set_heads(engine, pass_m_s);
        status = status == US_OK ? usi_engine_set_streams(engine, pass_m_s) : status;
    }
    if (!settled && engine->gates.count == 0) {
        usi_supply *supply = &engine->closed_supply;
        for (size_t g = 0; g < supply->gate_count; g++) {
            supply->gates[g].open = true;
        }
    }
    *one_way = !settled;
    return status;
}

static us_status take(us_context *context, usi_engine *engine, usi_wall_state *state)
{
    if (engine->supplied) {
        usi_sewn sewn = {&engine->heads, &engine->streams};
        return usi_supplied_take(context, &sewn, state->field);
    }
    us_status status = take_head(context, engine, state->field);
    if (status == US_OK && engine->stream_seam != NULL) {
        status = take_stream(context, engine, state->field);
    }
    if (status == US_OK) {
        usi_field_conclude(state->field);
    }
    return status;
}

us_status usi_engine_state(us_context *context, usi_engine *engine, const us_section *section,
                           const double *pass_m_s, usi_wall_state **state)
{
    usi_wall_state *made = usi_memory_array(context, 1, sizeof *made);
    if (made == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = set(context, engine, pass_m_s, &made->one_way);
    if (status == US_OK) {
        status = lay_walls(context, engine, section, pass_m_s, made);
    }
    if (status == US_OK) {
        status = usi_field_begin(context, &made->walled.grid, &made->field);
    }
    if (status == US_OK) {
        status = take(context, engine, made);
    }
    if (status == US_OK) {
        *state = made;
    } else {
        usi_wall_state_free(made);
    }
    return status;
}

void usi_wall_state_free(usi_wall_state *state)
{
    if (state != NULL) {
        usi_field_free(state->field);
        usi_walled_free(&state->walled);
        free(state);
    }
}
