#include "model/strand.h"

#include <stdlib.h>

#include "base/memory.h"

int usi_point_order(usi_point a, usi_point b)
{
    if (a.x_m != b.x_m) {
        return a.x_m < b.x_m ? -1 : 1;
    }
    return (a.z_m > b.z_m) - (a.z_m < b.z_m);
}

double usi_strand_level(const usi_strand *strand, double x_m)
{
    usi_point a = strand->a;
    usi_point b = strand->b;
    return a.z_m + (b.z_m - a.z_m) * ((x_m - a.x_m) / (b.x_m - a.x_m));
}

bool usi_list_grow(us_context *context, void **items, size_t count, size_t *room, size_t size)
{
    enum { FIRST = 64 };
    if (count < *room) {
        return true;
    }
    size_t wider = *room > 0 ? 2 * *room : FIRST;
    void *grown = usi_memory_resize(context, *items, wider, size);
    if (grown == NULL) {
        return false;
    }
    *items = grown;
    *room = wider;
    return true;
}

static void hold(usi_strands *strands, usi_axis *axis, double value_m)
{
    void *values = axis->values;
    if (!usi_list_grow(strands->context, &values, axis->count, &axis->room, sizeof value_m)) {
        strands->failed = true;
        return;
    }
    axis->values = values;
    axis->values[axis->count++] = value_m;
}

void usi_strands_hold(usi_strands *strands, usi_point point)
{
    hold(strands, &strands->xs, point.x_m);
    hold(strands, &strands->zs, point.z_m);
}

void usi_strands_add(usi_strands *strands, usi_point from, usi_point to, int toggle, unsigned role)
{
    int order = usi_point_order(from, to);
    void *items = strands->items;
    if (order == 0) {
        return;
    }
    if (!usi_list_grow(strands->context, &items, strands->count, &strands->room,
                       sizeof *strands->items)) {
        strands->failed = true;
        return;
    }
    strands->items = items;
    strands->items[strands->count++] =
        order < 0 ? (usi_strand){from, to, toggle, role} : (usi_strand){to, from, toggle, role};
}

void usi_strands_clear(usi_strands *strands)
{
    free(strands->items);
    free(strands->xs.values);
    free(strands->zs.values);
    *strands = (usi_strands){.context = strands->context, .tolerance_m = strands->tolerance_m};
}
