/* Rows of prisms of soil and tight layers that water might lift. */
#include <stdio.h>

#include "output/csv_rows.h"

typedef usi_csv_row row;

static void add_prism(const usi_csv *to, const us_prism_result *prism)
{
    static const char *const kinds[] = {
        [US_PRISM_TOE] = "toe", [US_PRISM_DEPTH] = "depth", [US_PRISM_BED] = "bed"};
    const char *place = kinds[prism->kind];
    const char *length = to->scale->length;
    const char *force = to->scale->force;
    double metre = to->scale->length_m;
    double newton = to->scale->force_n_m;
    usi_csv_add(to, (row){"prism.from", place, length, NULL}, usi_csv_exact(prism->from_m), metre);
    usi_csv_add(to, (row){"prism.to", place, length, NULL}, usi_csv_exact(prism->to_m), metre);
    usi_csv_add(to, (row){"prism.level", place, length, NULL}, usi_csv_exact(prism->level_m),
                metre);
    usi_csv_add(to, (row){"prism.depth", place, length, NULL}, usi_csv_exact(prism->depth_m),
                metre);
    usi_csv_add(to, (row){"prism.head", place, length, NULL}, prism->head_m, metre);
    usi_csv_add(to, (row){"prism.corner_head", place, length, NULL}, prism->corner_m, metre);
    usi_csv_add(to, (row){"prism.weight", place, force, NULL}, prism->weight_n_m, newton);
    usi_csv_add(to, (row){"prism.water_on_top", place, force, NULL},
                usi_csv_exact(prism->water_n_m), newton);
    usi_csv_add(to, (row){"prism.submerged_weight", place, force, NULL}, prism->submerged_n_m,
                newton);
    usi_csv_add(to, (row){"prism.seepage_force", place, force, NULL}, prism->seepage_n_m, newton);
    usi_csv_add(to, (row){"prism.pore_pressure", place, force, NULL}, prism->pressure_n_m, newton);
    usi_csv_add(to, (row){"prism.factor", place, NULL, NULL}, prism->factor, 1.0);
    usi_csv_add(to, (row){"prism.total_factor", place, NULL, NULL}, prism->total_factor, 1.0);
}

static void add_blow_up(const usi_csv *to, const us_blow_up_result *blow_up)
{
    if (!blow_up->stress_n_m2.present) {
        return;
    }
    const char *place = blow_up->upper;
    const char *length = to->scale->length;
    double metre = to->scale->length_m;
    double pressure = to->scale->pressure_pa;
    usi_csv_add(to, (row){"blow_up.x", place, length, NULL}, usi_csv_exact(blow_up->x_m), metre);
    usi_csv_add(to, (row){"blow_up.level", place, length, NULL}, usi_csv_exact(blow_up->level_m),
                metre);
    usi_csv_add(to, (row){"blow_up.head", place, length, NULL}, blow_up->head_m, metre);
    usi_csv_add(to, (row){"blow_up.stress", place, to->scale->pressure, NULL}, blow_up->stress_n_m2,
                pressure);
    usi_csv_add(to, (row){"blow_up.pore_pressure", place, to->scale->pressure, NULL},
                blow_up->pressure_n_m2, pressure);
    usi_csv_add(to, (row){"blow_up.factor", place, NULL, NULL}, blow_up->factor, 1.0);
}

void usi_csv_heave(const usi_csv *to, const us_water_result *water)
{
    for (size_t k = 0; k < water->heave.prism_count; k++) {
        add_prism(to, &water->heave.prisms[k]);
    }
    add_blow_up(to, &water->blow_up);
}
