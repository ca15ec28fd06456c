#include "model/scale.h"

#include <stdio.h>
#include <string.h>

#define FOOT_M 0.3048
#define POUND_FORCE_PER_FOOT_N_M (0.45359237 * 9.80665 / FOOT_M)

/* Speeds are named length/time: the length tells how long the time is. */
static double time_unit_s(const usi_unit *speed)
{
    const usi_unit *length = usi_unit_find(speed->name, strcspn(speed->name, "/"));
    return length == NULL ? 1.0 : length->factor / speed->factor;
}

usi_scale usi_scale_of(const us_section *section)
{
    const usi_file_units *units = &section->units;
    double length_m = units->length->factor;
    double time_s = time_unit_s(units->conductivity);
    usi_scale scale = {
        .length = units->length->name,
        .force = units->pounds ? "lb/ft" : "kN/m",
        .pressure = units->pounds ? "psf" : "kPa",
        .length_m = length_m,
        .flow_m2_s = length_m * length_m / time_s,
        .total_m3_s = length_m * length_m * length_m / time_s,
        .force_n_m = units->pounds ? POUND_FORCE_PER_FOOT_N_M : 1000.0,
        .pressure_pa = units->pounds ? POUND_FORCE_PER_FOOT_N_M / FOOT_M : 1000.0,
        .moment = units->pounds ? "lb ft/ft" : "kN m/m",
        .moment_n = units->pounds ? POUND_FORCE_PER_FOOT_N_M * FOOT_M : 1000.0,
    };
    (void)snprintf(scale.flow, sizeof scale.flow, "%s^2/%s", scale.length,
                   units->conductivity->time);
    (void)snprintf(scale.total, sizeof scale.total, "%s^3/%s", scale.length,
                   units->conductivity->time);
    return scale;
}
