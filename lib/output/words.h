/* Laying out words: wrapped to the width of a page, safe for a terminal. */
#ifndef USI_OUTPUT_WORDS_H
#define USI_OUTPUT_WORDS_H

#include <stddef.h>

#include "base/buffer.h"

enum { USI_PAGE_WIDTH = 80 };

/* Characters (not bytes) of UTF-8 text. */
size_t usi_words_width(const char *text);

/* Appends text with control codes replaced by a question mark. */
void usi_words_add(us_buffer *out, const char *text);

/* Appends text padded with spaces to `width` characters, at the left or, with
 * `right`, at the right end of its column. */
void usi_words_pad(us_buffer *out, const char *text, size_t width, int right);

/* Appends a paragraph: the first line begins with `first`, the others with as
 * many spaces; broken at blanks so that it fits the page. */
void usi_words_wrap(us_buffer *out, const char *first, const char *text);

#endif
