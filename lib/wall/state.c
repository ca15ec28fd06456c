/* From a state of the walls to a field that any reading can be taken off. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "wall/engine_parts.h"

/* Rounding: of what flows in through an edge that only lets out, over all that flows. */
static const double ONE_WAY_ROUNDING = 1e-10;

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

/* True where water goes in at an edge that is open for water to come out. */
static us_status look_one_way(us_context *context, usi_engine *engine, bool *enters)
{
    const usi_supply *supply = &engine->closed_supply;
    size_t terminals = supply->situation->terminal_count;
    *enters = false;
    if (supply->gate_count == 0) {
        return US_OK;
    }
    double *values = usi_memory_array(context, usi_heads_count(&engine->heads), sizeof *values);
    double *flows = usi_memory_array(context, terminals + supply->gate_count, sizeof *flows);
    us_status status = values != NULL && flows != NULL
                           ? usi_heads_solve(&engine->heads, supply->heads, values)
                           : US_ERROR_MEMORY;
    if (status == US_OK) {
        double most = 0.0;
        usi_heads_outflows(&engine->heads, values, flows);
        for (size_t k = 0; k < terminals + supply->gate_count; k++) {
            most = fmax(most, fabs(flows[k]));
        }
        for (size_t g = 0; g < supply->gate_count; g++) {
            *enters = *enters || flows[terminals + g] < -ONE_WAY_ROUNDING * most;
        }
    }
    free(values);
    free(flows);
    return status;
}

static us_status take(us_context *context, usi_engine *engine, usi_wall_state *state)
{
    if (engine->supplied) {
        usi_sewn sewn = {&engine->heads, &engine->streams};
        us_status status = usi_supplied_take(context, &sewn, state->field);
        return status == US_OK ? look_one_way(context, engine, &state->one_way) : status;
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
    us_status status = usi_engine_set(engine, pass_m_s);
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
