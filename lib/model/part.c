/* Strands parted where they meet: a sweep over x finds the pairs, each meeting
 * becomes a cut, and the pieces are looked at again until nothing is left to cut. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/strand.h"

enum { MOST_ROUNDS = 12 };

/* A point this near to a strand, in tolerances, lies on it. Points are a tolerance
 * apart, so with up to sqrt(1/2) no two sides of a small triangle can take turns. */
static const double NEAR = 0.5;

typedef struct cut {
    size_t strand;
    size_t point;
    double along; /* from a to b, in no unit */
} cut;

/* The meetings of one round. */
typedef struct parting {
    usi_strands *strands;
    size_t point_count;
    size_t point_room;
    usi_point *points;
    size_t cut_count;
    size_t cut_room;
    cut *cuts;
} parting;

static int by_value(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;
    return (first > second) - (first < second);
}

static int by_aim(const void *a, const void *b)
{
    return by_value(*(double *const *)a, *(double *const *)b);
}

static int by_ends(const void *a, const void *b)
{
    const usi_strand *first = a;
    const usi_strand *second = b;
    int order = usi_point_order(first->a, second->a);
    return order != 0 ? order : usi_point_order(first->b, second->b);
}

static int by_place(const void *a, const void *b)
{
    const cut *first = a;
    const cut *second = b;
    if (first->strand != second->strand) {
        return first->strand < second->strand ? -1 : 1;
    }
    return (first->along > second->along) - (first->along < second->along);
}

static void sort_axis(usi_axis *axis)
{
    size_t kept = 0;
    if (axis->count == 0) {
        return;
    }
    qsort(axis->values, axis->count, sizeof *axis->values, by_value);
    for (size_t i = 1; i < axis->count; i++) {
        if (axis->values[i] != axis->values[kept]) {
            axis->values[++kept] = axis->values[i];
        }
    }
    axis->count = kept + 1;
}

/* The standing coordinate nearest to a value; `*from` only grows, as values do. */
static bool find_near(const usi_axis *axis, double tolerance_m, size_t *from, double *value_m)
{
    while (*from + 1 < axis->count &&
           fabs(axis->values[*from + 1] - *value_m) <= fabs(axis->values[*from] - *value_m)) {
        ++*from;
    }
    if (axis->count == 0 || fabs(axis->values[*from] - *value_m) > tolerance_m) {
        return false;
    }
    *value_m = axis->values[*from];
    return true;
}

/* Each value becomes the standing one near it, or else stands from now on. */
static bool settle(usi_strands *strands, usi_axis *axis, double **aims, size_t count)
{
    size_t room = axis->count + count;
    double *merged = usi_memory_resize(strands->context, axis->values, room + 1, sizeof *merged);
    if (merged == NULL) {
        strands->failed = true;
        return false;
    }
    axis->values = merged;
    axis->room = room + 1;
    if (count == 0) {
        return true;
    }
    qsort(aims, count, sizeof *aims, by_aim);
    usi_axis old = *axis;
    size_t from = 0;
    for (size_t i = 0; i < count; i++) {
        bool fresh = axis->count > old.count;
        double last_m = fresh ? merged[axis->count - 1] : 0.0;
        if (find_near(&old, strands->tolerance_m, &from, aims[i])) {
            continue;
        }
        if (fresh && *aims[i] - last_m <= strands->tolerance_m) {
            *aims[i] = last_m;
        } else {
            merged[axis->count++] = *aims[i];
        }
    }
    sort_axis(axis);
    return true;
}

/* Settles both coordinates of points. */
static bool settle_points(usi_strands *strands, usi_point **points, size_t count)
{
    double **aims = usi_memory_array(strands->context, count, sizeof(double *));
    if (aims == NULL) {
        strands->failed = true;
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        aims[i] = &points[i]->x_m;
    }
    bool done = settle(strands, &strands->xs, aims, count);
    for (size_t i = 0; i < count; i++) {
        aims[i] = &points[i]->z_m;
    }
    done = done && settle(strands, &strands->zs, aims, count);
    free(aims);
    return done;
}

/* Order of the ends may have changed, or length been lost, by settling. */
static void tidy(usi_strands *strands)
{
    size_t kept = 0;
    for (size_t i = 0; i < strands->count; i++) {
        usi_strand strand = strands->items[i];
        int order = usi_point_order(strand.a, strand.b);
        if (order > 0) {
            strand = (usi_strand){strand.b, strand.a, strand.toggle, strand.role};
        }
        if (order != 0) {
            strands->items[kept++] = strand;
        }
    }
    strands->count = kept;
}

static bool settle_ends(usi_strands *strands)
{
    usi_point **points =
        usi_memory_array(strands->context, 2 * strands->count, sizeof(usi_point *));
    if (points == NULL) {
        strands->failed = true;
        return false;
    }
    sort_axis(&strands->xs);
    sort_axis(&strands->zs);
    for (size_t i = 0; i < strands->count; i++) {
        points[2 * i] = &strands->items[i].a;
        points[2 * i + 1] = &strands->items[i].b;
    }
    bool done = settle_points(strands, points, 2 * strands->count);
    free(points);
    tidy(strands);
    return done;
}

static bool add_point(parting *of, usi_point point)
{
    usi_strands *strands = of->strands;
    void *points = of->points;
    if (!usi_list_grow(strands->context, &points, of->point_count, &of->point_room,
                       sizeof *of->points)) {
        strands->failed = true;
        return false;
    }
    of->points = points;
    of->points[of->point_count++] = point;
    return true;
}

/* Cuts a strand at the last point added. */
static void add_cut(parting *of, size_t strand)
{
    usi_strands *strands = of->strands;
    void *cuts = of->cuts;
    if (!usi_list_grow(strands->context, &cuts, of->cut_count, &of->cut_room, sizeof *of->cuts)) {
        strands->failed = true;
        return;
    }
    of->cuts = cuts;
    of->cuts[of->cut_count++] = (cut){strand, of->point_count - 1, 0.0};
}

static double cross(usi_point a, usi_point b, usi_point c)
{
    return (b.x_m - a.x_m) * (c.z_m - a.z_m) - (b.z_m - a.z_m) * (c.x_m - a.x_m);
}

static double along(const usi_strand *strand, usi_point at)
{
    double dx_m = strand->b.x_m - strand->a.x_m;
    double dz_m = strand->b.z_m - strand->a.z_m;
    return ((at.x_m - strand->a.x_m) * dx_m + (at.z_m - strand->a.z_m) * dz_m) /
           (dx_m * dx_m + dz_m * dz_m);
}

/* Cuts a strand at a point that lies on it. True when it does, ends included. */
static bool touch(parting *of, size_t index, usi_point at)
{
    const usi_strand *strand = &of->strands->items[index];
    if (usi_point_order(at, strand->a) == 0 || usi_point_order(at, strand->b) == 0) {
        return true;
    }
    double share = along(strand, at);
    double length_m = hypot(strand->b.x_m - strand->a.x_m, strand->b.z_m - strand->a.z_m);
    if (share <= 0.0 || share >= 1.0 ||
        fabs(cross(strand->a, strand->b, at)) > NEAR * of->strands->tolerance_m * length_m) {
        return false;
    }
    if (add_point(of, at)) {
        add_cut(of, index);
    }
    return true;
}

static void meet(parting *of, size_t first, size_t second)
{
    const usi_strand s = of->strands->items[first];
    const usi_strand t = of->strands->items[second];
    bool touched = touch(of, first, t.a);
    touched = touch(of, first, t.b) || touched;
    touched = touch(of, second, s.a) || touched;
    touched = touch(of, second, s.b) || touched;
    if (touched) {
        return;
    }
    double from = cross(t.a, t.b, s.a);
    double to = cross(t.a, t.b, s.b);
    bool parts =
        (from > 0.0) != (to > 0.0) && (cross(s.a, s.b, t.a) > 0.0) != (cross(s.a, s.b, t.b) > 0.0);
    if (!parts) {
        return;
    }
    double share = from / (from - to);
    usi_point at = {s.a.x_m + share * (s.b.x_m - s.a.x_m), s.a.z_m + share * (s.b.z_m - s.a.z_m)};
    if (add_point(of, at)) {
        add_cut(of, first);
        add_cut(of, second);
    }
}

static bool near(const usi_strand *s, const usi_strand *t, double tolerance_m)
{
    double s_low_m = fmin(s->a.z_m, s->b.z_m) - tolerance_m;
    double s_high_m = fmax(s->a.z_m, s->b.z_m) + tolerance_m;
    return fmax(t->a.z_m, t->b.z_m) >= s_low_m && fmin(t->a.z_m, t->b.z_m) <= s_high_m;
}

/* Finds all meetings; the strands go by growing a. */
static bool find_meetings(parting *of)
{
    usi_strands *strands = of->strands;
    size_t *active = usi_memory_array(strands->context, strands->count, sizeof *active);
    size_t active_count = 0;
    if (active == NULL) {
        strands->failed = true;
        return false;
    }
    for (size_t i = 0; i < strands->count && !strands->failed; i++) {
        double low_m = strands->items[i].a.x_m - strands->tolerance_m;
        size_t kept = 0;
        for (size_t k = 0; k < active_count; k++) {
            const usi_strand *other = &strands->items[active[k]];
            if (other->b.x_m < low_m) {
                continue;
            }
            active[kept++] = active[k];
            if (near(other, &strands->items[i], strands->tolerance_m)) {
                meet(of, active[k], i);
            }
        }
        active_count = kept;
        active[active_count++] = i;
        if (of->cut_count > USI_CROSSING_CAP) {
            break;
        }
    }
    free(active);
    return !strands->failed;
}

/* Replaces each strand by its pieces. */
static void cut_strands(parting *of)
{
    usi_strands *strands = of->strands;
    usi_strands parted = {.context = strands->context};
    size_t next = 0;
    for (size_t i = 0; i < of->cut_count; i++) {
        of->cuts[i].along =
            along(&strands->items[of->cuts[i].strand], of->points[of->cuts[i].point]);
    }
    qsort(of->cuts, of->cut_count, sizeof *of->cuts, by_place);
    for (size_t i = 0; i < strands->count; i++) {
        const usi_strand *strand = &strands->items[i];
        usi_point from = strand->a;
        for (; next < of->cut_count && of->cuts[next].strand == i; next++) {
            usi_point to = of->points[of->cuts[next].point];
            usi_strands_add(&parted, from, to, strand->toggle, strand->role);
            from = to;
        }
        usi_strands_add(&parted, from, strand->b, strand->toggle, strand->role);
    }
    free(strands->items);
    strands->items = parted.items;
    strands->count = parted.count;
    strands->room = parted.room;
    strands->failed = strands->failed || parted.failed;
}

/* One round; `*more` says whether anything was cut. */
static us_status part_once(usi_strands *strands, bool *more)
{
    parting of = {.strands = strands};
    if (strands->count > 0) {
        qsort(strands->items, strands->count, sizeof *strands->items, by_ends);
    }
    us_status status = find_meetings(&of) ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK && of.cut_count > USI_CROSSING_CAP) {
        status = US_ERROR_INPUT;
    }
    *more = of.cut_count > 0;
    if (status == US_OK && *more) {
        usi_point **aims = usi_memory_array(strands->context, of.point_count, sizeof(usi_point *));
        for (size_t i = 0; aims != NULL && i < of.point_count; i++) {
            aims[i] = &of.points[i];
        }
        if (aims != NULL && settle_points(strands, aims, of.point_count)) {
            cut_strands(&of);
        }
        status = aims == NULL || strands->failed ? US_ERROR_MEMORY : US_OK;
        free(aims);
    }
    free(of.points);
    free(of.cuts);
    return status;
}

us_status usi_strands_part(usi_strands *strands)
{
    bool more = true;
    if (strands->failed || !settle_ends(strands)) {
        return US_ERROR_MEMORY;
    }
    us_status status = US_OK;
    for (int i = 0; i < MOST_ROUNDS && more && status == US_OK; i++) {
        status = part_once(strands, &more);
    }
    if (strands->count > 0) {
        qsort(strands->items, strands->count, sizeof *strands->items, by_ends);
    }
    return status;
}
