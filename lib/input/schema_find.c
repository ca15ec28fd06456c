/* Keys by name, and the key that was meant. */
#include "input/schema.h"

#include <string.h>

const usi_key *usi_schema_find(const usi_schema *schema, const char *name)
{
    for (size_t i = 0; i < schema->count; i++) {
        if (strcmp(schema->keys[i].name, name) == 0) {
            return &schema->keys[i];
        }
    }
    return NULL;
}

enum { NAME_ROOM = 32 };

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Edit distance (insert, drop, replace, swap neighbours) of two short words. */
static size_t distance(const char *a, size_t a_length, const char *b, size_t b_length)
{
    size_t rows[3][NAME_ROOM + 1];
    size_t *before = rows[0];
    size_t *last = rows[1];
    size_t *row = rows[2];
    for (size_t j = 0; j <= b_length; j++) {
        last[j] = j;
        before[j] = j;
    }
    for (size_t i = 1; i <= a_length; i++) {
        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = smaller(replaced, 1 + smaller(last[j], row[j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                row[j] = smaller(row[j], before[j - 2] + 1);
            }
        }
        size_t *freed = before;
        before = last;
        last = row;
        row = freed;
    }
    return last[b_length];
}

const usi_key *usi_schema_nearest(const usi_schema *schema, const char *name)
{
    size_t length = strlen(name);
    const usi_key *nearest = NULL;
    size_t best = length / 3 + 2;
    for (size_t i = 0; i < schema->count && length <= NAME_ROOM; i++) {
        const usi_key *key = &schema->keys[i];
        size_t key_length = strlen(key->name);
        if (key->kind == USI_KIND_LATER || key_length > NAME_ROOM) {
            continue;
        }
        size_t away = distance(name, length, key->name, key_length);
        if (away < best && away < key_length) {
            best = away;
            nearest = key;
        }
    }
    return nearest;
}
