/* Keys of what is judged: limits, and what checks need to know. */
#include "input/schema_table.h"
#include "model/raw.h"

static const char *const creep_rules[] = {"bligh", "lane", NULL};

#define OWNER usi_raw_require_creep
static const usi_key creep_keys[] = {
    {.name = "rule", .kind = USI_KIND_CHOICE, .required = true, AT(rule), .words = creep_rules},
    {.name = "ratio", .kind = USI_KIND_NUMBER, AT(ratio), .quantity = USI_QUANTITY_FACTOR},
};
#undef OWNER
static const usi_schema creep = {"`creep`", sizeof(usi_raw_require_creep), COUNT(creep_keys),
                                 creep_keys};

#define OWNER usi_raw_require
static const usi_key require_keys[] = {
    {.name = "piping", .kind = USI_KIND_NUMBER, AT(piping), .quantity = USI_QUANTITY_FACTOR},
    {.name = "heave", .kind = USI_KIND_NUMBER, AT(heave), .quantity = USI_QUANTITY_FACTOR},
    {.name = "blow_up", .kind = USI_KIND_NUMBER, AT(blow_up), .quantity = USI_QUANTITY_FACTOR},
    {.name = "creep", .kind = USI_KIND_MAP, AT(creep), .inner = &creep},
    {.name = "retention", .kind = USI_KIND_NUMBER, AT(retention), .quantity = USI_QUANTITY_FACTOR},
    {.name = "banks", .kind = USI_KIND_NUMBER, AT(banks), .quantity = USI_QUANTITY_FACTOR},
    {.name = "wall_embedment",
     .kind = USI_KIND_NUMBER,
     AT(wall_embedment),
     .quantity = USI_QUANTITY_FACTOR},
    {.name = "corrosion", .kind = USI_KIND_NUMBER, AT(corrosion), .quantity = USI_QUANTITY_FACTOR},
    {.name = "wall_load", .kind = USI_KIND_NUMBER, AT(wall_load), .quantity = USI_QUANTITY_FACTOR},
    {.name = "uplift", .kind = USI_KIND_NUMBER, AT(uplift), .quantity = USI_QUANTITY_FACTOR},
};
#undef OWNER
const usi_schema usi_schema_require = {"the requirements", sizeof(usi_raw_require),
                                       COUNT(require_keys), require_keys};

#define OWNER usi_raw_partial
static const usi_key partial_keys[] = {
    {.name = "dst", .kind = USI_KIND_NUMBER, AT(dst), .quantity = USI_QUANTITY_FACTOR},
    {.name = "stb", .kind = USI_KIND_NUMBER, AT(stb), .quantity = USI_QUANTITY_FACTOR},
};
#undef OWNER
static const usi_schema partial = {"partial factors", sizeof(usi_raw_partial), COUNT(partial_keys),
                                   partial_keys};

#define OWNER usi_raw_limit_states
static const usi_key limit_states_keys[] = {
    {.name = "hyd", .kind = USI_KIND_MAP, AT(hyd), .inner = &partial},
    {.name = "upl", .kind = USI_KIND_MAP, AT(upl), .inner = &partial},
};
#undef OWNER
const usi_schema usi_schema_limit_states = {"the limit states", sizeof(usi_raw_limit_states),
                                            COUNT(limit_states_keys), limit_states_keys};
