/* What must hold of the bytes before they are read as YAML. */
#ifndef USI_INPUT_TEXT_H
#define USI_INPUT_TEXT_H

#include <stdbool.h>

#include "base/source.h"

enum { USI_TEXT_CAP = 1 << 20 }; /* bytes of a section file */

/* What a text is to be: how long it may get, and what messages call it. */
typedef enum usi_text_kind {
    USI_TEXT_SECTION,
    USI_TEXT_TABLE /* 32 MiB */
} usi_text_kind;

/* The most bytes that a text of a kind may have. */
size_t usi_text_cap(usi_text_kind what);

/* True when the source is UTF-8 text without byte order mark, NUL or control
 * codes; else false after one error that says what and where. */
bool usi_text_check(us_context *context, const usi_source *source, usi_text_kind kind);

/* True when no control code, line break or invisible direction mark is among
 * `length` bytes of valid UTF-8. */
bool usi_text_is_printable(const char *text, size_t length);

#endif
