/* One scalar of a section file, typed by the rules of docs/section-file.md. */
#ifndef USI_INPUT_SCALAR_H
#define USI_INPUT_SCALAR_H

#include "input/tree.h"
#include "model/raw.h"

/* What a number stands for: which units it takes and which values are sane. */
typedef enum usi_quantity {
    USI_QUANTITY_LEVEL,
    USI_QUANTITY_X, /* as a level, and may be a station such as 12+50 */
    USI_QUANTITY_WIDTH,
    USI_QUANTITY_CONDUCTIVITY,
    USI_QUANTITY_UNIT_WEIGHT,
    USI_QUANTITY_FACTOR,
    USI_QUANTITY_GRAIN,
    USI_QUANTITY_POROSITY,
    USI_QUANTITY_UNIFORMITY,
    USI_QUANTITY_DISCHARGE,
    USI_QUANTITY_YEARS,
    USI_QUANTITY_FRICTION_ANGLE,
    USI_QUANTITY_STRENGTH,
    USI_QUANTITY_LINE_LOAD,
    USI_QUANTITY_SPECIFIC_STORAGE,
    USI_QUANTITY_THICKNESS, /* of sheets, rust, openings */
    USI_QUANTITY_DISTANCE,  /* of any length, 0 among them */
    USI_QUANTITY_SHEET_MASS,
    USI_QUANTITY_LIFE,
    USI_QUANTITY_TEMPERATURE /* its unit always stands with it */
} usi_quantity;

typedef struct usi_reader {
    us_context *context;
    const usi_source *source;
    usi_arena *arena;
    usi_file_units units; /* of bare numbers */
    size_t vertices;      /* points of lines so far */
    bool with_cases;      /* a table of water cases stands in place of `water`, or behind it */
} usi_reader;

/* The mark of a node under the dotted path `key`. */
usi_mark usi_scalar_mark(const usi_node *node, const char *key);

enum { USI_QUOTE_ROOM = 64 };

/* The text of a scalar for a message, cut where it is long. */
const char *usi_scalar_quote(char *buffer, const usi_node *node);

/* Reads a number in SI into `*si`; false after one error. */
bool usi_scalar_number(usi_reader *reader, const usi_node *node, const char *key,
                       usi_quantity quantity, double *si);

#endif
