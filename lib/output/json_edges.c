/* Drains, stretches of the underside, dry bed and the base as JSON. */
#include "base/units.h"
#include "output/json_tree.h"

static const usi_unit *discharge_unit(const usi_json *out)
{
    return usi_unit_of_discharge(out->solution->section->units.length);
}

static json_t *drains_of(usi_json *out, const us_water_result *water)
{
    double flow = out->scale->flow_m2_s;
    json_t *array = json_array();
    for (size_t i = 0; i < water->drain_count; i++) {
        const us_drain_result *drain = &water->drains[i];
        json_t *object = json_object();
        usi_json_put(out, object, "name", usi_json_text(drain->name));
        usi_json_put(out, object, "open", json_boolean(drain->open));
        usi_json_put(out, object, "flow", usi_json_value(drain->flow_m2_s, flow));
        usi_json_put(out, object, "error", usi_json_error(drain->flow_m2_s, flow));
        bool flows = drain->flow_m2_s.present;
        usi_json_put(out, object, "lower",
                     flows ? usi_json_number(drain->lower_m2_s / flow) : json_null());
        usi_json_put(out, object, "upper",
                     flows ? usi_json_number(drain->upper_m2_s / flow) : json_null());
        usi_json_put(out, object, "certified",
                     flows ? json_boolean(water->flow.certified) : json_null());
        usi_json_put(out, object, "total",
                     usi_json_value(drain->total_m3_s, out->scale->total_m3_s));
        usi_json_put(out, object, "head",
                     drain->open ? usi_json_number(drain->head_m / out->scale->length_m)
                                 : json_null());
        usi_json_put(out, object, "face_head", usi_json_value(drain->face_m, out->scale->length_m));
        usi_json_put(out, object, "feeds", json_boolean(drain->feeds));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *stretches_of(usi_json *out, const us_water_result *water)
{
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t i = 0; i < water->stretch_count; i++) {
        const us_stretch_result *stretch = &water->stretches[i];
        bool lost = stretch->kind == US_STRETCH_CONTACT_LOST;
        json_t *object = json_object();
        usi_json_put(out, object, "kind", json_string(lost ? "contact_lost" : "permeable"));
        usi_json_put(out, object, "from", usi_json_number(stretch->from_m / length));
        usi_json_put(out, object, "to", usi_json_number(stretch->to_m / length));
        usi_json_put_value(out, object, "flow", stretch->flow_m2_s, out->scale->flow_m2_s);
        usi_json_put_value(out, object, "head", stretch->head_m, length);
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *outflow_of(usi_json *out, const us_dry_result *dry)
{
    if (!dry->present) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put(out, object, "open", usi_json_value(dry->open_m, out->scale->length_m));
    usi_json_put(out, object, "closed", usi_json_value(dry->closed_m, out->scale->length_m));
    usi_json_put(out, object, "error", usi_json_error(dry->open_m, out->scale->length_m));
    usi_json_put_value(out, object, "flow", dry->flow_m2_s, out->scale->flow_m2_s);
    usi_json_put(out, object, "steps", json_integer(dry->rounds));
    return object;
}

static json_t *base_of(usi_json *out, const us_water_result *water)
{
    if (!water->base_flow_m2_s.present) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put_pair(out, object, water->base_flow_m2_s, out->scale->flow_m2_s);
    return object;
}

void usi_json_put_edges(usi_json *out, json_t *object, const us_water_result *water)
{
    usi_json_put(out, object, "undermined", usi_json_text(water->undermined));
    usi_json_put(out, object, "discharge",
                 usi_json_value(water->discharge_m3_s, discharge_unit(out)->factor));
    usi_json_put(out, object, "return_period", usi_json_value(water->return_period_years, 1.0));
    usi_json_put(out, object, "drains", drains_of(out, water));
    usi_json_put(out, object, "stretches", stretches_of(out, water));
    usi_json_put(out, object, "outflow", outflow_of(out, &water->dry));
    usi_json_put(out, object, "base_flow", base_of(out, water));
    usi_json_put(out, object, "drains_shut",
                 water->drains_shut != NULL ? usi_json_water(out, water->drains_shut)
                                            : json_null());
    if (out->solution->without_apron) {
        usi_json_put(out, object, "without_apron",
                     water->without_apron != NULL ? usi_json_water(out, water->without_apron)
                                                  : json_null());
    }
}
