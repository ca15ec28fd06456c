#include "solve/contact.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/links.h"

enum { FIRST_ROOM = 256 };

static us_status add(us_context *context, usi_contact contact, usi_contacts *to)
{
    if (to->count == to->room) {
        size_t room = to->room > 0 ? 2 * to->room : FIRST_ROOM;
        usi_contact *grown = usi_memory_resize(context, to->list, room, sizeof *grown);
        if (grown == NULL) {
            return US_ERROR_MEMORY;
        }
        to->list = grown;
        to->room = room;
    }
    to->list[to->count++] = contact;
    return US_OK;
}

/* The corners of a side of a cell, going round the cell to the left. */
static void round_corners(usi_direction direction, usi_corner corners[2])
{
    usi_links_corners(direction, corners);
    if (direction == USI_UP || direction == USI_LEFT) {
        usi_corner swap = corners[0];
        corners[0] = corners[1];
        corners[1] = swap;
    }
}

static us_status add_cell(us_context *context, const usi_grid *grid, size_t cell, usi_contacts *to)
{
    size_t i = cell % grid->columns;
    size_t j = cell / grid->columns;
    us_status status = US_OK;
    for (int d = 0; status == US_OK && d < 4; d++) {
        usi_contact found = {.border = usi_grid_border(grid, i, j, (usi_direction)d)};
        if (found.border == USI_BORDER_NONE) {
            continue;
        }
        usi_corner corners[2];
        round_corners((usi_direction)d, corners);
        for (int end = 0; end < 2; end++) {
            found.place[end] = usi_links_node(grid, i, j, corners[end]);
            found.unknown[end] = usi_grid_unknown(grid, i, j, corners[end]);
        }
        status = add(context, found, to);
    }
    return status;
}

static us_status add_triangle(us_context *context, const usi_triangle *triangle, usi_contacts *to)
{
    us_status status = US_OK;
    for (int k = 0; status == US_OK && k < 3; k++) {
        int next = (k + 1) % 3;
        if (triangle->border[k] != USI_BORDER_NONE) {
            usi_contact found = {(usi_border)triangle->border[k],
                                 {triangle->place[k], triangle->place[next]},
                                 {triangle->unknown[k], triangle->unknown[next]}};
            status = add(context, found, to);
        }
    }
    return status;
}

us_status usi_contacts_list(us_context *context, const usi_grid *grid, usi_contacts *contacts)
{
    *contacts = (usi_contacts){0};
    us_status status = US_OK;
    for (size_t cell = 0; status == US_OK && cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            status = add_cell(context, grid, cell, contacts);
        }
    }
    for (size_t t = 0; status == US_OK && t < grid->triangle_count; t++) {
        status = add_triangle(context, &grid->triangles[t], contacts);
    }
    return status;
}

void usi_contacts_free(usi_contacts *contacts)
{
    free(contacts->list);
    *contacts = (usi_contacts){0};
}

double usi_contact_length(const usi_grid *grid, const usi_contact *contact)
{
    usi_point a = usi_grid_place(grid, contact->place[0]);
    usi_point b = usi_grid_place(grid, contact->place[1]);
    return hypot(b.x_m - a.x_m, b.z_m - a.z_m);
}
