/* Units of measure: a closed table, exact factors to SI. */
#ifndef USI_BASE_UNITS_H
#define USI_BASE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum usi_dimension {
    USI_DIMENSION_NONE,
    USI_DIMENSION_LENGTH,      /* m */
    USI_DIMENSION_SPEED,       /* m/s, hydraulic conductivity */
    USI_DIMENSION_UNIT_WEIGHT, /* N/m^3 */
    USI_DIMENSION_TEMPERATURE, /* degrees Celsius */
    USI_DIMENSION_DISCHARGE,   /* m^3/s, of the stream */
    USI_DIMENSION_ANGLE,       /* radians */
    USI_DIMENSION_PRESSURE,    /* Pa */
    USI_DIMENSION_LINE_LOAD,   /* N/m */
    USI_DIMENSION_SHEET_MASS,  /* kg/m^2, of a sheet */
    USI_DIMENSION_PER_LENGTH,  /* 1/m */
    USI_DIMENSION_OTHER        /* known to the trade, but no key of today takes it */
} usi_dimension;

typedef struct usi_unit {
    const char *name; /* as written in a section file, such as "ft/day" */
    usi_dimension dimension;
    double factor;    /* SI value of one unit */
    const char *time; /* of a speed: name of its time unit, such as "day"; else NULL */
    double zero;      /* SI value of no units: not 0 for degrees Fahrenheit alone */
} usi_unit;

/* The unit called by the `length` bytes at `name`, or NULL. */
const usi_unit *usi_unit_find(const char *name, size_t length);

/* The unit of discharge that goes with a unit of length: m^3/s, or ft^3/s with feet,
 * inches and yards. */
const usi_unit *usi_unit_of_discharge(const usi_unit *length);

/* The inverse of a unit of length: 1/m of m. */
const usi_unit *usi_unit_of_inverse(const usi_unit *length);

/* All units of a dimension, for messages: index from 0, NULL at the end. */
const usi_unit *usi_unit_of(usi_dimension dimension, size_t index);

#endif
