/* Random valid sections, as text of a section file. */
#ifndef TESTS_RANDOM_GROUND_H
#define TESTS_RANDOM_GROUND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { GROUND_ROOM = 8192 };

/* Writes section number `index` of the series `seed`: the same text each time,
 * whatever was written before. `leaks`: water passes some walls. `text` has GROUND_ROOM
 * bytes. */
void ground_write(uint64_t seed, uint64_t index, bool leaks, char *text);

#endif
