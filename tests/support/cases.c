/* The reference cases as section files. */
#include "support/cases.h"

#include "support/support.h"

enum { TEXT_ROOM = 16384 };

typedef struct writer {
    char text[TEXT_ROOM];
    size_t used;
} writer;

static void put(writer *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void put(writer *out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int more = vsnprintf(out->text + out->used, TEXT_ROOM - out->used, format, arguments);
    va_end(arguments);
    assert_true(more >= 0 && (size_t)more < TEXT_ROOM - out->used);
    out->used += (size_t)more;
}

double cases_number(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

bool cases_has_number(const json_t *object, const char *key)
{
    return json_is_number(json_object_get(object, key));
}

static void put_ground(writer *out, const json_t *geometry, const json_t *layers)
{
    put(out, "bed: {upstream: %.17g, downstream: %.17g}\n", cases_number(geometry, "bed_up_y"),
        cases_number(geometry, "bed_down_y"));
    if (cases_has_number(geometry, "base_y")) {
        put(out, "base: %.17g\n", cases_number(geometry, "base_y"));
    } else {
        put(out, "base: none\n");
    }
    put(out, "soils:\n");
    for (size_t i = 0; i < json_array_size(layers); i++) {
        const json_t *layer = json_array_get(layers, i);
        put(out, "  - {name: soil_%zu, kh: %.17g, kv: %.17g, unit_weight: 20", i,
            cases_number(layer, "kh"), cases_number(layer, "kv"));
        if (i > 0) {
            put(out, ", top: %.17g", cases_number(layer, "y_top"));
        }
        put(out, "}\n");
    }
}

static void put_works(writer *out, const json_t *geometry, const json_t *lateral)
{
    const json_t *floor_part = json_object_get(geometry, "floor");
    if (json_is_object(floor_part)) {
        double level = cases_number(floor_part, "underside_y");
        put(out, "structure: {underside: [[%.17g, %.17g], [%.17g, %.17g]]}\n",
            cases_number(floor_part, "x1"), level, cases_number(floor_part, "x2"), level);
    }
    const json_t *walls = json_object_get(geometry, "walls");
    if (json_array_size(walls) > 0) {
        put(out, "walls:\n");
    }
    bool has_base = cases_has_number(geometry, "base_y");
    for (size_t i = 0; i < json_array_size(walls); i++) {
        const json_t *wall = json_array_get(walls, i);
        double tip = cases_number(wall, "y_bottom");
        bool keyed = has_base && tip == cases_number(geometry, "base_y");
        put(out, "  - {name: wall_%zu, x: %.17g, top: %.17g, tip: %.17g%s", i,
            cases_number(wall, "x"), cases_number(wall, "y_top"), tip,
            keyed ? ", keyed: true" : "");
        if (cases_has_number(wall, "conductance_per_s")) {
            /* Joints as wide as their spacing: nothing converges to them. */
            put(out, ", interlock: {inverse_resistance: %.17g, spacing: 1, joint_width: 1}",
                cases_number(wall, "conductance_per_s"));
        }
        put(out, "}\n");
    }
    if (json_is_object(lateral)) {
        put(out,
            "sides: {left: {x: %.17g, kind: fixed_head}, right: {x: %.17g, kind: fixed_head}}\n",
            cases_number(lateral, "x_left"), cases_number(lateral, "x_right"));
    }
}

static void put_points(writer *out, const json_t *heads)
{
    if (json_array_size(heads) > 0) {
        put(out, "piezometers:\n");
    }
    for (size_t i = 0; i < json_array_size(heads); i++) {
        const json_t *head = json_array_get(heads, i);
        put(out, "  - {name: point_%zu, at: [%.17g, %.17g], side: %s}\n", i,
            cases_number(head, "x"), cases_number(head, "y"),
            json_string_value(json_object_get(head, "side")));
    }
}

static void write_section(writer *out, const json_t *one)
{
    const json_t *geometry = json_object_get(one, "geometry");
    put_ground(out, geometry, json_object_get(one, "layers"));
    put_works(out, geometry, json_object_get(one, "lateral"));
    put(out, "water: [{name: case, upstream: %.17g, downstream: %.17g}]\n",
        cases_number(one, "head_up"), cases_number(one, "head_down"));
    put_points(out, json_object_get(json_object_get(one, "expected"), "heads_fraction"));
}

us_section *cases_read(us_context *context, const json_t *one)
{
    writer out = {.used = 0};
    write_section(&out, one);
    return support_read(context, out.text);
}

json_t *cases_load(void)
{
    json_error_t error;
    json_t *file = json_load_file(UNDERSILL_TEST_DATA "/cases.json", 0, &error);
    if (file == NULL) {
        (void)fprintf(stderr, "cases.json:%d: %s\n", error.line, error.text);
    }
    return file;
}

int cases_run(const char *name, CMUnitTestFunction test)
{
    json_t *file = cases_load();
    static struct CMUnitTest tests[CASES_CAP];
    const json_t *cases = json_object_get(file, "cases");
    size_t count = 0;
    for (size_t i = 0; i < json_array_size(cases) && count < CASES_CAP; i++) {
        json_t *one = json_array_get(cases, i);
        tests[count++] = (struct CMUnitTest){.name = json_string_value(json_object_get(one, "id")),
                                             .test_func = test,
                                             .initial_state = one};
    }
    int failed = 1;
    if (count == CASES_ALL) {
        failed = _cmocka_run_group_tests(name, tests, count, NULL, NULL);
    }
    json_decref(file);
    return failed;
}

void cases_check_heads(const json_t *one, const us_water_result *result, double tolerance)
{
    const json_t *heads = json_object_get(json_object_get(one, "expected"), "heads_fraction");
    double down = cases_number(one, "head_down");
    double drop = cases_number(one, "head_up") - down;
    assert_int_equal(result->piezometer_count, json_array_size(heads));
    for (size_t i = 0; i < json_array_size(heads); i++) {
        double exact = down + drop * cases_number(json_array_get(heads, i), "h");
        us_value head = result->piezometers[i].head_m;
        assert_true(head.present);
        assert_near(head.value, exact, 0.0, tolerance * drop);
    }
}
