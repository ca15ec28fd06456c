/* Where the gradient on the bed is largest, and where it has no number. */
#ifndef USI_QUANTITY_BED_PEAK_H
#define USI_QUANTITY_BED_PEAK_H

#include "quantity/bed.h"

typedef struct usi_bed_peak {
    bool found;
    double gradient_1_m;
    double x_m;
    double level_m;
    bool has_mean;
    double mean_1_m; /* over the depth of the mean at the toe, the first exit */
} usi_bed_peak;

/* True where a value on the bed would say more of the grid than of the soil: near an
 * unbounded exit other than `but`, by its mean depth, and near a hollow of the bed.
 * `but` may be NULL. */
bool usi_bed_is_unsure(const us_section *section, double x_m, const usi_exit *exits,
                       const usi_exit_reading *readings, size_t count, const usi_exit *but);

/* True near a hollow vertex of a bed that is drawn as a curve: it turns by under 20
 * degrees, and its own gradient is none of the curve's. */
bool usi_bed_is_hollow(const us_section *section, double x_m);

/* The largest gradient along the downstream bed, keeping clear of such places. */
usi_bed_peak usi_bed_peak_find(const usi_bed *bed, const usi_exit *exits,
                               const usi_exit_reading *readings, size_t count);

#endif
