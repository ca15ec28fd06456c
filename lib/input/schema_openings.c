/* Keys of what walls let through. */
#include "input/schema_table.h"
#include "model/raw.h"

const char *const usi_schema_cap_fills[] = {"open", "soil", NULL};

#define OWNER usi_raw_interlock
static const usi_key interlock_keys[] = {
    {.name = "inverse_resistance",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(inverse_resistance),
     .quantity = USI_QUANTITY_CONDUCTIVITY},
    {.name = "spacing",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(spacing),
     .quantity = USI_QUANTITY_WIDTH},
    {.name = "joint_width",
     .kind = USI_KIND_NUMBER,
     AT(joint_width),
     .quantity = USI_QUANTITY_THICKNESS},
};
#undef OWNER
const usi_schema usi_schema_interlock = {"`interlock`", sizeof(usi_raw_interlock),
                                         COUNT(interlock_keys), interlock_keys};

static const char *const instead_of_slot[] = {"hole", NULL};

#define OWNER usi_raw_opening
static const usi_key opening_keys[] = {
    {.name = "slot_from",
     .kind = USI_KIND_NUMBER,
     .required = true,
     .instead = instead_of_slot,
     AT(slot_from),
     .quantity = USI_QUANTITY_LEVEL},
    {.name = "slot_to", .kind = USI_KIND_NUMBER, AT(slot_to), .quantity = USI_QUANTITY_LEVEL},
    {.name = "hole", .kind = USI_KIND_NUMBER, AT(hole), .quantity = USI_QUANTITY_THICKNESS},
    {.name = "level", .kind = USI_KIND_NUMBER, AT(level), .quantity = USI_QUANTITY_LEVEL},
    {.name = "spacing", .kind = USI_KIND_NUMBER, AT(spacing), .quantity = USI_QUANTITY_WIDTH},
};
#undef OWNER
const usi_schema usi_schema_opening = {"an opening", sizeof(usi_raw_opening), COUNT(opening_keys),
                                       opening_keys};

#define OWNER usi_raw_leaking
static const usi_key leaking_keys[] = {
    {.name = "inverse_resistance",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(inverse_resistance),
     .quantity = USI_QUANTITY_CONDUCTIVITY},
};
#undef OWNER
static const usi_schema leaking = {"`leaking`", sizeof(usi_raw_leaking), COUNT(leaking_keys),
                                   leaking_keys};

#define OWNER usi_raw_split
static const usi_key split_keys[] = {
    {.name = "width",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(width),
     .quantity = USI_QUANTITY_THICKNESS},
};
#undef OWNER
static const usi_schema split = {"`split`", sizeof(usi_raw_split), COUNT(split_keys), split_keys};

static const char *const instead_of_leaking[] = {"split", NULL};

#define OWNER usi_raw_as_built
static const usi_key as_built_keys[] = {
    {.name = "leaking",
     .kind = USI_KIND_MAP,
     .required = true,
     .instead = instead_of_leaking,
     AT(leaking),
     .inner = &leaking},
    {.name = "split", .kind = USI_KIND_MAP, AT(split), .inner = &split},
};
#undef OWNER
const usi_schema usi_schema_as_built = {"`as_built_defaults`", sizeof(usi_raw_as_built),
                                        COUNT(as_built_keys), as_built_keys};
