#include "input/change.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/number.h"
#include "input/text.h"

/* One change on its way to its place. */
typedef struct change_visit {
    us_context *context;
    const usi_source *source;
    usi_arena *arena;
    const usi_origin_change *change;
    const char *at; /* what is left of the key */
} change_visit;

static bool refuse(const change_visit *visit, const char *hint, const char *message)
{
    usi_mark mark = {0, 0, visit->change->key, NULL};
    usi_source_error(visit->context, visit->source, &mark, hint, "%s", message);
    return false;
}

static bool is_text(const usi_node *node, const char *text, size_t length)
{
    return node != NULL && node->kind == USI_NODE_SCALAR && node->length == length &&
           memcmp(node->text, text, length) == 0;
}

static usi_node *find_key(const usi_node *mapping, const char *name, size_t length)
{
    usi_node *key = mapping->first;
    while (key != NULL && !is_text(key, name, length)) {
        key = key->next;
    }
    return key;
}

/* A key without a value, at the end of the mapping. NULL when memory is short. */
static usi_node *add_key(const change_visit *visit, usi_node *mapping, const char *name,
                         size_t length)
{
    usi_node *key = usi_arena_array(visit->arena, 1, sizeof *key);
    usi_node *value = usi_arena_array(visit->arena, 1, sizeof *value);
    const char *text = usi_arena_text(visit->arena, name, length);
    if (key == NULL || value == NULL || text == NULL) {
        return NULL;
    }
    *key = (usi_node){
        .kind = USI_NODE_SCALAR, .plain = true, .text = text, .length = length, .value = value};
    if (mapping->last != NULL) {
        mapping->last->next = key;
    } else {
        mapping->first = key;
    }
    mapping->last = key;
    mapping->count++;
    return key;
}

/* Steps from a mapping to the value of the next name in the path. */
static bool step_to_key(change_visit *visit, usi_node **node)
{
    size_t length = strcspn(visit->at, ".[");
    if (length == 0) {
        return refuse(visit, NULL, "a key is written like `walls[1].tip` or `bed.upstream`");
    }
    if ((*node)->kind != USI_NODE_MAPPING) {
        return refuse(visit, NULL, "there are no keys at this place of the section");
    }
    usi_node *key = find_key(*node, visit->at, length);
    bool last = visit->at[length] == '\0';
    if (key == NULL && !last) {
        return refuse(visit, "only the last part of a key may be new",
                      "the section has no such place");
    }
    if (key == NULL) {
        key = add_key(visit, *node, visit->at, length);
    }
    if (key == NULL || key->value == NULL) {
        return false;
    }
    *node = key->value;
    visit->at += length;
    return true;
}

/* Item `[2]` of a list, or the one whose `name` stands in the brackets. */
static usi_node *find_item(const usi_node *list, const char *word, size_t length)
{
    bool counted = length > 0 && strspn(word, "0123456789") >= length;
    size_t wanted = counted ? (size_t)strtoul(word, NULL, 10) : 0;
    usi_node *item = list->first;
    for (size_t index = 0; item != NULL; item = item->next, index++) {
        if (counted && index == wanted) {
            return item;
        }
        const usi_node *name =
            !counted && item->kind == USI_NODE_MAPPING ? find_key(item, "name", 4) : NULL;
        if (name != NULL && is_text(name->value, word, length)) {
            return item;
        }
    }
    return NULL;
}

static bool step_to_item(change_visit *visit, usi_node **node)
{
    const char *word = visit->at + 1;
    const char *end = strchr(word, ']');
    if (end == NULL) {
        return refuse(visit, NULL, "the bracket `[` is not closed");
    }
    if ((*node)->kind != USI_NODE_SEQUENCE) {
        return refuse(visit, NULL, "there is no list at this place of the section");
    }
    *node = find_item(*node, word, (size_t)(end - word));
    if (*node == NULL) {
        return refuse(visit, "items are counted from 0, or called by their `name`",
                      "the list has no such item");
    }
    visit->at = end + 1;
    return true;
}

static bool apply_one(change_visit *visit, usi_node *root)
{
    usi_node *node = root;
    bool found = step_to_key(visit, &node);
    while (found && visit->at[0] != '\0') {
        if (visit->at[0] == '[') {
            found = step_to_item(visit, &node);
        } else if (visit->at[0] == '.') {
            visit->at++;
            found = step_to_key(visit, &node);
        } else {
            found = refuse(visit, NULL, "a key is written like `walls[1].tip` or `bed.upstream`");
        }
    }
    if (found) {
        usi_node *next = node->next; /* of an item; a value has none */
        *node = (usi_node){.kind = USI_NODE_SCALAR,
                           .plain = true,
                           .text = visit->change->text,
                           .length = strlen(visit->change->text),
                           .next = next};
    }
    return found;
}

bool usi_change_apply(us_context *context, const usi_source *source, usi_arena *arena,
                      usi_node *root, const usi_origin *origin)
{
    bool placed = true;
    for (size_t i = 0; i < origin->change_count; i++) {
        const usi_origin_change *change = &origin->changes[i];
        change_visit visit = {context, source, arena, change, change->key};
        placed = apply_one(&visit, root) && placed;
    }
    return placed;
}

/* The shortest text that reads back as the same number. */
static const char *write_number(char *buffer, double value)
{
    double back = 0.0;
    int digits = 15;
    do {
        (void)usi_number_write(buffer, value, digits);
        (void)usi_number_read(buffer, buffer + strlen(buffer), &back);
    } while (back != value && ++digits <= 17);
    return buffer;
}

static bool is_fit(const char *text)
{
    return text[0] != '\0' && usi_text_is_printable(text, strlen(text));
}

static us_status copy_change(us_context *context, const us_change *from, usi_origin_change *into)
{
    char number[USI_NUMBER_ROOM];
    /* A number without end or none at all has no text. */
    bool finite = from->value - from->value == 0.0;
    if (from->key == NULL || !is_fit(from->key) || (from->text == NULL && !finite) ||
        (from->text != NULL && !is_fit(from->text))) {
        return US_ERROR_ARGUMENT;
    }
    const char *text = from->text != NULL ? from->text : write_number(number, from->value);
    into->key = usi_memory_text(context, from->key, strlen(from->key));
    into->text = usi_memory_text(context, text, strlen(text));
    return into->key != NULL && into->text != NULL ? US_OK : US_ERROR_MEMORY;
}

us_status usi_change_gather(us_context *context, const usi_origin *before, const us_change *changes,
                            size_t count, usi_origin *into)
{
    *into = (usi_origin){.length = before->length, .cases_length = before->cases_length};
    into->name = usi_memory_text(context, before->name, strlen(before->name));
    into->text = usi_memory_text(context, before->text, before->length);
    size_t earlier = before->change_count;
    if (before->cases != NULL) {
        into->cases_name = usi_memory_text(context, before->cases_name, strlen(before->cases_name));
        into->cases = usi_memory_text(context, before->cases, before->cases_length);
        if (into->cases_name == NULL || into->cases == NULL) {
            return US_ERROR_MEMORY;
        }
    }
    if (into->name == NULL || into->text == NULL || count > SIZE_MAX - earlier) {
        return US_ERROR_MEMORY;
    }
    if (earlier + count == 0) {
        return US_OK;
    }
    into->changes = usi_memory_array(context, earlier + count, sizeof *into->changes);
    if (into->changes == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = US_OK;
    for (size_t i = 0; i < earlier + count && status == US_OK; i++) {
        us_change change = i < earlier
                               ? (us_change){before->changes[i].key, before->changes[i].text, 0.0}
                               : changes[i - earlier];
        into->change_count++;
        status = copy_change(context, &change, &into->changes[i]);
    }
    return status;
}
