/* The section file's own units: what results are given in. */
#ifndef USI_MODEL_SCALE_H
#define USI_MODEL_SCALE_H

#include "model/section.h"

enum { USI_UNIT_ROOM = 48 };

/* Names, and the SI value of one unit of each. */
typedef struct usi_scale {
    const char *length;
    char flow[USI_UNIT_ROOM];  /* length^2 per time, per unit width */
    char total[USI_UNIT_ROOM]; /* length^3 per time */
    const char *force;         /* per unit width */
    const char *pressure;      /* kPa or psf */
    double length_m;
    double flow_m2_s;
    double total_m3_s;
    double force_n_m;
    double pressure_pa;
    const char *moment; /* per unit width */
    double moment_n;
} usi_scale;

/* The time unit is that of the file's conductivity: cm/s and m give m^2/s. */
usi_scale usi_scale_of(const us_section *section);

#endif
