#include "input/decode.h"

#include <string.h>

#include "input/mistake.h"

enum { KEY_CAP = 64, NAME_CAP = 120 };

typedef struct visit {
    usi_reader *reader;
    const usi_node *node;
    const char *path; /* dotted, of the node */
    const usi_key *key;
    void *into;
} visit;

static void refuse(const visit *at, const char *hint, const char *message)
{
    usi_mark mark =
        usi_scalar_mark(at->node, at->path != NULL && at->path[0] != '\0' ? at->path : NULL);
    usi_source_error(at->reader->context, at->reader->source, &mark, hint, "%s", message);
}

static bool is_scalar(const usi_node *node)
{
    return node->kind == USI_NODE_SCALAR;
}

static bool is_word(const usi_node *node, const char *word)
{
    return is_scalar(node) && word != NULL && strcmp(node->text, word) == 0;
}

/* True after refusing a word other than the one that may stand for a number. */
static bool refuse_word(const visit *at)
{
    const char *text = is_scalar(at->node) ? at->node->text : "";
    bool word = (text[0] >= 'a' && text[0] <= 'z') || (text[0] >= 'A' && text[0] <= 'Z');
    if (at->key->word == NULL || !word || usi_mistake_find(text, at->node->length).what != NULL) {
        return false;
    }
    char quoted[USI_QUOTE_ROOM];
    const char *message = usi_arena_print(at->reader->arena, "%s is neither a number nor `%s`",
                                          usi_scalar_quote(quoted, at->node), at->key->word);
    refuse(at, NULL, message != NULL ? message : "a number belongs here");
    return true;
}

static void take_number(const visit *at)
{
    usi_raw_number *number = at->into;
    number->at = usi_scalar_mark(at->node, at->path);
    if (is_word(at->node, at->key->word)) {
        number->given = true;
        number->word = true;
        return;
    }
    number->given = !refuse_word(at) && usi_scalar_number(at->reader, at->node, at->path,
                                                          at->key->quantity, &number->si);
}

static void take_text(const visit *at)
{
    usi_raw_text *text = at->into;
    text->at = usi_scalar_mark(at->node, at->path);
    if (!is_scalar(at->node) || strspn(at->node->text, " ") == at->node->length) {
        refuse(at, NULL, "a text belongs here");
    } else if (at->node->length > NAME_CAP) {
        refuse(at, NULL, "names and titles have at most 120 bytes; this one is longer");
    } else {
        text->text = at->node->text;
    }
}

static void take_flag(const visit *at)
{
    usi_raw_flag *flag = at->into;
    flag->at = usi_scalar_mark(at->node, at->path);
    flag->value = is_word(at->node, "true");
    flag->given = flag->value || is_word(at->node, "false");
    if (!flag->given) {
        refuse(at, NULL, "only `true` or `false` may stand here");
    }
}

/* "only `a`, `b` or `c` may stand here" */
static const char *list_words(const visit *at)
{
    const char *const *words = at->key->words;
    const char *list = "only";
    for (size_t i = 0; words[i] != NULL && list != NULL; i++) {
        const char *before = i == 0 ? "" : words[i + 1] != NULL ? "," : " or";
        list = usi_arena_print(at->reader->arena, "%s%s `%s`", list, before, words[i]);
    }
    return list != NULL ? usi_arena_print(at->reader->arena, "%s may stand here", list) : NULL;
}

static void take_choice(const visit *at)
{
    usi_raw_choice *choice = at->into;
    choice->at = usi_scalar_mark(at->node, at->path);
    for (int i = 0; at->key->words[i] != NULL; i++) {
        if (is_word(at->node, at->key->words[i])) {
            choice->index = i;
            choice->given = true;
            return;
        }
    }
    const char *message = list_words(at);
    refuse(at, NULL, message != NULL ? message : "another word belongs here");
}

static bool read_point(usi_reader *reader, const usi_node *node, const char *path,
                       usi_raw_point *point)
{
    point->mark = usi_scalar_mark(node, path);
    if (node->kind == USI_NODE_REFUSED) {
        return false;
    }
    if (node->kind != USI_NODE_SEQUENCE || node->count != 2) {
        visit at = {reader, node, path, NULL, NULL};
        refuse(&at, NULL, "a point [x, level] belongs here");
        return false;
    }
    bool x = usi_scalar_number(reader, node->first, path, USI_QUANTITY_X, &point->at.x_m);
    bool z = usi_scalar_number(reader, node->last, path, USI_QUANTITY_LEVEL, &point->at.z_m);
    point->given = x && z;
    return point->given;
}

static void take_point(const visit *at)
{
    (void)read_point(at->reader, at->node, at->path, at->into);
}

static void take_points(const visit *at)
{
    usi_raw_line *line = at->into;
    if (at->node->count == 0) {
        refuse(at, NULL, "there are no points in this list");
        return;
    }
    at->reader->vertices += at->node->count;
    if (at->reader->vertices > USI_VERTEX_CAP) {
        refuse(at, NULL, "the lines of a section have at most 10,000 points together");
        return;
    }
    line->points = usi_arena_array(at->reader->arena, at->node->count, sizeof *line->points);
    if (line->points == NULL) {
        return;
    }
    line->given = true;
    for (const usi_node *node = at->node->first; node != NULL; node = node->next) {
        const char *path = usi_arena_print(at->reader->arena, "%s[%zu]", at->path, line->count);
        if (!read_point(at->reader, node, path, &line->points[line->count++])) {
            line->given = false;
        }
    }
}

static void take_level(const visit *at)
{
    usi_raw_line *line = at->into;
    line->points = usi_arena_array(at->reader->arena, 1, sizeof *line->points);
    if (line->points == NULL) {
        return;
    }
    line->level = true;
    line->count = 1;
    line->points[0].mark = line->at;
    line->given =
        !refuse_word(at) && usi_scalar_number(at->reader, at->node, at->path, USI_QUANTITY_LEVEL,
                                              &line->points[0].at.z_m);
    line->points[0].given = line->given;
}

static void take_line(const visit *at)
{
    usi_raw_line *line = at->into;
    line->at = usi_scalar_mark(at->node, at->path);
    bool may_be_level = at->key->kind == USI_KIND_LINE;
    if (is_word(at->node, at->key->word)) {
        line->given = true;
        line->word = true;
    } else if (at->node->kind == USI_NODE_SEQUENCE) {
        take_points(at);
    } else if (is_scalar(at->node) && may_be_level) {
        take_level(at);
    } else if (at->node->kind == USI_NODE_MAPPING && may_be_level) {
        refuse(at, "give a level, or points [[x, level], ...]",
               "not yet: a later release reads this in more detail");
    } else {
        refuse(at, NULL,
               may_be_level ? "a level, or points [[x, level], ...], belongs here"
                            : "points [[x, level], ...] belong here");
    }
}

static void take_map(const visit *at)
{
    *(usi_mark *)at->into = usi_scalar_mark(at->node, at->path);
    usi_decode_mapping(at->reader, at->node, at->path, at->key->inner, at->into);
}

static void take_list(const visit *at)
{
    usi_raw_list *list = at->into;
    const usi_schema *inner = at->key->inner;
    list->at = usi_scalar_mark(at->node, at->path);
    if (at->node->kind != USI_NODE_SEQUENCE) {
        refuse(at, "each entry begins with `- `", "a list belongs here");
        return;
    }
    if (at->node->count > at->key->cap) {
        const char *message = usi_arena_print(
            at->reader->arena, "%zu entries are too many: at most %zu may stand here",
            at->node->count, at->key->cap);
        refuse(at, NULL, message != NULL ? message : "too many entries");
        return;
    }
    if (at->node->count == 0 && at->key->required) {
        refuse(at, NULL, "this list needs at least one entry");
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

static void take_value(const visit *at)
{
    if (at->node->kind == USI_NODE_REFUSED) {
        return;
    }
    switch (at->key->kind) {
    case USI_KIND_NUMBER:
        take_number(at);
        break;
    case USI_KIND_TEXT:
        take_text(at);
        break;
    case USI_KIND_FLAG:
        take_flag(at);
        break;
    case USI_KIND_CHOICE:
        take_choice(at);
        break;
    case USI_KIND_LINE:
    case USI_KIND_POINTS:
        take_line(at);
        break;
    case USI_KIND_POINT:
        take_point(at);
        break;
    case USI_KIND_MAP:
        take_map(at);
        break;
    case USI_KIND_LIST:
        take_list(at);
        break;
    case USI_KIND_UNITS: /* were read first */
    case USI_KIND_LATER:
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
static bool report_misplaced(const visit *at, const usi_schema *schema, const char *quoted)
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
    refuse(at, hint, message != NULL ? message : "unknown key");
    return true;
}

static void report_unknown(const visit *at, const usi_schema *schema)
{
    if (usi_context_error_count(at->reader->context) >= 100) {
        refuse(at, NULL, "unknown key");
        return;
    }
    char quoted[USI_QUOTE_ROOM];
    (void)usi_scalar_quote(quoted, at->node);
    if (is_word(at->node, "<<")) {
        refuse(at, "write the keys out", "merge keys (`<<`) are not accepted");
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
    refuse(at, hint, message != NULL ? message : "unknown key");
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

static void take_key(const visit *mapping, const usi_schema *schema, const usi_node *key_node)
{
    usi_reader *reader = mapping->reader;
    if (key_node->kind == USI_NODE_REFUSED) {
        return;
    }
    const usi_key *key = usi_schema_find(schema, key_node->text);
    const char *path = join(reader, mapping->path, key_node->text);
    visit at = {reader, key_node, path, key, NULL};
    const usi_node *earlier = first_of_name(mapping->node, key_node);
    if (earlier != key_node) {
        const char *hint =
            usi_arena_print(reader->arena, "it stands in line %d already", earlier->line);
        refuse(&at, hint, "this key stands here twice");
    } else if (key == NULL) {
        report_unknown(&at, schema);
    } else if (key->kind == USI_KIND_LATER) {
        refuse(&at, "leave the key out: a later release will read it",
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
        bool misspelt = is_scalar(at) && usi_schema_find(schema, at->text) == NULL &&
                        usi_schema_nearest(schema, at->text) == key;
        if (is_word(at, key->name) || misspelt) {
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
static const char *list_instead(const visit *mapping, const usi_key *key)
{
    const char *list = key->instead != NULL ? "or one of" : NULL;
    for (size_t i = 0; list != NULL && key->instead[i] != NULL; i++) {
        list = usi_arena_print(mapping->reader->arena, "%s%s `%s`", list, i > 0 ? "," : "",
                               key->instead[i]);
    }
    return list;
}

static void report_missing(const visit *mapping, const usi_schema *schema)
{
    for (size_t i = 0; i < schema->count; i++) {
        const usi_key *key = &schema->keys[i];
        if (key->required && !stands_in(mapping->node, schema, key) &&
            !stands_instead(mapping->node, schema, key)) {
            visit at = *mapping;
            at.path = join(mapping->reader, mapping->path, key->name);
            const char *message = usi_arena_print(mapping->reader->arena, "%s needs the key `%s`",
                                                  schema->what, key->name);
            refuse(&at, list_instead(mapping, key), message != NULL ? message : "a key is missing");
        }
    }
}

void usi_decode_mapping(usi_reader *reader, const usi_node *node, const char *path,
                        const usi_schema *schema, void *into)
{
    visit at = {reader, node, path, NULL, into};
    if (node->kind == USI_NODE_REFUSED) {
        return;
    }
    if (node->kind != USI_NODE_MAPPING) {
        refuse(&at, list_keys(reader, schema), "keys with values belong here");
        return;
    }
    if (node->count > KEY_CAP) {
        refuse(&at, list_keys(reader, schema), "more than 64 keys stand here");
        return;
    }
    for (const usi_node *key = node->first; key != NULL; key = key->next) {
        take_key(&at, schema, key);
    }
    report_missing(&at, schema);
}
