#include "wall/seams.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "solve/contact.h"

/* Both faces of a piece of wall line, as they are found one after the other. */
typedef struct found_side {
    int32_t place[2]; /* the lower one first */
    int32_t unknown[2];
    bool left; /* soil lies to the left of it */
} found_side;

static int by_place(const void *one, const void *other)
{
    const found_side *a = one;
    const found_side *b = other;
    if (a->place[0] != b->place[0]) {
        return a->place[0] < b->place[0] ? -1 : 1;
    }
    return (a->left ? 0 : 1) - (b->left ? 0 : 1);
}

static int by_level(const void *one, const void *other)
{
    const usi_segment *a = one;
    const usi_segment *b = other;
    return (a->low_m > b->low_m) - (a->low_m < b->low_m);
}

/* The faces of all contacts that lie on the line of a wall within a span. */
static size_t gather(const usi_grid *grid, const usi_contacts *contacts, const usi_wall_span *span,
                     found_side *sides)
{
    double tolerance_m = usi_section_tolerance(grid->section);
    double x_m = grid->section->walls[span->wall].x_m;
    size_t count = 0;
    for (size_t k = 0; k < contacts->count; k++) {
        const usi_contact *contact = &contacts->list[k];
        usi_point a = usi_grid_place(grid, contact->place[0]);
        usi_point b = usi_grid_place(grid, contact->place[1]);
        double middle_m = 0.5 * (a.z_m + b.z_m);
        if (contact->border != USI_BORDER_WALL || fabs(a.x_m - x_m) > tolerance_m ||
            fabs(b.x_m - x_m) > tolerance_m || middle_m < span->low_m || middle_m > span->high_m) {
            continue;
        }
        int low = a.z_m < b.z_m ? 0 : 1; /* up along the left soil, which lies on the left */
        sides[count++] = (found_side){{contact->place[low], contact->place[1 - low]},
                                      {contact->unknown[low], contact->unknown[1 - low]},
                                      low == 0};
    }
    return count;
}

/* Joins the two faces of each piece; those with soil on one side are left out. */
static void join(const usi_grid *grid, usi_segment of, const found_side *sides, size_t count,
                 usi_segments *segments)
{
    size_t first = segments->count;
    for (size_t k = 0; k + 1 < count; k++) {
        const found_side *a = &sides[k];
        const found_side *b = &sides[k + 1];
        if (a->place[0] != b->place[0] || a->place[1] != b->place[1] || !a->left || b->left) {
            continue;
        }
        double low_m = usi_grid_place(grid, a->place[0]).z_m;
        double high_m = usi_grid_place(grid, a->place[1]).z_m;
        segments->list[segments->count++] =
            (usi_segment){.wall = of.wall,
                          .span = of.span,
                          .low_m = low_m,
                          .high_m = high_m,
                          .place = {a->place[0], a->place[1]},
                          .left = {a->unknown[0], a->unknown[1]},
                          .right = {b->unknown[0], b->unknown[1]},
                          .row = usi_grid_row(grid, 0.5 * (low_m + high_m))};
    }
    qsort(segments->list + first, segments->count - first, sizeof *segments->list, by_level);
}

us_status usi_segments_list(us_context *context, const usi_grid *grid, const usi_wall_span *spans,
                            size_t span_count, usi_segments *segments)
{
    usi_contacts contacts;
    us_status status = usi_contacts_list(context, grid, &contacts);
    found_side *sides = NULL;
    *segments = (usi_segments){0};
    if (status == US_OK) {
        sides = usi_memory_array(context, contacts.count + 1, sizeof *sides);
        segments->list = usi_memory_array(context, contacts.count + 1, sizeof *segments->list);
        status = sides != NULL && segments->list != NULL ? US_OK : US_ERROR_MEMORY;
    }
    for (size_t s = 0; status == US_OK && s < span_count; s++) {
        size_t count = gather(grid, &contacts, &spans[s], sides);
        qsort(sides, count, sizeof *sides, by_place);
        join(grid, (usi_segment){.wall = spans[s].wall, .span = s}, sides, count, segments);
    }
    usi_contacts_free(&contacts);
    free(sides);
    if (status != US_OK) {
        free(segments->list);
        *segments = (usi_segments){0};
    }
    return status;
}

us_status usi_segments_pair(us_context *context, const usi_segments *segments,
                            usi_face_pair **pairs, size_t *count)
{
    usi_face_pair *list = usi_memory_array(context, 2 * segments->count + 1, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    size_t used = 0;
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        bool goes_on = k > 0 && segments->list[k - 1].place[1] == of->place[0];
        if (goes_on && used > 0 && list[used - 1].place == of->place[0]) {
            list[used - 1].above = (int32_t)k;
        } else if (!goes_on && of->left[0] != of->right[0]) {
            list[used++] = (usi_face_pair){of->place[0], of->left[0], of->right[0], -1, (int32_t)k};
        }
        if (of->left[1] != of->right[1]) {
            list[used++] = (usi_face_pair){of->place[1], of->left[1], of->right[1], (int32_t)k, -1};
        }
    }
    *pairs = list;
    *count = used;
    return US_OK;
}
