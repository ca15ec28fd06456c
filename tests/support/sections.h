/* Sections made from a few sizes, to crowd pictures in every way. */
#ifndef TESTS_SECTIONS_H
#define TESTS_SECTIONS_H

#include "support/support.h"

typedef struct make {
    const char *name;
    double apron_m; /* 0: a bare wall */
    double soil_m;  /* below the bed; 0: without limit */
    double wall_m;  /* embedment of the walls */
    double side_m;  /* distance of closed sides; 0: endless */
    int walls;
    int soils;
    int piezometers;
    size_t name_bytes;
    bool slot;
    bool left;
    bool dry;
    bool us;
    bool no_top;
} make;

static const make makes[] = {
    {.name = "deep", .apron_m = 2, .soil_m = 60, .wall_m = 2, .walls = 2, .soils = 1},
    {.name = "deep, many soils", .apron_m = 2, .soil_m = 60, .wall_m = 2, .walls = 1, .soils = 9},
    {.name = "shallow", .apron_m = 12, .soil_m = 0.5, .wall_m = 0.3, .walls = 2, .soils = 1},
    {.name = "shallow, crowded",
     .apron_m = 6,
     .soil_m = 0.5,
     .wall_m = 0.3,
     .walls = 5,
     .soils = 2,
     .piezometers = 6},
    {.name = "wide", .apron_m = 200, .soil_m = 12, .wall_m = 1, .walls = 2, .soils = 2},
    {.name = "wide and thin",
     .apron_m = 200,
     .soil_m = 2,
     .wall_m = 1,
     .walls = 3,
     .soils = 1,
     .piezometers = 9},
    {.name = "flume",
     .apron_m = 0.3,
     .soil_m = 0.9,
     .wall_m = 0.4,
     .side_m = 0.15,
     .walls = 2,
     .soils = 2,
     .piezometers = 3},
    {.name = "narrow flume",
     .apron_m = 0.05,
     .soil_m = 1.5,
     .wall_m = 0.8,
     .side_m = 0.1,
     .walls = 1,
     .soils = 4,
     .piezometers = 2},
    {.name = "64 walls", .apron_m = 40, .soil_m = 10, .wall_m = 3, .walls = 64, .soils = 2},
    {.name = "30 soils", .apron_m = 10, .soil_m = 9, .wall_m = 4, .walls = 2, .soils = 30},
    {.name = "40 piezometers",
     .apron_m = 10,
     .soil_m = 9,
     .wall_m = 4,
     .walls = 2,
     .soils = 2,
     .piezometers = 40},
    {.name = "names of 120 bytes",
     .apron_m = 10,
     .soil_m = 9,
     .wall_m = 4,
     .walls = 4,
     .soils = 4,
     .piezometers = 6,
     .name_bytes = 120},
    {.name = "everything long and many",
     .apron_m = 10,
     .soil_m = 9,
     .wall_m = 4,
     .walls = 64,
     .soils = 30,
     .piezometers = 40,
     .name_bytes = 72},
    {.name = "slot", .apron_m = 6, .soil_m = 10, .wall_m = 3, .walls = 2, .soils = 2, .slot = true},
    {.name = "left",
     .apron_m = 14,
     .soil_m = 9,
     .wall_m = 3,
     .walls = 3,
     .soils = 3,
     .piezometers = 4,
     .left = true},
    {.name = "left, dry, feet",
     .apron_m = 14,
     .soil_m = 9,
     .wall_m = 3,
     .walls = 2,
     .soils = 2,
     .left = true,
     .dry = true,
     .us = true},
    {.name = "dry", .apron_m = 14, .soil_m = 9, .wall_m = 3, .walls = 2, .soils = 2, .dry = true},
    {.name = "bare wall", .soil_m = 9, .wall_m = 5, .walls = 1, .soils = 3, .piezometers = 3},
    {.name = "no base", .apron_m = 8, .wall_m = 3, .walls = 2, .soils = 3, .piezometers = 2},
    {.name = "no top",
     .apron_m = 8,
     .soil_m = 7,
     .wall_m = 3,
     .walls = 2,
     .soils = 2,
     .no_top = true},
};
enum { MAKES = sizeof makes / sizeof makes[0] };

static inline int draw_number(uint32_t *seed, int below)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (int)((*seed >> 8) % (uint32_t)below);
}

static inline make make_random(uint32_t *seed)
{
    static const double aprons_m[] = {0, 0.5, 2, 8, 14, 40, 200};
    static const double soils_m[] = {0, 1, 3, 9, 25, 80};
    static const int counts[] = {1, 2, 3, 5, 9, 20};
    make one = {.name = "random",
                .apron_m = aprons_m[draw_number(seed, 7)],
                .soil_m = soils_m[draw_number(seed, 6)],
                .soils = counts[draw_number(seed, 5)],
                .piezometers = draw_number(seed, 3) * draw_number(seed, 12),
                .name_bytes = (size_t)draw_number(seed, 2) * (size_t)draw_number(seed, 120),
                .left = draw_number(seed, 2) == 0,
                .dry = draw_number(seed, 3) == 0,
                .us = draw_number(seed, 3) == 0,
                .no_top = draw_number(seed, 3) == 0};
    double depth_m = one.soil_m > 0 ? one.soil_m : 10;
    one.walls = one.apron_m > 0 ? counts[draw_number(seed, 6)] : 1;
    one.wall_m = fmax(0.4, depth_m * (0.1 + 0.1 * draw_number(seed, 6)));
    one.side_m = draw_number(seed, 4) == 0 ? 1 + draw_number(seed, 10) : 0;
    return one;
}

typedef struct script {
    char text[64000];
    size_t used;
} script;

static inline void put(script *to, const char *format, ...) __attribute__((format(printf, 2, 3)));

static inline void put(script *to, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(to->text + to->used, sizeof to->text - to->used, format, arguments);
    va_end(arguments);
    assert_true(written > 0 && to->used + (size_t)written < sizeof to->text);
    to->used += (size_t)written;
}

/* A name of its own for every thing, filled up to the length asked for. */
static inline void put_name(script *to, const make *from, const char *kind, int number)
{
    char name[160] = "";
    (void)snprintf(name, sizeof name, "%s %d", kind, number);
    for (size_t used = strlen(name); used + 6 <= from->name_bytes; used += 6) {
        memcpy(name + used, used % 5 == 0 ? " words" : "_words", 7);
    }
    put(to, "name: \"%s\"", name);
}

static inline void put_works(script *to, const make *from)
{
    double span_m = from->apron_m;
    if (span_m > 0) {
        put(to, "structure:\n  underside: [[0, 99.8], [%g, 99.8]]\n", span_m);
        if (!from->no_top) {
            put(to, "  top: [[0, 100.5], [%g, 100.5]]\n", span_m);
        }
    }
    put(to, "walls:\n");
    double top_m = span_m > 0 ? 99.9 : 100 + 0.4 * from->wall_m;
    for (int i = 0; i < from->walls; i++) {
        double x_m = from->walls > 1 ? span_m * i / (from->walls - 1) : 0;
        put(to, "  - {");
        put_name(to, from, "wall", i + 1);
        put(to, ", x: %.6g, top: %g, tip: %.6g}\n", x_m, top_m,
            100 - from->wall_m * (1 - 0.1 * (i % 4)));
    }
    if (from->slot) {
        put(to, "  - {name: second, x: 0, top: 96.6, tip: 95}\n");
        put(to, "  - {name: third, x: 0, top: 94.8, tip: 93}\n");
    }
}

static inline void put_ground(script *to, const make *from)
{
    put(to, "soils:\n");
    for (int i = 0; i < from->soils; i++) {
        put(to, "  - {");
        put_name(to, from, "soil", i + 1);
        if (i > 0) {
            double depth_m = from->soil_m > 0 ? from->soil_m : 8;
            put(to, ", top: %.6g", 99.7 - (depth_m - 0.3) * i / from->soils);
        }
        put(to, ", kh: %d, kv: %d, unit_weight: 20 kN/m^3}\n", 4 + 3 * (i % 3), 2 + 2 * (i % 2));
    }
    if (from->piezometers > 0) {
        put(to, "piezometers:\n");
    }
    for (int i = 0; i < from->piezometers; i++) {
        double depth_m = from->soil_m > 0 ? from->soil_m : 8;
        put(to, "  - {");
        put_name(to, from, "P", i + 1);
        put(to, ", at: [%.6g, %.6g]}\n", from->apron_m * ((i % 10) + 0.4) / 10 + 1e-3,
            99.75 - 0.4 * depth_m * (i / 10 + 0.5) / 4);
    }
}

static inline void write_section(script *to, const make *from)
{
    double deep_m = from->wall_m;
    to->used = 0;
    put(to, "title: \"%s\"\n", from->name);
    put(to, "units: %s\n",
        from->us ? "us" : "{length: m, conductivity: m/day, unit_weight: kN/m^3}");
    put(to, "flow_toward: %s\n", from->left ? "left" : "right");
    put(to, "bed: {upstream: 100, downstream: 100}\n");
    if (from->soil_m > 0) {
        put(to, "base: %g\n", 100 - from->soil_m);
    } else {
        put(to, "base: none\n");
    }
    put_works(to, from);
    put_ground(to, from);
    if (from->side_m > 0) {
        put(to, "sides: {left: {x: %g, kind: closed}, right: {x: %g, kind: closed}}\n",
            -from->side_m, from->apron_m + from->side_m);
    }
    put(to, "water: [{name: flood, upstream: %g, downstream: ", 100.6 + 0.3 * deep_m);
    put(to, from->dry ? "at_bed}]\n" : "%g}]\n", 100.2 + 0.1 * deep_m);
}

#endif
