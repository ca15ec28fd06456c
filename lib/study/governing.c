#include "study/governing.h"

/* A peak elsewhere has to be steeper by more than rounding. */
static const double PEAK_MARGIN = 1e-9;

/* What checks go by at an exit. */
static double judged(const usi_exit_reading *exit)
{
    return exit->bounded ? exit->gradient_1_m : exit->mean_1_m;
}

usi_governing usi_governing_find(const usi_reading *readings, size_t count)
{
    const usi_reading *fine = &readings[count - 1];
    usi_governing found = {0, false};
    for (size_t e = 1; e < fine->exit_count; e++) {
        if (judged(&fine->exits[e]) > judged(&fine->exits[found.exit])) {
            found.exit = e;
        }
    }
    if (fine->exit_count == 0 || !fine->exits[found.exit].bounded) {
        return found;
    }
    double there = fine->exits[found.exit].gradient_1_m;
    found.peak = fine->peak.gradient_1_m > there * (1.0 + PEAK_MARGIN);
    for (size_t k = 0; k < count; k++) {
        found.peak = found.peak && readings[k].peak.found;
    }
    return found;
}

usi_point usi_governing_place(usi_governing governing, const usi_exit *exits,
                              const usi_reading *finest)
{
    return governing.peak ? (usi_point){finest->peak.x_m, finest->peak.level_m}
                          : exits[governing.exit].at;
}
