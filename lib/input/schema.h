/* The keys of a section file: one table says where each may stand, what it
 * holds and where its value goes. */
#ifndef USI_INPUT_SCHEMA_H
#define USI_INPUT_SCHEMA_H

#include <stdbool.h>
#include <stddef.h>

#include "input/scalar.h"

typedef enum usi_kind {
    USI_KIND_NUMBER,      /* usi_raw_number; `quantity` says which */
    USI_KIND_TEXT,        /* usi_raw_text */
    USI_KIND_FLAG,        /* usi_raw_flag */
    USI_KIND_CHOICE,      /* usi_raw_choice among `words` */
    USI_KIND_LINE,        /* usi_raw_line: a level or points */
    USI_KIND_POINTS,      /* usi_raw_line: points only */
    USI_KIND_POINT,       /* usi_raw_point */
    USI_KIND_STRETCHES,   /* usi_raw_stretches: [[x1, x2], ...] */
    USI_KIND_NAMES,       /* usi_raw_names */
    USI_KIND_NUMBERS,     /* usi_raw_numbers, at most `cap`; `quantity` says which */
    USI_KIND_LINE_OR_MAP, /* a line, which goes to the first key of `inner`, or a mapping */
    USI_KIND_MAP,         /* a mapping by `inner`, which begins with its usi_mark */
    USI_KIND_LIST,        /* usi_raw_list of mappings by `inner` */
    USI_KIND_UNITS,       /* usi_raw_units */
    USI_KIND_LATER        /* not yet */
} usi_kind;

enum { USI_VERTEX_CAP = 10000 }; /* points of all lines together */
enum { USI_WATER_CAP = 256 };    /* water cases, those of a table included */

typedef struct usi_schema usi_schema;

typedef struct usi_key {
    const char *name;
    usi_kind kind;
    bool required;
    const char *const *instead; /* keys that may stand in place of this one, or NULL */
    size_t offset;              /* of the value in the structure the schema fills */
    usi_quantity quantity;
    const char *word;         /* of a number or line: word that may stand for it */
    const char *const *words; /* of a choice, NULL at the end */
    const usi_schema *inner;
    size_t cap; /* of a list, or of numbers: most items */
} usi_key;

struct usi_schema {
    const char *what; /* "a wall" */
    size_t size;      /* of the structure it fills */
    size_t count;
    const usi_key *keys;
};

/* The section itself, filling a usi_raw_section. */
const usi_schema *usi_schema_section(void);

/* The key called `name`, or NULL. */
const usi_key *usi_schema_find(const usi_schema *schema, const char *name);

/* The key whose name is nearest to `name` and near enough to be meant, or NULL. */
const usi_key *usi_schema_nearest(const usi_schema *schema, const char *name);

#endif
