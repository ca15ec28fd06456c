/* A random section on a lattice, and the random numbers it comes from.
 *
 * All geometry is in whole steps, so that vertices meet as often as they do in
 * drawings; coarse lattices make tips, layers and steps coincide. The stream runs
 * to the right here and is turned round when it is written. */
#ifndef TESTS_RANDOM_LATTICE_H
#define TESTS_RANDOM_LATTICE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { STEP_CAP = 4, WALL_CAP = 6, FAR = 1000000 };

/* Levels between growing x: level[i] from x[i - 1] to x[i]. */
typedef struct line {
    int count;
    long x[STEP_CAP];
    long level[STEP_CAP + 1];
} line;

typedef struct wall {
    long x;
    long top;
    long tip;
    bool keyed;
} wall;

typedef enum side { SIDE_NONE, SIDE_CLOSED, SIDE_FIXED, SIDE_AT_END } side;

typedef struct ground {
    uint64_t state; /* of the random numbers */
    long grain;     /* lattice steps to the unit that sizes are picked in */
    bool structure;
    bool base;
    long length; /* of the structure, from x = 0 */
    line upstream;
    line downstream;
    line underside;
    line bottom;
    long lowest; /* of all surfaces */
    long highest;
    int walls;
    wall wall[WALL_CAP];
    side left;
    side right;
    long left_x;
    long right_x;
    bool leaks; /* water passes some walls */
    char *text;
    size_t used;
    bool mirrored;
    double step; /* file units to a lattice step */
    double level_offset;
    double x_offset;
} ground;

/* A whole number from `low` to `high`. */
long lattice_pick(ground *g, long low, long high);

/* A length of `low` to `high` sizes. */
long lattice_size(ground *g, long low, long high);

bool lattice_chance(ground *g, int percent);
double lattice_real(ground *g, double low, double high);
long lattice_least(long a, long b);
long lattice_most(long a, long b);

/* What a place holds: the higher surface beside x, the lower one, the higher base. */
typedef struct place {
    long high;
    long low;
    long bottom;
} place;

place lattice_place(const ground *g, long x);

/* Starts the random numbers of a section and makes its geometry. */
void lattice_make(ground *g, uint64_t seed, uint64_t index);

#endif
