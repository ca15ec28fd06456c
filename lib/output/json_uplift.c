/* Uplift as JSON: the structure, its panels, the thickness that a floor needs. */
#include "output/json_tree.h"

static json_t *panels_of(usi_json *out, const us_uplift_result *uplift)
{
    double force = out->scale->force_n_m;
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t p = 0; p < uplift->panel_count; p++) {
        const us_uplift_panel *panel = &uplift->panels[p];
        json_t *object = json_object();
        usi_json_put(out, object, "from", usi_json_number(panel->from_m / length));
        usi_json_put(out, object, "to", usi_json_number(panel->to_m / length));
        usi_json_put(out, object, "force", usi_json_value(panel->force_n_m, force));
        usi_json_put(out, object, "error", usi_json_error(panel->force_n_m, force));
        usi_json_put(out, object, "x", usi_json_value(panel->x_m, length));
        usi_json_put(out, object, "weight", usi_json_value(panel->weight_n_m, force));
        usi_json_put(out, object, "water_on_top", usi_json_value(panel->water_on_top_n_m, force));
        usi_json_put(out, object, "net", usi_json_value(panel->net_n_m, force));
        usi_json_put_value(out, object, "factor", panel->factor, 1.0);
        usi_json_put(out, object, "suction", json_boolean(panel->suction));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *thickness_of(usi_json *out, const us_uplift_result *uplift)
{
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t k = 0; k < uplift->thickness_count; k++) {
        const us_thickness *floor = &uplift->thickness[k];
        json_t *object = json_object();
        usi_json_put(out, object, "x", usi_json_number(floor->x_m / length));
        usi_json_put(out, object, "level", usi_json_number(floor->level_m / length));
        usi_json_put(out, object, "head", usi_json_value(floor->head_m, length));
        usi_json_put(out, object, "error", usi_json_error(floor->head_m, length));
        usi_json_put(out, object, "pressure_head", usi_json_value(floor->pressure_m, length));
        usi_json_put(out, object, "provided", usi_json_value(floor->provided_m, length));
        usi_json_put(out, object, "submerged", usi_json_value(floor->submerged_m, length));
        usi_json_put(out, object, "submerged_4_3", usi_json_value(floor->allowed_m, length));
        usi_json_put(out, object, "dry", usi_json_value(floor->dry_m, length));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *moments_of(usi_json *out, const us_uplift_result *uplift)
{
    double unit = out->scale->moment_n;
    json_t *object = json_object();
    usi_json_put(out, object, "unit", json_string(out->scale->moment));
    usi_json_put(out, object, "uplift", usi_json_value(uplift->overturning_n, unit));
    usi_json_put(out, object, "error", usi_json_error(uplift->overturning_n, unit));
    usi_json_put(out, object, "holding", usi_json_value(uplift->holding_n, unit));
    usi_json_put_value(out, object, "factor", uplift->moment_factor, 1.0);
    return object;
}

/* null where the pore pressure is that of the case itself. */
static json_t *source_of(usi_json *out, const us_uplift_result *uplift)
{
    if (uplift->pressures_from == NULL) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put(out, object, "name", usi_json_text(uplift->pressures_from));
    usi_json_put(out, object, "steady_after_s", usi_json_value(uplift->steady_s, 1.0));
    usi_json_put(out, object, "path",
                 usi_json_number(uplift->steady_length_m / out->scale->length_m));
    usi_json_put(out, object, "soil", usi_json_text(uplift->steady_soil));
    return object;
}

json_t *usi_json_uplift(usi_json *out, const us_uplift_result *uplift)
{
    if (!uplift->present) {
        return json_null();
    }
    double force = out->scale->force_n_m;
    json_t *object = json_object();
    usi_json_put(out, object, "force", usi_json_value(uplift->force_n_m, force));
    usi_json_put(out, object, "error", usi_json_error(uplift->force_n_m, force));
    usi_json_put_value(out, object, "x", uplift->x_m, out->scale->length_m);
    usi_json_put(out, object, "weight", usi_json_value(uplift->weight_n_m, force));
    usi_json_put(out, object, "water_on_top", usi_json_value(uplift->water_on_top_n_m, force));
    usi_json_put_value(out, object, "net", uplift->net_n_m, force);
    usi_json_put_value(out, object, "factor", uplift->factor, 1.0);
    usi_json_put(out, object, "suction", json_boolean(uplift->suction));
    usi_json_put(out, object, "moment", moments_of(out, uplift));
    usi_json_put(out, object, "pressures_from", source_of(out, uplift));
    usi_json_put(out, object, "panels", panels_of(out, uplift));
    usi_json_put(out, object, "thickness", thickness_of(out, uplift));
    return object;
}
