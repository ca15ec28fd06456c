#include "model/raise.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/strand.h"

typedef struct raiser {
    us_context *context;
    const us_section *section;
    usi_strands strands; /* the bed toggles the number of zones, zone k toggles k */
    usi_line made;
    size_t room;
    bool raised;
    bool *within; /* of each zone */
    size_t active_count;
    size_t *active;
    double middle_m; /* of the slab at hand */
} raiser;

static bool reaches_above(const usi_line *bed, const usi_zone *zone, const double range_m[2])
{
    double from_m = fmax(range_m[0], zone->low.x_m);
    double to_m = fmin(range_m[1], zone->high.x_m);
    return from_m < to_m && zone->high.z_m > usi_line_lowest(bed, from_m, to_m);
}

/* The zones that reach above the bed, and the bed from one x to the other, a
 * step beyond all of them. False when there are no such zones. */
static bool gather(raiser *of, const usi_line *bed, const double range_m[2])
{
    const us_section *section = of->section;
    double size_m = usi_section_size(section);
    double from_m = bed->points[0].x_m;
    double to_m = bed->points[bed->count - 1].x_m;
    bool any = false;
    for (size_t k = 0; k < section->zone_count; k++) {
        const usi_zone *zone = &section->zones[k];
        if (!reaches_above(bed, zone, range_m)) {
            continue;
        }
        any = true;
        from_m = fmin(from_m, zone->low.x_m);
        to_m = fmax(to_m, zone->high.x_m);
        for (size_t i = 0; i < zone->count; i++) {
            usi_point next = zone->outline[i + 1 < zone->count ? i + 1 : 0];
            usi_strands_hold(&of->strands, zone->outline[i]);
            usi_strands_add(&of->strands, zone->outline[i], next, (int)k, 0);
        }
    }
    from_m = fmax(range_m[0], from_m - size_m);
    to_m = fmin(range_m[1], to_m + size_m);
    usi_point before = {from_m, usi_line_level(bed, from_m, true)};
    int toggle = (int)section->zone_count;
    for (size_t i = 0; i < bed->count; i++) {
        usi_strands_hold(&of->strands, bed->points[i]);
        if (bed->points[i].x_m > from_m && bed->points[i].x_m < to_m) {
            usi_strands_add(&of->strands, before, bed->points[i], toggle, 0);
            before = bed->points[i];
        }
    }
    usi_strands_add(&of->strands, before, (usi_point){to_m, usi_line_level(bed, to_m, false)},
                    toggle, 0);
    return any;
}

static void add_point(raiser *of, usi_point point)
{
    size_t count = of->made.count;
    void *points = of->made.points;
    if (count > 0 && usi_point_order(of->made.points[count - 1], point) == 0) {
        return;
    }
    if (!usi_list_grow(of->context, &points, count, &of->room, sizeof point)) {
        of->strands.failed = true;
        return;
    }
    of->made.points = points;
    of->made.points[of->made.count++] = point;
}

/* Sorts the strands over the slab by their level in its middle. */
static void sort_active(raiser *of)
{
    const usi_strand *items = of->strands.items;
    for (size_t i = 1; i < of->active_count; i++) {
        size_t moved = of->active[i];
        double level_m = usi_strand_level(&items[moved], of->middle_m);
        size_t k = i;
        while (k > 0 && usi_strand_level(&items[of->active[k - 1]], of->middle_m) > level_m) {
            of->active[k] = of->active[k - 1];
            k--;
        }
        of->active[k] = moved;
    }
}

static bool same_strand(const usi_strand *a, const usi_strand *b)
{
    return usi_point_order(a->a, b->a) == 0 && usi_point_order(a->b, b->b) == 0;
}

/* From below upwards: the first strand at or above the bed with no zone over it. */
static const usi_strand *find_top(raiser *of)
{
    const usi_strand *items = of->strands.items;
    size_t around = 0;
    bool above = false;
    for (size_t k = 0; k < of->section->zone_count; k++) {
        of->within[k] = false;
    }
    for (size_t i = 0; i < of->active_count; i++) {
        const usi_strand *strand = &items[of->active[i]];
        if ((size_t)strand->toggle == of->section->zone_count) {
            above = true;
        } else {
            bool *within = &of->within[strand->toggle];
            *within = !*within;
            around = *within ? around + 1 : around - 1;
        }
        bool last = i + 1 == of->active_count || !same_strand(strand, &items[of->active[i + 1]]);
        if (last && above && around == 0) {
            return strand;
        }
    }
    return NULL;
}

static bool is_bed(const raiser *of, const usi_strand *top)
{
    const usi_strand *items = of->strands.items;
    for (size_t i = 0; i < of->active_count; i++) {
        const usi_strand *other = &items[of->active[i]];
        if ((size_t)other->toggle == of->section->zone_count && same_strand(other, top)) {
            return true;
        }
    }
    return false;
}

/* Goes through the slabs between neighbouring coordinates. */
static void sweep(raiser *of)
{
    const usi_strands *strands = &of->strands;
    size_t next = 0;
    for (size_t i = 0; i + 1 < strands->xs.count; i++) {
        double from_m = strands->xs.values[i];
        double to_m = strands->xs.values[i + 1];
        size_t kept = 0;
        for (size_t k = 0; k < of->active_count; k++) {
            if (strands->items[of->active[k]].b.x_m >= to_m) {
                of->active[kept++] = of->active[k];
            }
        }
        of->active_count = kept;
        for (; next < strands->count && strands->items[next].a.x_m <= from_m; next++) {
            if (strands->items[next].b.x_m >= to_m) {
                of->active[of->active_count++] = next;
            }
        }
        of->middle_m = 0.5 * from_m + 0.5 * to_m;
        sort_active(of);
        const usi_strand *top = find_top(of);
        if (top != NULL) {
            of->raised = of->raised || !is_bed(of, top);
            add_point(of, from_m == top->a.x_m
                              ? top->a
                              : (usi_point){from_m, usi_strand_level(top, from_m)});
            add_point(of,
                      to_m == top->b.x_m ? top->b : (usi_point){to_m, usi_strand_level(top, to_m)});
        }
    }
}

us_status usi_bed_raise(us_context *context, const us_section *section, usi_line *bed,
                        const double range_m[2], bool *raised)
{
    raiser of = {.context = context,
                 .section = section,
                 .strands = {.context = context, .tolerance_m = usi_section_tolerance(section)}};
    *raised = false;
    if (!(range_m[0] < range_m[1]) || !gather(&of, bed, range_m)) {
        us_status ended = of.strands.failed ? US_ERROR_MEMORY : US_OK;
        usi_strands_clear(&of.strands);
        return ended;
    }
    us_status status = usi_strands_part(&of.strands);
    if (status == US_OK) {
        of.within = usi_memory_array(context, section->zone_count, sizeof *of.within);
        of.active = usi_memory_array(context, of.strands.count, sizeof *of.active);
        if (of.within != NULL && of.active != NULL) {
            sweep(&of);
        }
        bool done = of.within != NULL && of.active != NULL && !of.strands.failed;
        status = done ? US_OK : US_ERROR_MEMORY;
    }
    if (status == US_OK && of.raised && of.made.count > 0) {
        usi_line before = *bed;
        *bed = of.made;
        of.made = before;
        *raised = true;
    }
    free(of.within);
    free(of.active);
    free(of.made.points);
    usi_strands_clear(&of.strands);
    return status;
}
