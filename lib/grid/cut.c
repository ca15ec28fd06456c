#include "grid/cut.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/triangulate.h"
#include "model/situation.h"

/* Where an edge passes a node this close, as a share of the cell, it passes through. */
static const double THROUGH = 1e-8;

/* The part of an edge inside a cell. */
typedef struct chord {
    size_t cell;
    int32_t a; /* places */
    int32_t b;
    usi_border border; /* to soil on the one side where there is none on the other */
    int16_t left;      /* soil on the left going from a to b, -1 for none */
    int16_t right;
} chord;

/* A place on a cell side, seen from the side. */
typedef struct stop {
    size_t side; /* twice the cell above or right of it, plus 1 for an upright side */
    double at_m; /* along the side */
    int32_t place;
} stop;

typedef struct cutter {
    us_context *context;
    const usi_plan *plan;
    usi_grid *grid;
    size_t chord_count;
    size_t chord_room;
    chord *chords;
    size_t stop_count;
    size_t stop_room;
    stop *stops;
    size_t extra_room;
    size_t triangle_room;
    bool failed;
    bool crowded; /* more edges in one cell than it can be cut by */
} cutter;

static usi_border side_border(const us_section *section, const usi_plan *plan, bool right)
{
    switch ((right ? &section->right : &section->left)->kind) {
    case USI_SIDE_FIXED_HEAD:
        return right ? USI_BORDER_RIGHT_FIXED : USI_BORDER_LEFT_FIXED;
    case USI_SIDE_ENDLESS:
        if (right ? !plan->right_closed : !plan->left_closed) {
            return right ? USI_BORDER_RIGHT_END : USI_BORDER_LEFT_END;
        }
        break;
    case USI_SIDE_CLOSED:
        break;
    }
    return USI_BORDER_CLOSED;
}

static usi_border marked_border(const us_section *section, const usi_edge *edge)
{
    const usi_mark *mark = &section->situation->marks[edge->mark - 1];
    switch (mark->kind) {
    case USI_MARK_SEALED:
        return USI_BORDER_SEALED;
    case USI_MARK_DRY:
        return edge->kind == USI_EDGE_LEFT_BED ? USI_BORDER_LEFT_DRY : USI_BORDER_RIGHT_DRY;
    case USI_MARK_TERMINAL:
        break;
    }
    return (usi_border)((size_t)USI_BORDER_TERMINAL + mark->terminal);
}

usi_border usi_cut_border(const us_section *section, const usi_plan *plan, const usi_edge *edge)
{
    if (edge->mark > 0) {
        return marked_border(section, edge);
    }
    switch (edge->kind) {
    case USI_EDGE_LEFT_BED:
        return USI_BORDER_LEFT_BED;
    case USI_EDGE_RIGHT_BED:
        return USI_BORDER_RIGHT_BED;
    case USI_EDGE_STRUCTURE:
        return USI_BORDER_STRUCTURE;
    case USI_EDGE_BASE:
        return USI_BORDER_BASE;
    case USI_EDGE_LEFT_SIDE:
        return side_border(section, plan, false);
    case USI_EDGE_RIGHT_SIDE:
        return side_border(section, plan, true);
    case USI_EDGE_INTERFACE:
    case USI_EDGE_DRAIN:
        break;
    }
    return USI_BORDER_NONE;
}

/* Room for one more in a growing list; sets `failed` when there is none. */
static void *grow(cutter *state, void *list, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return list;
    }
    size_t wider = 2 * *room + 64;
    void *grown = usi_memory_resize(state->context, list, wider, size);
    if (grown == NULL) {
        state->failed = true;
        return list;
    }
    *room = wider;
    return grown;
}

static int32_t node_place(const usi_grid *grid, size_t i, size_t j)
{
    return (int32_t)(j * (grid->columns + 1) + i);
}

/* A new place on a side: on upright line `i` in row j, or on level line `j` in
 * column i. */
static int32_t add_extra(cutter *state, usi_point at, size_t i, size_t j, bool upright)
{
    usi_grid *grid = state->grid;
    grid->extras =
        grow(state, grid->extras, grid->extra_count, &state->extra_room, sizeof *grid->extras);
    state->stops =
        grow(state, state->stops, state->stop_count, &state->stop_room, sizeof *state->stops);
    if (state->failed) {
        return 0;
    }
    int32_t place = (int32_t)((grid->columns + 1) * (grid->rows + 1) + grid->extra_count);
    grid->extras[grid->extra_count++] = (usi_extra){at, i, j, upright, 0};
    size_t side = 2 * (j * (grid->columns + 1) + i) + (upright ? 1 : 0);
    state->stops[state->stop_count++] = (stop){side, upright ? at.z_m : at.x_m, place};
    return place;
}

/* How far from a line counts as on it. Between lines drawn close together a share of their
 * distance would fall below the rounding of coordinates: a share of the section then. */
static double through(const usi_grid *grid, const double *lines_m, size_t count, size_t line)
{
    static const double rounding = 1e-3; /* of what coincides in the section */
    static const double most = 0.01;     /* of the distance */
    double before_m = line > 0 ? lines_m[line] - lines_m[line - 1] : HUGE_VAL;
    double after_m = line + 1 < count ? lines_m[line + 1] - lines_m[line] : HUGE_VAL;
    double apart_m = fmin(before_m, after_m);
    double floor_m = rounding * usi_section_tolerance(grid->section);
    return fmax(THROUGH * apart_m, fmin(floor_m, most * apart_m));
}

/* Where an edge meets a grid line: on upright line i, or on level line j. */
typedef struct meeting {
    usi_point at;
    bool upright;
    size_t i;
    size_t j;
} meeting;

/* The place of a meeting: a node where one is close, so that the edge passes through it.
 * Judged by both directions at once, the lines that meet there say the same. True for a
 * node; `met` then has both its lines. */
static bool find_place(cutter *state, usi_point along, meeting *met, int32_t *place)
{
    const usi_grid *grid = state->grid;
    size_t i = met->upright ? met->i : usi_grid_x_line(grid, met->at.x_m);
    size_t j = met->upright ? usi_grid_z_line(grid, met->at.z_m) : met->j;
    double off_x_m = fabs(met->at.x_m - grid->x_m[i]);
    double off_z_m = fabs(met->at.z_m - grid->z_m[j]);
    double slope = fabs(along.z_m / along.x_m);
    off_x_m = met->upright ? off_z_m / slope : off_x_m;
    off_z_m = met->upright ? off_z_m : off_x_m * slope;
    if (off_x_m <= through(grid, grid->x_m, grid->columns + 1, i) ||
        off_z_m <= through(grid, grid->z_m, grid->rows + 1, j)) {
        met->i = i;
        met->j = j;
        *place = node_place(grid, i, j);
        return true;
    }
    *place = met->upright ? add_extra(state, met->at, i, usi_grid_row(grid, met->at.z_m), true)
                          : add_extra(state, met->at, usi_grid_column(grid, met->at.x_m), j, false);
    return false;
}

static void keep_chord(cutter *state, const chord *kept)
{
    state->chords =
        grow(state, state->chords, state->chord_count, &state->chord_room, sizeof *state->chords);
    if (!state->failed) {
        state->chords[state->chord_count++] = *kept;
        state->grid->soil[kept->cell] = USI_CELL_CUT;
    }
}

/* The cell across a side, if there is one. */
static bool next_cell(const usi_grid *grid, usi_direction side, size_t *cell)
{
    size_t i = *cell % grid->columns;
    size_t j = *cell / grid->columns;
    bool inside = side == USI_DOWN    ? j > 0
                  : side == USI_UP    ? j + 1 < grid->rows
                  : side == USI_RIGHT ? i + 1 < grid->columns
                                      : i > 0;
    size_t step = side == USI_DOWN || side == USI_UP ? grid->columns : 1;
    if (inside) {
        *cell = side == USI_UP || side == USI_RIGHT ? *cell + step : *cell - step;
    }
    return inside;
}

static void add_chord(cutter *state, const usi_edge *edge, int32_t a, int32_t b)
{
    usi_grid *grid = state->grid;
    usi_point from = usi_grid_place(grid, a);
    usi_point to = usi_grid_place(grid, b);
    size_t i = usi_grid_column(grid, 0.5 * (from.x_m + to.x_m));
    size_t j = usi_grid_row(grid, 0.5 * (from.z_m + to.z_m));
    usi_border border = usi_cut_border(grid->section, state->plan, edge);
    chord kept = {j * grid->columns + i, a, b, border, (int16_t)edge->left, (int16_t)edge->right};
    keep_chord(state, &kept);
    /* By a node it may be taken to pass through on one line and beside on the other:
     * then this piece lies along a side, and either cell may hold the soil. */
    usi_direction side;
    if (usi_grid_on_side(grid, kept.cell, a, b, &side) && next_cell(grid, side, &kept.cell)) {
        keep_chord(state, &kept);
    }
}

/* A sloping edge and the lines that one has come to on it. */
typedef struct walk {
    usi_point from;
    usi_point along;
    size_t i;
    size_t j;
    size_t last_i;
    size_t last_j;
} walk;

/* The next line that the edge meets before its end; false where there is none. */
static bool next_meeting(const usi_grid *grid, const walk *at, meeting *met)
{
    bool up = at->along.z_m > 0.0;
    bool more_across = at->i + 1 < at->last_i;
    bool more_up = up ? at->j + 1 < at->last_j : at->j > at->last_j + 1;
    size_t level = up ? at->j + 1 : at->j - 1;
    double across = more_across ? (grid->x_m[at->i + 1] - at->from.x_m) / at->along.x_m : 1.0;
    double upward = more_up ? (grid->z_m[level] - at->from.z_m) / at->along.z_m : 1.0;
    *met = (meeting){{0.0, 0.0}, more_across && across <= upward, at->i + 1, level};
    if (met->upright) {
        met->at = (usi_point){grid->x_m[at->i + 1], at->from.z_m + across * at->along.z_m};
    } else if (more_up) {
        met->at = (usi_point){at->from.x_m + upward * at->along.x_m, grid->z_m[level]};
    }
    return more_across || more_up;
}

/* Follows a sloping edge from line to line. Its ends are nodes. */
static void follow(cutter *state, const usi_edge *edge)
{
    const usi_grid *grid = state->grid;
    usi_point a = state->plan->vertices[edge->a];
    usi_point b = state->plan->vertices[edge->b];
    walk at = {.from = a,
               .along = {b.x_m - a.x_m, b.z_m - a.z_m},
               .i = usi_grid_x_line(grid, a.x_m),
               .j = usi_grid_z_line(grid, a.z_m),
               .last_i = usi_grid_x_line(grid, b.x_m),
               .last_j = usi_grid_z_line(grid, b.z_m)};
    int32_t before = node_place(grid, at.i, at.j);
    for (bool more = true; more && !state->failed;) {
        int32_t next = node_place(grid, at.last_i, at.last_j);
        meeting met;
        more = next_meeting(grid, &at, &met);
        if (more) {
            bool node = find_place(state, at.along, &met, &next);
            at.i = node || met.upright ? met.i : at.i;
            at.j = node || !met.upright ? met.j : at.j;
        }
        if (next != before) {
            add_chord(state, edge, before, next);
        }
        before = next;
    }
}

static int by_cell(const void *a, const void *b)
{
    const chord *x = a;
    const chord *y = b;
    return (x->cell > y->cell) - (x->cell < y->cell);
}

static int by_side(const void *a, const void *b)
{
    const stop *x = a;
    const stop *y = b;
    if (x->side != y->side) {
        return x->side < y->side ? -1 : 1;
    }
    return (x->at_m > y->at_m) - (x->at_m < y->at_m);
}

/* First stop on a side, or the one after all that come before it. */
static size_t first_stop(const cutter *state, size_t side)
{
    size_t low = 0;
    size_t high = state->stop_count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (state->stops[middle].side < side) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* Appends the places on a side of a cell, its ends apart, going round the cell. */
static void add_side(const cutter *state, size_t i, size_t j, usi_direction direction,
                     usi_facet *outline)
{
    size_t node_i = direction == USI_RIGHT ? i + 1 : i;
    size_t node_j = direction == USI_UP ? j + 1 : j;
    bool upright = direction == USI_LEFT || direction == USI_RIGHT;
    size_t side = 2 * (node_j * (state->grid->columns + 1) + node_i) + (upright ? 1 : 0);
    size_t first = first_stop(state, side);
    size_t last = first;
    while (last < state->stop_count && state->stops[last].side == side) {
        last++;
    }
    bool backwards = direction == USI_UP || direction == USI_LEFT;
    for (size_t k = first; k < last; k++) {
        size_t at = backwards ? last - 1 - (k - first) : k;
        usi_facet_add(outline, state->stops[at].place);
    }
}

/* The cell's whole outline, counter-clockwise. */
static void cell_outline(const cutter *state, size_t i, size_t j, usi_facet *outline)
{
    const usi_grid *grid = state->grid;
    outline->count = 0;
    usi_facet_add(outline, node_place(grid, i, j));
    add_side(state, i, j, USI_DOWN, outline);
    usi_facet_add(outline, node_place(grid, i + 1, j));
    add_side(state, i, j, USI_RIGHT, outline);
    usi_facet_add(outline, node_place(grid, i + 1, j + 1));
    add_side(state, i, j, USI_UP, outline);
    usi_facet_add(outline, node_place(grid, i, j + 1));
    add_side(state, i, j, USI_LEFT, outline);
}

/* The chord between two places of a cell, if there is one. */
static const chord *chord_between(const chord *chords, size_t count, int32_t a, int32_t b)
{
    for (size_t k = 0; k < count; k++) {
        if ((chords[k].a == a && chords[k].b == b) || (chords[k].a == b && chords[k].b == a)) {
            return &chords[k];
        }
    }
    return NULL;
}

/* The soil of a piece of a cell: what its chords have on that hand. */
static int16_t piece_soil(const usi_facet *piece, const chord *chords, size_t count)
{
    for (size_t k = 0; k < piece->count; k++) {
        int32_t a = piece->places[k];
        int32_t b = piece->places[(k + 1) % piece->count];
        const chord *found = chord_between(chords, count, a, b);
        if (found != NULL) {
            return found->a == a ? found->left : found->right;
        }
    }
    return -1;
}

static void add_triangle(cutter *state, size_t cell, int16_t soil, const int32_t places[3],
                         const chord *chords, size_t count)
{
    usi_grid *grid = state->grid;
    grid->triangles = grow(state, grid->triangles, grid->triangle_count, &state->triangle_room,
                           sizeof *grid->triangles);
    if (state->failed) {
        return;
    }
    usi_triangle *added = &grid->triangles[grid->triangle_count++];
    *added = (usi_triangle){.cell = cell, .soil = soil};
    for (int k = 0; k < 3; k++) {
        int32_t a = places[k];
        int32_t b = places[(k + 1) % 3];
        added->place[k] = a;
        const chord *along = chord_between(chords, count, a, b);
        added->border[k] = (uint8_t)(along != NULL ? along->border : USI_BORDER_NONE);
        usi_direction side;
        if (along == NULL && usi_grid_on_side(grid, cell, a, b, &side)) {
            added->border[k] =
                (uint8_t)usi_grid_border(grid, cell % grid->columns, cell / grid->columns, side);
        }
    }
}

static double soil_stretch(const usi_grid *grid, int16_t soil)
{
    const usi_soil *of = &grid->section->soils[soil];
    return sqrt(of->kh_m_s / of->kv_m_s);
}

/* Splits one cell along its chords and cuts the pieces that are soil up. */
static void cut_cell(cutter *state, const chord *chords, size_t count)
{
    usi_grid *grid = state->grid;
    size_t cell = chords[0].cell;
    usi_facet *pieces = usi_memory_array(state->context, count + 1, sizeof *pieces);
    if (pieces == NULL) {
        state->failed = true;
        return;
    }
    size_t used = 1;
    cell_outline(state, cell % grid->columns, cell / grid->columns, &pieces[0]);
    bool sound = pieces[0].count < USI_FACET_MOST;
    for (size_t k = 0; k < count && sound; k++) {
        for (size_t p = 0; p < used; p++) {
            if (usi_facet_split(&pieces[p], chords[k].a, chords[k].b, &pieces[used])) {
                used++;
                break;
            }
        }
    }
    for (size_t p = 0; p < used && sound && !state->failed; p++) {
        int16_t soil = piece_soil(&pieces[p], chords, count);
        int32_t places[3];
        double stretch = soil >= 0 ? soil_stretch(grid, soil) : 1.0;
        while (soil >= 0 && usi_facet_next(grid, stretch, &pieces[p], places)) {
            add_triangle(state, cell, soil, places, chords, count);
        }
    }
    free(pieces);
    state->crowded = state->crowded || !sound;
}

us_status usi_cut_cells(us_context *context, const usi_plan *plan, usi_grid *grid)
{
    cutter state = {.context = context, .plan = plan, .grid = grid};
    for (size_t e = 0; e < plan->edge_count && !state.failed; e++) {
        usi_point a = plan->vertices[plan->edges[e].a];
        usi_point b = plan->vertices[plan->edges[e].b];
        if (a.x_m != b.x_m && a.z_m != b.z_m) {
            follow(&state, &plan->edges[e]);
        }
    }
    if (!state.failed && state.chords != NULL) {
        qsort(state.chords, state.chord_count, sizeof *state.chords, by_cell);
    }
    if (!state.failed && state.stops != NULL) {
        qsort(state.stops, state.stop_count, sizeof *state.stops, by_side);
    }
    for (size_t first = 0; first < state.chord_count && !state.failed;) {
        size_t last = first;
        while (last < state.chord_count && state.chords[last].cell == state.chords[first].cell) {
            last++;
        }
        cut_cell(&state, &state.chords[first], last - first);
        first = last;
    }
    free(state.chords);
    free(state.stops);
    if (state.failed) {
        return US_ERROR_MEMORY;
    }
    return state.crowded ? US_NOT_CONVERGED : US_OK;
}
