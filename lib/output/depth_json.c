/* A study of tip levels as JSON. */
#include "output/depth.h"
#include "output/json_text.h"
#include "output/json_tree.h"
#include "undersill/version.h"

static json_t *wall_of(usi_json *out, const us_depth *depth)
{
    const usi_wall *wall = &depth->section->walls[depth->solver.levels.wall];
    double length = out->scale->length_m;
    json_t *object = json_object();
    usi_json_put(out, object, "name", usi_json_text(wall->name));
    usi_json_put(out, object, "x", usi_json_number(wall->x_m / length));
    usi_json_put(out, object, "top", usi_json_number(wall->top_m / length));
    usi_json_put(out, object, "tip", usi_json_number(wall->tip_m / length));
    return object;
}

static json_t *governs_of(usi_json *out, const us_solution *solution)
{
    const us_register_entry *entry = usi_depth_governing(solution);
    if (entry == NULL) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put(out, object, "check", usi_json_text(entry->check->name));
    usi_json_put(out, object, "water", usi_json_text(entry->water));
    usi_json_put(out, object, "margin", usi_json_value(entry->check->margin, 1.0));
    usi_json_put(out, object, "margin_error", usi_json_error(entry->check->margin, 1.0));
    return object;
}

static json_t *level_of(usi_json *out, const us_depth *depth, const us_depth_row *row)
{
    double length = out->scale->length_m;
    json_t *object = json_object();
    json_t *water = json_array();
    out->solution = row->solution;
    usi_json_put(out, object, "tip", usi_json_number(row->tip_m / length));
    usi_json_put(out, object, "length", usi_json_number(row->length_m / length));
    usi_json_put(out, object, "drawn", json_boolean(row->drawn));
    usi_json_put(out, object, "pass",
                 depth->requires_any ? json_boolean(row->passes) : json_null());
    usi_json_put(out, object, "solved_by_itself", json_boolean(row->afresh));
    usi_json_put(out, object, "governs", governs_of(out, row->solution));
    for (size_t w = 0; w < row->solution->water_count; w++) {
        usi_json_push(out, water, usi_json_water(out, &row->solution->water[w]));
    }
    usi_json_put(out, object, "water", water);
    return object;
}

static json_t *end_of(usi_json *out, const us_depth_end *end)
{
    double length = out->scale->length_m;
    json_t *object = json_object();
    usi_json_put(out, object, "tip", usi_json_number(end->tip_m / length));
    usi_json_put(out, object, "error",
                 end->edge ? json_null() : usi_json_number(end->error_m / length));
    usi_json_put(out, object, "edge", json_boolean(end->edge));
    usi_json_put(out, object, "check", usi_json_text(end->check));
    usi_json_put(out, object, "water", usi_json_text(end->water));
    return object;
}

static json_t *intervals_of(usi_json *out, const usi_depth_list *list)
{
    json_t *array = json_array();
    for (size_t k = 0; k < list->count; k++) {
        json_t *object = json_object();
        usi_json_put(out, object, "high", end_of(out, &list->list[k].high));
        usi_json_put(out, object, "low", end_of(out, &list->list[k].low));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *order_of(usi_json *out, const us_depth *depth, const us_depth_order *order)
{
    double length = out->scale->length_m;
    double mass = usi_depth_mass_unit(depth->section);
    bool judged = order->known && depth->requires_any;
    json_t *object = json_object();
    usi_json_put(out, object, "length", usi_json_number(order->length_m / length));
    usi_json_put(out, object, "tip", usi_json_number(order->tip_m / length));
    usi_json_put(out, object, "looked_at", json_boolean(order->known));
    usi_json_put(out, object, "pass", judged ? json_boolean(order->passes) : json_null());
    usi_json_put(out, object, "area_per_width", usi_json_number(order->area_m2_m / length));
    usi_json_put(out, object, "area", usi_json_value(order->area_m2, length * length));
    usi_json_put(out, object, "mass_per_width", usi_json_value(order->mass_kg_m, mass / length));
    usi_json_put(out, object, "mass", usi_json_value(order->mass_kg, mass));
    return object;
}

static json_t *pair_of(usi_json *out, const us_depth *depth, size_t index)
{
    double length = out->scale->length_m;
    const us_depth_pair *pair = &depth->pairs[index];
    json_t *object = json_object();
    usi_json_put(out, object, "tip", usi_json_number(pair->with_tip_m / length));
    usi_json_put(out, object, "length", usi_json_number(pair->with_length_m / length));
    usi_json_put(out, object, "passing", intervals_of(out, &depth->pair_lists[index]));
    usi_json_put(out, object, "total_length", usi_json_value(pair->total_length_m, length));
    usi_json_put(out, object, "shortest", json_boolean(pair == us_depth_shortest(depth)));
    usi_json_put(out, object, "solved_by_itself", json_boolean(pair->afresh));
    return object;
}

/* null without a second wall. */
static json_t *pairs_of(usi_json *out, const us_depth *depth)
{
    if (depth->pair_count == 0) {
        return json_null();
    }
    json_t *object = json_object();
    json_t *levels = json_array();
    usi_json_put(out, object, "wall", usi_json_text(depth->section->walls[depth->with].name));
    for (size_t k = 0; k < depth->pair_count; k++) {
        usi_json_push(out, levels, pair_of(out, depth, k));
    }
    usi_json_put(out, object, "levels", levels);
    return object;
}

static json_t *units_of(usi_json *out, const us_depth *depth)
{
    json_t *object = json_object();
    usi_json_put(out, object, "length", json_string(out->scale->length));
    usi_json_put(out, object, "flow", json_string(out->scale->flow));
    usi_json_put(out, object, "total", json_string(out->scale->total));
    usi_json_put(out, object, "force", json_string(out->scale->force));
    usi_json_put(out, object, "pressure", json_string(out->scale->pressure));
    usi_json_put(out, object, "mass", json_string(usi_depth_mass_name(depth->section)));
    return object;
}

static json_t *root_of(usi_json *out, const us_depth *depth)
{
    json_t *root = json_object();
    json_t *section = json_object();
    json_t *levels = json_array();
    json_t *orders = json_array();
    json_t *notes = json_array();
    usi_json_put(out, root, "undersill", json_string(US_VERSION));
    usi_json_put(out, section, "title", json_string(depth->section->title));
    usi_json_put(out, section, "sha256", json_string(depth->section->sha256));
    usi_json_put(out, root, "section", section);
    usi_json_put(out, root, "units", units_of(out, depth));
    usi_json_put(out, root, "wall", wall_of(out, depth));
    for (size_t k = 0; k < depth->row_count; k++) {
        usi_json_push(out, levels, level_of(out, depth, &depth->rows[k]));
    }
    usi_json_put(out, root, "levels", levels);
    usi_json_put(out, root, "passing",
                 depth->requires_any ? intervals_of(out, &depth->passing) : json_null());
    usi_json_put(out, root, "passing_at_twice_kh_kv",
                 depth->ratio.list != NULL ? intervals_of(out, &depth->ratio) : json_null());
    for (size_t k = 0; k < depth->order_count; k++) {
        usi_json_push(out, orders, order_of(out, depth, &depth->orders[k]));
    }
    usi_json_put(out, root, "lengths", orders);
    usi_json_put(out, root, "pairs", pairs_of(out, depth));
    for (size_t k = 0; k < depth->note_count; k++) {
        usi_json_push(out, notes, json_string(depth->notes[k]));
    }
    usi_json_put(out, root, "notes", notes);
    return root;
}

us_status usi_depth_json(us_context *context, us_buffer *out, const us_depth *depth,
                         const usi_scale *scale)
{
    usi_json state = {NULL, scale, 0};
    json_t *root = root_of(&state, depth);
    return usi_json_print(context, out, root, state.failures == 0);
}
