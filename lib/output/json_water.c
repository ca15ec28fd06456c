/* A water case as JSON. */
#include "output/json_tree.h"

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

static json_t *flow_of(usi_json *out, const us_flow_result *flow)
{
    double unit = out->scale->flow_m2_s;
    json_t *object = json_object();
    usi_json_put(out, object, "value", usi_json_value(flow->rate_m2_s, unit));
    usi_json_put(out, object, "lower",
                 flow->bounded ? usi_json_number(flow->lower_m2_s / unit) : json_null());
    usi_json_put(out, object, "upper",
                 flow->bounded ? usi_json_number(flow->upper_m2_s / unit) : json_null());
    usi_json_put(out, object, "certified",
                 flow->bounded ? json_boolean(flow->certified) : json_null());
    usi_json_put(out, object, "error", usi_json_error(flow->rate_m2_s, unit));
    usi_json_put(out, object, "accuracy", json_string(accuracy_of(flow->accuracy)));
    usi_json_put(out, object, "bounded", json_boolean(flow->bounded));
    if (out->solution->section->width_m > 0.0) {
        json_t *total = json_object();
        usi_json_put_pair(out, total, flow->total_m3_s, out->scale->total_m3_s);
        usi_json_put(out, total, "width",
                     usi_json_number(out->solution->section->width_m / out->scale->length_m));
        usi_json_put(out, object, "total", total);
    }
    return object;
}

static json_t *profile_of(usi_json *out, const us_exit_result *exit)
{
    json_t *array = json_array();
    for (size_t i = 0; i < exit->profile_count; i++) {
        json_t *object = json_object();
        usi_json_put(out, object, "x",
                     usi_json_number(exit->profile[i].x_m / out->scale->length_m));
        usi_json_put_pair(out, object, exit->profile[i].gradient, 1.0);
        usi_json_put(out, object, "factor", usi_json_value(exit->profile[i].factor, 1.0));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *cutoff_of(usi_json *out, const us_exit_result *exit)
{
    if (!exit->with_cutoff.present) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put(out, object, "depth", usi_json_number(exit->cutoff_m / out->scale->length_m));
    usi_json_put_pair(out, object, exit->with_cutoff, 1.0);
    return object;
}

static json_t *exit_of(usi_json *out, const us_exit_result *exit)
{
    if (!exit->present) {
        return json_null();
    }
    double length = out->scale->length_m;
    json_t *object = json_object();
    usi_json_put_pair(out, object, exit->gradient, 1.0);
    usi_json_put(out, object, "accuracy", json_string(accuracy_of(exit->accuracy)));
    usi_json_put(out, object, "x", usi_json_number(exit->x_m / length));
    usi_json_put(out, object, "level", usi_json_number(exit->level_m / length));
    usi_json_put(out, object, "bounded", json_boolean(exit->bounded));
    usi_json_put(out, object, "enters", json_boolean(exit->enters));
    json_t *mean = json_object();
    usi_json_put_pair(out, mean, exit->mean, 1.0);
    usi_json_put(out, mean, "depth",
                 exit->mean.present ? usi_json_number(exit->mean_depth_m / length) : json_null());
    usi_json_put(out, object, "mean", mean);
    usi_json_put(out, object, "with_cutoff", cutoff_of(out, exit));
    usi_json_put(out, object, "falls_fast", json_boolean(exit->falls_fast));
    usi_json_put(out, object, "profile", profile_of(out, exit));
    usi_json_put(out, object, "soil", usi_json_text(exit->soil));
    usi_json_put(out, object, "critical", usi_json_value(exit->critical, 1.0));
    return object;
}

static json_t *walls_of(usi_json *out, const us_water_result *water)
{
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        json_t *object = json_object();
        usi_json_put(out, object, "name", usi_json_text(wall->name));
        usi_json_put(out, object, "upstream_face_top",
                     usi_json_value(wall->upstream_face_top_m, length));
        usi_json_put(out, object, "tip", usi_json_value(wall->tip_m, length));
        usi_json_put(out, object, "downstream_face_top",
                     usi_json_value(wall->downstream_face_top_m, length));
        usi_json_put(out, object, "error", usi_json_number(usi_form_wall_error(wall) / length));
        if (wall->passes) {
            double flow = out->scale->flow_m2_s;
            usi_json_put(out, object, "through", usi_json_value(wall->through_m2_s, flow));
            usi_json_put(out, object, "through_error", usi_json_error(wall->through_m2_s, flow));
        }
        if (out->solution->without_apron) {
            usi_json_put_value(out, object, "rise", wall->rise, 1.0);
        }
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *piezometers_of(usi_json *out, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t i = 0; i < water->piezometer_count; i++) {
        const us_piezometer_result *piezometer = &water->piezometers[i];
        json_t *object = json_object();
        usi_json_put(out, object, "name", usi_json_text(piezometer->name));
        usi_json_put(out, object, "head", usi_json_value(piezometer->head_m, out->scale->length_m));
        usi_json_put(out, object, "error",
                     usi_json_error(piezometer->head_m, out->scale->length_m));
        usi_json_push(out, array, object);
    }
    return array;
}

json_t *usi_json_water(usi_json *out, const us_water_result *water)
{
    double length = out->scale->length_m;
    json_t *object = json_object();
    usi_json_put(out, object, "name", usi_json_text(water->name));
    usi_json_put(out, object, "upstream", usi_json_number(water->upstream_m / length));
    usi_json_put(out, object, "downstream", usi_json_number(water->downstream_m / length));
    usi_json_put(out, object, "at_bed", json_boolean(water->at_bed));
    usi_json_put(out, object, "head_difference",
                 usi_json_number(water->head_difference_m / length));
    usi_json_put(out, object, "flow",
                 water->undermined == NULL ? flow_of(out, &water->flow) : json_null());
    usi_json_put(out, object, "exit_gradient", exit_of(out, &water->exit));
    usi_json_put_exits(out, object, water);
    usi_json_put(out, object, "uplift", usi_json_uplift(out, &water->uplift));
    usi_json_put(out, object, "walls", walls_of(out, water));
    usi_json_put(out, object, "piezometers", piezometers_of(out, water));
    usi_json_put_heave(out, object, water);
    usi_json_put(out, object, "works", usi_json_works(out, water));
    usi_json_put(out, object, "checks", usi_json_checks(out, water));
    usi_json_put_edges(out, object, water);
    return object;
}
