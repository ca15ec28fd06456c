/* Creep, openings and walls as pieces of steel as JSON. */
#include "output/json_tree.h"
#include "undersill/works.h"

static json_t *way_of(usi_json *out, const us_creep_way *way)
{
    double length = out->scale->length_m;
    if (!way->length_m.present) {
        return json_null();
    }
    json_t *object = json_object();
    usi_json_put(out, object, "length", usi_json_value(way->length_m, length));
    usi_json_put(out, object, "head_difference", usi_json_number(way->head_m / length));
    usi_json_put(out, object, "ratio", usi_json_value(way->ratio, 1.0));
    usi_json_put(out, object, "x", usi_json_number(way->x_m / length));
    usi_json_put(out, object, "level", usi_json_number(way->level_m / length));
    usi_json_put(out, object, "end", usi_json_text(way->end));
    usi_json_put(out, object, "cut_across", json_boolean(way->cut_across));
    return object;
}

static json_t *openings_of(usi_json *out, const us_works_result *works)
{
    static const char *const kinds[] = {
        [US_OPENING_WEEPS] = "weeps",         [US_OPENING_DRAIN] = "drain",
        [US_OPENING_PERMEABLE] = "permeable", [US_OPENING_HOLE] = "hole",
        [US_OPENING_SLOT] = "slot",           [US_OPENING_GAP] = "gap",
    };
    double length = out->scale->length_m;
    json_t *array = json_array();
    for (size_t i = 0; i < works->opening_count; i++) {
        const us_opening_result *opening = &works->openings[i];
        json_t *object = json_object();
        usi_json_put(out, object, "kind", json_string(kinds[opening->kind]));
        usi_json_put(out, object, "name", usi_json_text(opening->name));
        usi_json_put(out, object, "x", usi_json_number(opening->x_m / length));
        usi_json_put(out, object, "level", usi_json_number(opening->level_m / length));
        usi_json_put(out, object, "size", usi_json_value(opening->size_m, length));
        usi_json_put(out, object, "soil", usi_json_text(opening->soil));
        usi_json_put(out, object, "d85", usi_json_value(opening->d85_m, length));
        usi_json_put(out, object, "ratio", usi_json_value(opening->ratio, 1.0));
        usi_json_put(out, object, "retained_by", usi_json_text(opening->retained_by));
        usi_json_push(out, array, object);
    }
    return array;
}

static json_t *walls_of(usi_json *out, const us_works_result *works)
{
    double length = out->scale->length_m;
    double force = out->scale->force_n_m;
    json_t *array = json_array();
    for (size_t i = 0; i < works->wall_count; i++) {
        const us_wall_works *wall = &works->walls[i];
        json_t *object = json_object();
        usi_json_put(out, object, "name", usi_json_text(wall->name));
        usi_json_put(out, object, "embedment", usi_json_value(wall->embedment_m, length));
        usi_json_put(out, object, "cap", usi_json_value(wall->cap_m, length));
        usi_json_put(out, object, "embedment_share", usi_json_value(wall->embedment_share, 1.0));
        usi_json_put(out, object, "gap", usi_json_value(wall->gap_m, length));
        usi_json_put(out, object, "loss_per_side", usi_json_value(wall->loss_m, length));
        usi_json_put(out, object, "thickness_left", usi_json_value(wall->left_m, length));
        usi_json_put(out, object, "share_left", usi_json_value(wall->left_share, 1.0));
        usi_json_put(out, object, "friction", usi_json_value(wall->friction_n_m, force));
        usi_json_put(out, object, "weight", usi_json_value(wall->weight_n_m, force));
        usi_json_put(out, object, "load", usi_json_value(wall->load_n_m, force));
        usi_json_put(out, object, "load_factor", usi_json_value(wall->load_factor, 1.0));
        usi_json_put(out, object, "lacks", usi_json_text(wall->lacks));
        usi_json_push(out, array, object);
    }
    return array;
}

json_t *usi_json_works(usi_json *out, const us_water_result *water)
{
    if (water->works == NULL) {
        return json_null();
    }
    json_t *object = json_object();
    json_t *creep = json_object();
    usi_json_put(out, creep, "bligh", way_of(out, &water->works->bligh));
    usi_json_put(out, creep, "lane", way_of(out, &water->works->lane));
    usi_json_put(out, object, "creep", creep);
    usi_json_put(out, object, "openings", openings_of(out, water->works));
    usi_json_put(out, object, "walls", walls_of(out, water->works));
    return object;
}
