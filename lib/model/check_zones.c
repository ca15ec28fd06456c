/* Zones: polygons that do not cross themselves, of soils that there are. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/check.h"
#include "model/strand.h"

static const usi_raw_zone *raw_zone(const usi_check *check, size_t index)
{
    return (const usi_raw_zone *)check->raw->zones.items + index;
}

static bool find_soil(usi_check *check, const usi_raw_text *name, size_t *index)
{
    const us_section *section = check->section;
    if (name->text == NULL) {
        return false; /* was reported */
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        if (strcmp(section->soils[i].name, name->text) == 0) {
            *index = i;
            return true;
        }
    }
    usi_check_error(check, &name->at, "give the name of an entry of `soils`",
                    "there is no soil called %s", name->text);
    return false;
}

/* Drops points that stand twice in a row, round the corner included. */
static void drop_twins(usi_zone *zone)
{
    size_t kept = 0;
    for (size_t i = 0; i < zone->count; i++) {
        if (kept == 0 || usi_point_order(zone->outline[kept - 1], zone->outline[i]) != 0) {
            zone->outline[kept++] = zone->outline[i];
        }
    }
    while (kept > 1 && usi_point_order(zone->outline[kept - 1], zone->outline[0]) == 0) {
        kept--;
    }
    zone->count = kept;
}

static void box(usi_zone *zone)
{
    zone->low = zone->outline[0];
    zone->high = zone->outline[0];
    for (size_t i = 1; i < zone->count; i++) {
        usi_point at = zone->outline[i];
        zone->low = (usi_point){fmin(zone->low.x_m, at.x_m), fmin(zone->low.z_m, at.z_m)};
        zone->high = (usi_point){fmax(zone->high.x_m, at.x_m), fmax(zone->high.z_m, at.z_m)};
    }
}

double usi_zone_area(const usi_zone *zone)
{
    double twice_m2 = 0.0;
    usi_point home = zone->low;
    usi_point a = zone->outline[zone->count - 1];
    for (size_t i = 0; i < zone->count; i++) {
        usi_point b = zone->outline[i];
        twice_m2 +=
            (a.x_m - home.x_m) * (b.z_m - home.z_m) - (b.x_m - home.x_m) * (a.z_m - home.z_m);
        a = b;
    }
    return fabs(0.5 * twice_m2);
}

/* +1 or -1 by the side of the strand that a point lies on, 0 on it. */
static int side_of(const usi_strand *strand, usi_point at, double tolerance_m)
{
    double dx_m = strand->b.x_m - strand->a.x_m;
    double dz_m = strand->b.z_m - strand->a.z_m;
    double off_m =
        (dx_m * (at.z_m - strand->a.z_m) - dz_m * (at.x_m - strand->a.x_m)) / hypot(dx_m, dz_m);
    return (off_m > tolerance_m) - (off_m < -tolerance_m);
}

static bool crosses(const usi_strand *s, const usi_strand *t, double tolerance_m)
{
    return side_of(s, t->a, tolerance_m) * side_of(s, t->b, tolerance_m) < 0 &&
           side_of(t, s->a, tolerance_m) * side_of(t, s->b, tolerance_m) < 0;
}

static int by_start(const void *a, const void *b)
{
    const usi_strand *first = a;
    const usi_strand *second = b;
    return (first->a.x_m > second->a.x_m) - (first->a.x_m < second->a.x_m);
}

/* The first two pieces found that cross, by their numbers; false when none do. */
static bool find_crossing(usi_strands *pieces, int found[2])
{
    usi_strand *items = pieces->items;
    qsort(items, pieces->count, sizeof *items, by_start);
    for (size_t i = 0; i < pieces->count; i++) {
        double low_m = fmin(items[i].a.z_m, items[i].b.z_m);
        double high_m = fmax(items[i].a.z_m, items[i].b.z_m);
        for (size_t k = i + 1; k < pieces->count && items[k].a.x_m < items[i].b.x_m; k++) {
            bool apart = fmax(items[k].a.z_m, items[k].b.z_m) < low_m ||
                         fmin(items[k].a.z_m, items[k].b.z_m) > high_m;
            if (!apart && crosses(&items[i], &items[k], pieces->tolerance_m)) {
                found[0] = items[i].toggle < items[k].toggle ? items[i].toggle : items[k].toggle;
                found[1] = items[i].toggle < items[k].toggle ? items[k].toggle : items[i].toggle;
                return true;
            }
        }
    }
    return false;
}

/* True after reporting that the outline crosses itself. */
static bool report_crossing(usi_check *check, const usi_zone *zone, const usi_raw_zone *raw)
{
    usi_strands pieces = {.context = check->context, .tolerance_m = check->tolerance_m};
    int found[2] = {0, 0};
    for (size_t i = 0; i < zone->count; i++) {
        usi_strands_add(&pieces, zone->outline[i], zone->outline[i + 1 < zone->count ? i + 1 : 0],
                        (int)i, 0);
    }
    check->failed = check->failed || pieces.failed;
    bool crossed = pieces.count > 0 && !pieces.failed && find_crossing(&pieces, found);
    if (crossed) {
        usi_point a = zone->outline[found[0]];
        usi_point b = zone->outline[found[1]];
        usi_check_error(check, &raw->outline.at, "give the points in order around the zone",
                        "the outline crosses itself: the piece from [%s, %s] crosses the one "
                        "from [%s, %s]",
                        usi_words_length(check->section, a.x_m).text,
                        usi_words_length(check->section, a.z_m).text,
                        usi_words_length(check->section, b.x_m).text,
                        usi_words_length(check->section, b.z_m).text);
    }
    usi_strands_clear(&pieces);
    return crossed;
}

static bool check_outline(usi_check *check, usi_zone *zone, const usi_raw_zone *raw)
{
    if (!raw->outline.given || check->failed) {
        return false;
    }
    drop_twins(zone);
    box(zone);
    if (zone->count < 3) {
        usi_check_error(check, &raw->outline.at, "give its corners in order",
                        "an outline needs at least three points apart from each other");
        return false;
    }
    if (report_crossing(check, zone, raw)) {
        return false;
    }
    double size_m = fmax(zone->high.x_m - zone->low.x_m, zone->high.z_m - zone->low.z_m);
    if (usi_zone_area(zone) <= check->tolerance_m * size_m) {
        usi_check_error(check, &raw->outline.at, "give its corners in order",
                        "the outline encloses no area");
        return false;
    }
    return true;
}

void usi_check_zones(usi_check *check)
{
    us_section *section = check->section;
    check->zoned = check->raw->zones.given || check->raw->zones.at.line == 0;
    for (size_t i = 0; i < section->zone_count; i++) {
        const usi_raw_zone *raw = raw_zone(check, i);
        bool known = find_soil(check, &raw->soil, &section->zones[i].soil);
        bool sound = check_outline(check, &section->zones[i], raw);
        check->zoned = check->zoned && known && sound;
    }
}
