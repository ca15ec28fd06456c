/* The forms a study of tip levels is written in. Each appends to `out`. */
#ifndef USI_OUTPUT_DEPTH_H
#define USI_OUTPUT_DEPTH_H

#include "base/buffer.h"
#include "output/scale.h"
#include "study/depth.h"

void usi_depth_text(us_buffer *out, const us_depth *depth, const usi_scale *scale);
void usi_depth_csv(us_buffer *out, const us_depth *depth, const usi_scale *scale);
/* Also US_ERROR_MEMORY, reported. */
us_status usi_depth_json(us_context *context, us_buffer *out, const us_depth *depth,
                         const usi_scale *scale);

/* The check of a solution that governs; NULL where no check has a limit. */
const us_register_entry *usi_depth_governing(const us_solution *solution);

/* Mass of steel as told: in kilograms, or pounds. */
double usi_depth_mass_unit(const us_section *section);
const char *usi_depth_mass_name(const us_section *section);

#endif
