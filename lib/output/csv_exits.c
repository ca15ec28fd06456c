/* Rows of places where water leaves the soil. */
#include <stdio.h>

#include "base/number.h"
#include "output/csv_rows.h"

typedef usi_csv_row row;

static const char *note_of(const us_exit_place *exit)
{
    if (exit->retained) {
        return "said to be retained";
    }
    if (exit->lacks != NULL) {
        return exit->lacks[0] == 'u' ? "no unit_weight" : "no friction_angle";
    }
    return exit->critical.present ? NULL : "not judged by a factor";
}

static void add_exit(const usi_csv *to, const us_exit_place *exit)
{
    const double degree_rad = 3.14159265358979323846 / 180.0;
    enum { DIGITS = 9 };
    char x[USI_NUMBER_ROOM];
    char place[256];
    (void)snprintf(place, sizeof place, "%.150s at x = %s %s",
                   exit->name != NULL ? exit->name : exit->kind,
                   usi_number_write(x, exit->x_m / to->scale->length_m, DIGITS), to->scale->length);
    usi_csv_add(to, (row){"exit.gradient", place, NULL, NULL}, exit->gradient, 1.0);
    usi_csv_add(to, (row){"exit.mean", place, NULL, NULL}, exit->mean, 1.0);
    usi_csv_add(to, (row){"exit.slope", place, "deg", exit->emerges ? "out of the water" : NULL},
                usi_csv_exact(exit->slope_rad), degree_rad);
    usi_csv_add(to, (row){"exit.critical", place, NULL, exit->soil}, exit->critical, 1.0);
    usi_csv_add(to, (row){"exit.factor", place, NULL, note_of(exit)}, exit->factor, 1.0);
}

void usi_csv_exits(const usi_csv *to, const us_water_result *water)
{
    for (size_t i = 0; i < water->exit.exit_count; i++) {
        add_exit(to, &water->exit.exits[i]);
    }
}
