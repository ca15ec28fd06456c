#include "quantity/bed_profile.h"

#include <math.h>

#include "quantity/bed_peak.h"

/* Fills point k, not the exit's own. */
static void read_point(const usi_bed *bed, const usi_exit *exit, size_t k,
                       usi_exit_reading *reading)
{
    usi_bed_gradient found = usi_bed_gradient_at(bed, exit->profile_x_m[k], exit->bed);
    reading->profile_known[k] = found.present;
    reading->profile_1_m[k] = found.value_1_m;
    reading->profile_doubt_1_m[k] = found.doubt_1_m;
}

static void read_watch(const usi_bed *bed, const usi_exit *exit, usi_exit_reading *reading)
{
    usi_bed_gradient watch = {.present = false};
    if (exit->watch_x_m != exit->at.x_m) {
        watch = usi_bed_gradient_at(bed, exit->watch_x_m, exit->bed);
    }
    reading->watch_1_m = watch.present ? watch.value_1_m : reading->gradient_1_m;
}

void usi_bed_profile_read(const usi_bed *bed, const usi_exit *exits, usi_exit_reading *readings,
                          size_t count)
{
    const us_section *section = bed->field->grid->section;
    if (bed->field->sealed) {
        return;
    }
    for (size_t e = 0; e < count; e++) {
        usi_exit_reading *reading = &readings[e];
        read_watch(bed, &exits[e], reading);
        reading->profile_count = exits[e].profile_count;
        reading->profile_known[0] = reading->bounded;
        reading->profile_1_m[0] = reading->gradient_1_m;
        reading->profile_doubt_1_m[0] = fabs(reading->gradient_1_m - reading->second_1_m);
        for (size_t k = 1; k < exits[e].profile_count; k++) {
            double x_m = exits[e].profile_x_m[k];
            if (!usi_bed_is_unsure(section, x_m, exits, readings, count, &exits[e])) {
                read_point(bed, &exits[e], k, reading);
            }
        }
    }
}
