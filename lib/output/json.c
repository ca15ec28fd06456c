#include <jansson.h>
#include <math.h>

#include "output/forms.h"
#include "output/json_text.h"
#include "undersill/version.h"

/* A failed addition leaves the count above 0; looked at once, at the end. */
typedef struct writer {
    const us_solution *solution;
    const usi_scale *scale;
    size_t failures;
} writer;

static void put(writer *out, json_t *object, const char *key, json_t *value)
{
    out->failures += json_object_set_new(object, key, value) != 0;
}

static void push(writer *out, json_t *array, json_t *value)
{
    out->failures += json_array_append_new(array, value) != 0;
}

static json_t *number(double value)
{
    return isfinite(value) ? json_real(value == 0.0 ? 0.0 : value) : json_null();
}

static json_t *value_of(us_value value, double unit)
{
    return value.present ? number(value.value / unit) : json_null();
}

static json_t *error_of(us_value value, double unit)
{
    return value.present ? number(value.error / unit) : json_null();
}

static json_t *text_or_null(const char *text)
{
    return text == NULL ? json_null() : json_string(text);
}

static const char *accuracy_of(us_accuracy accuracy)
{
    switch (accuracy) {
    case US_ACCURACY_REACHED:
        return "reached";
    case US_ACCURACY_ON_SCALE:
        return "on scale";
    case US_ACCURACY_MISSED:
        break;
    }
    return "missed";
}

static void put_pair(writer *out, json_t *object, us_value value, double unit)
{
    put(out, object, "value", value_of(value, unit));
    put(out, object, "error", error_of(value, unit));
}

static json_t *flow_of(writer *out, const us_flow_result *flow)
{
    double unit = out->scale->flow_m2_s;
    json_t *object = json_object();
    put(out, object, "value", value_of(flow->rate_m2_s, unit));
    put(out, object, "lower", flow->bounded ? number(flow->lower_m2_s / unit) : json_null());
    put(out, object, "upper", flow->bounded ? number(flow->upper_m2_s / unit) : json_null());
    put(out, object, "certified", flow->bounded ? json_boolean(flow->certified) : json_null());
    put(out, object, "error", error_of(flow->rate_m2_s, unit));
    put(out, object, "accuracy", json_string(accuracy_of(flow->accuracy)));
    put(out, object, "bounded", json_boolean(flow->bounded));
    if (out->solution->section->width_m > 0.0) {
        json_t *total = json_object();
        put_pair(out, total, flow->total_m3_s, out->scale->total_m3_s);
        put(out, total, "width", number(out->solution->section->width_m / out->scale->length_m));
        put(out, object, "total", total);
    }
    return object;
}

static json_t *profile_of(writer *out, const us_exit_result *exit)
{
    json_t *array = json_array();
    for (size_t i = 0; i < exit->profile_count; i++) {
        json_t *object = json_object();
        put(out, object, "x", number(exit->profile[i].x_m / out->scale->length_m));
        put_pair(out, object, exit->profile[i].gradient, 1.0);
        push(out, array, object);
    }
    return array;
}

static json_t *cutoff_of(writer *out, const us_exit_result *exit)
{
    if (!exit->with_cutoff.present) {
        return json_null();
    }
    json_t *object = json_object();
    put(out, object, "depth", number(exit->cutoff_m / out->scale->length_m));
    put_pair(out, object, exit->with_cutoff, 1.0);
    return object;
}

static json_t *exit_of(writer *out, const us_exit_result *exit)
{
    if (!exit->present) {
        return json_null();
    }
    double length = out->scale->length_m;
    json_t *object = json_object();
    put_pair(out, object, exit->gradient, 1.0);
    put(out, object, "accuracy", json_string(accuracy_of(exit->accuracy)));
    put(out, object, "x", number(exit->x_m / length));
    put(out, object, "level", number(exit->level_m / length));
    put(out, object, "bounded", json_boolean(exit->bounded));
    json_t *mean = json_object();
    put_pair(out, mean, exit->mean, 1.0);
    put(out, mean, "depth", exit->mean.present ? number(exit->mean_depth_m / length) : json_null());
    put(out, object, "mean", mean);
    put(out, object, "with_cutoff", cutoff_of(out, exit));
    put(out, object, "falls_fast", json_boolean(exit->falls_fast));
    put(out, object, "profile", profile_of(out, exit));
    put(out, object, "soil", text_or_null(exit->soil));
    put(out, object, "critical", value_of(exit->critical, 1.0));
    return object;
}

static json_t *uplift_of(writer *out, const us_uplift_result *uplift)
{
    if (!uplift->present) {
        return json_null();
    }
    double force = out->scale->force_n_m;
    json_t *object = json_object();
    put(out, object, "force", value_of(uplift->force_n_m, force));
    put(out, object, "error", error_of(uplift->force_n_m, force));
    put(out, object, "x", value_of(uplift->x_m, out->scale->length_m));
    put(out, object, "x_error", error_of(uplift->x_m, out->scale->length_m));
    put(out, object, "weight", value_of(uplift->weight_n_m, force));
    put(out, object, "water_on_top", number(0.0)); /* none is credited without a water surface */
    put(out, object, "net", value_of(uplift->net_n_m, force));
    put(out, object, "net_error", error_of(uplift->net_n_m, force));
    put(out, object, "factor", value_of(uplift->factor, 1.0));
    put(out, object, "factor_error", error_of(uplift->factor, 1.0));
    put(out, object, "suction", json_boolean(uplift->suction));
    return object;
}

static json_t *walls_of(writer *out, const us_water_result *water)
{
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        json_t *object = json_object();
        put(out, object, "name", text_or_null(wall->name));
        put(out, object, "upstream_face_top", value_of(wall->upstream_face_top_m, length));
        put(out, object, "tip", value_of(wall->tip_m, length));
        put(out, object, "downstream_face_top", value_of(wall->downstream_face_top_m, length));
        put(out, object, "error", number(usi_form_wall_error(wall) / length));
        push(out, array, object);
    }
    return array;
}

static json_t *piezometers_of(writer *out, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t i = 0; i < water->piezometer_count; i++) {
        const us_piezometer_result *piezometer = &water->piezometers[i];
        json_t *object = json_object();
        put(out, object, "name", text_or_null(piezometer->name));
        put(out, object, "head", value_of(piezometer->head_m, out->scale->length_m));
        put(out, object, "error", error_of(piezometer->head_m, out->scale->length_m));
        push(out, array, object);
    }
    return array;
}

static json_t *checks_of(writer *out, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t i = 0; i < water->check_count; i++) {
        const us_check_result *check = &water->checks[i];
        json_t *object = json_object();
        put(out, object, "name", text_or_null(check->name));
        put(out, object, "value", value_of(check->value, 1.0));
        put(out, object, "error", error_of(check->value, 1.0));
        put(out, object, "required", value_of(check->required, 1.0));
        put(out, object, "pass",
            check->verdict == US_NOT_REQUIRED ? json_null()
                                              : json_boolean(check->verdict == US_PASS));
        put(out, object, "where", text_or_null(check->where));
        put(out, object, "basis", text_or_null(check->basis));
        push(out, array, object);
    }
    return array;
}

static json_t *water_of(writer *out, const us_water_result *water)
{
    double length = out->scale->length_m;
    json_t *object = json_object();
    put(out, object, "name", text_or_null(water->name));
    put(out, object, "upstream", number(water->upstream_m / length));
    put(out, object, "downstream", number(water->downstream_m / length));
    put(out, object, "at_bed", json_boolean(water->at_bed));
    put(out, object, "head_difference", number(water->head_difference_m / length));
    put(out, object, "flow", flow_of(out, &water->flow));
    put(out, object, "exit_gradient", exit_of(out, &water->exit));
    put(out, object, "uplift", uplift_of(out, &water->uplift));
    put(out, object, "walls", walls_of(out, water));
    put(out, object, "piezometers", piezometers_of(out, water));
    put(out, object, "checks", checks_of(out, water));
    return object;
}

static json_t *section_of(writer *out)
{
    const us_section *section = out->solution->section;
    json_t *object = json_object();
    put(out, object, "title", json_string(section->title));
    put(out, object, "sha256", json_string(section->sha256));
    put(out, object, "flow_toward", json_string(section->flows_left ? "left" : "right"));
    return object;
}

static json_t *units_of(writer *out)
{
    json_t *object = json_object();
    put(out, object, "length", json_string(out->scale->length));
    put(out, object, "flow", json_string(out->scale->flow));
    put(out, object, "total", json_string(out->scale->total));
    put(out, object, "force", json_string(out->scale->force));
    return object;
}

static json_t *grid_of(writer *out)
{
    const us_grid_result *grid = &out->solution->grid;
    json_t *object = json_object();
    put(out, object, "unknowns", json_integer((json_int_t)grid->unknowns));
    put(out, object, "columns", json_integer((json_int_t)grid->columns));
    put(out, object, "rows", json_integer((json_int_t)grid->rows));
    put(out, object, "mass_balance", number(grid->mass_balance));
    put(out, object, "accuracy", number(out->solution->accuracy));
    put(out, object, "converged", json_boolean(grid->converged));
    return object;
}

static json_t *root_of(writer *out)
{
    const us_solution *solution = out->solution;
    json_t *root = json_object();
    put(out, root, "undersill", json_string(US_VERSION));
    put(out, root, "section", section_of(out));
    put(out, root, "units", units_of(out));
    json_t *water = json_array();
    for (size_t i = 0; i < solution->water_count; i++) {
        push(out, water, water_of(out, &solution->water[i]));
    }
    put(out, root, "water", water);
    put(out, root, "grid", grid_of(out));
    json_t *notes = json_array();
    for (size_t i = 0; i < solution->note_count; i++) {
        push(out, notes, json_string(solution->notes[i]));
    }
    put(out, root, "notes", notes);
    return root;
}

us_status usi_form_json(us_context *context, us_buffer *out, const us_solution *solution,
                        const usi_scale *scale)
{
    writer state = {solution, scale, 0};
    json_t *root = root_of(&state);
    return usi_json_print(context, out, root, state.failures == 0);
}
