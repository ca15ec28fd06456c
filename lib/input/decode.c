#include "input/decode.h"

#include <string.h>

#include "input/value.h"

enum { KEY_CAP = 64 };

static void take_map(const usi_visit *at)
{
    *(usi_mark *)at->into = usi_scalar_mark(at->node, at->path);
    usi_decode_mapping(at->reader, at->node, at->path, at->key->inner, at->into);
}

static void take_list(const usi_visit *at)
{
    usi_raw_list *list = at->into;
    const usi_schema *inner = at->key->inner;
    list->at = usi_scalar_mark(at->node, at->path);
    if (at->node->kind != USI_NODE_SEQUENCE) {
        usi_visit_refuse(at, "each entry begins with `- `", "a list belongs here");
        return;
    }
    if (usi_visit_too_many(at)) {
        return;
    }
    if (at->node->count == 0 && at->key->required) {
        usi_visit_refuse(at, NULL, "this list needs at least one entry");
        return;
    }
    unsigned char *items = usi_arena_array(at->reader->arena, at->node->count, inner->size);
    if (items == NULL) {
        return;
    }
    list->given = true;
    list->items = items;
    for (const usi_node *node = at->node->first; node != NULL; node = node->next) {
        const char *path = usi_arena_print(at->reader->arena, "%s[%zu]", at->path, list->count);
        void *item = items + inner->size * list->count++;
        if (path != NULL) {
            *(usi_mark *)item = usi_scalar_mark(node, path);
            usi_decode_mapping(at->reader, node, path, inner, item);
        }
    }
}

/* A line, or a mapping of which a line is the first key. */
static void take_line_or_map(const usi_visit *at)
{
    if (at->node->kind == USI_NODE_MAPPING) {
        take_map(at);
        return;
    }
    *(usi_mark *)at->into = usi_scalar_mark(at->node, at->path);
    void *line = (unsigned char *)at->into + at->key->inner->keys[0].offset;
    usi_value_take_line(at, line);
}

static void take_value(const usi_visit *at)
{
    if (at->node->kind == USI_NODE_REFUSED) {
        return;
    }
    switch (at->key->kind) {
    case USI_KIND_LINE_OR_MAP:
        take_line_or_map(at);
        break;
    case USI_KIND_MAP:
        take_map(at);
        break;
    case USI_KIND_LIST:
        take_list(at);
        break;
    default:
        usi_value_take(at);
        break;
    }
}

static const char *join(usi_reader *reader, const char *path, const char *name)
{
    enum { LONGEST = 60 };
    const char *dot = path[0] != '\0' ? "." : "";
    size_t length = strnlen(name, LONGEST);
    while (length > 0 && ((unsigned char)name[length] & 0xC0U) == 0x80U) {
        length--;
    }
    const char *joined = usi_arena_print(reader->arena, "%s%s%.*s", path, dot, (int)length, name);
    return joined != NULL ? joined : name;
}

/* "a wall takes: name, x, ..." */
static const char *list_keys(usi_reader *reader, const usi_schema *schema)
{
    const char *list = usi_arena_print(reader->arena, "keys of %s:", schema->what);
    bool first = true;
    for (size_t i = 0; i < schema->count && list != NULL; i++) {
        if (schema->keys[i].kind != USI_KIND_LATER) {
            list = usi_arena_print(reader->arena, "%s%s %s", list, first ? "" : ",",
                                   schema->keys[i].name);
            first = false;
        }
    }
    return list;
}

/* Adds to `homes` the places below `path` where a key called `name` may stand. */
static const char *find_homes(usi_reader *reader, const usi_schema *schema, const char *path,
                              const char *name, const char *homes)
{
    const usi_key *found = usi_schema_find(schema, name);
    if (found != NULL && found->kind != USI_KIND_LATER && homes != NULL) {
        homes =
            usi_arena_print(reader->arena, "%s%s%s", homes, homes[0] != '\0' ? ", or " : "", path);
    }
    bool outermost = schema == usi_schema_section();
    for (size_t i = 0; i < schema->count && homes != NULL; i++) {
        const usi_key *key = &schema->keys[i];
        if (key->inner != NULL) {
            const char *inside =
                key->kind == USI_KIND_LIST
                    ? usi_arena_print(reader->arena, "in an entry of `%s`", key->name)
                : outermost ? usi_arena_print(reader->arena, "in `%s`", key->name)
                            : usi_arena_print(reader->arena, "%.*s.%s`", (int)strlen(path) - 1,
                                              path, key->name);
            homes = inside != NULL ? find_homes(reader, key->inner, inside, name, homes) : NULL;
        }
    }
    return homes;
}

/* A key that exists elsewhere; false when there is none of that name. */
static bool report_misplaced(const usi_visit *at, const usi_schema *schema, const char *quoted)
{
    usi_arena *arena = at->reader->arena;
    const char *homes =
        find_homes(at->reader, usi_schema_section(), "at the top level", at->node->text, "");
    if (homes == NULL || homes[0] == '\0') {
        return false;
    }
    const char *hint = usi_arena_print(arena, "it belongs %s", homes);
    const char *message =
        usi_arena_print(arena, "key %s does not belong in %s", quoted, schema->what);
    usi_visit_refuse(at, hint, message != NULL ? message : "unknown key");
    return true;
}

static void report_unknown(const usi_visit *at, const usi_schema *schema)
{
    if (usi_context_error_count(at->reader->context) >= 100) {
        usi_visit_refuse(at, NULL, "unknown key");
        return;
    }
    char quoted[USI_QUOTE_ROOM];
    (void)usi_scalar_quote(quoted, at->node);
    if (usi_value_is_word(at->node, "<<")) {
        usi_visit_refuse(at, "write the keys out", "merge keys (`<<`) are not accepted");
        return;
    }
    if (report_misplaced(at, schema, quoted)) {
        return;
    }
    const usi_key *nearest = usi_schema_nearest(schema, at->node->text);
    const char *hint = nearest != NULL
                           ? usi_arena_print(at->reader->arena, "did you mean `%s`?", nearest->name)
                           : list_keys(at->reader, schema);
    const char *message = usi_arena_print(at->reader->arena, "unknown key %s", quoted);
    usi_visit_refuse(at, hint, message != NULL ? message : "unknown key");
}

/* The first key of the mapping with the same text as `key`, itself at last. */
static const usi_node *first_of_name(const usi_node *mapping, const usi_node *key)
{
    const usi_node *at = mapping->first;
    while (at != key && strcmp(at->text, key->text) != 0) {
        at = at->next;
    }
    return at;
}

static void take_key(const usi_visit *mapping, const usi_schema *schema, const usi_node *key_node)
{
    usi_reader *reader = mapping->reader;
    if (key_node->kind == USI_NODE_REFUSED) {
        return;
    }
    const usi_key *key = usi_schema_find(schema, key_node->text);
    const char *path = join(reader, mapping->path, key_node->text);
    usi_visit at = {reader, key_node, path, key, NULL};
    const usi_node *earlier = first_of_name(mapping->node, key_node);
    if (earlier != key_node) {
        const char *hint =
            usi_arena_print(reader->arena, "it stands in line %d already", earlier->line);
        usi_visit_refuse(&at, hint, "this key stands here twice");
    } else if (key == NULL) {
        report_unknown(&at, schema);
    } else if (key->kind == USI_KIND_LATER) {
        usi_visit_refuse(&at, "leave the key out: a later release will read it",
                         "not yet: this release does not know what to do with the key");
    } else if (key_node->value != NULL) {
        at.node = key_node->value;
        at.into = (unsigned char *)mapping->into + key->offset;
        take_value(&at);
    }
}

/* True when the key is there, or a misspelt one that was taken for it. */
static bool stands_in(const usi_node *mapping, const usi_schema *schema, const usi_key *key)
{
    for (const usi_node *at = mapping->first; at != NULL; at = at->next) {
        bool misspelt = usi_value_is_scalar(at) && usi_schema_find(schema, at->text) == NULL &&
                        usi_schema_nearest(schema, at->text) == key;
        if (usi_value_is_word(at, key->name) || misspelt) {
            return true;
        }
    }
    return false;
}

static bool stands_instead(const usi_node *mapping, const usi_schema *schema, const usi_key *key)
{
    for (size_t i = 0; key->instead != NULL && key->instead[i] != NULL; i++) {
        if (stands_in(mapping, schema, usi_schema_find(schema, key->instead[i]))) {
            return true;
        }
    }
    return false;
}

/* "or one of `k_from`, `class`", or NULL where nothing may stand instead. */
static const char *list_instead(const usi_visit *mapping, const usi_key *key)
{
    if (key->instead == NULL) {
        return NULL;
    }
    const char *list = key->instead[1] != NULL ? "or one of" : "or";
    for (size_t i = 0; list != NULL && key->instead[i] != NULL; i++) {
        list = usi_arena_print(mapping->reader->arena, "%s%s `%s`", list, i > 0 ? "," : "",
                               key->instead[i]);
    }
    return list;
}

static void report_missing(const usi_visit *mapping, const usi_schema *schema)
{
    for (size_t i = 0; i < schema->count; i++) {
        const usi_key *key = &schema->keys[i];
        bool spared = mapping->reader->with_cases && schema == usi_schema_section() &&
                      strcmp(key->name, "water") == 0;
        if (key->required && !spared && !stands_in(mapping->node, schema, key) &&
            !stands_instead(mapping->node, schema, key)) {
            usi_visit at = *mapping;
            at.path = join(mapping->reader, mapping->path, key->name);
            const char *message = usi_arena_print(mapping->reader->arena, "%s needs the key `%s`",
                                                  schema->what, key->name);
            usi_visit_refuse(&at, list_instead(mapping, key),
                             message != NULL ? message : "a key is missing");
        }
    }
}

void usi_decode_mapping(usi_reader *reader, const usi_node *node, const char *path,
                        const usi_schema *schema, void *into)
{
    usi_visit at = {reader, node, path, NULL, into};
    if (node->kind == USI_NODE_REFUSED) {
        return;
    }
    if (node->kind != USI_NODE_MAPPING) {
        usi_visit_refuse(&at, list_keys(reader, schema), "keys with values belong here");
        return;
    }
    if (node->count > KEY_CAP) {
        usi_visit_refuse(&at, list_keys(reader, schema), "more than 64 keys stand here");
        return;
    }
    for (const usi_node *key = node->first; key != NULL; key = key->next) {
        take_key(&at, schema, key);
    }
    report_missing(&at, schema);
}
