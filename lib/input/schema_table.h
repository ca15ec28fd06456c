/* How tables of keys are written. For the files that hold them alone. */
#ifndef USI_INPUT_SCHEMA_TABLE_H
#define USI_INPUT_SCHEMA_TABLE_H

#include "input/schema.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define AT(member) .offset = offsetof(OWNER, member)
#define LATER(key)                                                                                 \
    {                                                                                              \
        .name = (key), .kind = USI_KIND_LATER                                                      \
    }

/* Mappings of what is judged (input/schema_checks.c). */
extern const usi_schema usi_schema_require;
extern const usi_schema usi_schema_limit_states;

/* Mappings of what the works are made of (input/schema_works.c). */
extern const usi_schema usi_schema_sheet;
extern const usi_schema usi_schema_corrosion;
extern const usi_schema usi_schema_shaft;
extern const usi_schema usi_schema_retained;
extern const usi_schema usi_schema_banks;
extern const usi_schema usi_schema_next_drop;

/* Mappings of walls as they are built (input/schema_openings.c). */
extern const usi_schema usi_schema_interlock;
extern const usi_schema usi_schema_opening;
extern const usi_schema usi_schema_as_built;
extern const char *const usi_schema_cap_fills[];

#endif
