#include "output/json_tree.h"

#include <stdio.h>

#include <math.h>

void usi_json_put(usi_json *out, json_t *object, const char *key, json_t *value)
{
    out->failures += json_object_set_new(object, key, value) != 0;
}

void usi_json_push(usi_json *out, json_t *array, json_t *value)
{
    out->failures += json_array_append_new(array, value) != 0;
}

json_t *usi_json_number(double value)
{
    return isfinite(value) ? json_real(value == 0.0 ? 0.0 : value) : json_null();
}

json_t *usi_json_value(us_value value, double unit)
{
    return value.present ? usi_json_number(value.value / unit) : json_null();
}

json_t *usi_json_error(us_value value, double unit)
{
    return value.present ? usi_json_number(value.error / unit) : json_null();
}

json_t *usi_json_text(const char *text)
{
    return text == NULL ? json_null() : json_string(text);
}

void usi_json_put_pair(usi_json *out, json_t *object, us_value value, double unit)
{
    usi_json_put(out, object, "value", usi_json_value(value, unit));
    usi_json_put(out, object, "error", usi_json_error(value, unit));
}

void usi_json_put_value(usi_json *out, json_t *object, const char *name, us_value value,
                        double unit)
{
    char error[64];
    (void)snprintf(error, sizeof error, "%s_error", name);
    usi_json_put(out, object, name, usi_json_value(value, unit));
    usi_json_put(out, object, error, usi_json_error(value, unit));
}
