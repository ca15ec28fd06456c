/* A study of tip levels as one table: tip, then the columns of a solution. */
#include <stdio.h>

#include "base/number.h"
#include "output/csv_rows.h"
#include "output/depth.h"
#include "undersill/version.h"

enum { LEAD_ROOM = USI_NUMBER_ROOM + 2, DIGITS = 9 };

static const us_value NONE = {0.0, 0.0, false};

/* The cell of the tip. */
static void lead_with(usi_csv *to, double tip_m, char lead[LEAD_ROOM])
{
    char number[USI_NUMBER_ROOM];
    (void)snprintf(lead, LEAD_ROOM, "%s,",
                   usi_number_write(number, tip_m / to->scale->length_m, DIGITS));
    to->lead = lead;
}

static void add_row(usi_csv *to, const us_depth *depth, const us_depth_row *row)
{
    char lead[LEAD_ROOM];
    lead_with(to, row->tip_m, lead);
    to->solution = row->solution;
    to->water = NULL;
    const char *verdict = !depth->requires_any ? NULL : row->passes ? "passes" : "fails";
    usi_csv_add(to, (usi_csv_row){"length", NULL, to->scale->length, verdict},
                usi_csv_exact(row->length_m), to->scale->length_m);
    const us_register_entry *entry = usi_depth_governing(row->solution);
    if (entry != NULL) {
        to->water = entry->water;
        usi_csv_add(to, (usi_csv_row){"governs.margin", entry->check->name, NULL, NULL},
                    entry->check->margin, 1.0);
    }
    for (size_t w = 0; w < row->solution->water_count; w++) {
        to->water = row->solution->water[w].name;
        if (row->solution->water[w].undermined == NULL) {
            usi_csv_results(to, &row->solution->water[w]);
        }
    }
    to->water = NULL;
    to->lead = ",";
}

static void add_end(usi_csv *to, const char *quantity, const us_depth_end *end)
{
    us_value tip = {end->tip_m, end->edge ? 0.0 : end->error_m, true};
    to->water = end->water;
    usi_csv_add(to,
                (usi_csv_row){quantity, NULL, to->scale->length,
                              end->edge ? "levels that were looked at end" : end->check},
                tip, to->scale->length_m);
    to->water = NULL;
}

static void add_list(usi_csv *to, const char *prefix, const usi_depth_list *list)
{
    to->prefix = prefix;
    for (size_t k = 0; k < list->count; k++) {
        add_end(to, "high", &list->list[k].high);
        add_end(to, "low", &list->list[k].low);
    }
    to->prefix = "";
}

static void add_order(usi_csv *to, const us_depth *depth, const us_depth_order *order)
{
    char lead[LEAD_ROOM];
    double length = to->scale->length_m;
    double mass = usi_depth_mass_unit(depth->section);
    const char *verdict = !order->known          ? "not looked at"
                          : !depth->requires_any ? NULL
                          : order->passes        ? "passes"
                                                 : "fails";
    lead_with(to, order->tip_m, lead);
    to->prefix = "order.";
    usi_csv_add(to, (usi_csv_row){"length", NULL, to->scale->length, verdict},
                usi_csv_exact(order->length_m), length);
    usi_csv_add(to, (usi_csv_row){.quantity = "area"}, order->area_m2, length * length);
    usi_csv_add(to,
                (usi_csv_row){"mass_per_width", NULL, usi_depth_mass_name(depth->section), NULL},
                order->mass_kg_m, mass / length);
    usi_csv_add(to, (usi_csv_row){"mass", NULL, usi_depth_mass_name(depth->section), NULL},
                order->mass_kg, mass);
    to->prefix = "";
    to->lead = ",";
}

static void add_pairs(usi_csv *to, const us_depth *depth)
{
    double length = to->scale->length_m;
    const char *name = depth->section->walls[depth->with].name;
    for (size_t k = 0; k < depth->pair_count; k++) {
        const us_depth_pair *pair = &depth->pairs[k];
        char lead[LEAD_ROOM];
        lead_with(to, pair->with_tip_m, lead);
        usi_csv_add(to,
                    (usi_csv_row){"pair.total_length", name, to->scale->length,
                                  pair == us_depth_shortest(depth) ? "the least" : NULL},
                    pair->total_length_m, length);
        add_list(to, "pair.passing.", &depth->pair_lists[k]);
        to->lead = ",";
    }
}

void usi_depth_csv(us_buffer *out, const us_depth *depth, const usi_scale *scale)
{
    const us_section *section = depth->section;
    usi_csv to = {out, NULL, scale, NULL, "", ","};
    usi_buffer_add_text(out, "tip,water,quantity,place,value,error,unit,note\r\n");
    for (size_t k = 0; k < depth->row_count; k++) {
        add_row(&to, depth, &depth->rows[k]);
    }
    if (depth->requires_any) {
        add_list(&to, "passing.", &depth->passing);
        add_list(&to, "passing_at_twice_kh_kv.", &depth->ratio);
    }
    add_pairs(&to, depth);
    for (size_t k = 0; k < depth->order_count; k++) {
        add_order(&to, depth, &depth->orders[k]);
    }
    usi_csv_add(&to, (usi_csv_row){"wall", NULL, NULL, us_depth_wall(depth)}, NONE, 1.0);
    usi_csv_add(&to, (usi_csv_row){"undersill", NULL, NULL, us_version()}, NONE, 1.0);
    usi_csv_add(&to, (usi_csv_row){"section.title", NULL, NULL, section->title}, NONE, 1.0);
    usi_csv_add(&to, (usi_csv_row){"section.sha256", NULL, NULL, section->sha256}, NONE, 1.0);
    for (size_t k = 0; k < depth->note_count; k++) {
        usi_csv_add(&to, (usi_csv_row){"note", NULL, NULL, depth->notes[k]}, NONE, 1.0);
    }
}
