/* The section that lattice.c makes, as text. */
#include "physics/random/ground.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "physics/random/lattice.h"

static void put(ground *g, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void put(ground *g, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(g->text + g->used, GROUND_ROOM - g->used, format, arguments);
    va_end(arguments);
    g->used += written > 0 ? (size_t)written : 0;
    if (g->used >= GROUND_ROOM) {
        g->used = GROUND_ROOM - 1;
    }
}

static double level(const ground *g, long steps)
{
    return g->level_offset + (double)steps * g->step;
}

static double place_x(const ground *g, double steps)
{
    return g->x_offset + (g->mirrored ? -steps : steps) * g->step;
}

/* A line with its steps; `from` to `to` for one that has ends. */
static void put_line(ground *g, const line *of, bool ends, long to)
{
    long x[2 * STEP_CAP + 2];
    long z[2 * STEP_CAP + 2];
    int count = 0;
    if (ends || of->count == 0) {
        x[count] = 0;
        z[count++] = of->level[0];
    }
    for (int i = 0; i < of->count; i++) {
        x[count] = of->x[i];
        z[count++] = of->level[i];
        x[count] = of->x[i];
        z[count++] = of->level[i + 1];
    }
    if (ends) {
        x[count] = to;
        z[count++] = of->level[of->count];
    }
    if (count == 1) {
        put(g, "%.10g", level(g, z[0]));
        return;
    }
    for (int i = 0; i < count; i++) {
        int k = g->mirrored ? count - 1 - i : i;
        put(g, "%s[%.10g, %.10g]%s", i == 0 ? "[" : ", ", place_x(g, (double)x[k]), level(g, z[k]),
            i == count - 1 ? "]" : "");
    }
}

static void put_units(ground *g)
{
    static const char *const units[] = {"us", "{length: cm}", "{length: m, conductivity: cm/s}",
                                        "{length: ft, conductivity: m/day}"};
    int kind = (int)lattice_pick(g, 0, 9);
    if (kind < 4) {
        put(g, "units: %s\n", units[kind]);
    }
    double unit_m = kind == 0 || kind == 3 ? 0.3048 : kind == 1 ? 0.01 : 1.0;
    double size_m = pow(10.0, lattice_real(g, -1.0, 1.0));
    char rounded[40]; /* few digits, so that the text stays short */
    (void)snprintf(rounded, sizeof rounded, "%.3g", size_m / unit_m / (double)g->grain);
    (void)sscanf(rounded, "%lf", &g->step);
    g->level_offset = lattice_chance(g, 50) ? 0.0 : (double)lattice_pick(g, -20, 3000);
    g->x_offset = lattice_chance(g, 70) ? 0.0 : (double)lattice_pick(g, 0, 30000);
    g->mirrored = lattice_chance(g, 50);
    put(g, "%s", g->mirrored ? "flow_toward: left\n" : "");
}

/* A level within the part of a wall that has soil on both sides. */
static double level_within(ground *g, const wall *w, double share)
{
    double roof = (double)lattice_least(w->top, lattice_place(g, w->x).low);
    double z = (double)w->tip + share * (roof - (double)w->tip);
    return g->level_offset + g->step * z;
}

static void put_opening(ground *g, const wall *w, double middle)
{
    double reach = level_within(g, w, 1.0) - level_within(g, w, 0.0);
    double half = 0.2 * pow(10.0, lattice_real(g, -4.0, -0.3));
    if (lattice_chance(g, 50)) {
        put(g, "{slot_from: %.10g, slot_to: %.10g}", level_within(g, w, middle - half),
            level_within(g, w, middle + half));
    } else {
        half = fmax(half, 1e-3);
        put(g, "{hole: %.6g, level: %.10g, spacing: %.6g}", 2.0 * half * reach,
            level_within(g, w, middle), 2.0 * half * reach * lattice_real(g, 2.0, 30.0));
    }
}

/* What lets water through a wall: now and then each. */
static void put_passages(ground *g, const wall *w)
{
    if (lattice_chance(g, 50)) {
        put(g, ", interlock: {inverse_resistance: %.3e m/s, spacing: 0.6 m}",
            pow(10.0, lattice_real(g, -11.0, -4.0)));
    }
    bool inner = g->structure && w->x > 0 && w->x < g->length && w->top - w->tip > 2;
    if (inner && lattice_chance(g, 30)) {
        double gap = pow(10.0, lattice_real(g, -3.0, -0.3));
        put(g, ", cap_gap: %.6g, cap_fill: %s", gap * g->step,
            lattice_chance(g, 50) ? "open" : "soil");
    } else if (lattice_chance(g, 50)) {
        put(g, ", openings: [");
        put_opening(g, w, 0.3);
        if (lattice_chance(g, 40)) {
            put(g, ", ");
            put_opening(g, w, 0.75);
        }
        put(g, "]");
    }
}

static void put_geometry(ground *g)
{
    put(g, "bed:\n  upstream: ");
    put_line(g, &g->upstream, false, 0);
    put(g, "\n  downstream: ");
    put_line(g, &g->downstream, false, 0);
    put(g, "\nbase: ");
    if (g->base) {
        put_line(g, &g->bottom, false, 0);
    } else {
        put(g, "none");
    }
    put(g, "\n");
    if (g->structure) {
        put(g, "structure:\n  underside: ");
        put_line(g, &g->underside, true, g->length);
        if (lattice_chance(g, 50)) {
            put(g, "\n  top: %.10g\n  unit_weight: 24 kN/m^3",
                level(g, g->highest + lattice_size(g, 0, 3)));
        }
        put(g, "\n");
    }
    put(g, g->walls > 0 ? "walls:\n" : "");
    for (int i = 0; i < g->walls; i++) {
        const wall *w = &g->wall[i];
        put(g, "  - {x: %.10g, top: %.10g, tip: %.10g%s", place_x(g, (double)w->x),
            level(g, w->top), level(g, w->tip), w->keyed ? ", keyed: true" : "");
        if (g->leaks) {
            put_passages(g, w);
        }
        put(g, "}\n");
    }
}

static void put_side(ground *g, side kind, const char *name, long x)
{
    if (kind != SIDE_NONE) {
        put(g, "  %s: {x: %.10g, kind: %s}\n", name, place_x(g, (double)x),
            kind == SIDE_CLOSED ? "closed" : "fixed_head");
    }
}

static void put_sides(ground *g)
{
    if (g->left != SIDE_NONE || g->right != SIDE_NONE) {
        put(g, "sides:\n");
        put_side(g, g->left, g->mirrored ? "right" : "left", g->left_x);
        put_side(g, g->right, g->mirrored ? "left" : "right", g->right_x);
    }
}

/* What engineers know: contrasts up to a million. */
static void put_conductivity(ground *g, bool tested, double middle_m_s)
{
    static const char *const classes[] = {"clean_sand", "silty_sand", "silt"};
    if (tested) {
        put(g, "kh: %.3e m/s", middle_m_s * pow(10.0, lattice_real(g, -3.0, 3.0)));
    } else if (lattice_chance(g, 40)) {
        put(g, "class: %s", classes[lattice_pick(g, 0, 2)]);
    } else if (lattice_chance(g, 50)) {
        put(g, "k_from: {d10: %.3f mm}", lattice_real(g, 0.1, 3.0));
    } else {
        put(g, "k_from: {d10: %.3f mm, porosity: %.2f}", lattice_real(g, 0.01, 1.0),
            lattice_real(g, 0.25, 0.5));
    }
    if (lattice_chance(g, 50)) {
        put(g, ", anisotropy: %.3g", pow(10.0, lattice_real(g, -0.5, 2.0)));
    }
}

static void put_soils(ground *g)
{
    bool tested = lattice_chance(g, 70);
    bool weighs = lattice_chance(g, 70);
    double middle_m_s = pow(10.0, lattice_real(g, -9.0, -3.0));
    long top = g->highest;
    long depth = g->base ? g->highest - g->bottom.level[0] : 30 * g->grain;
    put(g, "soils:\n");
    for (long i = lattice_pick(g, 1, 3), first = i; i > 0; i--) {
        put(g, "  - {");
        if (i < first) {
            top -= lattice_pick(g, 1, lattice_most(1, depth / 2));
            put(g, "top: %.10g, ", level(g, top));
        }
        put_conductivity(g, tested, middle_m_s);
        put(g, "%s}\n", weighs ? ", unit_weight: 19.5 kN/m^3" : "");
    }
    put(g, "%s", weighs && lattice_chance(g, 40) ? "require: {piping: 3}\n" : "");
}

/* Between two lattice lines, so never on a wall or a step. */
static void put_piezometers(ground *g)
{
    long from = g->left == SIDE_NONE ? -10 * g->grain : g->left_x;
    long to = g->right == SIDE_NONE ? g->length + 10 * g->grain : g->right_x;
    long count = lattice_pick(g, 0, 3);
    put(g, count > 0 ? "piezometers:\n" : "");
    for (; count > 0; count--) {
        long x = lattice_pick(g, from, to - 1);
        place a = lattice_place(g, x);
        place b = lattice_place(g, x + 1);
        long high = lattice_least(a.low, b.low);
        long low = g->base ? lattice_most(a.bottom, b.bottom) : high - 20 * g->grain;
        put(g, "  - {at: [%.10g, %.10g]}\n", place_x(g, (double)x + 0.5),
            level(g, lattice_pick(g, low, high)));
    }
}

static long highest_of(const line *of)
{
    long found = of->level[0];
    for (int i = 1; i <= of->count; i++) {
        found = lattice_most(found, of->level[i]);
    }
    return found;
}

static void put_waters(ground *g)
{
    bool dry = g->downstream.count == 0 && g->right != SIDE_AT_END;
    long down_bed = highest_of(&g->downstream);
    long up_bed = lattice_most(highest_of(&g->upstream), down_bed);
    put(g, "water:\n");
    for (long count = lattice_pick(g, 1, 3); count > 0; count--) {
        long up = up_bed + lattice_size(g, 0, 8);
        long down = lattice_chance(g, 5) ? up : lattice_pick(g, down_bed, up);
        if (dry && lattice_chance(g, 40)) {
            put(g, "  - {upstream: %.10g, downstream: at_bed}\n", level(g, up));
        } else {
            put(g, "  - {upstream: %.10g, downstream: %.10g}\n", level(g, up), level(g, down));
        }
    }
}

void ground_write(uint64_t seed, uint64_t index, bool leaks, char *text)
{
    ground made = {.text = text, .leaks = leaks};
    ground *g = &made;
    lattice_make(g, seed, index);
    text[0] = '\0';
    put_units(g);
    put_geometry(g);
    put_sides(g);
    put_soils(g);
    put_piezometers(g);
    put_waters(g);
}
