/* The closed table of units. Factors are exact: the international foot is
 * 0.3048 m, the pound 0.45359237 kg, standard gravity 9.80665 m/s^2, a day
 * 86,400 s. Names of one unit stand together, the one to print first. */
#include "base/units.h"

#include <string.h>

#define FOOT 0.3048
#define INCH 0.0254
#define YARD 0.9144
#define MINUTE 60.0
#define HOUR 3600.0
#define DAY 86400.0
#define YEAR (365.25 * DAY)
#define KILOGRAM_FORCE 9.80665
#define POUND 0.45359237
#define POUND_FORCE (POUND * 9.80665)

#define LENGTH(name, factor)                                                                       \
    {                                                                                              \
        name, USI_DIMENSION_LENGTH, factor, NULL, 0.0                                              \
    }
#define SPEED(name, factor, time)                                                                  \
    {                                                                                              \
        name, USI_DIMENSION_SPEED, factor, time, 0.0                                               \
    }
#define WEIGHT(name, factor)                                                                       \
    {                                                                                              \
        name, USI_DIMENSION_UNIT_WEIGHT, factor, NULL, 0.0                                         \
    }
#define DEGREES(name, factor, zero)                                                                \
    {                                                                                              \
        name, USI_DIMENSION_TEMPERATURE, factor, NULL, zero                                        \
    }
#define DISCHARGE(name, factor)                                                                    \
    {                                                                                              \
        name, USI_DIMENSION_DISCHARGE, factor, NULL, 0.0                                           \
    }
#define PRESSURE(name, factor)                                                                     \
    {                                                                                              \
        name, USI_DIMENSION_PRESSURE, factor, NULL, 0.0                                            \
    }
#define LINE_LOAD(name, factor)                                                                    \
    {                                                                                              \
        name, USI_DIMENSION_LINE_LOAD, factor, NULL, 0.0                                           \
    }
#define SHEET_MASS(name, factor)                                                                   \
    {                                                                                              \
        name, USI_DIMENSION_SHEET_MASS, factor, NULL, 0.0                                          \
    }
#define PER_LENGTH(name, factor)                                                                   \
    {                                                                                              \
        name, USI_DIMENSION_PER_LENGTH, factor, NULL, 0.0                                          \
    }
#define OTHER(name, factor)                                                                        \
    {                                                                                              \
        name, USI_DIMENSION_OTHER, factor, NULL, 0.0                                               \
    }

static const usi_unit table[] = {
    LENGTH("m", 1.0),
    LENGTH("mm", 1e-3),
    LENGTH("cm", 1e-2),
    LENGTH("km", 1e3),
    LENGTH("ft", FOOT),
    LENGTH("in", INCH),
    LENGTH("yd", YARD),

    SPEED("m/s", 1.0, "s"),
    SPEED("cm/s", 1e-2, "s"),
    SPEED("mm/s", 1e-3, "s"),
    SPEED("ft/s", FOOT, "s"),
    SPEED("in/s", INCH, "s"),
    SPEED("m/min", 1.0 / MINUTE, "min"),
    SPEED("cm/min", 1e-2 / MINUTE, "min"),
    SPEED("ft/min", FOOT / MINUTE, "min"),
    SPEED("m/h", 1.0 / HOUR, "h"),
    SPEED("cm/h", 1e-2 / HOUR, "h"),
    SPEED("mm/h", 1e-3 / HOUR, "h"),
    SPEED("ft/h", FOOT / HOUR, "h"),
    SPEED("in/h", INCH / HOUR, "h"),
    SPEED("m/day", 1.0 / DAY, "day"),
    SPEED("m/d", 1.0 / DAY, "d"),
    SPEED("cm/day", 1e-2 / DAY, "day"),
    SPEED("cm/d", 1e-2 / DAY, "d"),
    SPEED("mm/day", 1e-3 / DAY, "day"),
    SPEED("mm/d", 1e-3 / DAY, "d"),
    SPEED("ft/day", FOOT / DAY, "day"),
    SPEED("ft/d", FOOT / DAY, "d"),
    SPEED("in/day", INCH / DAY, "day"),
    SPEED("in/d", INCH / DAY, "d"),
    SPEED("m/year", 1.0 / YEAR, "year"),
    SPEED("ft/year", FOOT / YEAR, "year"),

    WEIGHT("kN/m^3", 1e3),
    WEIGHT("kN/m3", 1e3),
    WEIGHT("N/m^3", 1.0),
    WEIGHT("N/m3", 1.0),
    WEIGHT("MN/m^3", 1e6),
    WEIGHT("MN/m3", 1e6),
    WEIGHT("lb/ft^3", POUND_FORCE / (FOOT * FOOT * FOOT)),
    WEIGHT("lb/ft3", POUND_FORCE / (FOOT * FOOT * FOOT)),
    WEIGHT("lbf/ft^3", POUND_FORCE / (FOOT * FOOT * FOOT)),
    WEIGHT("pcf", POUND_FORCE / (FOOT * FOOT * FOOT)),
    WEIGHT("kgf/m^3", KILOGRAM_FORCE),

    DEGREES("degC", 1.0, 0.0),
    DEGREES("\u00b0C", 1.0, 0.0),
    DEGREES("degF", 5.0 / 9.0, -160.0 / 9.0),
    DEGREES("\u00b0F", 5.0 / 9.0, -160.0 / 9.0),

    DISCHARGE("m^3/s", 1.0),
    DISCHARGE("m3/s", 1.0),
    DISCHARGE("L/s", 1e-3),
    DISCHARGE("ft^3/s", FOOT *FOOT *FOOT),
    DISCHARGE("ft3/s", FOOT *FOOT *FOOT),
    DISCHARGE("cfs", FOOT *FOOT *FOOT),

    {"deg", USI_DIMENSION_ANGLE, 3.14159265358979323846 / 180.0, NULL, 0.0},

    PRESSURE("kPa", 1e3),
    PRESSURE("Pa", 1.0),
    PRESSURE("MPa", 1e6),
    PRESSURE("psf", POUND_FORCE / (FOOT * FOOT)),
    PRESSURE("psi", POUND_FORCE / (INCH * INCH)),

    LINE_LOAD("kN/m", 1e3),
    LINE_LOAD("N/m", 1.0),
    LINE_LOAD("lb/ft", POUND_FORCE / FOOT),

    SHEET_MASS("kg/m^2", 1.0),
    SHEET_MASS("kg/m2", 1.0),
    SHEET_MASS("lb/ft^2", POUND / (FOOT * FOOT)),
    SHEET_MASS("lb/ft2", POUND / (FOOT * FOOT)),
    PER_LENGTH("1/m", 1.0),
    PER_LENGTH("1/mm", 1e3),
    PER_LENGTH("1/cm", 1e2),
    PER_LENGTH("1/km", 1e-3),
    PER_LENGTH("1/ft", 1.0 / FOOT),
    PER_LENGTH("1/in", 1.0 / INCH),
    PER_LENGTH("1/yd", 1.0 / YARD),

    /* Named so that a wrong dimension is told from an unknown unit. */
    OTHER("s", 1.0),
    OTHER("day", DAY),
    OTHER("kg", 1.0),
    OTHER("kg/m^3", 1.0),
    OTHER("N", 1.0),
    OTHER("kN", 1e3),
    OTHER("lb", POUND_FORCE),
};

enum { UNIT_COUNT = sizeof table / sizeof table[0] };

const usi_unit *usi_unit_find(const char *name, size_t length)
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (strlen(table[i].name) == length && memcmp(table[i].name, name, length) == 0) {
            return &table[i];
        }
    }
    return NULL;
}

const usi_unit *usi_unit_of_discharge(const usi_unit *length)
{
    bool metric = length->name[strlen(length->name) - 1] == 'm';
    return metric ? usi_unit_find("m^3/s", 5) : usi_unit_find("ft^3/s", 6);
}

const usi_unit *usi_unit_of_inverse(const usi_unit *length)
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (table[i].dimension == USI_DIMENSION_PER_LENGTH &&
            strcmp(table[i].name + strlen("1/"), length->name) == 0) {
            return &table[i];
        }
    }
    return NULL;
}

const usi_unit *usi_unit_of(usi_dimension dimension, size_t index)
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (table[i].dimension == dimension && index-- == 0) {
            return &table[i];
        }
    }
    return NULL;
}
