#include "solve/dissection.h"

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

/* First and last place that members take up. */
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

typedef struct work {
    const usi_problem *problem;
    size_t rows;
    bool *is_last;
    size_t leaf;
    size_t count; /* of members */
    member *lists[2];
    int32_t *ends;   /* of a piece, how many end at each place, */
    int32_t *begins; /* and how many begin there */
    int32_t *order;
    bool *starts;
} work;

/* Twice the place of a spot, for each way; places of cells are odd, of lines even. */
static int32_t position(const usi_spot *spot, int way)
{
    int32_t column = spot->first_column + spot->end_column;
    int32_t row = spot->first_row + spot->end_row;
    return way == 0 ? column + row : column - row;
}

/* True of what is tied together from more places than one. */
static bool is_wide(const usi_spot *spot)
{
    return spot->end_column - spot->first_column > 2 || spot->end_row - spot->first_row > 2;
}

static void take_in(member *one, int way, int32_t place)
{
    one->begin[way] = place < one->begin[way] ? place : one->begin[way];
    one->end[way] = place > one->end[way] ? place : one->end[way];
}

/* Both ends of a link take in the place between them, or what is wide takes in the other. */
static void join(member *one, const usi_spot *spot, member *other, const usi_spot *to)
{
    bool wide = is_wide(spot);
    bool other_wide = is_wide(to);
    for (int way = 0; way < WAYS; way++) {
        int32_t here = position(spot, way);
        int32_t there = position(to, way);
        int32_t shared = here + (there - here) / 2;
        if (wide != other_wide) {
            shared = wide ? there : here;
        }
        take_in(one, way, shared);
        take_in(other, way, shared);
    }
}

static bool is_member(const work *of, int32_t place)
{
    return place >= 0 && (size_t)place < of->problem->free_count && !of->is_last[place] &&
           of->problem->spots[place].end_column > 0;
}

static void fill_members(work *of)
{
    const usi_problem *problem = of->problem;
    member *all = of->lists[0];
    for (size_t row = 0; row < problem->free_count; row++) {
        all[row].row = (int32_t)row;
        for (int way = 0; way < WAYS; way++) {
            all[row].begin[way] = position(&problem->spots[row], way);
            all[row].end[way] = all[row].begin[way];
        }
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        int32_t a = problem->links[k].a;
        int32_t b = problem->links[k].b;
        if (is_member(of, a) && is_member(of, b)) {
            join(&all[a], &problem->spots[a], &all[b], &problem->spots[b]);
        }
    }
    for (size_t row = 0; row < problem->free_count; row++) {
        if (is_member(of, (int32_t)row)) {
            all[of->count++] = all[row];
        }
    }
}

static const range NOTHING = {{INT32_MAX, INT32_MAX}, {INT32_MIN, INT32_MIN}};

static void stretch(range *taken, const member *by)
{
    for (int way = 0; way < WAYS; way++) {
        int32_t first = taken->first[way];
        int32_t last = taken->last[way];
        taken->first[way] = by->begin[way] < first ? by->begin[way] : first;
        taken->last[way] = by->end[way] > last ? by->end[way] : last;
    }
}

static cut better(cut one, cut other)
{
    if (one.way < 0 || (other.fair && !one.fair)) {
        return other;
    }
    return one.fair == other.fair && other.cost < one.cost ? other : one;
}

/* The best line of one way: the fewer unknowns for what it parts, the better. */
static cut find_cut(const work *of, const member *members, const piece *whole, int way)
{
    int32_t first = whole->taken.first[way];
    size_t width = (size_t)(whole->taken.last[way] - first) + 1;
    memset(of->begins, 0, width * sizeof *of->begins);
    memset(of->ends, 0, width * sizeof *of->ends);
    for (size_t k = 0; k < whole->count; k++) {
        of->begins[members[k].begin[way] - first]++;
        of->ends[members[k].end[way] - first]++;
    }
    cut best = {.way = -1};
    size_t before = 0;
    size_t behind = whole->count;
    double least = LEAST_SHARE * (double)whole->count;
    for (size_t at = 0; at < width; at++) {
        behind -= (size_t)of->begins[at];
        size_t less = before < behind ? before : behind;
        if (less > 0) {
            size_t off = before + behind;
            double on = (double)(whole->count - off);
            cut found = {way,
                         first + (int32_t)at,
                         before,
                         behind,
                         on * (double)off / ((double)before * (double)behind),
                         (double)less >= least};
            best = better(best, found);
        }
        before += (size_t)of->ends[at];
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
    if (by->before + by->behind < whole->count) {
        of->starts[off] = true;
    }
    parts[0] = (piece){whole->from, by->before, !whole->flipped, NOTHING};
    parts[1] = (piece){whole->from + by->before, by->behind, !whole->flipped, NOTHING};
    for (size_t k = 0; k < whole->count; k++) {
        if (from[k].end[by->way] < by->at) {
            stretch(&parts[0].taken, &from[k]);
            *first++ = from[k];
        } else if (from[k].begin[by->way] > by->at) {
            stretch(&parts[1].taken, &from[k]);
            *second++ = from[k];
        } else {
            *on++ = from[k].row;
        }
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
        const member *members = of->lists[whole.flipped ? 1 : 0] + whole.from;
        for (int way = 0; whole.count > of->leaf && waiting + 2 <= DEPTH && way < WAYS; way++) {
            best = better(best, find_cut(of, members, &whole, way));
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
        if (!of->is_last[row] && !is_member(of, (int32_t)row)) {
            of->order[next++] = (int32_t)row;
        }
    }
    for (size_t k = 0; k < problem->last_count; k++) {
        of->order[next++] = problem->last[k];
    }
    for (size_t row = problem->free_count; row < of->rows; row++) {
        if (!of->is_last[row]) {
            of->order[next++] = (int32_t)row;
        }
    }
}

/* Places at most that are taken up in either way. */
static size_t find_widest(const range *taken)
{
    size_t widest = 0;
    for (int way = 0; taken->first[0] <= taken->last[0] && way < WAYS; way++) {
        size_t width = (size_t)(taken->last[way] - taken->first[way]) + 1;
        widest = width > widest ? width : widest;
    }
    return widest;
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
    of.is_last = usi_memory_array(context, of.rows, sizeof *of.is_last);
    for (int list = 0; of.is_last != NULL && list < 2; list++) {
        of.lists[list] = usi_memory_array(context, problem->free_count, sizeof *of.lists[list]);
    }
    if (of.is_last != NULL && of.lists[0] != NULL && of.lists[1] != NULL) {
        for (size_t k = 0; k < problem->last_count; k++) {
            of.is_last[problem->last[k]] = true;
        }
        fill_members(&of);
        for (size_t k = 0; k < of.count; k++) {
            stretch(&taken, &of.lists[0][k]);
        }
        size_t widest = find_widest(&taken);
        of.ends = usi_memory_array(context, widest, sizeof *of.ends);
        of.begins = usi_memory_array(context, widest, sizeof *of.begins);
    }
    if (of.ends != NULL && of.begins != NULL) {
        dissect(&of, &taken);
        put_last(&of);
        status = US_OK;
    }
    free(of.is_last);
    free(of.lists[0]);
    free(of.lists[1]);
    free(of.ends);
    free(of.begins);
    return status;
}
