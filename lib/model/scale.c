#include "model/scale.h"

#include <string.h>

#define FOOT_M 0.3048
#define POUND_FORCE_PER_FOOT_N_M (0.45359237 * 9.80665 / FOOT_M)

/* Speeds are named length/time: the length tells how long the time is. */
static double time_unit_s(const usi_unit *speed)
{
    const usi_unit *length = usi_unit_find(speed->name, strcspn(speed->name, "/"));
    return length == NULL ? 1.0 : length->factor / speed->factor;
}

/* "LENGTH^2/TIME": it is called too often for a format. */
static void name_rate(const char *length, const char *power, const char *time, char *name,
                      size_t room)
{
    const char *parts[3] = {length, power, time};
    size_t used = 0;
    for (int k = 0; k < 3; k++) {
        for (const char *at = parts[k]; *at != '\0' && used + 1 < room; at++) {
            name[used++] = *at;
        }
    }
    name[used] = '\0';
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
    name_rate(scale.length, "^2/", units->conductivity->time, scale.flow, sizeof scale.flow);
    name_rate(scale.length, "^3/", units->conductivity->time, scale.total, sizeof scale.total);
    return scale;
}
