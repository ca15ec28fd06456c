/* Random sections with two walls under a floor: layers, slopes, drains. */
#ifndef TESTS_SCENES_H
#define TESTS_SCENES_H

#include "support/support.h"

enum { SCENE_ROOM = 4096 };

/* The same numbers everywhere. */
typedef struct scene_random {
    uint64_t state;
} scene_random;

double scene_between(scene_random *random, double low, double high);
int scene_pick(scene_random *random, int count);

typedef struct scene_kind {
    bool slopes;
    bool drains; /* on a level floor */
    bool dry;    /* slopes, of which the far part rises above the water */
    bool leaks;  /* the crest wall has joints and openings, the toe wall a gap under its cap */
} scene_kind;

/* Writes a section file into `text`, which has SCENE_ROOM bytes. */
void scene_write(scene_random *random, scene_kind kind, char *text);

#endif
