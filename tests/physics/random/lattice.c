#include "physics/random/lattice.h"

static uint64_t next(ground *g)
{
    g->state += 0x9e3779b97f4a7c15U;
    uint64_t z = g->state;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31);
}

long lattice_pick(ground *g, long low, long high)
{
    return low + (long)(next(g) % (uint64_t)(high - low + 1));
}

long lattice_size(ground *g, long low, long high)
{
    return lattice_pick(g, low * g->grain, high * g->grain);
}

bool lattice_chance(ground *g, int percent)
{
    return lattice_pick(g, 0, 99) < percent;
}

double lattice_real(ground *g, double low, double high)
{
    return low + (high - low) * (double)(next(g) >> 11) * 0x1p-53;
}

long lattice_least(long a, long b)
{
    return a < b ? a : b;
}

long lattice_most(long a, long b)
{
    return a > b ? a : b;
}

/* --- lines --- */

static long level_at(const line *of, long x, bool right)
{
    int i = 0;
    while (i < of->count && (right ? of->x[i] <= x : of->x[i] < x)) {
        i++;
    }
    return of->level[i];
}

static void include(ground *g, const line *of)
{
    for (int i = 0; i <= of->count; i++) {
        g->lowest = lattice_least(g->lowest, of->level[i]);
        g->highest = lattice_most(g->highest, of->level[i]);
    }
}

static line flat(long level)
{
    return (line){.level = {level}};
}

static void make_beds(ground *g)
{
    g->upstream = flat(0);
    g->downstream = flat(lattice_chance(g, 40) ? 0 : -lattice_size(g, -1, 5));
    if (lattice_chance(g, 15)) { /* a step some way up or down the stream */
        g->upstream = (line){1, {-lattice_size(g, 10, 20)}, {lattice_size(g, -2, 3), 0}};
    }
    if (lattice_chance(g, 15)) {
        long level = g->downstream.level[0];
        g->downstream = (line){
            1, {g->length + lattice_size(g, 10, 20)}, {level, level + lattice_size(g, -3, 2)}};
    }
}

/* Levels of the underside; steps at different x. */
static void make_underside(ground *g)
{
    long bed = lattice_least(0, g->downstream.level[0]);
    g->underside.count = (int)lattice_pick(g, 0, lattice_least(3, g->length / 2));
    long x = 0;
    for (int i = 0; i < g->underside.count; i++) {
        long left = g->length - x - (g->underside.count - i);
        x += lattice_pick(g, 1, lattice_most(1, left / 2));
        g->underside.x[i] = x;
    }
    for (int i = 0; i <= g->underside.count; i++) {
        g->underside.level[i] = lattice_chance(g, 20) ? bed : bed - lattice_size(g, -1, 4);
        if (i > 0 && g->underside.level[i] == g->underside.level[i - 1]) {
            g->underside.level[i]--;
        }
    }
}

static void make_bottom(ground *g)
{
    g->bottom = flat(g->lowest - lattice_size(g, 2, 30));
    if (lattice_chance(g, 15)) {
        g->bottom.count = 1;
        g->bottom.x[0] = lattice_pick(g, -4 * g->grain, g->length + 4 * g->grain);
        g->bottom.level[1] = g->lowest - lattice_size(g, 2, 30);
    }
    if (!g->base) {
        g->bottom = flat(-FAR);
    }
}

/* --- walls --- */

place lattice_place(const ground *g, long x)
{
    bool under_left = g->structure && x > 0 && x <= g->length;
    bool under_right = g->structure && x >= 0 && x < g->length;
    const line *left = under_left ? &g->underside : x <= 0 ? &g->upstream : &g->downstream;
    const line *right = under_right ? &g->underside : x < 0 ? &g->upstream : &g->downstream;
    long a = level_at(left, x, false);
    long b = level_at(right, x, true);
    return (place){lattice_most(a, b), lattice_least(a, b),
                   lattice_most(level_at(&g->bottom, x, false), level_at(&g->bottom, x, true))};
}

static bool has_keyed(const ground *g)
{
    for (int i = 0; i < g->walls; i++) {
        if (g->wall[i].keyed) {
            return true;
        }
    }
    return false;
}

/* Level below which a wall at x has to stay, given those that are there. */
static long free_below(const ground *g, long x, long from)
{
    for (int i = 0; i < g->walls; i++) {
        from = g->wall[i].x == x ? lattice_least(from, g->wall[i].tip) : from;
    }
    return from;
}

/* A wall at x, unless there is no room. */
static void add_wall(ground *g, long x, bool closing)
{
    place at = lattice_place(g, x);
    long ceiling = free_below(g, x, FAR);
    bool floating = ceiling < FAR || (!closing && lattice_chance(g, 20));
    bool outside = !g->structure || x < 0 || x > g->length;
    long top = outside && !closing ? at.low : at.high + lattice_pick(g, 0, 2 * g->grain);
    if (floating) {
        top = lattice_least(at.low, ceiling) - lattice_pick(g, ceiling < FAR ? 0 : 1, 3 * g->grain);
    }
    long depth = g->base ? at.low - at.bottom : 20 * g->grain;
    long roof = lattice_least(top, at.low); /* the tip lies below it */
    long floor = at.low - depth;
    if (g->walls == WALL_CAP || roof - floor < depth / 10 + 2) {
        return;
    }
    wall made = {
        x, top,
        roof - lattice_pick(g, 1, lattice_chance(g, 70) ? (roof - floor + 1) / 2 : roof - floor),
        false};
    if (g->base && lattice_chance(g, 10)) {
        made.tip = at.bottom;
        made.keyed = !has_keyed(g) && lattice_chance(g, 50);
    }
    g->wall[g->walls++] = made;
}

static void make_walls(ground *g)
{
    g->walls = 0;
    if (!g->structure) {
        add_wall(g, 0, true);
    }
    place left = lattice_place(g, 0);
    place right = lattice_place(g, g->length);
    bool left_open = g->structure && g->left != SIDE_AT_END;
    bool right_open = g->structure && g->right != SIDE_AT_END;
    if (left_open && (g->underside.level[0] > g->upstream.level[g->upstream.count] ||
                      (left.high > left.low && lattice_chance(g, 30)) || lattice_chance(g, 40))) {
        add_wall(g, 0, true);
    }
    if (right_open &&
        (g->underside.level[g->underside.count] > g->downstream.level[0] ||
         (right.high > right.low && lattice_chance(g, 30)) || lattice_chance(g, 40))) {
        add_wall(g, g->length, true);
    }
    long from = g->left == SIDE_AT_END ? 1 : lattice_chance(g, 20) ? -6 * g->grain : 0;
    long to = g->length + (g->right == SIDE_AT_END ? -1 : lattice_chance(g, 20) ? 6 * g->grain : 0);
    for (long more = lattice_pick(g, 0, 4) - g->walls; more > 0 && from <= to; more--) {
        add_wall(g, lattice_pick(g, from, to), false);
    }
}

/* --- the whole --- */

static side make_side(ground *g)
{
    static const side kinds[] = {SIDE_CLOSED, SIDE_FIXED, SIDE_AT_END};
    side kind = lattice_chance(g, 65) ? SIDE_NONE : kinds[lattice_pick(g, 0, 2)];
    return kind == SIDE_AT_END && !g->structure ? SIDE_CLOSED : kind;
}

static void make_ground(ground *g)
{
    g->grain = lattice_chance(g, 30) ? 1 : lattice_pick(g, 5, 60);
    g->structure = lattice_chance(g, 75);
    g->base = lattice_chance(g, 85);
    g->length = g->structure ? lattice_size(g, 2, 30) : 0;
    make_beds(g);
    if (g->structure) {
        make_underside(g);
        include(g, &g->underside);
    }
    include(g, &g->upstream);
    include(g, &g->downstream);
    make_bottom(g);
    g->left = make_side(g);
    g->right = make_side(g);
    g->left_x = g->left == SIDE_AT_END ? 0 : -lattice_size(g, 7, 40);
    g->right_x = g->length + (g->right == SIDE_AT_END ? 0 : lattice_size(g, 7, 40));
    make_walls(g);
}

void lattice_make(ground *g, uint64_t seed, uint64_t index)
{
    g->state = seed * 0xd1342543de82ef95U + index;
    (void)next(g);
    g->state ^= next(g);
    make_ground(g);
}
