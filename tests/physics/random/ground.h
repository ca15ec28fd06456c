/* Random valid sections, as text of a section file. */
#ifndef TESTS_RANDOM_GROUND_H
#define TESTS_RANDOM_GROUND_H

#include <stddef.h>
#include <stdint.h>

enum { GROUND_ROOM = 8192 };

/* Writes section number `index` of the series `seed`: the same text each time,
 * whatever was written before. `text` has GROUND_ROOM bytes. */
void ground_write(uint64_t seed, uint64_t index, char *text);

#endif
