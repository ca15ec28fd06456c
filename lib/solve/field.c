#include "solve/field.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/head.h"
#include "solve/stream.h"

us_status usi_field_solve(us_context *context, const usi_grid *grid, usi_field **field)
{
    usi_field *solved = usi_memory_array(context, 1, sizeof *solved);
    if (solved == NULL) {
        return US_ERROR_MEMORY;
    }
    solved->grid = grid;
    solved->reduced = usi_memory_array(context, grid->unknowns, sizeof *solved->reduced);
    us_status status = solved->reduced != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        status = usi_head_solve(context, solved);
    }
    if (status == US_OK) {
        status = usi_stream_solve(context, solved);
    }
    if (status != US_OK) {
        usi_field_free(solved);
        return status;
    }
    if (solved->stream == NULL) {
        solved->upper_m_s = 0.0; /* rounding apart, which is all that is left */
        solved->flow_m_s = 0.0;
    }
    *field = solved;
    return US_OK;
}

void usi_field_free(usi_field *field)
{
    if (field != NULL) {
        free(field->reduced);
        free(field->stream);
        free(field);
    }
}

double usi_field_head(const usi_field *field, size_t i, size_t j, usi_corner corner)
{
    return field->reduced[usi_grid_unknown(field->grid, i, j, corner)];
}
