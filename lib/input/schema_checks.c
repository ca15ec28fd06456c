/* Keys of what is judged: limits, and what checks need to know. */
#include "input/schema_table.h"
#include "model/raw.h"

#define OWNER usi_raw_require
static const usi_key require_keys[] = {
    {.name = "piping", .kind = USI_KIND_NUMBER, AT(piping), .quantity = USI_QUANTITY_FACTOR},
    LATER("heave"),
    LATER("uplift"),
    LATER("creep"),
};
#undef OWNER
const usi_schema usi_schema_require = {"the requirements", sizeof(usi_raw_require),
                                       COUNT(require_keys), require_keys};
