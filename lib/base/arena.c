#include "base/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { BLOCK_ROOM = 16384, ALIGNMENT = 16 };

struct usi_arena_block {
    usi_arena_block *next;
    size_t used;
    size_t room;
    _Alignas(ALIGNMENT) unsigned char bytes[];
};

static bool add_block(usi_arena *arena, size_t bytes)
{
    size_t room = bytes > BLOCK_ROOM ? bytes : BLOCK_ROOM;
    usi_arena_block *block = usi_memory_array(arena->context, 1, sizeof(usi_arena_block) + room);
    if (block == NULL) {
        arena->failed = true;
        return false;
    }
    block->room = room;
    block->next = arena->blocks;
    arena->blocks = block;
    return true;
}

void *usi_arena_array(usi_arena *arena, size_t count, size_t size)
{
    if (arena->failed) {
        return NULL;
    }
    if (size != 0 && count > (SIZE_MAX / 2) / size) {
        usi_context_report(arena->context, US_ERROR, NULL, NULL, "out of memory: %zu elements",
                           count);
        arena->failed = true;
        return NULL;
    }
    size_t bytes = (count * size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    usi_arena_block *block = arena->blocks;
    if ((block == NULL || block->room - block->used < bytes) && !add_block(arena, bytes)) {
        return NULL;
    }
    block = arena->blocks;
    void *piece = block->bytes + block->used;
    block->used += bytes;
    return piece;
}

char *usi_arena_text(usi_arena *arena, const char *text, size_t length)
{
    char *copy = usi_arena_array(arena, length + 1, 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

char *usi_arena_print(usi_arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0) {
        return NULL;
    }
    char *text = usi_arena_array(arena, (size_t)length + 1, 1);
    if (text != NULL) {
        va_start(arguments, format);
        (void)vsnprintf(text, (size_t)length + 1, format, arguments);
        va_end(arguments);
    }
    return text;
}

void usi_arena_clear(usi_arena *arena)
{
    while (arena->blocks != NULL) {
        usi_arena_block *next = arena->blocks->next;
        free(arena->blocks);
        arena->blocks = next;
    }
}
