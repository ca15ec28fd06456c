/* Every case of tests/data/cases.json that today's geometry allows, at default
 * accuracy, against its exact or certified values. Each case names its source
 * (closed forms of Harr 1962 and Polubarinova-Kochina, Khosla, Bose & Taylor
 * 1936, numerical Schwarz-Christoffel maps, certified two-sided bounds). */
#include <jansson.h>

#include "support/support.h"

/* What the project promises at default accuracy. */
static const double EXIT_TOLERANCE = 0.01;
static const double FLOW_TOLERANCE = 0.002;
static const double HEAD_TOLERANCE = 0.005;
static const double UPLIFT_TOLERANCE = 0.005;

enum { TEXT_ROOM = 16384, CASE_CAP = 100 };

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

static double number(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static bool has_number(const json_t *object, const char *key)
{
    return json_is_number(json_object_get(object, key));
}

static void put_ground(writer *out, const json_t *geometry, const json_t *layers)
{
    put(out, "bed: {upstream: %.17g, downstream: %.17g}\n", number(geometry, "bed_up_y"),
        number(geometry, "bed_down_y"));
    if (has_number(geometry, "base_y")) {
        put(out, "base: %.17g\n", number(geometry, "base_y"));
    } else {
        put(out, "base: none\n");
    }
    put(out, "soils:\n");
    for (size_t i = 0; i < json_array_size(layers); i++) {
        const json_t *layer = json_array_get(layers, i);
        put(out, "  - {name: soil_%zu, kh: %.17g, kv: %.17g, unit_weight: 20", i,
            number(layer, "kh"), number(layer, "kv"));
        if (i > 0) {
            put(out, ", top: %.17g", number(layer, "y_top"));
        }
        put(out, "}\n");
    }
}

static void put_works(writer *out, const json_t *geometry, const json_t *lateral)
{
    const json_t *floor_part = json_object_get(geometry, "floor");
    if (json_is_object(floor_part)) {
        double level = number(floor_part, "underside_y");
        put(out, "structure: {underside: [[%.17g, %.17g], [%.17g, %.17g]]}\n",
            number(floor_part, "x1"), level, number(floor_part, "x2"), level);
    }
    const json_t *walls = json_object_get(geometry, "walls");
    if (json_array_size(walls) > 0) {
        put(out, "walls:\n");
    }
    bool has_base = has_number(geometry, "base_y");
    for (size_t i = 0; i < json_array_size(walls); i++) {
        const json_t *wall = json_array_get(walls, i);
        double tip = number(wall, "y_bottom");
        bool keyed = has_base && tip == number(geometry, "base_y");
        put(out, "  - {name: wall_%zu, x: %.17g, top: %.17g, tip: %.17g%s}\n", i, number(wall, "x"),
            number(wall, "y_top"), tip, keyed ? ", keyed: true" : "");
    }
    if (json_is_object(lateral)) {
        put(out,
            "sides: {left: {x: %.17g, kind: fixed_head}, right: {x: %.17g, kind: fixed_head}}\n",
            number(lateral, "x_left"), number(lateral, "x_right"));
    }
}

static void put_points(writer *out, const json_t *heads)
{
    if (json_array_size(heads) > 0) {
        put(out, "piezometers:\n");
    }
    for (size_t i = 0; i < json_array_size(heads); i++) {
        const json_t *head = json_array_get(heads, i);
        put(out, "  - {name: point_%zu, at: [%.17g, %.17g], side: %s}\n", i, number(head, "x"),
            number(head, "y"), json_string_value(json_object_get(head, "side")));
    }
}

static void write_section(writer *out, const json_t *one)
{
    const json_t *geometry = json_object_get(one, "geometry");
    put_ground(out, geometry, json_object_get(one, "layers"));
    put_works(out, geometry, json_object_get(one, "lateral"));
    put(out, "water: [{name: case, upstream: %.17g, downstream: %.17g}]\n", number(one, "head_up"),
        number(one, "head_down"));
    put_points(out, json_object_get(json_object_get(one, "expected"), "heads_fraction"));
}

static void check_flow(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    if (!has_number(expected, "q_over_kH")) {
        assert_false(result->flow.bounded);
        assert_false(result->flow.rate_m2_s.present);
        return;
    }
    double exact = number(expected, "q_m2_per_s");
    double trust = number(json_object_get(one, "trusted_error"), "q");
    us_value rate = result->flow.rate_m2_s;
    assert_near(rate.value, exact, FLOW_TOLERANCE, 0.0);
    /* The given value has 12 digits: a bound may sit on its last one. */
    double slack = exact * fmax(trust, 1e-11);
    assert_true(result->flow.lower_m2_s <= exact + slack);
    assert_true(result->flow.upper_m2_s >= exact - slack);
    print_message("    flow off by %+.2e, stated %.2e, bracket %.2e\n", rate.value / exact - 1.0,
                  rate.error / rate.value,
                  (result->flow.upper_m2_s - result->flow.lower_m2_s) / exact);
}

static void check_exit(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    const json_t *gradient = json_object_get(expected, "exit_gradient");
    if (gradient == NULL) {
        return;
    }
    assert_true(result->exit.present);
    if (json_is_string(gradient)) {
        assert_string_equal(json_string_value(gradient), "infinite");
        assert_false(result->exit.bounded);
        assert_false(result->exit.gradient.present);
        assert_true(result->exit.mean.present && result->exit.mean.value > 0.0);
        assert_true(result->exit.mean_depth_m > 0.0);
        return;
    }
    double exact = json_number_value(gradient);
    us_value value = result->exit.gradient;
    assert_true(result->exit.bounded && value.present);
    assert_near(value.value, exact, EXIT_TOLERANCE, 0.0);
    const json_t *place = json_object_get(expected, "exit_gradient_at");
    assert_near(result->exit.x_m, number(place, "x"), 1e-12, 1e-9);
    assert_near(result->exit.level_m, number(place, "y"), 1e-12, 1e-9);
    print_message("    exit gradient off by %+.2e, stated %.2e\n", value.value / exact - 1.0,
                  value.error / value.value);
}

static void check_uplift(const json_t *one, const us_water_result *result)
{
    const json_t *expected = json_object_get(one, "expected");
    if (!has_number(expected, "uplift_force_total_kN_per_m")) {
        return;
    }
    double exact = 1000.0 * number(expected, "uplift_force_total_kN_per_m");
    assert_true(result->uplift.present && !result->uplift.suction);
    assert_near(result->uplift.force_n_m.value, exact, UPLIFT_TOLERANCE, 0.0);
}

static void check_heads(const json_t *one, const us_water_result *result)
{
    const json_t *heads = json_object_get(json_object_get(one, "expected"), "heads_fraction");
    double down = number(one, "head_down");
    double drop = number(one, "head_up") - down;
    assert_int_equal(result->piezometer_count, json_array_size(heads));
    for (size_t i = 0; i < json_array_size(heads); i++) {
        double exact = down + drop * number(json_array_get(heads, i), "h");
        us_value head = result->piezometers[i].head_m;
        assert_true(head.present);
        assert_near(head.value, exact, 0.0, HEAD_TOLERANCE * drop);
    }
}

static void test_case(void **state)
{
    const json_t *one = *state;
    static writer out;
    out.used = 0;
    write_section(&out, one);
    us_context *context = us_context_create();
    us_section *section = support_read(context, out.text);
    us_solution *solution = support_solve(context, section, 0.01);
    const us_water_result *result = us_solution_water(solution, 0);
    const us_grid_result *grid = us_solution_grid(solution);
    assert_true(grid->mass_balance < 1e-6);
    print_message("    %s, %zu unknowns\n", json_string_value(json_object_get(one, "description")),
                  grid->unknowns);
    check_flow(one, result);
    check_exit(one, result);
    check_uplift(one, result);
    check_heads(one, result);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
}

/* Leaky walls come with a later key of the section file. */
static bool is_possible(const json_t *one)
{
    const json_t *walls = json_object_get(json_object_get(one, "geometry"), "walls");
    for (size_t i = 0; i < json_array_size(walls); i++) {
        const char *kind = json_string_value(json_object_get(json_array_get(walls, i), "kind"));
        if (strcmp(kind, "impervious") != 0) {
            return false;
        }
    }
    return true;
}

int main(void)
{
    json_error_t error;
    json_t *file = json_load_file(UNDERSILL_TEST_DATA "/cases.json", 0, &error);
    if (file == NULL) {
        (void)fprintf(stderr, "cases.json:%d: %s\n", error.line, error.text);
        return 1;
    }
    static struct CMUnitTest tests[CASE_CAP];
    const json_t *cases = json_object_get(file, "cases");
    size_t count = 0;
    for (size_t i = 0; i < json_array_size(cases) && count < CASE_CAP; i++) {
        json_t *one = json_array_get(cases, i);
        if (is_possible(one)) {
            tests[count++] =
                (struct CMUnitTest){.name = json_string_value(json_object_get(one, "id")),
                                    .test_func = test_case,
                                    .initial_state = one};
        }
    }
    /* 44 cases, six of them with leaky walls. */
    int failed = count == 38 ? _cmocka_run_group_tests("cases", tests, count, NULL, NULL) : 1;
    json_decref(file);
    return failed;
}
