#include "input/plain_yaml.h"

#include <stddef.h>
#include <string.h>

typedef struct wording {
    const char *said;
    const char *plain;
} wording;

/* What goes wrong in section files; the rest concerns parts of YAML that are
 * refused anyway. */
static const wording wordings[] = {
    {"did not find expected ',' or ']'", "a `,` or `]` is missing"},
    {"did not find expected ',' or '}'", "a `,` or `}` is missing"},
    {"could not find expected ':'", "a `:` is missing behind a key"},
    {"did not find expected key", "a key is expected here"},
    {"did not find expected '-' indicator", "an entry that begins with `- ` is expected here"},
    {"did not find expected node content", "a value is expected here"},
    {"did not find expected whitespace or line break", "a blank is missing here"},
    {"did not find expected comment or line break", "the line should end here"},
    {"did not find expected <document start>", "something stands here that belongs to no key"},
    {"mapping values are not allowed in this context", "a `:` cannot stand here"},
    {"mapping keys are not allowed in this context", "a `?` cannot stand here"},
    {"block sequence entries are not allowed in this context", "a `- ` cannot stand here"},
    {"found character that cannot start any token", "a value cannot begin with this character"},
    {"found a tab character that violates indentation", "a tab stands in the indentation"},
    {"found a tab character where an indentation space is expected",
     "a tab stands in the indentation"},
    {"found unexpected end of stream", "the file ends too early"},
    {"found unexpected document indicator", "`---` or `...` cannot stand here"},
    {"found unexpected ':'", "a `:` cannot stand here"},
    {"found unknown escape character", "an unknown character follows a backslash"},
    {"while parsing a flow sequence", "in the list"},
    {"while parsing a flow mapping", "in the braces"},
    {"while parsing a block collection", "in the list"},
    {"while parsing a block mapping", "in the keys"},
    {"while parsing a block node", "in the value"},
    {"while parsing a flow node", "in the value"},
    {"while parsing a node", "in the value"},
    {"while scanning a quoted scalar", "in the quoted text"},
    {"while parsing a quoted scalar", "in the quoted text"},
    {"while scanning a plain scalar", "in the text"},
    {"while scanning a block scalar", "in the text"},
    {"while scanning a simple key", "in the key"},
};

const char *usi_plain_yaml(const char *said)
{
    for (size_t i = 0; i < sizeof wordings / sizeof wordings[0]; i++) {
        if (strcmp(wordings[i].said, said) == 0) {
            return wordings[i].plain;
        }
    }
    return said;
}
