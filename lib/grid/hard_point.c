#include "grid/hard_point.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "grid/fan.h"
#include "grid/rays.h"

static double distance(usi_point at, const usi_piece *piece)
{
    double dx_m = piece->b.x_m - piece->a.x_m;
    double dz_m = piece->b.z_m - piece->a.z_m;
    double along = ((at.x_m - piece->a.x_m) * dx_m + (at.z_m - piece->a.z_m) * dz_m) /
                   (dx_m * dx_m + dz_m * dz_m);
    along = fmin(fmax(along, 0.0), 1.0);
    return hypot(at.x_m - piece->a.x_m - along * dx_m, at.z_m - piece->a.z_m - along * dz_m);
}

/* The length within which nothing else disturbs the local solution: to the ends of
 * the pieces that meet here, and to all others. Far cuts are no feature. */
static double free_length(const usi_pieces *pieces, int vertex, usi_point at)
{
    double length_m = HUGE_VAL;
    for (size_t k = 0; k < pieces->count; k++) {
        const usi_piece *piece = &pieces->list[k];
        if (piece->far) {
            continue;
        }
        double here_m = usi_piece_meets(piece, vertex)
                            ? hypot(piece->b.x_m - piece->a.x_m, piece->b.z_m - piece->a.z_m)
                            : distance(at, piece);
        length_m = fmin(length_m, here_m);
    }
    return length_m;
}

us_status usi_hard_points_find(us_context *context, const us_section *section, const usi_plan *plan,
                               bool sealed, usi_hard_point **points, size_t *count)
{
    usi_pieces pieces;
    us_status status = usi_pieces_list(context, section, plan, sealed, &pieces);
    if (status != US_OK) {
        return status;
    }
    usi_hard_point *list = usi_memory_array(context, pieces.vertex_count, sizeof *list);
    size_t used = 0;
    for (size_t v = 0; list != NULL && v < pieces.vertex_count; v++) {
        bool inside = false;
        usi_point at = pieces.vertices[v];
        double lambda = usi_pieces_exponent(&pieces, (int)v, &inside);
        if (lambda <= 0.999 && !usi_pieces_far(&pieces, (int)v)) {
            list[used++] = (usi_hard_point){at, free_length(&pieces, (int)v, at), lambda, inside};
        }
    }
    usi_pieces_free(&pieces);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    *points = list;
    *count = used;
    return US_OK;
}
