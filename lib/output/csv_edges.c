/* Rows of drains, stretches of the underside, dry bed and the base. */
#include <stdio.h>

#include "base/number.h"
#include "base/units.h"
#include "output/csv_rows.h"

typedef usi_csv_row row;

void usi_csv_flood(const usi_csv *to, const us_water_result *water)
{
    const usi_unit *unit = usi_unit_of_discharge(to->solution->section->units.length);
    if (water->discharge_m3_s.present) {
        usi_csv_add(to, (row){.quantity = "discharge", .unit = unit->name}, water->discharge_m3_s,
                    unit->factor);
    }
    if (water->return_period_years.present) {
        usi_csv_add(to, (row){.quantity = "return_period", .unit = "years"},
                    water->return_period_years, 1.0);
    }
    if (water->undermined != NULL) {
        usi_csv_add(to, (row){.quantity = "undermined", .note = water->undermined}, (us_value){0},
                    1.0);
    }
}

static void add_drain(const usi_csv *to, const us_drain_result *drain, bool certified)
{
    const char *name = drain->name;
    const char *unit = to->scale->flow;
    double size = to->scale->flow_m2_s;
    const char *kind = certified ? "bound" : "estimate";
    const char *note = drain->feeds ? "feeds water into the soil" : NULL;
    if (!drain->flow_m2_s.present) {
        note = drain->open ? "unbounded" : "shut";
    }
    usi_csv_add(to, (row){"drain.flow", name, unit, note}, drain->flow_m2_s, size);
    if (!drain->open) {
        return;
    }
    if (drain->flow_m2_s.present) {
        usi_csv_add(to, (row){"drain.lower", name, unit, kind}, usi_csv_exact(drain->lower_m2_s),
                    size);
        usi_csv_add(to, (row){"drain.upper", name, unit, kind}, usi_csv_exact(drain->upper_m2_s),
                    size);
    }
    if (drain->total_m3_s.present) {
        usi_csv_add(to, (row){"drain.total", name, to->scale->total, NULL}, drain->total_m3_s,
                    to->scale->total_m3_s);
    }
    usi_csv_add(to, (row){"drain.head", name, to->scale->length, NULL},
                usi_csv_exact(drain->head_m), to->scale->length_m);
    usi_csv_add(to, (row){"drain.face_head", name, to->scale->length, NULL}, drain->face_m,
                to->scale->length_m);
}

static void add_stretch(const usi_csv *to, const us_stretch_result *stretch)
{
    char from[USI_NUMBER_ROOM];
    char until[USI_NUMBER_ROOM];
    char place[2 * USI_NUMBER_ROOM + 64];
    enum { DIGITS = 9 };
    bool lost = stretch->kind == US_STRETCH_CONTACT_LOST;
    double unit = to->scale->length_m;
    (void)snprintf(place, sizeof place, "%s from x = %s to %s %s",
                   lost ? "contact_lost" : "permeable",
                   usi_number_write(from, stretch->from_m / unit, DIGITS),
                   usi_number_write(until, stretch->to_m / unit, DIGITS), to->scale->length);
    if (!lost) {
        const char *note = stretch->flow_m2_s.present ? NULL : "unbounded";
        usi_csv_add(to, (row){"stretch.flow", place, to->scale->flow, note}, stretch->flow_m2_s,
                    to->scale->flow_m2_s);
    }
    usi_csv_add(to, (row){"stretch.head", place, to->scale->length, NULL}, stretch->head_m, unit);
}

static void add_dry(const usi_csv *to, const us_dry_result *dry)
{
    double length = to->scale->length_m;
    const char *unit = to->scale->length;
    if (!dry->present) {
        return;
    }
    usi_csv_add(to, (row){.quantity = "outflow.open", .unit = unit}, dry->open_m, length);
    usi_csv_add(to, (row){.quantity = "outflow.closed", .unit = unit}, dry->closed_m, length);
    usi_csv_add(to, (row){.quantity = "outflow.flow", .unit = to->scale->flow, .note = "estimate"},
                dry->flow_m2_s, to->scale->flow_m2_s);
    usi_csv_add(to, (row){.quantity = "outflow.steps"}, usi_csv_exact(dry->rounds), 1.0);
}

void usi_csv_edges(const usi_csv *to, const us_water_result *water)
{
    for (size_t i = 0; i < water->drain_count; i++) {
        add_drain(to, &water->drains[i], water->flow.certified);
    }
    for (size_t i = 0; i < water->stretch_count; i++) {
        add_stretch(to, &water->stretches[i]);
    }
    add_dry(to, &water->dry);
    if (water->base_flow_m2_s.present) {
        usi_csv_add(to, (row){.quantity = "base_flow", .unit = to->scale->flow},
                    water->base_flow_m2_s, to->scale->flow_m2_s);
    }
    for (size_t i = 0; i < water->wall_count && to->solution->without_apron; i++) {
        usi_csv_add(to, (row){.quantity = "wall.rise", .place = water->walls[i].name},
                    water->walls[i].rise, 1.0);
    }
    usi_csv beside = *to;
    if (water->drains_shut != NULL) {
        beside.prefix = "drains_shut.";
        usi_csv_results(&beside, water->drains_shut);
    }
    if (water->without_apron != NULL) {
        beside.prefix = "without_apron.";
        usi_csv_results(&beside, water->without_apron);
    }
}
