/* Rows of uplift: the structure, its panels, the thickness that a floor needs. */
#include <stdio.h>

#include "base/number.h"
#include "output/csv_rows.h"

typedef usi_csv_row row;

enum { DIGITS = 9, PLACE_ROOM = 2 * USI_NUMBER_ROOM + 64 };

static void add_panel(const usi_csv *to, const us_uplift_panel *panel)
{
    double force = to->scale->force_n_m;
    double length = to->scale->length_m;
    const char *unit = to->scale->force;
    char from[USI_NUMBER_ROOM];
    char until[USI_NUMBER_ROOM];
    char place[PLACE_ROOM];
    (void)snprintf(place, sizeof place, "panel from x = %s to %s %s",
                   usi_number_write(from, panel->from_m / length, DIGITS),
                   usi_number_write(until, panel->to_m / length, DIGITS), to->scale->length);
    usi_csv_add(
        to,
        (row){"uplift.panel.force", place, unit, panel->suction ? "suction taken as zero" : NULL},
        panel->force_n_m, force);
    usi_csv_add(to, (row){"uplift.panel.weight", place, unit, NULL}, panel->weight_n_m, force);
    usi_csv_add(to, (row){"uplift.panel.water_on_top", place, unit, NULL}, panel->water_on_top_n_m,
                force);
    usi_csv_add(to, (row){"uplift.panel.net", place, unit, NULL}, panel->net_n_m, force);
    usi_csv_add(to, (row){"uplift.panel.factor", place, NULL, NULL}, panel->factor, 1.0);
}

static void add_thickness(const usi_csv *to, const us_thickness *floor)
{
    double length = to->scale->length_m;
    const char *unit = to->scale->length;
    char x[USI_NUMBER_ROOM];
    char level[USI_NUMBER_ROOM];
    char place[PLACE_ROOM];
    (void)snprintf(place, sizeof place, "underside at x = %s %s and level %s %s",
                   usi_number_write(x, floor->x_m / length, DIGITS), unit,
                   usi_number_write(level, floor->level_m / length, DIGITS), unit);
    usi_csv_add(to, (row){"uplift.thickness.head", place, unit, NULL}, floor->head_m, length);
    usi_csv_add(to, (row){"uplift.thickness.pressure_head", place, unit, NULL}, floor->pressure_m,
                length);
    usi_csv_add(to, (row){"uplift.thickness.provided", place, unit, NULL}, floor->provided_m,
                length);
    usi_csv_add(to, (row){"uplift.thickness.submerged", place, unit, NULL}, floor->submerged_m,
                length);
    usi_csv_add(to, (row){"uplift.thickness.submerged_4_3", place, unit, NULL}, floor->allowed_m,
                length);
    usi_csv_add(to, (row){"uplift.thickness.dry", place, unit, NULL}, floor->dry_m, length);
}

static void add_source(const usi_csv *to, const us_uplift_result *uplift)
{
    if (uplift->pressures_from == NULL) {
        return;
    }
    usi_csv_add(to, (row){.quantity = "uplift.pressures_from", .note = uplift->pressures_from},
                (us_value){0}, 1.0);
    usi_csv_add(to,
                (row){.quantity = "uplift.pressures_from.steady_after",
                      .place = uplift->steady_soil,
                      .unit = "s",
                      .note = uplift->steady_s.present ? NULL : "no specific_storage"},
                uplift->steady_s, 1.0);
}

void usi_csv_uplift(const usi_csv *to, const us_uplift_result *uplift)
{
    const char *force = to->scale->force;
    double size = to->scale->force_n_m;
    double moment = to->scale->moment_n;
    const char *unit = to->scale->moment;
    if (!uplift->present) {
        return;
    }
    usi_csv_add(to,
                (row){.quantity = "uplift.force",
                      .unit = force,
                      .note = uplift->suction ? "suction taken as zero" : NULL},
                uplift->force_n_m, size);
    usi_csv_add(to, (row){.quantity = "uplift.x", .unit = to->scale->length}, uplift->x_m,
                to->scale->length_m);
    usi_csv_add(to, (row){.quantity = "uplift.weight", .unit = force}, uplift->weight_n_m, size);
    usi_csv_add(to, (row){.quantity = "uplift.water_on_top", .unit = force},
                uplift->water_on_top_n_m, size);
    usi_csv_add(to, (row){.quantity = "uplift.net", .unit = force}, uplift->net_n_m, size);
    usi_csv_add(to, (row){.quantity = "uplift.factor"}, uplift->factor, 1.0);
    usi_csv_add(to, (row){.quantity = "uplift.moment.uplift", .unit = unit}, uplift->overturning_n,
                moment);
    usi_csv_add(to, (row){.quantity = "uplift.moment.holding", .unit = unit}, uplift->holding_n,
                moment);
    usi_csv_add(to, (row){.quantity = "uplift.moment.factor"}, uplift->moment_factor, 1.0);
    add_source(to, uplift);
    for (size_t p = 0; p < uplift->panel_count; p++) {
        add_panel(to, &uplift->panels[p]);
    }
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        add_thickness(to, &uplift->thickness[k]);
    }
}
