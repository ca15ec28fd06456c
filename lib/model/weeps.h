/* A row of weeps as a strip of equal effect, for a model in two dimensions. */
#ifndef USI_MODEL_WEEPS_H
#define USI_MODEL_WEEPS_H

#include "model/section.h"

/* A row of weeps is a strip wide enough for a grid, and in series with it what the
 * water loses between there and the holes: flow q towards a slot of width w loses
 * q / (pi k) log(W / w) more than towards one of width W. */
typedef struct usi_weeps {
    usi_point low; /* corners of the box around the strip */
    usi_point high;
    double series_s_m; /* head lost between the strip and the holes, and in what clogs them,
                          per flow and unit width */
} usi_weeps;

/* `drain` is a row of weeps of the section. */
usi_weeps usi_weeps_of(const us_section *section, const usi_drain *drain);

/* Width of the slot that, seen from afar, is worth a row of round holes of a diameter
 * every `spacing_m`: 8 S exp(-0.5772 - pi S / (2 D)). From the resistance of discs (R.
 * Holm, Electric Contacts) in series with the convergence towards the row; for D up to
 * S / 4. Soil that is alike in both level directions may be looser level than upright. */
double usi_weeps_slot(double diameter_m, double spacing_m);

#endif
