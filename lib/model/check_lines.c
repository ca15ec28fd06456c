/* Lines: coordinates that coincide, and what shapes are read. */
#include <stdlib.h>

#include "base/memory.h"
#include "model/check.h"

/* Pointers to all the coordinates of one direction. */
typedef struct bag {
    double **values;
    size_t count;
} bag;

static void add(bag *to, double *value)
{
    to->values[to->count++] = value;
}

static void add_line(bag *xs, bag *zs, usi_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        add(xs, &line->points[i].x_m);
        add(zs, &line->points[i].z_m);
    }
}

static size_t coordinate_count(const us_section *section)
{
    size_t count = section->left_bed.count + section->right_bed.count + section->base.count +
                   section->underside.count + section->structure_top.count +
                   2 * section->wall_count + section->soil_count + section->piezometer_count + 4 +
                   2 * section->drain_count + 2 * section->permeable_count +
                   2 * section->void_count + section->joint_count;
    for (size_t i = 0; i < section->soil_count; i++) {
        count += section->soils[i].top.count;
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        count += 2 * section->walls[i].opening_count;
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        count += section->zones[i].count;
    }
    for (size_t i = 0; i < section->water_count; i++) {
        count += 2 * section->waters[i].seal_count;
    }
    return count;
}

static void add_stretches(bag *xs, usi_stretch *stretches, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        add(xs, &stretches[i].from_m);
        add(xs, &stretches[i].to_m);
    }
}

static void gather_edges(us_section *section, bag *xs, bag *zs)
{
    for (size_t i = 0; i < section->drain_count; i++) {
        add(xs, &section->drains[i].from.x_m);
        add(xs, &section->drains[i].to.x_m);
        add(zs, &section->drains[i].from.z_m);
        add(zs, &section->drains[i].to.z_m);
    }
    for (size_t i = 0; i < section->joint_count; i++) {
        add(xs, &section->joints_m[i]);
    }
    add_stretches(xs, section->permeable, section->permeable_count);
    add_stretches(xs, section->voids, section->void_count);
    for (size_t i = 0; i < section->water_count; i++) {
        add_stretches(xs, section->waters[i].seals, section->waters[i].seal_count);
    }
}

static void gather(us_section *section, bag *xs, bag *zs)
{
    usi_line *lines[] = {&section->left_bed, &section->right_bed, &section->base,
                         &section->underside, &section->structure_top};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        add_line(xs, zs, lines[i]);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        add(xs, &section->walls[i].x_m);
        add(zs, &section->walls[i].top_m);
        add(zs, &section->walls[i].tip_m);
        for (size_t k = 0; k < section->walls[i].opening_count; k++) {
            add(zs, &section->walls[i].openings[k].low_m);
            add(zs, &section->walls[i].openings[k].high_m);
        }
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        add_line(xs, zs, &section->soils[i].top);
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        usi_line outline = {section->zones[i].count, section->zones[i].outline};
        add_line(xs, zs, &outline);
    }
    for (size_t i = 0; i < section->piezometer_count; i++) {
        add(xs, &section->piezometers[i].at.x_m);
        add(zs, &section->piezometers[i].at.z_m);
    }
    gather_edges(section, xs, zs);
    add(xs, &section->left.x_m);
    add(xs, &section->right.x_m);
    add(xs, &section->left_end_m);
    add(xs, &section->right_end_m);
}

static int by_value(const void *a, const void *b)
{
    double first = **(double *const *)a;
    double second = **(double *const *)b;
    return (first > second) - (first < second);
}

static void snap(bag *of, double tolerance_m)
{
    qsort(of->values, of->count, sizeof *of->values, by_value);
    double anchor = of->count > 0 ? *of->values[0] : 0.0;
    for (size_t i = 1; i < of->count; i++) {
        if (*of->values[i] - anchor <= tolerance_m) {
            *of->values[i] = anchor;
        } else {
            anchor = *of->values[i];
        }
    }
}

void usi_check_snap(usi_check *check)
{
    size_t room = coordinate_count(check->section);
    bag xs = {usi_memory_array(check->context, room, sizeof(double *)), 0};
    bag zs = {usi_memory_array(check->context, room, sizeof(double *)), 0};
    if (xs.values == NULL || zs.values == NULL) {
        check->failed = true;
    } else {
        check->tolerance_m = usi_section_tolerance(check->section);
        gather(check->section, &xs, &zs);
        snap(&xs, check->tolerance_m);
        snap(&zs, check->tolerance_m);
    }
    free(xs.values);
    free(zs.values);
}

bool usi_check_line(usi_check *check, const usi_raw_line *raw, const usi_line *line)
{
    for (size_t i = 1; i < line->count; i++) {
        const usi_point *a = &line->points[i - 1];
        const usi_point *b = &line->points[i];
        const usi_mark *mark = &raw->points[i].mark;
        if (b->x_m < a->x_m) {
            usi_check_error(check, mark, "give the points by growing x",
                            "the line goes back from x = %s to x = %s and would cross itself",
                            usi_words_length(check->section, a->x_m).text,
                            usi_words_length(check->section, b->x_m).text);
            return false;
        }
        bool goes_on = i > 1 && line->points[i - 2].x_m == b->x_m && a->x_m == b->x_m;
        if (goes_on && (a->z_m - line->points[i - 2].z_m) * (b->z_m - a->z_m) < 0.0) {
            usi_check_error(check, mark, "give each vertical step by its two ends",
                            "the line turns back on itself");
            return false;
        }
    }
    return true;
}

static bool check_underside(usi_check *check)
{
    const usi_raw_structure *raw = &check->raw->structure;
    const usi_line *underside = &check->section->underside;
    if (!raw->underside.given || !usi_check_line(check, &raw->underside, underside)) {
        return false;
    }
    if (underside->points[0].x_m == underside->points[underside->count - 1].x_m) {
        usi_check_error(check, &raw->underside.at, "leave `structure` out for a bare wall",
                        "the underside has no length: its points have one x");
        return false;
    }
    return true;
}

void usi_check_lines(usi_check *check)
{
    const usi_raw_section *raw = check->raw;
    us_section *section = check->section;
    const usi_raw_line *left = section->flows_left ? &raw->bed.downstream : &raw->bed.upstream;
    const usi_raw_line *right = section->flows_left ? &raw->bed.upstream : &raw->bed.downstream;
    bool sound = left->given && usi_check_line(check, left, &section->left_bed);
    sound = right->given && usi_check_line(check, right, &section->right_bed) && sound;
    sound =
        raw->base.level.given && usi_check_line(check, &raw->base.level, &section->base) && sound;
    if (section->has_structure) {
        sound = check_underside(check) && sound;
        bool top = raw->structure.top.at.line == 0 ||
                   (raw->structure.top.given &&
                    usi_check_line(check, &raw->structure.top, &section->structure_top));
        sound = top && sound;
    }
    check->shaped = sound;
    check->layered = true;
    for (size_t i = 1; i < section->soil_count; i++) {
        const usi_raw_soil *soil = (const usi_raw_soil *)raw->soils.items + i;
        check->layered =
            usi_check_line(check, &soil->top, &section->soils[i].top) && check->layered;
    }
}

enum { MOST_OWN_BEDS = 64 }; /* each is a section to judge and to solve by itself */

/* One bed of a water case; its points as they were typed. */
static void check_own_bed(usi_check *check, const usi_raw_line *raw)
{
    if (!raw->given) {
        return;
    }
    usi_line line = {0, usi_memory_array(check->context, raw->count, sizeof *line.points)};
    check->failed = check->failed || line.points == NULL;
    for (size_t i = 0; i < raw->count && line.points != NULL; i++) {
        line.points[line.count++] = raw->points[i].at;
    }
    (void)usi_check_line(check, raw, &line);
    free(line.points);
}

void usi_check_own_beds(usi_check *check)
{
    const usi_raw_water *waters = check->raw->waters.items;
    size_t own = 0;
    for (size_t i = 0; i < check->raw->waters.count; i++) {
        const usi_raw_bed *beds = &waters[i].beds;
        own += beds->at.line > 0;
        if (beds->at.line > 0 && own == MOST_OWN_BEDS + 1) {
            usi_check_error(check, &beds->at, "part the section file in two",
                            "at most %d water cases may have beds of their own", MOST_OWN_BEDS);
        }
        check_own_bed(check, &beds->upstream);
        check_own_bed(check, &beds->downstream);
    }
}
