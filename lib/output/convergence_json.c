#include <jansson.h>
#include <math.h>

#include "output/convergence.h"
#include "output/json_text.h"
#include "undersill/version.h"

/* A failed addition leaves the count above 0; looked at once, at the end. */
typedef struct writer {
    const us_convergence *study;
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

static json_t *step_of(writer *out, const us_trend_step *step, double unit)
{
    json_t *object = json_object();
    put(out, object, "value", number(step->value / unit));
    put(out, object, "difference", value_of(step->difference, unit));
    put(out, object, "order", value_of(step->order, 1.0));
    put(out, object, "extrapolated", value_of(step->extrapolated, unit));
    put(out, object, "error", value_of(step->error, 1.0));
    return object;
}

static json_t *best_of(writer *out, const us_trend *trend, double unit)
{
    if (!trend->best.present) {
        return json_null();
    }
    json_t *object = json_object();
    put(out, object, "value", number(trend->best.value / unit));
    put(out, object, "error", number(trend->best.error / unit));
    put(out, object, "extrapolated", json_boolean(usi_convergence_is_extrapolated(trend)));
    return object;
}

static json_t *trend_of(writer *out, const us_trend *trend)
{
    usi_trend_words words = usi_trend_words_of(trend->kind, out->scale);
    json_t *object = json_object();
    put(out, object, "quantity", json_string(words.name));
    put(out, object, "place", trend->place != NULL ? json_string(trend->place) : json_null());
    put(out, object, "unit", words.unit[0] != '\0' ? json_string(words.unit) : json_null());
    put(out, object, "leading", json_boolean(trend->leading));
    put(out, object, "best", best_of(out, trend, words.size));
    put(out, object, "scale", number(trend->scale / words.size));
    json_t *steps = json_array();
    for (size_t k = 0; k < trend->step_count; k++) {
        push(out, steps, step_of(out, &trend->steps[k], words.size));
    }
    put(out, object, "grids", steps);
    return object;
}

static json_t *water_of(writer *out)
{
    const usi_water *water = &out->study->section->waters[out->study->water];
    double length = out->scale->length_m;
    json_t *object = json_object();
    put(out, object, "name", json_string(water->name));
    put(out, object, "upstream", number(water->upstream_m / length));
    put(out, object, "downstream", number(water->downstream_m / length));
    put(out, object, "head_difference", number((water->upstream_m - water->downstream_m) / length));
    return object;
}

static json_t *grids_of(writer *out)
{
    json_t *array = json_array();
    for (size_t k = 0; k < out->study->rung_count; k++) {
        const us_rung *rung = &out->study->rungs[k];
        json_t *object = json_object();
        put(out, object, "unknowns", json_integer((json_int_t)rung->unknowns));
        put(out, object, "columns", json_integer((json_int_t)rung->columns));
        put(out, object, "rows", json_integer((json_int_t)rung->rows));
        push(out, array, object);
    }
    return array;
}

static json_t *root_of(writer *out)
{
    const us_convergence *study = out->study;
    json_t *root = json_object();
    json_t *section = json_object();
    put(out, root, "undersill", json_string(US_VERSION));
    put(out, section, "title", json_string(study->section->title));
    put(out, section, "sha256", json_string(study->section->sha256));
    put(out, root, "section", section);
    put(out, root, "water", water_of(out));
    put(out, root, "grids", grids_of(out));
    json_t *trends = json_array();
    for (size_t t = 0; t < study->trend_count; t++) {
        push(out, trends, trend_of(out, &study->trends[t]));
    }
    put(out, root, "quantities", trends);
    json_t *notes = json_array();
    for (size_t i = 0; i < study->note_count; i++) {
        push(out, notes, json_string(study->notes[i]));
    }
    put(out, root, "notes", notes);
    return root;
}

us_status usi_study_json(us_context *context, us_buffer *out, const us_convergence *study,
                         const usi_scale *scale)
{
    writer state = {study, scale, 0};
    json_t *root = root_of(&state);
    return usi_json_print(context, out, root, state.failures == 0);
}
