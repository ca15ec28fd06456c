/* Helps libFuzzer along: most changes of single bytes break the YAML, so every
 * other time a number of the text is replaced, or a line removed, repeated or
 * moved. Not part of the replay. */
#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "fuzz/target.h"

/* The names are libFuzzer's. */
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t room);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t room, unsigned seed);

typedef struct piece {
    size_t start;
    size_t length;
} piece;

static unsigned draw(unsigned *state, unsigned limit)
{
    *state = *state * 1664525U + 1013904223U;
    return (*state >> 8U) % limit;
}

static bool in_number(uint8_t byte)
{
    return isdigit(byte) || byte == '.' || byte == '-' || byte == '+';
}

/* One of the numbers of the text, each as likely; length 0 when there is none. */
static piece pick_number(const uint8_t *data, size_t size, unsigned *state)
{
    piece picked = {0, 0};
    unsigned seen = 0;
    for (size_t at = 0; at < size; at++) {
        if (!isdigit(data[at])) {
            continue;
        }
        size_t start = at;
        while (start > 0 && in_number(data[start - 1])) {
            start--;
        }
        while (at < size && in_number(data[at])) {
            at++;
        }
        if (draw(state, ++seen) == 0) {
            picked = (piece){start, at - start};
        }
    }
    return picked;
}

static piece pick_line(const uint8_t *data, size_t size, unsigned *state)
{
    size_t start = draw(state, (unsigned)size);
    while (start > 0 && data[start - 1] != '\n') {
        start--;
    }
    const uint8_t *end = memchr(data + start, '\n', size - start);
    return (piece){start, end != NULL ? (size_t)(end + 1 - data) - start : size - start};
}

/* Puts `text` where `old` stands; the size stays when there is no room. */
static size_t replace(uint8_t *data, size_t size, size_t room, piece old, piece text,
                      const void *bytes)
{
    if (size - old.length + text.length > room) {
        return size;
    }
    size_t after = old.start + old.length;
    memmove(data + old.start + text.length, data + after, size - after);
    memcpy(data + old.start, bytes, text.length);
    return size - old.length + text.length;
}

static size_t change_number(uint8_t *data, size_t size, size_t room, unsigned *state)
{
    static const char *const odd[] = {"0",    "1",    "-1",   "0.1",   "1e-9",   "1e-12", "1e6",
                                      "-1e6", "1e-6", "10",   "1e-16", "99999",  "0.5",   "1e3",
                                      "1e-3", "none", "0.05", "1e-4",  "at_bed", "12 ft", "100"};
    char text[64];
    piece old = pick_number(data, size, state);
    if (old.length == 0 || old.length >= sizeof text) {
        return size;
    }
    unsigned way = draw(state, 4);
    if (way == 0) {
        unsigned which = draw(state, sizeof odd / sizeof odd[0]);
        (void)snprintf(text, sizeof text, "%s", odd[which]);
    } else if (way == 1) {
        piece other = pick_number(data, size, state);
        other.length = other.length < sizeof text ? other.length : sizeof text - 1;
        (void)snprintf(text, sizeof text, "%.*s", (int)other.length,
                       (const char *)data + other.start);
    } else {
        int whole = (int)draw(state, 400) - 200;
        (void)snprintf(text, sizeof text, "%d.%u", whole / 10, draw(state, way == 2 ? 10 : 10000));
    }
    return replace(data, size, room, old, (piece){0, strlen(text)}, text);
}

static size_t change_line(uint8_t *data, size_t size, size_t room, unsigned *state)
{
    uint8_t copy[512];
    piece line = pick_line(data, size, state);
    if (line.length > sizeof copy) {
        return size;
    }
    memcpy(copy, data + line.start, line.length);
    unsigned way = draw(state, 3);
    if (way != 0) {
        size = replace(data, size, room, line, (piece){0, 0}, copy);
    }
    if (way != 1 && size > 0) {
        piece target = pick_line(data, size, state);
        target.length = 0;
        size = replace(data, size, room, target, line, copy);
    }
    return size;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t room, unsigned seed)
{
    unsigned state = seed;
    unsigned changes = 1 + draw(&state, 3);
    if (size == 0 || draw(&state, 3) == 0) {
        return LLVMFuzzerMutate(data, size, room);
    }
    for (unsigned i = 0; i < changes && size > 0; i++) {
        size = draw(&state, 3) == 0 ? change_line(data, size, room, &state)
                                    : change_number(data, size, room, &state);
    }
    return size;
}
