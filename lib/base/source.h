/* A text being read, and messages that point into it. */
#ifndef USI_BASE_SOURCE_H
#define USI_BASE_SOURCE_H

#include <stddef.h>

#include "base/context.h"

/* The text belongs to the caller. Lines end with LF, CR or both. */
typedef struct usi_source {
    const char *name;
    const char *text;
    size_t length;
} usi_source;

/* A place in it: line and column (in characters) from 1, 0 when the message is
 * about the whole text; `key` is the dotted path, or NULL. */
typedef struct usi_mark {
    int line;
    int column;
    const char *key;
    const usi_source *source; /* NULL: the section file */
} usi_mark;

/* Reports an error at `mark`, quoting its line. `hint` may be NULL. */
void usi_source_error(us_context *context, const usi_source *source, const usi_mark *mark,
                      const char *hint, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Line `number` of the source as it is fit to print: control codes become `?`,
 * a long line is cut. Free with free(); NULL when there is no such line, when
 * `column` lies beyond the cut, or when memory is short. */
char *usi_source_line(us_context *context, const usi_source *source, int number, int column);

#endif
