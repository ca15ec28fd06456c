/* Where the bed is nearest to boiling, where that is not where it is steepest. */
#ifndef USI_QUANTITY_BED_WORST_H
#define USI_QUANTITY_BED_WORST_H

#include "model/critical.h"
#include "quantity/bed.h"

typedef enum usi_bed_worst_kind {
    USI_BED_WORST_KNOWN,   /* the largest gradient over the critical one */
    USI_BED_WORST_SLIDING, /* the largest where no gradient at all is allowed */
    USI_BED_WORST_UNKNOWN, /* the largest where the critical gradient is not known */
    USI_BED_WORST_COUNT
} usi_bed_worst_kind;

typedef struct usi_bed_worst {
    bool found;
    double
        gradient_1_m; /* flow out over conductivity square to the bed, per unit head difference */
    usi_point at;
    size_t soil;
    usi_critical critical;
} usi_bed_worst;

/* Looks along a downstream bed on which soil, slope or what stands on it change; nothing is
 * found on one where none does, as the steepest place is the worst there. Keeps clear of
 * unbounded exits as usi_bed_peak_find() does. */
void usi_bed_worst_find(const usi_bed *bed, const usi_exit *exits, const usi_exit_reading *readings,
                        size_t count, usi_bed_worst worst[USI_BED_WORST_COUNT]);

#endif
