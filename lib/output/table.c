#include "undersill/table.h"

#include <math.h>

#include "output/forms.h"

double usi_form_wall_error(const us_wall_result *wall)
{
    return fmax(wall->upstream_face_top_m.error,
                fmax(wall->tip_m.error, wall->downstream_face_top_m.error));
}

us_status us_solution_tabulate(us_context *context, const us_solution *solution, us_format format,
                               us_buffer **table)
{
    if (context == NULL || solution == NULL || table == NULL ||
        (format != US_FORMAT_TEXT && format != US_FORMAT_JSON && format != US_FORMAT_CSV)) {
        return US_ERROR_ARGUMENT;
    }
    us_buffer *out = usi_buffer_create(context);
    if (out == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_scale scale = usi_scale_of(solution->section);
    us_status status = US_OK;
    if (format == US_FORMAT_JSON) {
        status = usi_form_json(context, out, solution, &scale);
    } else if (format == US_FORMAT_CSV) {
        usi_form_csv(out, solution, &scale);
    } else {
        usi_form_text(out, solution, &scale);
    }
    if (status != US_OK) {
        us_buffer_free(out);
        return status;
    }
    return usi_buffer_finish(out, table);
}
