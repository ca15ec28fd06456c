/* What the sides of a soil cell border on. */
#include "grid/grid.h"
#include "model/situation.h"

int usi_border_water(usi_border border)
{
    switch (border) {
    case USI_BORDER_LEFT_BED:
    case USI_BORDER_LEFT_END:
    case USI_BORDER_LEFT_FIXED:
        return -1;
    case USI_BORDER_RIGHT_BED:
    case USI_BORDER_RIGHT_END:
    case USI_BORDER_RIGHT_FIXED:
        return 1;
    case USI_BORDER_NONE:
    case USI_BORDER_WALL:
    case USI_BORDER_STRUCTURE:
    case USI_BORDER_BASE:
    case USI_BORDER_CLOSED:
    case USI_BORDER_SEALED:
    case USI_BORDER_LEFT_DRY:
    case USI_BORDER_RIGHT_DRY:
    case USI_BORDER_TERMINAL:
        break;
    }
    return 0;
}

int usi_border_bed(usi_border border)
{
    if (border == USI_BORDER_LEFT_BED || border == USI_BORDER_LEFT_DRY) {
        return -1;
    }
    return border == USI_BORDER_RIGHT_BED || border == USI_BORDER_RIGHT_DRY ? 1 : 0;
}

bool usi_border_underside(const us_section *section, usi_border border)
{
    if (border < USI_BORDER_TERMINAL) {
        return border == USI_BORDER_STRUCTURE;
    }
    const usi_terminal *terminal =
        &section->situation->terminals[(int)border - (int)USI_BORDER_TERMINAL];
    return (terminal->kind == USI_TERMINAL_DRAIN && !terminal->inside) ||
           terminal->kind == USI_TERMINAL_PERMEABLE || terminal->kind == USI_TERMINAL_VOID;
}

int usi_border_terminal(usi_border border)
{
    int water = usi_border_water(border);
    if (water != 0) {
        return water < 0 ? 0 : 1;
    }
    return border >= USI_BORDER_TERMINAL ? (int)border - (int)USI_BORDER_TERMINAL : -1;
}

bool usi_border_holds(const us_section *section, usi_border border)
{
    if (border == USI_BORDER_LEFT_DRY || border == USI_BORDER_RIGHT_DRY) {
        return true;
    }
    int terminal = usi_border_terminal(border);
    return terminal == 0 || terminal == 1 ||
           (terminal > 1 && section->situation->terminals[terminal].resistance_s == 0.0);
}

bool usi_border_tight(usi_border border)
{
    return border == USI_BORDER_WALL || border == USI_BORDER_STRUCTURE ||
           border == USI_BORDER_BASE || border == USI_BORDER_CLOSED || border == USI_BORDER_SEALED;
}

usi_border usi_grid_side(const usi_grid *grid, size_t i, size_t j, usi_direction direction)
{
    switch (direction) {
    case USI_DOWN:
        return (usi_border)grid->level_side[j * grid->columns + i];
    case USI_UP:
        return (usi_border)grid->level_side[(j + 1) * grid->columns + i];
    case USI_LEFT:
        return (usi_border)grid->upright_side[j * (grid->columns + 1) + i];
    case USI_RIGHT:
        break;
    }
    return (usi_border)grid->upright_side[j * (grid->columns + 1) + i + 1];
}

/* True for borders that let no water through anyway, wall or not. */
static bool is_closed(usi_border border)
{
    return border == USI_BORDER_STRUCTURE || border == USI_BORDER_BASE;
}

usi_border usi_grid_border(const usi_grid *grid, size_t i, size_t j, usi_direction direction)
{
    usi_border side = usi_grid_side(grid, i, j, direction);
    if (direction == USI_DOWN || direction == USI_UP) {
        return side;
    }
    size_t line = direction == USI_RIGHT ? i + 1 : i;
    bool wall = grid->wall_left[j * (grid->columns + 1) + line] != 0;
    return wall && !is_closed(side) ? USI_BORDER_WALL : side;
}
