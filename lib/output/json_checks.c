/* Checks as JSON. */
#include "output/json_tree.h"

/* null where nothing was judged. */
static json_t *pass_of(us_verdict verdict)
{
    bool judged = verdict == US_PASS || verdict == US_FAIL;
    return judged ? json_boolean(verdict == US_PASS) : json_null();
}

static json_t *check_of(usi_json *out, const us_check_result *check)
{
    json_t *object = json_object();
    usi_json_put(out, object, "name", usi_json_text(check->name));
    usi_json_put(out, object, "value", usi_json_value(check->value, 1.0));
    usi_json_put(out, object, "error", usi_json_error(check->value, 1.0));
    usi_json_put(out, object, "required", usi_json_value(check->required, 1.0));
    usi_json_put(out, object, "at_most", json_boolean(check->at_most));
    usi_json_put(out, object, "margin", usi_json_value(check->margin, 1.0));
    usi_json_put(out, object, "pass", pass_of(check->verdict));
    usi_json_put(out, object, "checked", json_boolean(check->verdict != US_NOT_CHECKED));
    usi_json_put(out, object, "where", usi_json_text(check->where));
    usi_json_put(out, object, "basis", usi_json_text(check->basis));
    return object;
}

json_t *usi_json_checks(usi_json *out, const us_water_result *water)
{
    json_t *array = json_array();
    for (size_t i = 0; i < water->check_count; i++) {
        usi_json_push(out, array, check_of(out, &water->checks[i]));
    }
    return array;
}

json_t *usi_json_register(usi_json *out)
{
    json_t *array = json_array();
    for (size_t k = 0; k < out->solution->register_count; k++) {
        const us_register_entry *entry = &out->solution->entries[k];
        json_t *object = check_of(out, entry->check);
        usi_json_put(out, object, "water", usi_json_text(entry->water));
        usi_json_put(out, object, "governs", json_boolean(entry->governs));
        usi_json_push(out, array, object);
    }
    return array;
}
