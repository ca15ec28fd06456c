#include "solve/dissection.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Two ways to cut: column + row is the same all along a line, or column - row. */
enum { WAYS = 2 };
/* Pieces up to this size are not cut: they are a block, or little is gained. */
enum { LEAF_OF_BLOCKS = 8, LEAF = 3 };
/* Share of a piece that the smaller part is to have, if there is such a cut. */
static const double LEAST_SHARE = 0.2;
/* Pieces that wait: each has at least as many unknowns as all that came after it. */
enum { DEPTH = 64 };

/* An unknown and, for each way, the stretch it takes up: two that are linked have some
 * place in common. A line at t runs through those that begin at or before t and end at or
 * after it; none before the line is linked with one behind it. */
typedef struct member {
    int32_t row;
    int32_t begin[WAYS];
    int32_t end[WAYS];
} member;

/* First and last place that members take up, or a few more. */
typedef struct range {
    int32_t first[WAYS];
    int32_t last[WAYS];
} range;

/* Members from `from` on that have the order's entries from `from` on. */
typedef struct piece {
    size_t from;
    size_t count;
    bool flipped; /* they stand in the other of the two lists */
    range taken;
} piece;

typedef struct cut {
    int way; /* -1 for none */
    int32_t at;
    size_t before;
    size_t behind;
    double cost;
    bool fair; /* both parts are large enough */
} cut;

/* What is cut stands behind the others. */
typedef enum kind { NOWHERE, LAST, NARROW, WIDE } kind;

/* How many members of a piece begin and end at a place. */
typedef struct tally {
    int32_t begins;
    int32_t ends;
} tally;

typedef struct work {
    const usi_problem *problem;
    size_t rows;
    uint8_t *kinds; /* of each row */
    size_t leaf;
    size_t count; /* of members */
    member *lists[2];
    tally *tallies; /* of a piece, for the places of one way, then of the other */
    int32_t *order;
    bool *starts;
} work;

/* Twice the place of a spot, for each way; places of cells are odd, of lines even. */
typedef struct position {
    int32_t at[WAYS];
} position;

static inline position position_of(const usi_spot *spot)
{
    int32_t column = spot->first_column + spot->end_column;
    int32_t row = spot->first_row + spot->end_row;
    return (position){{column + row, column - row}};
}

/* What is tied together from more places than one is wide. */
static kind kind_of(const usi_spot *spot)
{
    bool wide = spot->end_column - spot->first_column > 2 || spot->end_row - spot->first_row > 2;
    return spot->end_column <= 0 ? NOWHERE : wide ? WIDE : NARROW;
}

static inline bool is_member(const work *of, int32_t place)
{
    return place >= 0 && (size_t)place < of->problem->free_count && of->kinds[place] >= NARROW;
}

static inline void take_in(member *one, int way, int32_t place)
{
    one->begin[way] = place < one->begin[way] ? place : one->begin[way];
    one->end[way] = place > one->end[way] ? place : one->end[way];
}

/* Both ends of a link take in the place between them, or what is wide takes in the other. */
static inline void join(work *of, int32_t a, int32_t b)
{
    position here = position_of(&of->problem->spots[a]);
    position there = position_of(&of->problem->spots[b]);
    member *one = &of->lists[0][a];
    member *other = &of->lists[0][b];
    bool alike = of->kinds[a] == of->kinds[b];
    bool wide = of->kinds[a] == WIDE;
    for (int way = 0; way < WAYS; way++) {
        int32_t between = here.at[way] + (there.at[way] - here.at[way]) / 2;
        int32_t of_one = wide ? there.at[way] : here.at[way];
        int32_t shared = alike ? between : of_one;
        take_in(one, way, shared);
        take_in(other, way, shared);
    }
}

static void fill_members(work *of)
{
    const usi_problem *problem = of->problem;
    member *all = of->lists[0];
    for (size_t row = 0; row < problem->free_count; row++) {
        const usi_spot *spot = &problem->spots[row];
        position at = position_of(spot);
        all[row] = (member){(int32_t)row, {at.at[0], at.at[1]}, {at.at[0], at.at[1]}};
        of->kinds[row] = (uint8_t)(of->kinds[row] == LAST ? LAST : kind_of(spot));
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        int32_t a = problem->links[k].a;
        int32_t b = problem->links[k].b;
        if (is_member(of, a) && is_member(of, b)) {
            join(of, a, b);
        }
    }
    for (size_t row = 0; row < problem->free_count; row++) {
        if (is_member(of, (int32_t)row)) {
            all[of->count++] = all[row];
        }
    }
}

static const range NOTHING = {{INT32_MAX, INT32_MAX}, {INT32_MIN, INT32_MIN}};

static inline void stretch(int32_t *first, int32_t *last, int32_t begin, int32_t end)
{
    *first = begin < *first ? begin : *first;
    *last = end > *last ? end : *last;
}

static cut better(cut one, cut other)
{
    if (one.way < 0 || (other.fair && !one.fair)) {
        return other;
    }
    return one.fair == other.fair && other.cost < one.cost ? other : one;
}

static size_t width_of(const range *taken, int way)
{
    return (size_t)(taken->last[way] - taken->first[way]) + 1;
}

static void count_members(const work *of, const piece *whole)
{
    const member *members = of->lists[whole->flipped ? 1 : 0] + whole->from;
    size_t width = width_of(&whole->taken, 0);
    tally *one = of->tallies;
    tally *other = one + width;
    int32_t first = whole->taken.first[0];
    int32_t other_first = whole->taken.first[1];
    memset(one, 0, (width + width_of(&whole->taken, 1)) * sizeof *one);
    for (size_t k = 0; k < whole->count; k++) {
        one[members[k].begin[0] - first].begins++;
        one[members[k].end[0] - first].ends++;
        other[members[k].begin[1] - other_first].begins++;
        other[members[k].end[1] - other_first].ends++;
    }
}

/* The better of the best line so far and those of one way: the fewer unknowns for what it
 * parts, the better. */
static cut find_cut(const work *of, const piece *whole, int way, cut best)
{
    const tally *tallies = of->tallies + (way == 0 ? 0 : width_of(&whole->taken, 0));
    size_t width = width_of(&whole->taken, way);
    size_t before = 0;
    size_t behind = whole->count;
    double least = LEAST_SHARE * (double)whole->count;
    double most = best.way >= 0 && best.fair ? best.cost : HUGE_VAL;
    for (size_t at = 0; at < width; at++) {
        behind -= (size_t)tallies[at].begins;
        size_t less = before < behind ? before : behind;
        double on = (double)(whole->count - before - behind);
        /* A cost is no less than if both parts were half of all. */
        if (less > 0 && 4.0 * on < most * (double)whole->count &&
            (most == HUGE_VAL || (double)less >= least)) {
            cut found = {way,
                         whole->taken.first[way] + (int32_t)at,
                         before,
                         behind,
                         on * (double)(before + behind) / ((double)before * (double)behind),
                         (double)less >= least};
            best = better(best, found);
            most = best.fair ? best.cost : HUGE_VAL;
        }
        before += (size_t)tallies[at].ends;
    }
    return best;
}

/* Puts what lies before the line, then what lies behind it, into the other list, and what
 * lies on it to the end of the order. */
static void divide(work *of, const piece *whole, const cut *by, piece parts[2])
{
    const member *from = of->lists[whole->flipped ? 1 : 0] + whole->from;
    member *first = of->lists[whole->flipped ? 0 : 1] + whole->from;
    member *second = first + by->before;
    size_t off = whole->from + by->before + by->behind;
    int32_t *on = of->order + off;
    int way = by->way;
    int other = 1 - way;
    int32_t taken[2][2] = {{INT32_MAX, INT32_MIN}, {INT32_MAX, INT32_MIN}}; /* in the other way */
    if (by->before + by->behind < whole->count) {
        of->starts[off] = true;
    }
    for (size_t k = 0; k < whole->count; k++) {
        if (from[k].end[way] < by->at) {
            stretch(&taken[0][0], &taken[0][1], from[k].begin[other], from[k].end[other]);
            *first++ = from[k];
        } else if (from[k].begin[way] > by->at) {
            stretch(&taken[1][0], &taken[1][1], from[k].begin[other], from[k].end[other]);
            *second++ = from[k];
        } else {
            *on++ = from[k].row;
        }
    }
    parts[0] = (piece){whole->from, by->before, !whole->flipped, whole->taken};
    parts[1] = (piece){whole->from + by->before, by->behind, !whole->flipped, whole->taken};
    parts[0].taken.last[way] = by->at - 1;
    parts[1].taken.first[way] = by->at + 1;
    for (int part = 0; part < 2; part++) {
        parts[part].taken.first[other] = taken[part][0];
        parts[part].taken.last[other] = taken[part][1];
    }
}

static void put_leaf(work *of, const piece *whole)
{
    const member *members = of->lists[whole->flipped ? 1 : 0] + whole->from;
    for (size_t k = 0; k < whole->count; k++) {
        of->order[whole->from + k] = members[k].row;
    }
    if (whole->count > 0) {
        of->starts[whole->from] = true;
    }
}

/* Cuts until pieces are small. The larger part waits: then few do at a time. */
static void dissect(work *of, const range *taken)
{
    piece stack[DEPTH];
    size_t waiting = 0;
    stack[waiting++] = (piece){0, of->count, false, *taken};
    while (waiting > 0) {
        piece whole = stack[--waiting];
        cut best = {.way = -1};
        if (whole.count > of->leaf && waiting + 2 <= DEPTH) {
            count_members(of, &whole);
            best = find_cut(of, &whole, 0, best);
            best = find_cut(of, &whole, 1, best);
        }
        if (best.way < 0) {
            put_leaf(of, &whole);
            continue;
        }
        piece parts[2];
        divide(of, &whole, &best, parts);
        int larger = parts[0].count > parts[1].count ? 0 : 1;
        stack[waiting++] = parts[larger];
        stack[waiting++] = parts[1 - larger];
    }
}

/* Behind what was cut: what has no place, then what is to come last. */
static void put_last(work *of)
{
    const usi_problem *problem = of->problem;
    size_t next = of->count;
    for (size_t row = of->count; row < of->rows; row++) {
        of->starts[row] = true;
    }
    for (size_t row = 0; row < problem->free_count; row++) {
        if (of->kinds[row] == NOWHERE) {
            of->order[next++] = (int32_t)row;
        }
    }
    for (size_t k = 0; k < problem->last_count; k++) {
        of->order[next++] = problem->last[k];
    }
    for (size_t row = problem->free_count; row < of->rows; row++) {
        if (of->kinds[row] != LAST) {
            of->order[next++] = (int32_t)row;
        }
    }
}

us_status usi_dissection_order(us_context *context, const usi_problem *problem, int32_t *order,
                               bool *starts)
{
    work of = {.problem = problem,
               .rows = problem->free_count + problem->gate_count,
               .leaf = usi_problem_is_dense(problem) ? LEAF_OF_BLOCKS : LEAF,
               .order = order,
               .starts = starts};
    range taken = NOTHING;
    us_status status = US_ERROR_MEMORY;
    of.kinds = usi_memory_array(context, of.rows, sizeof *of.kinds);
    for (int list = 0; of.kinds != NULL && list < 2; list++) {
        of.lists[list] = usi_memory_room(context, problem->free_count, sizeof *of.lists[list]);
    }
    if (of.kinds != NULL && of.lists[0] != NULL && of.lists[1] != NULL) {
        for (size_t k = 0; k < problem->last_count; k++) {
            of.kinds[problem->last[k]] = LAST;
        }
        fill_members(&of);
        for (size_t k = 0; k < of.count; k++) {
            const member *one = &of.lists[0][k];
            for (int way = 0; way < WAYS; way++) {
                stretch(&taken.first[way], &taken.last[way], one->begin[way], one->end[way]);
            }
        }
        bool some = of.count > 0;
        size_t places = some ? width_of(&taken, 0) + width_of(&taken, 1) : 0;
        of.tallies = usi_memory_array(context, places, sizeof *of.tallies);
    }
    if (of.tallies != NULL) {
        dissect(&of, &taken);
        put_last(&of);
        status = US_OK;
    }
    free(of.kinds);
    free(of.lists[0]);
    free(of.lists[1]);
    free(of.tallies);
    return status;
}
