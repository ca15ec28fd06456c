#include "input/value.h"

#include <string.h>

#include "input/mistake.h"

enum { NAME_CAP = 120 };

void usi_visit_refuse(const usi_visit *at, const char *hint, const char *message)
{
    usi_mark mark =
        usi_scalar_mark(at->node, at->path != NULL && at->path[0] != '\0' ? at->path : NULL);
    usi_source_error(at->reader->context, at->reader->source, &mark, hint, "%s", message);
}

bool usi_visit_too_many(const usi_visit *at)
{
    if (at->node->count <= at->key->cap) {
        return false;
    }
    const char *message =
        usi_arena_print(at->reader->arena, "%zu entries are too many: at most %zu may stand here",
                        at->node->count, at->key->cap);
    usi_visit_refuse(at, NULL, message != NULL ? message : "too many entries");
    return true;
}

bool usi_value_is_scalar(const usi_node *node)
{
    return node->kind == USI_NODE_SCALAR;
}

bool usi_value_is_word(const usi_node *node, const char *word)
{
    return usi_value_is_scalar(node) && word != NULL && strcmp(node->text, word) == 0;
}

/* True after refusing a word other than the one that may stand for a number. */
static bool refuse_word(const usi_visit *at)
{
    const char *text = usi_value_is_scalar(at->node) ? at->node->text : "";
    bool word = (text[0] >= 'a' && text[0] <= 'z') || (text[0] >= 'A' && text[0] <= 'Z');
    if (at->key->word == NULL || !word || usi_mistake_find(text, at->node->length).what != NULL) {
        return false;
    }
    char quoted[USI_QUOTE_ROOM];
    const char *message = usi_arena_print(at->reader->arena, "%s is neither a number nor `%s`",
                                          usi_scalar_quote(quoted, at->node), at->key->word);
    usi_visit_refuse(at, NULL, message != NULL ? message : "a number belongs here");
    return true;
}

static void take_number(const usi_visit *at)
{
    usi_raw_number *number = at->into;
    number->at = usi_scalar_mark(at->node, at->path);
    if (usi_value_is_word(at->node, at->key->word)) {
        number->given = true;
        number->word = true;
        return;
    }
    number->given = !refuse_word(at) && usi_scalar_number(at->reader, at->node, at->path,
                                                          at->key->quantity, &number->si);
}

static void take_text(const usi_visit *at)
{
    usi_raw_text *text = at->into;
    text->at = usi_scalar_mark(at->node, at->path);
    if (!usi_value_is_scalar(at->node) || strspn(at->node->text, " ") == at->node->length) {
        usi_visit_refuse(at, NULL, "a text belongs here");
    } else if (at->node->length > NAME_CAP) {
        usi_visit_refuse(at, NULL, "names and titles have at most 120 bytes; this one is longer");
    } else {
        text->text = at->node->text;
    }
}

static void take_flag(const usi_visit *at)
{
    usi_raw_flag *flag = at->into;
    flag->at = usi_scalar_mark(at->node, at->path);
    flag->value = usi_value_is_word(at->node, "true");
    flag->given = flag->value || usi_value_is_word(at->node, "false");
    if (!flag->given) {
        usi_visit_refuse(at, NULL, "only `true` or `false` may stand here");
    }
}

/* "only `a`, `b` or `c` may stand here" */
static const char *list_words(const usi_visit *at)
{
    const char *const *words = at->key->words;
    const char *list = "only";
    for (size_t i = 0; words[i] != NULL && list != NULL; i++) {
        const char *before = i == 0 ? "" : words[i + 1] != NULL ? "," : " or";
        list = usi_arena_print(at->reader->arena, "%s%s `%s`", list, before, words[i]);
    }
    return list != NULL ? usi_arena_print(at->reader->arena, "%s may stand here", list) : NULL;
}

static void take_choice(const usi_visit *at)
{
    usi_raw_choice *choice = at->into;
    choice->at = usi_scalar_mark(at->node, at->path);
    for (int i = 0; at->key->words[i] != NULL; i++) {
        if (usi_value_is_word(at->node, at->key->words[i])) {
            choice->index = i;
            choice->given = true;
            return;
        }
    }
    const char *message = list_words(at);
    usi_visit_refuse(at, NULL, message != NULL ? message : "another word belongs here");
}

static bool read_point(usi_reader *reader, const usi_node *node, const char *path,
                       usi_raw_point *point)
{
    point->mark = usi_scalar_mark(node, path);
    if (node->kind == USI_NODE_REFUSED) {
        return false;
    }
    if (node->kind != USI_NODE_SEQUENCE || node->count != 2) {
        usi_visit at = {reader, node, path, NULL, NULL};
        usi_visit_refuse(&at, NULL, "a point [x, level] belongs here");
        return false;
    }
    bool x = usi_scalar_number(reader, node->first, path, USI_QUANTITY_X, &point->at.x_m);
    bool z = usi_scalar_number(reader, node->last, path, USI_QUANTITY_LEVEL, &point->at.z_m);
    point->given = x && z;
    return point->given;
}

static void take_point(const usi_visit *at)
{
    (void)read_point(at->reader, at->node, at->path, at->into);
}

/* False after an error when there are too many points. */
static bool count_points(const usi_visit *at, size_t count)
{
    at->reader->vertices += count;
    if (at->reader->vertices > USI_VERTEX_CAP) {
        usi_visit_refuse(at, NULL, "the lines of a section have at most 10,000 points together");
        return false;
    }
    return true;
}

static void take_points(const usi_visit *at, usi_raw_line *line)
{
    if (at->node->count == 0) {
        usi_visit_refuse(at, NULL, "there are no points in this list");
        return;
    }
    if (!count_points(at, at->node->count)) {
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

static void take_level(const usi_visit *at, usi_raw_line *line)
{
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

void usi_value_take_line(const usi_visit *at, usi_raw_line *line)
{
    line->at = usi_scalar_mark(at->node, at->path);
    bool may_be_level = at->key->kind != USI_KIND_POINTS;
    if (usi_value_is_word(at->node, at->key->word)) {
        line->given = true;
        line->word = true;
    } else if (at->node->kind == USI_NODE_SEQUENCE) {
        take_points(at, line);
    } else if (usi_value_is_scalar(at->node) && may_be_level) {
        take_level(at, line);
    } else {
        usi_visit_refuse(at, NULL,
                         may_be_level ? "a level, or points [[x, level], ...], belongs here"
                                      : "points [[x, level], ...] belong here");
    }
}

static bool read_stretch(usi_reader *reader, const usi_node *node, const char *path,
                         usi_raw_stretch *stretch)
{
    stretch->mark = usi_scalar_mark(node, path);
    if (node->kind == USI_NODE_REFUSED) {
        return false;
    }
    if (node->kind != USI_NODE_SEQUENCE || node->count != 2) {
        usi_visit at = {reader, node, path, NULL, NULL};
        usi_visit_refuse(&at, NULL, "a stretch [x1, x2] belongs here");
        return false;
    }
    bool from = usi_scalar_number(reader, node->first, path, USI_QUANTITY_X, &stretch->at.from_m);
    bool to = usi_scalar_number(reader, node->last, path, USI_QUANTITY_X, &stretch->at.to_m);
    stretch->given = from && to;
    return stretch->given;
}

static void take_stretches(const usi_visit *at)
{
    usi_raw_stretches *list = at->into;
    list->at = usi_scalar_mark(at->node, at->path);
    bool bare = at->node->kind == USI_NODE_SEQUENCE && at->node->count > 0 &&
                usi_value_is_scalar(at->node->first);
    if (at->node->kind != USI_NODE_SEQUENCE || at->node->count == 0 || bare) {
        usi_visit_refuse(at, bare ? "one stretch alone is written [[x1, x2]]" : NULL,
                         "stretches [[x1, x2], ...] belong here");
        return;
    }
    if (!count_points(at, at->node->count)) {
        return;
    }
    list->items = usi_arena_array(at->reader->arena, at->node->count, sizeof *list->items);
    if (list->items == NULL) {
        return;
    }
    list->given = true;
    for (const usi_node *node = at->node->first; node != NULL; node = node->next) {
        const char *path = usi_arena_print(at->reader->arena, "%s[%zu]", at->path, list->count);
        if (!read_stretch(at->reader, node, path, &list->items[list->count++])) {
            list->given = false;
        }
    }
}

static void take_names(const usi_visit *at)
{
    usi_raw_names *names = at->into;
    names->at = usi_scalar_mark(at->node, at->path);
    if (at->node->kind != USI_NODE_SEQUENCE || at->node->count == 0) {
        usi_visit_refuse(at, "one name alone is written [name]", "a list of names belongs here");
        return;
    }
    if (!count_points(at, at->node->count)) {
        return;
    }
    names->items = usi_arena_array(at->reader->arena, at->node->count, sizeof *names->items);
    if (names->items == NULL) {
        return;
    }
    names->given = true;
    for (const usi_node *node = at->node->first; node != NULL; node = node->next) {
        const char *path = usi_arena_print(at->reader->arena, "%s[%zu]", at->path, names->count);
        usi_visit item = {at->reader, node, path, at->key, &names->items[names->count++]};
        if (node->kind != USI_NODE_REFUSED) {
            take_text(&item);
        }
    }
}

static void take_numbers(const usi_visit *at)
{
    usi_raw_numbers *numbers = at->into;
    numbers->at = usi_scalar_mark(at->node, at->path);
    if (at->node->kind != USI_NODE_SEQUENCE || at->node->count == 0) {
        usi_visit_refuse(at, "one number alone is written [3.0]", "a list of numbers belongs here");
        return;
    }
    if (usi_visit_too_many(at)) {
        return;
    }
    numbers->items = usi_arena_array(at->reader->arena, at->node->count, sizeof *numbers->items);
    if (numbers->items == NULL) {
        return;
    }
    numbers->given = true;
    for (const usi_node *node = at->node->first; node != NULL; node = node->next) {
        const char *path = usi_arena_print(at->reader->arena, "%s[%zu]", at->path, numbers->count);
        usi_visit item = {at->reader, node, path, at->key, &numbers->items[numbers->count++]};
        take_number(&item);
        numbers->given = numbers->given && numbers->items[numbers->count - 1].given;
    }
}

void usi_value_take(const usi_visit *at)
{
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
        usi_value_take_line(at, at->into);
        break;
    case USI_KIND_POINT:
        take_point(at);
        break;
    case USI_KIND_STRETCHES:
        take_stretches(at);
        break;
    case USI_KIND_NAMES:
        take_names(at);
        break;
    case USI_KIND_NUMBERS:
        take_numbers(at);
        break;
    case USI_KIND_LINE_OR_MAP:
    case USI_KIND_MAP:
    case USI_KIND_LIST:
    case USI_KIND_UNITS: /* were read first */
    case USI_KIND_LATER:
        break;
    }
}
