/* Numbers as people and other programs write them that are not accepted. */
#ifndef USI_INPUT_MISTAKE_H
#define USI_INPUT_MISTAKE_H

#include <stddef.h>

typedef struct usi_mistake {
    const char *what; /* NULL: none of the known mistakes */
    const char *hint;
} usi_mistake;

/* Names the mistake in a text that should begin with a number. */
usi_mistake usi_mistake_find(const char *text, size_t length);

#endif
