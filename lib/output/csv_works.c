/* Rows of creep, openings and walls as pieces of steel. */
#include <stdio.h>

#include "output/csv_rows.h"
#include "undersill/works.h"

typedef usi_csv_row row;

static void add_way(const usi_csv *to, const char *rule, const us_creep_way *way)
{
    const char *place = way->end != NULL ? way->end : "downstream bed";
    if (way->length_m.present) {
        char quantity[64];
        (void)snprintf(quantity, sizeof quantity, "creep.%s.length", rule);
        usi_csv_add(to,
                    (row){quantity, place, to->scale->length,
                          way->cut_across ? "cut across between tips" : NULL},
                    way->length_m, to->scale->length_m);
        (void)snprintf(quantity, sizeof quantity, "creep.%s.ratio", rule);
        usi_csv_add(to, (row){quantity, place, NULL, NULL}, way->ratio, 1.0);
    }
}

static void add_opening(const usi_csv *to, const us_opening_result *opening)
{
    static const char *const kinds[] = {
        [US_OPENING_WEEPS] = "weeps",         [US_OPENING_DRAIN] = "drain",
        [US_OPENING_PERMEABLE] = "permeable", [US_OPENING_HOLE] = "hole",
        [US_OPENING_SLOT] = "slot",           [US_OPENING_GAP] = "gap",
    };
    const char *name = opening->name;
    const char *length = to->scale->length;
    usi_csv_add(to, (row){"opening.x", name, length, kinds[opening->kind]},
                usi_csv_exact(opening->x_m), to->scale->length_m);
    usi_csv_add(to, (row){"opening.size", name, length, opening->retained_by}, opening->size_m,
                to->scale->length_m);
    usi_csv_add(to, (row){"opening.d85", name, length, opening->soil}, opening->d85_m,
                to->scale->length_m);
    usi_csv_add(to, (row){"opening.ratio", name, NULL, NULL}, opening->ratio, 1.0);
}

/* Only what there is. */
static void add_some(const usi_csv *to, row about, us_value value, double unit)
{
    if (value.present) {
        usi_csv_add(to, about, value, unit);
    }
}

static void add_wall(const usi_csv *to, const us_wall_works *wall)
{
    const char *name = wall->name;
    const char *length = to->scale->length;
    const char *force = to->scale->force;
    double size = to->scale->length_m;
    double push = to->scale->force_n_m;
    add_some(to, (row){"wall.embedment", name, length, NULL}, wall->embedment_m, size);
    add_some(to, (row){"wall.cap", name, length, NULL}, wall->cap_m, size);
    add_some(to, (row){"wall.gap", name, length, NULL}, wall->gap_m, size);
    add_some(to, (row){"wall.loss_per_side", name, length, NULL}, wall->loss_m, size);
    add_some(to, (row){"wall.thickness_left", name, length, NULL}, wall->left_m, size);
    add_some(to, (row){"wall.load", name, force, NULL}, wall->load_n_m, push);
    add_some(to, (row){"wall.weight", name, force, NULL}, wall->weight_n_m, push);
    if (wall->load_n_m.present) {
        usi_csv_add(to, (row){"wall.friction", name, force, wall->lacks}, wall->friction_n_m, push);
    }
}

void usi_csv_works(const usi_csv *to, const us_water_result *water)
{
    const us_works_result *works = water->works;
    if (works == NULL) {
        return;
    }
    add_way(to, "bligh", &works->bligh);
    add_way(to, "lane", &works->lane);
    for (size_t i = 0; i < works->opening_count; i++) {
        add_opening(to, &works->openings[i]);
    }
    for (size_t i = 0; i < works->wall_count; i++) {
        add_wall(to, &works->walls[i]);
    }
}
