/* Option structures that may grow from release to release. */
#ifndef USI_BASE_OPTIONS_H
#define USI_BASE_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

/* Copies the caller's options `given` over the defaults in `into`, a structure
 * of `known` bytes; both begin with their `size`. Those of a program compiled
 * for an older release are shorter, and what they lack keeps its default. False
 * when the size is none that a structure of this or an older release may have. */
bool usi_options_take(const void *given, void *into, size_t known);

#endif
