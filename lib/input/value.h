/* One value of a section file that is no mapping and no list of mappings. */
#ifndef USI_INPUT_VALUE_H
#define USI_INPUT_VALUE_H

#include "input/schema.h"

/* A node on its way into the structure that a schema fills. */
typedef struct usi_visit {
    usi_reader *reader;
    const usi_node *node;
    const char *path; /* dotted, of the node */
    const usi_key *key;
    void *into;
} usi_visit;

/* Reports an error at the node. `hint` may be NULL. */
void usi_visit_refuse(const usi_visit *at, const char *hint, const char *message);

/* True, after one error, where a sequence has more entries than its key allows. */
bool usi_visit_too_many(const usi_visit *at);

bool usi_value_is_scalar(const usi_node *node);

/* True of the very word, NULL being none. */
bool usi_value_is_word(const usi_node *node, const char *word);

/* Reads the value by the kind of its key; mappings and lists of them are left alone. */
void usi_value_take(const usi_visit *at);

/* Reads a line by itself: of USI_KIND_LINE_OR_MAP where there is no mapping. */
void usi_value_take_line(const usi_visit *at, usi_raw_line *line);

#endif
