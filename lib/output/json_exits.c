/* Places where water leaves the soil as JSON. */
#include "output/json_tree.h"

static json_t *mean_of(usi_json *out, const us_exit_place *exit)
{
    json_t *object = json_object();
    usi_json_put_pair(out, object, exit->mean, 1.0);
    usi_json_put(out, object, "depth",
                 exit->mean.present && exit->mean_depth_m > 0.0
                     ? usi_json_number(exit->mean_depth_m / out->scale->length_m)
                     : json_null());
    return object;
}

static json_t *exit_of(usi_json *out, const us_exit_place *exit)
{
    const double degree_rad = 3.14159265358979323846 / 180.0;
    double length = out->scale->length_m;
    json_t *object = json_object();
    usi_json_put(out, object, "kind", usi_json_text(exit->kind));
    usi_json_put(out, object, "name", usi_json_text(exit->name));
    usi_json_put(out, object, "x", usi_json_number(exit->x_m / length));
    usi_json_put(out, object, "level", usi_json_number(exit->level_m / length));
    usi_json_put(out, object, "soil", usi_json_text(exit->soil));
    usi_json_put(out, object, "gradient", usi_json_value(exit->gradient, 1.0));
    usi_json_put(out, object, "error", usi_json_error(exit->gradient, 1.0));
    usi_json_put(out, object, "mean", mean_of(out, exit));
    usi_json_put(out, object, "slope", usi_json_number(exit->slope_rad / degree_rad));
    usi_json_put(out, object, "emerges", json_boolean(exit->emerges));
    usi_json_put(out, object, "critical", usi_json_value(exit->critical, 1.0));
    usi_json_put_value(out, object, "factor", exit->factor, 1.0);
    usi_json_put(out, object, "lacks", usi_json_text(exit->lacks));
    usi_json_put(out, object, "retained", json_boolean(exit->retained));
    return object;
}

void usi_json_put_exits(usi_json *out, json_t *object, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t i = 0; i < water->exit.exit_count; i++) {
        usi_json_push(out, array, exit_of(out, &water->exit.exits[i]));
    }
    usi_json_put(out, object, "exits", array);
}
