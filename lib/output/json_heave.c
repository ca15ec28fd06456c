/* Prisms of soil and tight layers that water might lift, as JSON. */
#include "output/json_tree.h"

static json_t *prism_of(usi_json *out, const us_prism_result *prism)
{
    static const char *const kinds[] = {
        [US_PRISM_TOE] = "toe", [US_PRISM_DEPTH] = "depth", [US_PRISM_BED] = "bed"};
    double length = out->scale->length_m;
    double force = out->scale->force_n_m;
    json_t *object = json_object();
    usi_json_put(out, object, "kind", json_string(kinds[prism->kind]));
    usi_json_put(out, object, "from", usi_json_number(prism->from_m / length));
    usi_json_put(out, object, "to", usi_json_number(prism->to_m / length));
    usi_json_put(out, object, "level", usi_json_number(prism->level_m / length));
    usi_json_put(out, object, "depth", usi_json_number(prism->depth_m / length));
    usi_json_put(out, object, "narrow", json_boolean(prism->narrow));
    usi_json_put_value(out, object, "head", prism->head_m, length);
    usi_json_put_value(out, object, "corner_head", prism->corner_m, length);
    usi_json_put(out, object, "water", usi_json_number(prism->water_m / length));
    usi_json_put(out, object, "weight", usi_json_value(prism->weight_n_m, force));
    usi_json_put(out, object, "water_on_top", usi_json_number(prism->water_n_m / force));
    usi_json_put(out, object, "submerged_weight", usi_json_value(prism->submerged_n_m, force));
    usi_json_put_value(out, object, "seepage_force", prism->seepage_n_m, force);
    usi_json_put_value(out, object, "pore_pressure", prism->pressure_n_m, force);
    usi_json_put_value(out, object, "factor", prism->factor, 1.0);
    usi_json_put_value(out, object, "total_factor", prism->total_factor, 1.0);
    usi_json_put(out, object, "unweighed", usi_json_text(prism->unweighed));
    return object;
}

static json_t *blow_up_of(usi_json *out, const us_blow_up_result *blow_up)
{
    if (!blow_up->present) {
        return json_null();
    }
    bool known = blow_up->stress_n_m2.present;
    double length = out->scale->length_m;
    double pressure = out->scale->pressure_pa;
    json_t *object = json_object();
    usi_json_put(out, object, "x", known ? usi_json_number(blow_up->x_m / length) : json_null());
    usi_json_put(out, object, "level",
                 known ? usi_json_number(blow_up->level_m / length) : json_null());
    usi_json_put(out, object, "upper", usi_json_text(blow_up->upper));
    usi_json_put(out, object, "lower", usi_json_text(blow_up->lower));
    usi_json_put_value(out, object, "head", blow_up->head_m, length);
    usi_json_put(out, object, "stress", usi_json_value(blow_up->stress_n_m2, pressure));
    usi_json_put_value(out, object, "pore_pressure", blow_up->pressure_n_m2, pressure);
    usi_json_put_value(out, object, "factor", blow_up->factor, 1.0);
    usi_json_put(out, object, "unweighed", usi_json_text(blow_up->unweighed));
    return object;
}

void usi_json_put_heave(usi_json *out, json_t *object, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t k = 0; k < water->heave.prism_count; k++) {
        usi_json_push(out, array, prism_of(out, &water->heave.prisms[k]));
    }
    usi_json_put(out, object, "prisms", array);
    usi_json_put(out, object, "blow_up", blow_up_of(out, &water->blow_up));
}
