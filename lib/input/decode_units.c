/* The key `units`, read before all others: it says what bare numbers mean. */
#include <string.h>

#include "input/decode.h"

typedef struct unit_slot {
    const char *name;
    usi_dimension dimension;
    size_t offset; /* in usi_file_units */
} unit_slot;

static const unit_slot slots[] = {
    {"length", USI_DIMENSION_LENGTH, offsetof(usi_file_units, length)},
    {"conductivity", USI_DIMENSION_SPEED, offsetof(usi_file_units, conductivity)},
    {"unit_weight", USI_DIMENSION_UNIT_WEIGHT, offsetof(usi_file_units, unit_weight)},
};

enum { SLOT_COUNT = sizeof slots / sizeof slots[0] };

static const usi_unit *named(const char *name)
{
    return usi_unit_find(name, strlen(name));
}

static void refuse(usi_reader *reader, const usi_node *node, const char *path, const char *hint,
                   const char *message)
{
    usi_mark mark = usi_scalar_mark(node, path);
    usi_source_error(reader->context, reader->source, &mark, hint, "%s", message);
}

static const char *known_units(usi_reader *reader, usi_dimension dimension)
{
    const char *list = "known units:";
    for (size_t i = 0; list != NULL && usi_unit_of(dimension, i) != NULL; i++) {
        list = usi_arena_print(reader->arena, "%s%s %s", list, i > 0 ? "," : "",
                               usi_unit_of(dimension, i)->name);
    }
    return list;
}

static void take_unit(usi_reader *reader, const unit_slot *slot, const usi_node *node,
                      const char *path)
{
    if (node == NULL || node->kind == USI_NODE_REFUSED) {
        return;
    }
    bool scalar = node->kind == USI_NODE_SCALAR;
    const usi_unit *unit = scalar ? usi_unit_find(node->text, node->length) : NULL;
    if (unit == NULL || unit->dimension != slot->dimension) {
        char quoted[USI_QUOTE_ROOM];
        const char *what = scalar ? usi_scalar_quote(quoted, node) : "this";
        const char *message =
            usi_arena_print(reader->arena, "%s is not a unit of %s", what, path + strlen("units."));
        refuse(reader, node, path, known_units(reader, slot->dimension),
               message != NULL ? message : "unknown unit");
        return;
    }
    memcpy((unsigned char *)&reader->units + slot->offset, &unit, sizeof(const usi_unit *));
}

static void take_entry(usi_reader *reader, const usi_node *mapping, const usi_node *key)
{
    static const char *const paths[] = {"units.length", "units.conductivity", "units.unit_weight"};
    if (key->kind == USI_NODE_REFUSED) {
        return;
    }
    for (const usi_node *at = mapping->first; at != key; at = at->next) {
        if (strcmp(at->text, key->text) == 0) {
            refuse(reader, key, "units", "keep one of them", "this key stands here twice");
            return;
        }
    }
    for (size_t i = 0; i < SLOT_COUNT; i++) {
        if (strcmp(key->text, slots[i].name) == 0) {
            take_unit(reader, &slots[i], key->value, paths[i]);
            return;
        }
    }
    char quoted[USI_QUOTE_ROOM];
    const char *message =
        usi_arena_print(reader->arena, "unknown key %s", usi_scalar_quote(quoted, key));
    refuse(reader, key, "units", "keys of units: length, conductivity, unit_weight",
           message != NULL ? message : "unknown key");
}

static const usi_node *find_units(const usi_node *root)
{
    for (const usi_node *key = root->first; key != NULL && root->kind == USI_NODE_MAPPING;
         key = key->next) {
        if (key->kind == USI_NODE_SCALAR && strcmp(key->text, "units") == 0) {
            return key->value;
        }
    }
    return NULL;
}

static bool weighs_in_pounds(const usi_unit *unit)
{
    return unit->factor == named("lb/ft^3")->factor;
}

void usi_decode_units(usi_reader *reader, const usi_node *root, usi_raw_units *units)
{
    enum { KEY_CAP = 64 };
    reader->units = (usi_file_units){named("m"), named("m/s"), named("kN/m^3"), false};
    const usi_node *node = find_units(root);
    if (node != NULL && node->kind == USI_NODE_SCALAR && strcmp(node->text, "us") == 0) {
        reader->units = (usi_file_units){named("ft"), named("ft/day"), named("lb/ft^3"), true};
    } else if (node != NULL && node->kind == USI_NODE_MAPPING && node->count <= KEY_CAP) {
        for (const usi_node *key = node->first; key != NULL; key = key->next) {
            take_entry(reader, node, key);
        }
    } else if (node != NULL && node->kind != USI_NODE_REFUSED) {
        refuse(reader, node, "units", "units: us, or {length: m, conductivity: m/s, ...}",
               "`us` or a mapping of units belongs here");
    }
    reader->units.pounds = weighs_in_pounds(reader->units.unit_weight);
    units->given = true;
    units->units = reader->units;
    if (node != NULL) {
        units->at = usi_scalar_mark(node, "units");
    }
}
