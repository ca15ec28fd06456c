#include "output/depth.h"

static const double POUND_KG = 0.45359237;

const us_register_entry *usi_depth_governing(const us_solution *solution)
{
    for (size_t k = 0; k < solution->register_count; k++) {
        if (solution->entries[k].governs) {
            return &solution->entries[k];
        }
    }
    return NULL;
}

double usi_depth_mass_unit(const us_section *section)
{
    return section->units.pounds ? POUND_KG : 1.0;
}

const char *usi_depth_mass_name(const us_section *section)
{
    return section->units.pounds ? "lb" : "kg";
}

us_status us_depth_tabulate(us_context *context, const us_depth *depth, us_format format,
                            us_buffer **table)
{
    if (context == NULL || depth == NULL || table == NULL ||
        (format != US_FORMAT_TEXT && format != US_FORMAT_JSON && format != US_FORMAT_CSV)) {
        return US_ERROR_ARGUMENT;
    }
    us_buffer *out = usi_buffer_create(context);
    if (out == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_scale scale = usi_scale_of(depth->section);
    us_status status = US_OK;
    if (format == US_FORMAT_JSON) {
        status = usi_depth_json(context, out, depth, &scale);
    } else if (format == US_FORMAT_CSV) {
        usi_depth_csv(out, depth, &scale);
    } else {
        usi_depth_text(out, depth, &scale);
    }
    if (status != US_OK) {
        us_buffer_free(out);
        return status;
    }
    return usi_buffer_finish(out, table);
}
