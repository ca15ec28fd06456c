/* YAML text as a tree of nodes that know their place. */
#ifndef USI_INPUT_TREE_H
#define USI_INPUT_TREE_H

#include "base/arena.h"
#include "base/source.h"

enum { USI_TREE_DEPTH = 32 };

typedef enum usi_node_kind {
    USI_NODE_SCALAR,
    USI_NODE_MAPPING,
    USI_NODE_SEQUENCE,
    USI_NODE_REFUSED /* was reported while the tree was read: pass over it */
} usi_node_kind;

typedef struct usi_node usi_node;
struct usi_node {
    usi_node_kind kind;
    int line;         /* from 1 */
    int column;       /* from 1, in characters */
    bool plain;       /* of a scalar: written without quotes */
    const char *text; /* of a scalar: printable UTF-8 with a NUL behind */
    size_t length;
    size_t count;    /* children: items, or keys */
    usi_node *first; /* first child */
    usi_node *last;
    usi_node *next;  /* next sibling */
    usi_node *value; /* of a mapping's key: its value */
};

/* Reads one YAML document. Anchors, aliases, tags, keys that are no plain
 * text, more than USI_TREE_DEPTH levels, a second document and broken YAML
 * are reported. Returns the root, in `arena`, or NULL when there is none. */
usi_node *usi_tree_read(us_context *context, const usi_source *source, usi_arena *arena);

#endif
