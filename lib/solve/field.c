#include "solve/field.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/panes.h"
#include "solve/pair.h"
#include "solve/room.h"
#include "solve/supplied.h"

us_status usi_field_begin(us_context *context, const usi_grid *grid, usi_field **field)
{
    usi_field *made = usi_memory_array(context, 1, sizeof *made);
    if (made == NULL) {
        return US_ERROR_MEMORY;
    }
    made->grid = grid;
    made->reduced = usi_memory_array(context, grid->unknowns, sizeof *made->reduced);
    if (made->reduced == NULL) {
        usi_field_free(made);
        return US_ERROR_MEMORY;
    }
    *field = made;
    return US_OK;
}

void usi_field_conclude(usi_field *field)
{
    bool has_base = field->grid->section->has_base;
    field->sealed = field->stream == NULL;
    field->certified = field->sealed || (has_base && !usi_panes_stand_in(field->grid->section));
    if (field->sealed) {
        field->upper_m_s = 0.0; /* rounding apart, which is all that is left */
        field->flow_m_s = 0.0;
    }
    /* Soil without a base is cut closed here and open in the head problem: two
     * different total flows, so the stream function goes with its own. */
    field->stream_unit_m_s = has_base ? field->flow_m_s : field->lower_m_s;
}

static us_status solve(us_context *context, const usi_grid *grid, bool heads_alone,
                       usi_field **field)
{
    usi_field *solved = NULL;
    us_status status = usi_room_check(context, grid->unknowns, usi_room_of_machine());
    if (status == US_OK) {
        status = usi_field_begin(context, grid, &solved);
    }
    if (status == US_OK) {
        solved->heads_alone = heads_alone;
        status = grid->section->situation != NULL ? usi_supplied_solve(context, solved)
                                                  : usi_pair_solve(context, solved);
    }
    if (status == US_OK) {
        *field = solved;
    } else {
        usi_field_free(solved);
    }
    return status;
}

us_status usi_field_solve(us_context *context, const usi_grid *grid, usi_field **field)
{
    return solve(context, grid, false, field);
}

us_status usi_field_solve_heads(us_context *context, const usi_grid *grid, usi_field **field)
{
    return solve(context, grid, true, field);
}

void usi_field_free(usi_field *field)
{
    if (field != NULL) {
        free(field->reduced);
        free(field->stream);
        free(field->outflows);
        free(field->splits);
        free(field->seeds);
        free(field);
    }
}

double usi_field_head(const usi_field *field, size_t i, size_t j, usi_corner corner)
{
    return field->reduced[usi_grid_unknown(field->grid, i, j, corner)];
}
