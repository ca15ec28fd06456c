#include "input/schema.h"

#include "input/schema_table.h"
#include "model/conductivity.h"
#include "model/raw.h"
#include "model/works.h"

enum {
    WALL_CAP = 64,
    SOIL_CAP = 256,
    WATER_CAP = USI_WATER_CAP,
    PIEZOMETER_CAP = 10000,
    ZONE_CAP = 1000,
    DRAIN_CAP = 256,
    JOINT_CAP = 256,
    LENGTH_CAP = 64,
    OPENING_CAP = 16 /* in one wall */
};

static const char *const directions[] = {"right", "left", NULL};
static const char *const drain_states[] = {"open", "shut", NULL};
static const char *const drains_words[] = {"off", NULL};
static const char *const faces[] = {"left", "right", NULL};
static const char *const instead_of_kh[] = {"k_from", "class", NULL};
static const char *const instead_of_upstream[] = {"downstream", NULL};
static const char *const side_kinds[] = {"closed", "fixed_head", NULL};

#define OWNER usi_raw_bed
static const usi_key bed_keys[] = {
    {.name = "upstream", .kind = USI_KIND_LINE, .required = true, AT(upstream)},
    {
        .name = "downstream",
        .kind = USI_KIND_LINE,
        .required = true,
        AT(downstream),
    },
};
#undef OWNER
static const usi_schema bed = {"the bed", sizeof(usi_raw_bed), COUNT(bed_keys), bed_keys};

#define OWNER usi_raw_base
static const usi_key base_keys[] = {
    {.name = "level", .kind = USI_KIND_LINE, .required = true, AT(level)},
    {.name = "head", .kind = USI_KIND_NUMBER, AT(head), .quantity = USI_QUANTITY_LEVEL},
    {.name = "thickness", .kind = USI_KIND_NUMBER, AT(thickness), .quantity = USI_QUANTITY_WIDTH},
    {.name = "kv", .kind = USI_KIND_NUMBER, AT(kv), .quantity = USI_QUANTITY_CONDUCTIVITY},
};
#undef OWNER
static const usi_schema base = {"the base", sizeof(usi_raw_base), COUNT(base_keys), base_keys};

#define OWNER usi_raw_structure
static const usi_key structure_keys[] = {
    {
        .name = "underside",
        .kind = USI_KIND_POINTS,
        .required = true,
        AT(underside),
    },
    {.name = "top", .kind = USI_KIND_LINE, AT(top)},
    {.name = "unit_weight",
     .kind = USI_KIND_NUMBER,
     AT(unit_weight),
     .quantity = USI_QUANTITY_UNIT_WEIGHT},
    {.name = "joints",
     .kind = USI_KIND_NUMBERS,
     AT(joints),
     .quantity = USI_QUANTITY_X,
     .cap = JOINT_CAP},
    {.name = "permeable", .kind = USI_KIND_STRETCHES, AT(permeable)},
    {.name = "permeable_opening",
     .kind = USI_KIND_NUMBER,
     AT(permeable_opening),
     .quantity = USI_QUANTITY_THICKNESS},
    {.name = "permeable_retained",
     .kind = USI_KIND_MAP,
     AT(permeable_retained),
     .inner = &usi_schema_retained},
    {.name = "contact_lost", .kind = USI_KIND_STRETCHES, AT(contact_lost)},
};
#undef OWNER
static const usi_schema structure = {"the structure", sizeof(usi_raw_structure),
                                     COUNT(structure_keys), structure_keys};

#define OWNER usi_raw_wall
static const usi_key wall_keys[] = {
    {.name = "name", .kind = USI_KIND_TEXT, AT(name)},
    {.name = "x", .kind = USI_KIND_NUMBER, .required = true, AT(x), .quantity = USI_QUANTITY_X},
    {.name = "top",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(top),
     .quantity = USI_QUANTITY_LEVEL},
    {.name = "tip",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(tip),
     .quantity = USI_QUANTITY_LEVEL},
    {.name = "keyed", .kind = USI_KIND_FLAG, AT(keyed)},
    {.name = "sheet", .kind = USI_KIND_MAP, AT(sheet), .inner = &usi_schema_sheet},
    {.name = "corrosion", .kind = USI_KIND_MAP, AT(corrosion), .inner = &usi_schema_corrosion},
    {.name = "load", .kind = USI_KIND_NUMBER, AT(load), .quantity = USI_QUANTITY_LINE_LOAD},
    {.name = "interlock", .kind = USI_KIND_MAP, AT(interlock), .inner = &usi_schema_interlock},
    {.name = "openings",
     .kind = USI_KIND_LIST,
     AT(openings),
     .inner = &usi_schema_opening,
     .cap = OPENING_CAP},
    {.name = "cap_gap", .kind = USI_KIND_NUMBER, AT(cap_gap), .quantity = USI_QUANTITY_THICKNESS},
    {.name = "cap_fill", .kind = USI_KIND_CHOICE, AT(cap_fill), .words = usi_schema_cap_fills},
};
#undef OWNER
static const usi_schema wall = {"a wall", sizeof(usi_raw_wall), COUNT(wall_keys), wall_keys};

#define OWNER usi_raw_k_from
static const usi_key k_from_keys[] = {
    {.name = "d10",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(d10),
     .quantity = USI_QUANTITY_GRAIN},
    {.name = "uniformity",
     .kind = USI_KIND_NUMBER,
     AT(uniformity),
     .quantity = USI_QUANTITY_UNIFORMITY},
    {.name = "porosity", .kind = USI_KIND_NUMBER, AT(porosity), .quantity = USI_QUANTITY_POROSITY},
    {.name = "temperature",
     .kind = USI_KIND_NUMBER,
     AT(temperature),
     .quantity = USI_QUANTITY_TEMPERATURE},
};
#undef OWNER
static const usi_schema k_from = {"`k_from`", sizeof(usi_raw_k_from), COUNT(k_from_keys),
                                  k_from_keys};

#define OWNER usi_raw_soil
static const usi_key soil_keys[] = {
    {.name = "name", .kind = USI_KIND_TEXT, AT(name)},
    {.name = "top", .kind = USI_KIND_LINE, AT(top)},
    {.name = "kh",
     .kind = USI_KIND_NUMBER,
     .required = true,
     .instead = instead_of_kh,
     AT(kh),
     .quantity = USI_QUANTITY_CONDUCTIVITY},
    {.name = "k_from", .kind = USI_KIND_MAP, AT(k_from), .inner = &k_from},
    {.name = "class", .kind = USI_KIND_CHOICE, AT(class), .words = usi_conductivity_classes},
    {.name = "kv", .kind = USI_KIND_NUMBER, AT(kv), .quantity = USI_QUANTITY_CONDUCTIVITY},
    {.name = "anisotropy",
     .kind = USI_KIND_NUMBER,
     AT(anisotropy),
     .quantity = USI_QUANTITY_FACTOR},
    {.name = "unit_weight",
     .kind = USI_KIND_NUMBER,
     AT(unit_weight),
     .quantity = USI_QUANTITY_UNIT_WEIGHT},
    {.name = "friction_angle",
     .kind = USI_KIND_NUMBER,
     AT(friction_angle),
     .quantity = USI_QUANTITY_FRICTION_ANGLE},
    {.name = "d85", .kind = USI_KIND_NUMBER, AT(d85), .quantity = USI_QUANTITY_GRAIN},
    {.name = "creep_class", .kind = USI_KIND_CHOICE, AT(creep_class), .words = usi_creep_classes},
    {.name = "shaft", .kind = USI_KIND_MAP, AT(shaft), .inner = &usi_schema_shaft},
    {.name = "specific_storage",
     .kind = USI_KIND_NUMBER,
     AT(specific_storage),
     .quantity = USI_QUANTITY_SPECIFIC_STORAGE},
};
#undef OWNER
static const usi_schema soil = {"a soil", sizeof(usi_raw_soil), COUNT(soil_keys), soil_keys};

#define OWNER usi_raw_zone
static const usi_key zone_keys[] = {
    {.name = "soil", .kind = USI_KIND_TEXT, .required = true, AT(soil)},
    {.name = "outline", .kind = USI_KIND_POINTS, .required = true, AT(outline)},
};
#undef OWNER
static const usi_schema zone = {"a zone", sizeof(usi_raw_zone), COUNT(zone_keys), zone_keys};

#define OWNER usi_raw_piezometer
static const usi_key piezometer_keys[] = {
    {.name = "name", .kind = USI_KIND_TEXT, AT(name)},
    {.name = "at", .kind = USI_KIND_POINT, .required = true, AT(point)},
    {.name = "side", .kind = USI_KIND_CHOICE, AT(side), .words = faces},
};
#undef OWNER
static const usi_schema piezometer = {"a piezometer", sizeof(usi_raw_piezometer),
                                      COUNT(piezometer_keys), piezometer_keys};

#define OWNER usi_raw_side
static const usi_key side_keys[] = {
    {.name = "x", .kind = USI_KIND_NUMBER, .required = true, AT(x), .quantity = USI_QUANTITY_X},
    {.name = "kind", .kind = USI_KIND_CHOICE, .required = true, AT(kind), .words = side_kinds},
    {.name = "head", .kind = USI_KIND_NUMBER, AT(head), .quantity = USI_QUANTITY_LEVEL},
};
#undef OWNER
static const usi_schema side = {"a side", sizeof(usi_raw_side), COUNT(side_keys), side_keys};

#define OWNER usi_raw_sides
static const usi_key sides_keys[] = {
    {.name = "left", .kind = USI_KIND_MAP, AT(left), .inner = &side},
    {.name = "right", .kind = USI_KIND_MAP, AT(right), .inner = &side},
};
#undef OWNER
static const usi_schema sides = {"the sides", sizeof(usi_raw_sides), COUNT(sides_keys), sides_keys};

#define OWNER usi_raw_clogging
static const usi_key clogging_keys[] = {
    {.name = "thickness",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(thickness),
     .quantity = USI_QUANTITY_WIDTH},
    {.name = "conductivity",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(conductivity),
     .quantity = USI_QUANTITY_CONDUCTIVITY},
};
#undef OWNER
static const usi_schema clogging = {"`clogging`", sizeof(usi_raw_clogging), COUNT(clogging_keys),
                                    clogging_keys};

#define OWNER usi_raw_drain
static const usi_key drain_keys[] = {
    {.name = "name", .kind = USI_KIND_TEXT, AT(name)},
    {.name = "at", .kind = USI_KIND_POINT, AT(point)},
    {.name = "diameter", .kind = USI_KIND_NUMBER, AT(diameter), .quantity = USI_QUANTITY_WIDTH},
    {.name = "spacing", .kind = USI_KIND_NUMBER, AT(spacing), .quantity = USI_QUANTITY_WIDTH},
    {.name = "from", .kind = USI_KIND_POINT, AT(from)},
    {.name = "to", .kind = USI_KIND_POINT, AT(to)},
    {.name = "outlet",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(outlet),
     .quantity = USI_QUANTITY_LEVEL,
     .word = "tailwater"},
    {.name = "clogging", .kind = USI_KIND_MAP, AT(clogging), .inner = &clogging},
    {.name = "state", .kind = USI_KIND_CHOICE, AT(state), .words = drain_states},
    {.name = "retained", .kind = USI_KIND_MAP, AT(retained), .inner = &usi_schema_retained},
};
#undef OWNER
static const usi_schema drain = {"a drain", sizeof(usi_raw_drain), COUNT(drain_keys), drain_keys};

#define OWNER usi_raw_bed
static const usi_key own_bed_keys[] = {
    {.name = "upstream",
     .kind = USI_KIND_LINE,
     .required = true,
     .instead = instead_of_upstream,
     AT(upstream)},
    {.name = "downstream", .kind = USI_KIND_LINE, AT(downstream)},
};
#undef OWNER
static const usi_schema own_beds = {"`beds`", sizeof(usi_raw_bed), COUNT(own_bed_keys),
                                    own_bed_keys};

#define OWNER usi_raw_water
static const usi_key water_keys[] = {
    {.name = "name", .kind = USI_KIND_TEXT, AT(name)},
    {.name = "upstream",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(upstream),
     .quantity = USI_QUANTITY_LEVEL,
     .word = "at_bed"},
    {.name = "downstream",
     .kind = USI_KIND_NUMBER,
     .required = true,
     AT(downstream),
     .quantity = USI_QUANTITY_LEVEL,
     .word = "at_bed"},
    {.name = "surface", .kind = USI_KIND_LINE, AT(surface)},
    {.name = "beds", .kind = USI_KIND_MAP, AT(beds), .inner = &own_beds},
    {.name = "seal", .kind = USI_KIND_STRETCHES, AT(seal)},
    {.name = "shut", .kind = USI_KIND_NAMES, AT(shut)},
    {.name = "drains", .kind = USI_KIND_CHOICE, AT(drains), .words = drains_words},
    {.name = "discharge",
     .kind = USI_KIND_NUMBER,
     AT(discharge),
     .quantity = USI_QUANTITY_DISCHARGE},
    {.name = "return_period",
     .kind = USI_KIND_NUMBER,
     AT(return_period),
     .quantity = USI_QUANTITY_YEARS},
    {.name = "pressures_from", .kind = USI_KIND_TEXT, AT(pressures_from)},
};
#undef OWNER
static const usi_schema water = {"a water case", sizeof(usi_raw_water), COUNT(water_keys),
                                 water_keys};

#define OWNER usi_raw_section
static const usi_key section_keys[] = {
    {.name = "title", .kind = USI_KIND_TEXT, AT(title)},
    {.name = "units", .kind = USI_KIND_UNITS, AT(units)},
    {.name = "flow_toward", .kind = USI_KIND_CHOICE, AT(flow_toward), .words = directions},
    {.name = "width", .kind = USI_KIND_NUMBER, AT(width), .quantity = USI_QUANTITY_WIDTH},
    {.name = "water_unit_weight",
     .kind = USI_KIND_NUMBER,
     AT(water_unit_weight),
     .quantity = USI_QUANTITY_UNIT_WEIGHT},
    {.name = "bed", .kind = USI_KIND_MAP, .required = true, AT(bed), .inner = &bed},
    {
        .name = "base",
        .kind = USI_KIND_LINE_OR_MAP,
        .required = true,
        AT(base),
        .word = "none",
        .inner = &base,
    },
    {.name = "structure", .kind = USI_KIND_MAP, AT(structure), .inner = &structure},
    {.name = "walls", .kind = USI_KIND_LIST, AT(walls), .inner = &wall, .cap = WALL_CAP},
    {.name = "soils",
     .kind = USI_KIND_LIST,
     .required = true,
     AT(soils),
     .inner = &soil,
     .cap = SOIL_CAP},
    {.name = "zones", .kind = USI_KIND_LIST, AT(zones), .inner = &zone, .cap = ZONE_CAP},
    {.name = "piezometers",
     .kind = USI_KIND_LIST,
     AT(piezometers),
     .inner = &piezometer,
     .cap = PIEZOMETER_CAP},
    {.name = "sides", .kind = USI_KIND_MAP, AT(sides), .inner = &sides},
    {.name = "drains", .kind = USI_KIND_LIST, AT(drains), .inner = &drain, .cap = DRAIN_CAP},
    {.name = "water",
     .kind = USI_KIND_LIST,
     .required = true,
     AT(waters),
     .inner = &water,
     .cap = WATER_CAP},
    {.name = "require", .kind = USI_KIND_MAP, AT(require), .inner = &usi_schema_require},
    {.name = "limit_states",
     .kind = USI_KIND_MAP,
     AT(limit_states),
     .inner = &usi_schema_limit_states},
    {.name = "banks", .kind = USI_KIND_MAP, AT(banks), .inner = &usi_schema_banks},
    {.name = "next_drop", .kind = USI_KIND_MAP, AT(next_drop), .inner = &usi_schema_next_drop},
    {.name = "lengths",
     .kind = USI_KIND_NUMBERS,
     AT(lengths),
     .quantity = USI_QUANTITY_WIDTH,
     .cap = LENGTH_CAP},
    {.name = "as_built_defaults",
     .kind = USI_KIND_MAP,
     AT(as_built),
     .inner = &usi_schema_as_built},
};
#undef OWNER
static const usi_schema section = {"a section", sizeof(usi_raw_section), COUNT(section_keys),
                                   section_keys};

const usi_schema *usi_schema_section(void)
{
    return &section;
}
