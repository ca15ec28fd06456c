#include "quantity/soils_along.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Shares of a line where the soil may change. */
typedef struct cuts {
    us_context *context;
    const usi_course_line *line;
    size_t count;
    size_t room;
    double *shares;
    bool failed;
} cuts;

static void add(cuts *of, double share)
{
    if (of->failed || !(share > 0.0 && share < 1.0)) {
        return;
    }
    if (of->count == of->room) {
        enum { FIRST = 16 };
        size_t room = of->room > 0 ? 2 * of->room : FIRST;
        double *grown = usi_memory_resize(of->context, of->shares, room, sizeof *grown);
        if (grown == NULL) {
            of->failed = true;
            return;
        }
        of->shares = grown;
        of->room = room;
    }
    of->shares[of->count++] = share;
}

/* Where the line passes the x of a point. */
static void add_x(cuts *of, double x_m)
{
    const usi_course_line *line = of->line;
    if (line->a.x_m != line->b.x_m) {
        add(of, (x_m - line->a.x_m) / (line->b.x_m - line->a.x_m));
    }
}

static double across(usi_point a, usi_point b, usi_point at)
{
    return (b.x_m - a.x_m) * (at.z_m - a.z_m) - (b.z_m - a.z_m) * (at.x_m - a.x_m);
}

/* Where the line passes the piece from p to q. */
static void add_crossing(cuts *of, usi_point p, usi_point q)
{
    const usi_course_line *line = of->line;
    if (fmax(p.x_m, q.x_m) < fmin(line->a.x_m, line->b.x_m) ||
        fmin(p.x_m, q.x_m) > fmax(line->a.x_m, line->b.x_m)) {
        return;
    }
    double from = across(p, q, line->a);
    double to = across(p, q, line->b);
    double low = across(line->a, line->b, p);
    double high = across(line->a, line->b, q);
    if (from != to && low * high <= 0.0) {
        add(of, from / (from - to));
    }
    if (line->a.x_m == line->b.x_m && p.x_m == line->a.x_m && q.x_m == p.x_m) {
        double height_m = line->b.z_m - line->a.z_m;
        add(of, (p.z_m - line->a.z_m) / height_m);
        add(of, (q.z_m - line->a.z_m) / height_m);
    }
    add_x(of, p.x_m);
    add_x(of, q.x_m);
}

static void add_level(cuts *of, const usi_line *top)
{
    const usi_course_line *line = of->line;
    double reach_m = fabs(line->a.x_m) + fabs(line->b.x_m) + 1.0;
    usi_point first = top->points[0];
    usi_point last = top->points[top->count - 1];
    add_crossing(of, (usi_point){fmin(first.x_m, -reach_m), first.z_m}, first);
    for (size_t i = 1; i < top->count; i++) {
        add_crossing(of, top->points[i - 1], top->points[i]);
    }
    add_crossing(of, last, (usi_point){fmax(last.x_m, reach_m), last.z_m});
}

static int by_size(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;
    return (first > second) - (first < second);
}

static usi_soil_run run_of(const us_section *section, const usi_course_line *line, double from,
                           double to)
{
    double length_m = hypot(line->b.x_m - line->a.x_m, line->b.z_m - line->a.z_m);
    double middle = 0.5 * (from + to);
    usi_point at = {line->a.x_m + middle * (line->b.x_m - line->a.x_m),
                    line->a.z_m + middle * (line->b.z_m - line->a.z_m)};
    return (usi_soil_run){from * length_m, to * length_m,
                          usi_section_soil_at(section, at, line->right, line->above)};
}

us_status usi_soils_along(us_context *context, const us_section *section,
                          const usi_course_line *line, usi_soil_runs *runs)
{
    *runs = (usi_soil_runs){0, NULL};
    cuts of = {.context = context, .line = line};
    bool length = line->a.x_m != line->b.x_m || line->a.z_m != line->b.z_m;
    for (size_t i = 1; length && i < section->soil_count; i++) {
        if (section->soils[i].top.count > 0) {
            add_level(&of, &section->soils[i].top);
        }
    }
    for (size_t i = 0; length && i < section->zone_count; i++) {
        const usi_zone *zone = &section->zones[i];
        for (size_t k = 0; k < zone->count; k++) {
            add_crossing(&of, zone->outline[k], zone->outline[(k + 1) % zone->count]);
        }
    }
    runs->items = of.failed ? NULL : usi_memory_array(context, of.count + 1, sizeof *runs->items);
    if (runs->items != NULL) {
        if (of.count > 1) {
            qsort(of.shares, of.count, sizeof *of.shares, by_size);
        }
        double from = 0.0;
        for (size_t i = 0; i <= of.count; i++) {
            double to = i < of.count ? of.shares[i] : 1.0;
            usi_soil_run run = run_of(section, line, from, to);
            bool same = runs->count > 0 && runs->items[runs->count - 1].soil == run.soil;
            if (same) {
                runs->items[runs->count - 1].to_m = run.to_m;
            } else if (to > from) {
                runs->items[runs->count++] = run;
            }
            from = to;
        }
    }
    free(of.shares);
    return runs->items != NULL ? US_OK : US_ERROR_MEMORY;
}

void usi_soil_runs_clear(usi_soil_runs *runs)
{
    free(runs->items);
    *runs = (usi_soil_runs){0, NULL};
}
