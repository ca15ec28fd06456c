/* Which part of the world a picture shows, and at what scale. */
#ifndef USI_DRAW_WINDOW_H
#define USI_DRAW_WINDOW_H

#include "model/section.h"

typedef struct usi_window {
    usi_point low;
    usi_point high;
    double height;       /* of the plot, in units of its width */
    double exaggeration; /* of heights over distances: 1 is true scale */
    bool base_below;     /* the base lies below the picture */
    bool water_above;    /* a water level lies above it */
} usi_window;

/* Chooses the window for a section and one of its water cases. */
usi_window usi_window_choose(const us_section *section, const usi_water *water);

/* A window for what lies from one x to another, near the surface of the soil: works
 * there as far as they fit a flat picture, and what water there is over them. */
usi_window usi_window_part(const us_section *section, const usi_water *water, double left_m,
                           double right_m);

#endif
