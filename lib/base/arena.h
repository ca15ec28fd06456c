/* Many small pieces of memory that live and die together. */
#ifndef USI_BASE_ARENA_H
#define USI_BASE_ARENA_H

#include <stdbool.h>
#include <stddef.h>

#include "base/context.h"

typedef struct usi_arena_block usi_arena_block;

/* Initialise with {context}; `failed` stays set once memory ran short, which
 * is reported then. */
typedef struct usi_arena {
    us_context *context;
    usi_arena_block *blocks;
    bool failed;
} usi_arena;

/* `count` zeroed elements of `size` bytes, or NULL. */
void *usi_arena_array(usi_arena *arena, size_t count, size_t size);

/* A copy of `length` bytes with a NUL behind it, or NULL. */
char *usi_arena_text(usi_arena *arena, const char *text, size_t length);

/* Formatted text, or NULL. No %f, %e or %g: their point depends on the locale. */
char *usi_arena_print(usi_arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Frees every piece. */
void usi_arena_clear(usi_arena *arena);

#endif
