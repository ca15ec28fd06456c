/* Keys of what the works are made of, and of what lies beside them. */
#include "input/schema_table.h"
#include "model/raw.h"
#include "model/works.h"

static const char *const treatments[] = {"open", "grouted", "plated", NULL};

#define OWNER usi_raw_retained
static const usi_key retained_keys[] = {
    {.name = "by", .kind = USI_KIND_TEXT, .required = true, AT(by)},
    {.name = "opening", .kind = USI_KIND_NUMBER, AT(opening), .quantity = USI_QUANTITY_GRAIN},
};
#undef OWNER
const usi_schema usi_schema_retained = {"what retains the soil", sizeof(usi_raw_retained),
                                        COUNT(retained_keys), retained_keys};

#define OWNER usi_raw_sheet
static const usi_key sheet_keys[] = {
    {.name = "thickness",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(thickness),
     .quantity = USI_QUANTITY_THICKNESS},
    {.name = "width", .kind = USI_KIND_NUMBER, AT(width), .quantity = USI_QUANTITY_WIDTH},
    {.name = "perimeter", .kind = USI_KIND_NUMBER, AT(perimeter), .quantity = USI_QUANTITY_WIDTH},
    {.name = "mass", .kind = USI_KIND_NUMBER, AT(mass), .quantity = USI_QUANTITY_SHEET_MASS},
    {.name = "hole_below_top",
     .kind = USI_KIND_NUMBER,
     AT(hole_below_top),
     .quantity = USI_QUANTITY_DISTANCE},
    {.name = "hole_diameter",
     .kind = USI_KIND_NUMBER,
     AT(hole_diameter),
     .quantity = USI_QUANTITY_THICKNESS},
    {.name = "hole_treatment", .kind = USI_KIND_CHOICE, AT(hole_treatment), .words = treatments},
};
#undef OWNER
const usi_schema usi_schema_sheet = {"a sheet", sizeof(usi_raw_sheet), COUNT(sheet_keys),
                                     sheet_keys};

static const char *const instead_of_environment[] = {"loss_per_side", NULL};

#define OWNER usi_raw_corrosion
static const usi_key corrosion_keys[] = {
    {.name = "environment",
     .kind = USI_KIND_CHOICE,
     .required = true,
     .instead = instead_of_environment,
     AT(environment),
     .words = usi_environments},
    {.name = "life", .kind = USI_KIND_NUMBER, AT(life), .quantity = USI_QUANTITY_LIFE},
    {.name = "loss_per_side",
     .kind = USI_KIND_NUMBER,
     AT(loss_per_side),
     .quantity = USI_QUANTITY_THICKNESS},
};
#undef OWNER
const usi_schema usi_schema_corrosion = {"`corrosion`", sizeof(usi_raw_corrosion),
                                         COUNT(corrosion_keys), corrosion_keys};

static const char *const instead_of_beta[] = {"undrained_strength", NULL};

#define OWNER usi_raw_shaft
static const usi_key shaft_keys[] = {
    {.name = "beta",
     .kind = USI_KIND_NUMBER,
     .required = true,
     .instead = instead_of_beta,
     AT(beta),
     .quantity = USI_QUANTITY_FACTOR},
    {.name = "undrained_strength",
     .kind = USI_KIND_NUMBER,
     AT(undrained_strength),
     .quantity = USI_QUANTITY_STRENGTH},
};
#undef OWNER
const usi_schema usi_schema_shaft = {"`shaft`", sizeof(usi_raw_shaft), COUNT(shaft_keys),
                                     shaft_keys};

#define OWNER usi_raw_bank
static const usi_key bank_keys[] = {
    {.name = "key_in",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(key_in),
     .quantity = USI_QUANTITY_DISTANCE},
};
#undef OWNER
static const usi_schema bank = {"a bank", sizeof(usi_raw_bank), COUNT(bank_keys), bank_keys};

static const char *const instead_of_left[] = {"right", NULL};

#define OWNER usi_raw_banks
static const usi_key banks_keys[] = {
    {.name = "left",
     .kind = USI_KIND_MAP,
     .required = true,
     .instead = instead_of_left,
     AT(left),
     .inner = &bank},
    {.name = "right", .kind = USI_KIND_MAP, AT(right), .inner = &bank},
};
#undef OWNER
const usi_schema usi_schema_banks = {"the banks", sizeof(usi_raw_banks), COUNT(banks_keys),
                                     banks_keys};

static const char *const instead_of_upstream[] = {"downstream", NULL};

#define OWNER usi_raw_next_drop
static const usi_key next_drop_keys[] = {
    {.name = "upstream",
     .kind = USI_KIND_NUMBER,
     .required = true,
     .instead = instead_of_upstream,
     AT(upstream),
     .quantity = USI_QUANTITY_DISTANCE},
    {.name = "downstream",
     .kind = USI_KIND_NUMBER,
     AT(downstream),
     .quantity = USI_QUANTITY_DISTANCE},
};
#undef OWNER
const usi_schema usi_schema_next_drop = {"`next_drop`", sizeof(usi_raw_next_drop),
                                         COUNT(next_drop_keys), next_drop_keys};
