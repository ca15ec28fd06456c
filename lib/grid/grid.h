/* The graded tensor-product grid: lines through every vertex of the section,
 * which cells are soil, which cell sides are boundary, and the unknowns.
 *
 * Cells are counted from the lower left: cell (i, j) lies between x lines i and
 * i+1 and z lines j and j+1; node (i, j) is where x line i meets z line j. A
 * node on a wall carries one unknown for each face: the soil cells around a
 * node that hang together without crossing a wall share one. */
#ifndef USI_GRID_GRID_H
#define USI_GRID_GRID_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/section.h"

/* Corner of a cell, also the place of the cell's soil seen from that node. */
typedef enum usi_corner {
    USI_LOWER_LEFT,
    USI_LOWER_RIGHT,
    USI_UPPER_RIGHT,
    USI_UPPER_LEFT
} usi_corner;

/* What a side of a soil cell borders on. */
typedef enum usi_border {
    USI_BORDER_NONE,        /* more soil */
    USI_BORDER_WALL,        /* a wall: no flow */
    USI_BORDER_STRUCTURE,   /* underside, end face, or a wall that closes a step: no flow */
    USI_BORDER_BASE,        /* no flow */
    USI_BORDER_CLOSED,      /* a closed side of the section: no flow */
    USI_BORDER_LEFT_BED,    /* fixed head */
    USI_BORDER_RIGHT_BED,   /* fixed head */
    USI_BORDER_LEFT_END,    /* endless soil cut far away on the left */
    USI_BORDER_RIGHT_END,   /* endless soil cut far away on the right */
    USI_BORDER_LEFT_FIXED,  /* a side of fixed head, at the left end */
    USI_BORDER_RIGHT_FIXED, /* a side of fixed head, at the right end */
    USI_BORDER_SEALED,      /* bed that lets no water through */
    USI_BORDER_LEFT_DRY,    /* bed above the left water: one-way */
    USI_BORDER_RIGHT_DRY,   /* bed above the right water: one-way */
    USI_BORDER_TERMINAL     /* this and what follows: a terminal of the section's situation, by
                               index (never the waters themselves) */
} usi_border;

/* What fixes the head on a border: 0 nothing, -1 the left water, 1 the right. Other
 * terminals than these two do not count. */
int usi_border_water(usi_border border);

/* Which bed a border is, dry or under water: -1 left, 1 right, 0 none. */
int usi_border_bed(usi_border border);

/* True under the structure and beside its end faces: tight, drained or without contact. */
bool usi_border_underside(const us_section *section, usi_border border);

/* Index of the terminal that a border touches, the two waters (0 left, 1 right)
 * included; -1 for none. */
int usi_border_terminal(usi_border border);

/* True where head is held at once, not through a resistance; a void too, and dry bed as
 * far as water comes out of it. */
bool usi_border_holds(const us_section *section, usi_border border);

/* True where no water passes, whatever the heads. Far cuts and dry bed do not count. */
bool usi_border_tight(usi_border border);

typedef enum usi_direction { USI_DOWN, USI_RIGHT, USI_UP, USI_LEFT } usi_direction;

/* Levels along a wall that each may be its tip: lines lie at distances that grow in proportion
 * to the depth below `high_m` or the distance from a floor, whichever is least, none of them
 * drawn together towards the wall's own tip. For one cell they are apart by `first_m` at these
 * places, and by `growth` times that length more between. */
typedef struct usi_tip_range {
    double x_m;
    double low_m;
    double high_m;
    size_t floor_count;
    const double *floors_m; /* the base, and where soils change */
    double first_m;
    double growth;
    double across_m; /* between lines beside the wall, likewise */
} usi_tip_range;

typedef struct usi_grid_options {
    double cells;      /* n: cells along the shortest length at a hard point, before halving */
    int halvings;      /* times every cell is halved: grids that differ only here are nested */
    double truncation; /* relative effect that cutting endless soil may have; 0 for the usual */
    bool sealed;       /* walls that reach the base are sealed into it */
    size_t most;       /* nodes at most, up to USI_GRID_MOST; 0 for USI_GRID_LIMIT */
    /* For pictures: no cell inside this window is longer than `step_m`; 0 for none. */
    double step_m;
    usi_point window_low;
    usi_point window_high;
    size_t range_count;
    const usi_tip_range *ranges;
    /* With walls where the section's own have openings: they stand on the grid, whose lines are
     * drawn for the section. NULL: its own do. */
    const us_section *standing;
} usi_grid_options;

/* A place off the nodes where a sloping edge crosses a line. */
typedef struct usi_extra {
    usi_point at;
    size_t i; /* column, or upright line */
    size_t j; /* row, or level line */
    bool upright;
    int32_t unknown; /* the first of one, or of two on a wall: left face, right face */
} usi_extra;

/* A piece of a cell that sloping edges cut, all of one soil. */
typedef struct usi_triangle {
    size_t cell;
    int32_t place[3]; /* corners, counter-clockwise */
    int32_t unknown[3];
    uint8_t border[3]; /* usi_border of the side from corner k to the next */
    int16_t soil;
} usi_triangle;

/* In `soil`, for a cell that is cut: its soil lies in triangles. */
enum { USI_CELL_CUT = -2 };

typedef struct usi_grid {
    const us_section *section;
    double tolerance_m;    /* of the section: what coincides */
    size_t columns;        /* cells across */
    size_t rows;           /* cells up */
    double *x_m;           /* columns + 1 */
    double *z_m;           /* rows + 1 */
    int16_t *soil;         /* rows x columns, row-major, row 0 lowest: soil index, -1 or
                              USI_CELL_CUT */
    uint8_t *wall_left;    /* rows x (columns + 1): where the vertical side on x line i is wall, 1
                              plus the usi_pane_kind; else 0 */
    uint8_t *level_side;   /* (rows + 1) x columns: usi_border of the side above z line j */
    uint8_t *upright_side; /* rows x (columns + 1): usi_border of the side on x line i */
    size_t extra_count;
    usi_extra *extras;
    size_t triangle_count;
    usi_triangle *triangles; /* by growing cell */
    int32_t *first_unknown;  /* (rows + 1) x (columns + 1): first unknown of a node */
    uint8_t *corner_share;   /* same shape: 2 bits a corner: which of the node's unknowns its
                                soil cell (in usi_corner order seen from the cell) uses */
    size_t unknowns;         /* all nodes of soil, fixed ones included */
    size_t local_count;      /* of points so hard that links follow the local solution there */
    struct usi_local *locals;
    bool beyond;       /* some point is as hard, and its local solution is none of quadrants */
    double truncation; /* bound on the relative effect of cutting endless soil */
} usi_grid;

/* Nodes: of grids that refinement comes to by itself, and of any grid. */
enum { USI_GRID_LIMIT = 1500000, USI_GRID_MOST = 4200000 };

/* Builds the grid of a section. `*grid` is the caller's. US_NOT_CONVERGED,
 * without a diagnostic, when it would have too many nodes;
 * US_ERROR_MEMORY. */
us_status usi_grid_build(us_context *context, const us_section *section,
                         const usi_grid_options *options, usi_grid **grid);
void usi_grid_free(usi_grid *grid);

/* Column and row of the node at a corner of cell (i, j). */
static inline size_t usi_grid_node_i(size_t i, usi_corner corner)
{
    return i + (corner == USI_LOWER_RIGHT || corner == USI_UPPER_RIGHT ? 1 : 0);
}
static inline size_t usi_grid_node_j(size_t j, usi_corner corner)
{
    return j + (corner == USI_UPPER_RIGHT || corner == USI_UPPER_LEFT ? 1 : 0);
}

/* The cell around node (i, j) that has the node as its corner `corner`; it may
 * lie outside the grid. Corners in the order of usi_corner go round the node. */
typedef struct usi_cell {
    ptrdiff_t i;
    ptrdiff_t j;
} usi_cell;
static inline usi_cell usi_grid_cell_at(size_t node_i, size_t node_j, usi_corner corner)
{
    return (usi_cell){(ptrdiff_t)node_i - (ptrdiff_t)usi_grid_node_i(0, corner),
                      (ptrdiff_t)node_j - (ptrdiff_t)usi_grid_node_j(0, corner)};
}

/* Soil index of cell (i, j), -1 when void, cut or outside. */
static inline int usi_grid_soil(const usi_grid *grid, ptrdiff_t i, ptrdiff_t j)
{
    if (i < 0 || j < 0 || i >= (ptrdiff_t)grid->columns || j >= (ptrdiff_t)grid->rows) {
        return -1;
    }
    int soil = grid->soil[(size_t)j * grid->columns + (size_t)i];
    return soil < 0 ? -1 : soil;
}

/* Unknown at a corner of soil cell (i, j). */
static inline int32_t usi_grid_unknown(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    size_t node = usi_grid_node_j(j, corner) * (grid->columns + 1) + usi_grid_node_i(i, corner);
    return grid->first_unknown[node] + ((grid->corner_share[node] >> (2 * corner)) & 3);
}

/* What side `direction` of soil cell (i, j) borders on. */
usi_border usi_grid_border(const usi_grid *grid, size_t i, size_t j, usi_direction direction);

/* What a whole side of cell (i, j) is to soil beside it, walls apart. */
usi_border usi_grid_side(const usi_grid *grid, size_t i, size_t j, usi_direction direction);

/* Places: the nodes, row by row, then the extras. */
size_t usi_grid_place_count(const usi_grid *grid);
usi_point usi_grid_place(const usi_grid *grid, int32_t place);

/* True where both places lie on one side of a cell; says which. */
bool usi_grid_on_side(const usi_grid *grid, size_t cell, int32_t a, int32_t b, usi_direction *side);

/* Column and row that hold a coordinate between the outer lines. */
size_t usi_grid_column(const usi_grid *grid, double x_m);
size_t usi_grid_row(const usi_grid *grid, double z_m);

/* The triangles of a cell: from the first one returned, `count` of them. */
const usi_triangle *usi_grid_triangles(const usi_grid *grid, size_t cell, size_t *count);

/* Index of the line at a coordinate that is a vertex of the section. */
size_t usi_grid_x_line(const usi_grid *grid, double x_m);
size_t usi_grid_z_line(const usi_grid *grid, double z_m);

#endif
