/* The events of libyaml, stacked into a tree. Its document API would accept
 * duplicate keys and cycles and recurses without limit; events do not. */
#include "input/tree.h"

#include <string.h>
#include <yaml.h>

#include "input/plain_yaml.h"
#include "input/text.h"

typedef struct builder {
    us_context *context;
    const usi_source *source;
    usi_arena *arena;
    usi_node *stack[USI_TREE_DEPTH]; /* open mappings and sequences */
    size_t depth;
    usi_node *keys[USI_TREE_DEPTH]; /* of each open mapping: the key that waits for its value */
    usi_node *root;
    size_t documents;
    bool stop;
} builder;

static void refuse(builder *to, const yaml_mark_t *mark, const char *hint, const char *message)
{
    usi_mark at = {(int)mark->line + 1, (int)mark->column + 1, NULL, NULL};
    usi_source_error(to->context, to->source, &at, hint, "%s", message);
}

static usi_node *new_node(builder *to, usi_node_kind kind, const yaml_event_t *event)
{
    usi_node *node = usi_arena_array(to->arena, 1, sizeof *node);
    if (node == NULL) {
        to->stop = true;
        return NULL;
    }
    node->kind = kind;
    node->line = (int)event->start_mark.line + 1;
    node->column = (int)event->start_mark.column + 1;
    return node;
}

static void append(usi_node *parent, usi_node *child)
{
    if (parent->last == NULL) {
        parent->first = child;
    } else {
        parent->last->next = child;
    }
    parent->last = child;
    parent->count++;
}

/* Hangs a finished or opened node under the innermost open one. */
static void attach(builder *to, usi_node *node, const yaml_event_t *event)
{
    if (to->depth == 0) {
        to->root = node;
        return;
    }
    usi_node *parent = to->stack[to->depth - 1];
    if (parent->kind != USI_NODE_MAPPING) {
        append(parent, node);
        return;
    }
    usi_node **key = &to->keys[to->depth - 1];
    if (*key != NULL) {
        (*key)->value = node;
        *key = NULL;
        return;
    }
    if (node->kind == USI_NODE_MAPPING || node->kind == USI_NODE_SEQUENCE) {
        refuse(to, &event->start_mark, "a key is a plain word, such as `tip`",
               "a list or mapping cannot be a key");
        node->kind = USI_NODE_REFUSED;
        to->stop = true;
    }
    append(parent, node);
    *key = node;
}

static bool check_marks(builder *to, const yaml_event_t *event, const unsigned char *anchor,
                        const unsigned char *tag)
{
    if (anchor != NULL) {
        refuse(to, &event->start_mark, "write the value out where it is needed",
               "anchors (`&name`) are not accepted");
    }
    if (tag != NULL) {
        refuse(to, &event->start_mark, "remove the tag; every key knows the kind of its value",
               "tags (`!name`) are not accepted");
    }
    return anchor == NULL && tag == NULL;
}

static void take_scalar(builder *to, const yaml_event_t *event)
{
    const char *text = (const char *)event->data.scalar.value;
    size_t length = event->data.scalar.length;
    bool sound = check_marks(to, event, event->data.scalar.anchor, event->data.scalar.tag);
    if (sound && !usi_text_is_printable(text, length)) {
        refuse(to, &event->start_mark, "write it on one line, without escapes",
               "this text holds a line break or control code");
        sound = false;
    }
    usi_node *node = new_node(to, sound ? USI_NODE_SCALAR : USI_NODE_REFUSED, event);
    if (node == NULL) {
        return;
    }
    node->plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
    node->length = sound ? length : 0;
    node->text = usi_arena_text(to->arena, text, node->length);
    if (node->text == NULL) {
        to->stop = true;
        return;
    }
    attach(to, node, event);
}

static void take_alias(builder *to, const yaml_event_t *event)
{
    refuse(to, &event->start_mark, "write the value out",
           "aliases (`*name`) are not accepted; text that begins with `*` needs quotes");
    usi_node *node = new_node(to, USI_NODE_REFUSED, event);
    if (node != NULL) {
        node->text = "";
        attach(to, node, event);
    }
}

static void open_node(builder *to, const yaml_event_t *event, usi_node_kind kind)
{
    if (kind == USI_NODE_MAPPING) {
        (void)check_marks(to, event, event->data.mapping_start.anchor,
                          event->data.mapping_start.tag);
    } else {
        (void)check_marks(to, event, event->data.sequence_start.anchor,
                          event->data.sequence_start.tag);
    }
    if (to->depth == USI_TREE_DEPTH) {
        refuse(to, &event->start_mark, NULL, "lists and mappings nest more than 32 deep");
        to->stop = true;
        return;
    }
    usi_node *node = new_node(to, kind, event);
    if (node == NULL) {
        return;
    }
    attach(to, node, event);
    to->keys[to->depth] = NULL;
    to->stack[to->depth++] = node;
}

static void open_document(builder *to, const yaml_event_t *event)
{
    if (event->data.document_start.tag_directives.start !=
        event->data.document_start.tag_directives.end) {
        refuse(to, &event->start_mark, "remove the directive", "`%TAG` is not accepted");
    }
    if (++to->documents > 1) {
        refuse(to, &event->start_mark, "keep one section in a file",
               "a second document begins here");
        to->stop = true;
    }
}

/* True while more events are wanted. */
static bool take_event(builder *to, const yaml_event_t *event)
{
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        open_document(to, event);
        break;
    case YAML_SCALAR_EVENT:
        take_scalar(to, event);
        break;
    case YAML_ALIAS_EVENT:
        take_alias(to, event);
        break;
    case YAML_MAPPING_START_EVENT:
        open_node(to, event, USI_NODE_MAPPING);
        break;
    case YAML_SEQUENCE_START_EVENT:
        open_node(to, event, USI_NODE_SEQUENCE);
        break;
    case YAML_MAPPING_END_EVENT:
    case YAML_SEQUENCE_END_EVENT:
        to->depth--;
        break;
    case YAML_STREAM_END_EVENT:
        return false;
    default:
        break;
    }
    return !to->stop;
}

static void report_broken(builder *to, const yaml_parser_t *parser)
{
    if (parser->error == YAML_MEMORY_ERROR) {
        usi_context_report(to->context, US_ERROR, NULL, NULL, "out of memory while reading YAML");
        to->arena->failed = true;
        return;
    }
    const char *problem = parser->problem != NULL ? parser->problem : "unreadable text";
    const char *hint = "check brackets, quotes and indentation in this line and the ones above";
    if (strstr(problem, "cannot start any token") != NULL) {
        hint = "YAML indents with spaces, not tabs; text with special characters needs quotes";
    } else if (strstr(problem, "mapping values are not allowed") != NULL) {
        hint = "a text that holds a colon needs quotes, and a key needs its own line";
    }
    if (parser->context != NULL && parser->context_mark.line + 1 < parser->problem_mark.line + 1) {
        usi_mark at = {(int)parser->problem_mark.line + 1, (int)parser->problem_mark.column + 1,
                       NULL, NULL};
        usi_source_error(to->context, to->source, &at, hint,
                         "this is not valid YAML: %s, %s begun in line %zu",
                         usi_plain_yaml(problem), usi_plain_yaml(parser->context),
                         parser->context_mark.line + 1);
        return;
    }
    usi_mark at = {(int)parser->problem_mark.line + 1, (int)parser->problem_mark.column + 1, NULL,
                   NULL};
    usi_source_error(to->context, to->source, &at, hint, "this is not valid YAML: %s",
                     usi_plain_yaml(problem));
}

static void read_events(builder *to, yaml_parser_t *parser)
{
    for (bool more = true; more && !to->stop;) {
        yaml_event_t event;
        if (!yaml_parser_parse(parser, &event)) {
            report_broken(to, parser);
            to->stop = true;
            return;
        }
        more = take_event(to, &event);
        yaml_event_delete(&event);
    }
}

usi_node *usi_tree_read(us_context *context, const usi_source *source, usi_arena *arena)
{
    builder to = {.context = context, .source = source, .arena = arena};
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) {
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory while reading YAML");
        arena->failed = true;
        return NULL;
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)source->text, source->length);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    read_events(&to, &parser);
    yaml_parser_delete(&parser);
    if (to.stop) {
        return NULL;
    }
    if (to.root == NULL) {
        usi_mark at = {0, 0, NULL, NULL};
        usi_source_error(context, source, &at, "`undersill example` prints one to start from",
                         "the input holds no section");
    }
    return to.root;
}
