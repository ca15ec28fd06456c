#include "input/scalar.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "input/mistake.h"

typedef struct rule {
    const char *what; /* "a level" */
    usi_dimension dimension;
    double smallest;
    double largest;
    const char *range; /* the limits in words */
} rule;

static const rule rules[] = {
    [USI_QUANTITY_LEVEL] = {"a level", USI_DIMENSION_LENGTH, -1e6, 1e6,
                            "levels lie within 1e6 m of zero"},
    [USI_QUANTITY_X] = {"a distance x", USI_DIMENSION_LENGTH, -1e6, 1e6,
                        "distances lie within 1e6 m of zero"},
    [USI_QUANTITY_WIDTH] = {"a width", USI_DIMENSION_LENGTH, 1e-6, 1e6,
                            "a width lies between 1e-6 m and 1e6 m"},
    [USI_QUANTITY_CONDUCTIVITY] = {"a conductivity", USI_DIMENSION_SPEED, 1e-16, 10.0,
                                   "conductivities lie between 1e-16 m/s and 10 m/s"},
    [USI_QUANTITY_UNIT_WEIGHT] = {"a unit weight", USI_DIMENSION_UNIT_WEIGHT, 10.0, 1e6,
                                  "unit weights lie between 10 N/m^3 and 1e6 N/m^3"},
    [USI_QUANTITY_FACTOR] = {"a factor", USI_DIMENSION_NONE, 1e-6, 1e6,
                             "a factor lies between 1e-6 and 1e6"},
    [USI_QUANTITY_GRAIN] = {"a grain size", USI_DIMENSION_LENGTH, 1e-9, 10.0,
                            "grain sizes lie between 1e-9 m and 10 m; write 0.2 mm"},
    [USI_QUANTITY_POROSITY] = {"a porosity", USI_DIMENSION_NONE, 0.01, 0.99,
                               "a porosity lies between 0.01 and 0.99; write 0.35, not 35"},
    [USI_QUANTITY_UNIFORMITY] = {"a uniformity coefficient", USI_DIMENSION_NONE, 1.0, 1e4,
                                 "the uniformity coefficient d60 / d10 is 1 or more"},
    [USI_QUANTITY_DISCHARGE] = {"a discharge", USI_DIMENSION_DISCHARGE, 1e-9, 1e7,
                                "a discharge lies between 1e-9 m^3/s and 1e7 m^3/s"},
    [USI_QUANTITY_YEARS] = {"a number of years", USI_DIMENSION_NONE, 1e-3, 1e6,
                            "a return period is a number of years from 0.001 to 1e6"},
    [USI_QUANTITY_FRICTION_ANGLE] = {"an angle of friction", USI_DIMENSION_ANGLE, 0.0174, 1.0472,
                                     "an angle of friction lies between 1 deg and 60 deg"},
    [USI_QUANTITY_STRENGTH] = {"a strength", USI_DIMENSION_PRESSURE, 1.0, 1e8,
                               "strengths lie between 1 Pa and 100 MPa"},
    [USI_QUANTITY_LINE_LOAD] = {"a load per width", USI_DIMENSION_LINE_LOAD, 1e-3, 1e9,
                                "a load per width lies between 0.001 N/m and 1e9 N/m"},
    [USI_QUANTITY_SPECIFIC_STORAGE] = {"a specific storage", USI_DIMENSION_PER_LENGTH, 1e-9, 1.0,
                                       "a specific storage lies between 1e-9 1/m and 1 1/m"},
    [USI_QUANTITY_THICKNESS] = {"a thickness", USI_DIMENSION_LENGTH, 1e-6, 10.0,
                                "this lies between 0.001 mm and 10 m; write 10 mm"},
    [USI_QUANTITY_DISTANCE] = {"a distance", USI_DIMENSION_LENGTH, 0.0, 1e6,
                               "a distance lies between 0 and 1e6 m"},
    [USI_QUANTITY_SHEET_MASS] = {"a mass of sheet", USI_DIMENSION_SHEET_MASS, 1.0, 1e5,
                                 "the mass of a wall lies between 1 kg/m^2 and 1e5 kg/m^2"},
    [USI_QUANTITY_LIFE] = {"a number of years", USI_DIMENSION_NONE, 0.0, 100.0,
                           "the table of losses ends at 100 years; give `loss_per_side` instead"},
    [USI_QUANTITY_TEMPERATURE] = {"a temperature", USI_DIMENSION_TEMPERATURE, 0.0, 40.0,
                                  "temperatures of the water lie between 0 degC and 40 degC"},
};

/* One scalar being read; `at` moves from `text` to `end`. */
typedef struct reading {
    usi_reader *reader;
    const usi_node *node;
    const char *key;
    const rule *rule;
    const char *at;
    const char *end;
    char quoted[USI_QUOTE_ROOM];
} reading;

usi_mark usi_scalar_mark(const usi_node *node, const char *key)
{
    return (usi_mark){node->line, node->column, key, NULL};
}

const char *usi_scalar_quote(char *buffer, const usi_node *node)
{
    enum { ROOM_FOR_TEXT = USI_QUOTE_ROOM - 8 };
    size_t length = node->length;
    if (length > ROOM_FOR_TEXT) {
        length = ROOM_FOR_TEXT;
        while (length > 0 && ((unsigned char)node->text[length] & 0xC0U) == 0x80U) {
            length--;
        }
    }
    (void)snprintf(buffer, USI_QUOTE_ROOM, "'%.*s%s'", (int)length, node->text,
                   length < node->length ? "..." : "");
    return buffer;
}

static bool refuse(const reading *of, const char *hint, const char *message)
{
    usi_mark mark = usi_scalar_mark(of->node, of->key);
    usi_source_error(of->reader->context, of->reader->source, &mark, hint, "%s %s", of->quoted,
                     message);
    return false;
}

static void skip_blanks(reading *of)
{
    while (of->at < of->end && *of->at == ' ') {
        of->at++;
    }
}

static const usi_unit *file_unit(const usi_reader *reader, usi_dimension dimension)
{
    switch (dimension) {
    case USI_DIMENSION_LENGTH:
        return reader->units.length;
    case USI_DIMENSION_SPEED:
        return reader->units.conductivity;
    case USI_DIMENSION_UNIT_WEIGHT:
        return reader->units.unit_weight;
    case USI_DIMENSION_DISCHARGE:
        return usi_unit_of_discharge(reader->units.length);
    case USI_DIMENSION_ANGLE:
        return usi_unit_find("deg", 3);
    case USI_DIMENSION_PRESSURE:
        return reader->units.pounds ? usi_unit_find("psf", 3) : usi_unit_find("kPa", 3);
    case USI_DIMENSION_LINE_LOAD:
        return reader->units.pounds ? usi_unit_find("lb/ft", 5) : usi_unit_find("kN/m", 4);
    case USI_DIMENSION_SHEET_MASS:
        return reader->units.pounds ? usi_unit_find("lb/ft^2", 7) : usi_unit_find("kg/m^2", 6);
    case USI_DIMENSION_PER_LENGTH:
        return usi_unit_of_inverse(reader->units.length);
    default:
        return NULL;
    }
}

static const char *dimension_name(usi_dimension dimension)
{
    switch (dimension) {
    case USI_DIMENSION_LENGTH:
        return "length";
    case USI_DIMENSION_SPEED:
        return "conductivity";
    case USI_DIMENSION_UNIT_WEIGHT:
        return "unit weight";
    case USI_DIMENSION_TEMPERATURE:
        return "temperature";
    case USI_DIMENSION_DISCHARGE:
        return "discharge";
    case USI_DIMENSION_ANGLE:
        return "angle";
    case USI_DIMENSION_PRESSURE:
        return "pressure";
    case USI_DIMENSION_LINE_LOAD:
        return "load per width";
    case USI_DIMENSION_SHEET_MASS:
        return "mass of sheet";
    case USI_DIMENSION_PER_LENGTH:
        return "specific storage";
    default:
        return "another kind of quantity";
    }
}

/* "units of length: m, mm, ..." */
static const char *known_units(const reading *of)
{
    usi_arena *arena = of->reader->arena;
    const char *list = usi_arena_print(arena, "units of %s:", dimension_name(of->rule->dimension));
    for (size_t i = 0; list != NULL; i++) {
        const usi_unit *unit = usi_unit_of(of->rule->dimension, i);
        if (unit == NULL) {
            break;
        }
        list = usi_arena_print(arena, "%s%s %s", list, i > 0 ? "," : "", unit->name);
    }
    return list;
}

static const usi_unit *read_unit(reading *of)
{
    skip_blanks(of);
    const char *start = of->at;
    while (of->at < of->end && *of->at != ' ') {
        of->at++;
    }
    size_t length = (size_t)(of->at - start);
    const usi_unit *unit = usi_unit_find(start, length);
    if (of->rule->dimension == USI_DIMENSION_NONE) {
        (void)refuse(of, "give a bare number", "has a unit, but this is a plain number");
        return NULL;
    }
    char message[USI_QUOTE_ROOM + 80];
    if (unit == NULL) {
        usi_node part = {.text = start, .length = length};
        char quoted[USI_QUOTE_ROOM];
        (void)snprintf(message, sizeof message, "has an unknown unit, %s",
                       usi_scalar_quote(quoted, &part));
    } else if (unit->dimension != of->rule->dimension) {
        (void)snprintf(message, sizeof message, "is not %s: %s is a unit of %s", of->rule->what,
                       unit->name, dimension_name(unit->dimension));
    } else {
        return unit;
    }
    (void)refuse(of, known_units(of), message);
    return NULL;
}

/* The digits after the `+` of a station: two in feet, three in metres. */
static bool read_station(reading *of, double *number)
{
    const usi_unit *unit = of->reader->units.length;
    const char *digits = of->at + 1;
    size_t count = 0;
    while (digits + count < of->end && digits[count] >= '0' && digits[count] <= '9') {
        count++;
    }
    double rest = 0.0;
    of->at = usi_number_read(digits, of->end, &rest);
    const char *after = of->at;
    if (after != NULL && after < of->end) {
        unit = read_unit(of);
        if (unit == NULL) {
            return false;
        }
    }
    bool feet = strcmp(unit->name, "ft") == 0;
    bool metres = strcmp(unit->name, "m") == 0;
    bool whole = *number == floor(*number) && *number >= 0.0;
    if (after == NULL || !whole || !((feet && count == 2) || (metres && count == 3))) {
        return refuse(of, "stations are 12+50 in feet (1250 ft) or 1+250 in metres (1250 m)",
                      "is not a station");
    }
    *number = (*number * (feet ? 100.0 : 1000.0) + rest) * unit->factor;
    return true;
}

/* The inches of `3 ft 6 in`. */
static bool read_inches(reading *of, double sign, double *number)
{
    double inches = 0.0;
    const char *start = of->at;
    of->at = usi_number_read(of->at, of->end, &inches);
    bool number_there = of->at != NULL && *start >= '0' && *start <= '9';
    if (!number_there) {
        of->at = start;
    }
    skip_blanks(of);
    if (!number_there || of->end - of->at != 2 || memcmp(of->at, "in", 2) != 0 || inches >= 12.0) {
        return refuse(of, "feet and inches are written 3 ft 6 in", "goes on after the unit");
    }
    of->at = of->end;
    *number += sign * inches * usi_unit_find("in", 2)->factor;
    return true;
}

static bool convert(reading *of, double *number)
{
    const usi_unit *unit = file_unit(of->reader, of->rule->dimension);
    bool negative = of->node->text[0] == '-';
    skip_blanks(of);
    if (of->at == of->end && of->rule->dimension == USI_DIMENSION_TEMPERATURE) {
        return refuse(of, "write 12 degC or 54 degF", "is a temperature without its unit");
    }
    if (of->at == of->end) {
        *number *= unit != NULL ? unit->factor : 1.0;
        return true;
    }
    if (*of->at == '+') {
        return of->rule == &rules[USI_QUANTITY_X]
                   ? read_station(of, number)
                   : refuse(of, "only x may be a station", "looks like a station");
    }
    unit = read_unit(of);
    if (unit == NULL) {
        return false;
    }
    *number = *number * unit->factor + unit->zero;
    skip_blanks(of);
    if (of->at == of->end) {
        return true;
    }
    if (strcmp(unit->name, "ft") != 0) {
        return refuse(of, "give one number with one unit", "goes on after the unit");
    }
    return read_inches(of, negative ? -1.0 : 1.0, number);
}

static bool check_range(reading *of, double si)
{
    if (!isfinite(si)) {
        return refuse(of, of->rule->range, "is too large to be a number");
    }
    if (of->rule->smallest > 0.0 && si == 0.0) {
        return refuse(of, of->rule->range, "is zero");
    }
    if (of->rule->smallest > 0.0 && si < 0.0) {
        return refuse(of, of->rule->range, "is negative");
    }
    if (si < of->rule->smallest || si > of->rule->largest) {
        return refuse(of, of->rule->range, "is out of range");
    }
    return true;
}

bool usi_scalar_number(usi_reader *reader, const usi_node *node, const char *key,
                       usi_quantity quantity, double *si)
{
    reading of = {.reader = reader, .node = node, .key = key, .rule = &rules[quantity]};
    if (node->kind == USI_NODE_REFUSED) {
        return false;
    }
    if (node->kind != USI_NODE_SCALAR || node->length == 0) {
        usi_mark mark = usi_scalar_mark(node, key);
        usi_source_error(reader->context, reader->source, &mark, NULL, "%s belongs here%s",
                         of.rule->what, node->kind == USI_NODE_SCALAR ? ", but there is none" : "");
        return false;
    }
    of.at = node->text;
    of.end = node->text + node->length;
    (void)usi_scalar_quote(of.quoted, node);
    usi_mistake mistake = usi_mistake_find(node->text, node->length);
    if (mistake.what != NULL) {
        return refuse(&of, mistake.hint, mistake.what);
    }
    double number = 0.0;
    of.at = usi_number_read(of.at, of.end, &number);
    if (of.at == NULL) {
        return refuse(&of, "give a number, with its unit where that is not the file's",
                      "is not a number");
    }
    if (!convert(&of, &number) || !check_range(&of, number)) {
        return false;
    }
    *si = number;
    return true;
}
