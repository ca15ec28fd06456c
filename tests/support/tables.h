/* A solution built by hand, for tests of the tables made from it. */
#ifndef TESTS_SUPPORT_TABLES_H
#define TESTS_SUPPORT_TABLES_H

#include "support/support.h"

#include <jansson.h>

#include "study/solution.h"

#define PRESENT(number, deviation)                                                                 \
    {                                                                                              \
        .value = (number), .error = (deviation), .present = true                                   \
    }

typedef struct scene {
    us_context *context;
    us_section section;
    usi_piezometer point;
    us_wall_result walls[2];
    us_piezometer_result piezometer;
    us_check_result check;
    us_register_entry entry;
    us_water_result water;
    us_solution solution;
    char *note;
} scene;

static inline void fill_water(scene *made)
{
    made->walls[0] = (us_wall_result){.name = "toe",
                                      .upstream_face_top_m = PRESENT(102.345678, 0.0021),
                                      .tip_m = PRESENT(102.2, 0.0009),
                                      .downstream_face_top_m = PRESENT(102.0, 0.0)};
    made->walls[1] =
        (us_wall_result){.name = "=sum(1)", .upstream_face_top_m = PRESENT(103.4, 0.001)};
    made->piezometer =
        (us_piezometer_result){.name = "P \"1\", left", .head_m = PRESENT(102.71, 0.004)};
    made->check = (us_check_result){.name = "piping",
                                    .value = PRESENT(4.2, 0.03),
                                    .required = PRESENT(4.0, 0.0),
                                    .margin = PRESENT(1.05, 0.0075),
                                    .verdict = US_PASS,
                                    .where = "x 15 m",
                                    .basis = "critical over exit"};
    made->water =
        (us_water_result){.name = "flood",
                          .upstream_m = 103.4,
                          .downstream_m = 102.0,
                          .head_difference_m = 1.4,
                          .flow = {.rate_m2_s = PRESENT(2.34567e-5, 2.4e-8),
                                   .lower_m2_s = 2.3e-5,
                                   .upper_m2_s = 2.4e-5,
                                   .certified = true,
                                   .bounded = true,
                                   .total_m3_s = PRESENT(2.34567e-5 * 24.0, 2.4e-8 * 24.0)},
                          .exit = {.present = true,
                                   .bounded = true,
                                   .gradient = PRESENT(0.23456, 0.0012),
                                   .x_m = 15.0,
                                   .level_m = 100.0,
                                   .mean = PRESENT(0.21, 0.002),
                                   .mean_depth_m = 0.9,
                                   .soil = "silty_sand",
                                   .critical = PRESENT(0.9878, 0.0),
                                   .piping_factor = PRESENT(4.2, 0.03)},
                          .uplift = {.present = true,
                                     .force_n_m = PRESENT(123456.0, 300.0),
                                     .x_m = PRESENT(6.78, 0.01),
                                     .weight_n_m = PRESENT(200000.0, 0.0),
                                     .water_on_top_n_m = PRESENT(0.0, 0.0),
                                     .net_n_m = PRESENT(-76544.0, 300.0),
                                     .factor = PRESENT(1.62, 0.004)},
                          .wall_count = 2,
                          .walls = made->walls,
                          .piezometer_count = 1,
                          .piezometers = &made->piezometer,
                          .check_count = 1,
                          .checks = &made->check};
}

static inline int enter(void **state)
{
    scene *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    made->note = "kv of silty_sand is taken as kh, and this note is long enough to have to be "
                 "broken at the end of the page";
    made->section = (us_section){
        .title = "Reach \x1b[31m 7", .sha256 = "0123456789abcdef0123456789abcdef", .width_m = 24.0};
    made->section.units.length = usi_unit_find("m", 1);
    made->section.units.conductivity = usi_unit_find("cm/s", 4);
    made->section.units.unit_weight = usi_unit_find("kN/m^3", 6);
    made->point = (usi_piezometer){.name = "P1", .at = {6.0, 98.0}};
    made->section.piezometer_count = 1;
    made->section.piezometers = &made->point;
    fill_water(made);
    made->entry = (us_register_entry){&made->check, "flood", true};
    made->solution = (us_solution){.section = &made->section,
                                   .water_count = 1,
                                   .water = &made->water,
                                   .register_count = 1,
                                   .entries = &made->entry,
                                   .grid = {6000, 100, 60, 2e-13, true},
                                   .note_count = 1,
                                   .notes = &made->note,
                                   .accuracy = 0.01};
    *state = made;
    return 0;
}

static inline int leave(void **state)
{
    scene *made = *state;
    us_context_free(made->context);
    free(made);
    return 0;
}

static inline us_buffer *tabulate(const scene *made, us_format format)
{
    us_buffer *table = NULL;
    assert_int_equal(us_solution_tabulate(made->context, &made->solution, format, &table), US_OK);
    assert_int_equal(strlen(us_buffer_data(table)), us_buffer_length(table));
    return table;
}

static inline void assert_has(const us_buffer *table, const char *wanted)
{
    if (strstr(us_buffer_data(table), wanted) == NULL) {
        fail_msg("no \"%s\" in:\n%s", wanted, (const char *)us_buffer_data(table));
    }
}

static inline void assert_lacks(const us_buffer *table, const char *unwanted)
{
    if (strstr(us_buffer_data(table), unwanted) != NULL) {
        fail_msg("\"%s\" in:\n%s", unwanted, (const char *)us_buffer_data(table));
    }
}

static inline json_t *load(const us_buffer *table)
{
    json_error_t error;
    json_t *root = json_loadb(us_buffer_data(table), us_buffer_length(table), 0, &error);
    if (root == NULL) {
        fail_msg("%s in:\n%s", error.text, (const char *)us_buffer_data(table));
    }
    return root;
}

/* One table made, and what it has to hold. */
static inline void assert_table(const scene *made, us_format format, const char *wanted)
{
    us_buffer *table = tabulate(made, format);
    assert_has(table, wanted);
    us_buffer_free(table);
}

/* The table as JSON; the caller's, by json_decref(). */
static inline json_t *load_scene(const scene *made)
{
    us_buffer *table = tabulate(made, US_FORMAT_JSON);
    json_t *root = load(table);
    us_buffer_free(table);
    return root;
}

/* The member at a path such as "water.0.flow.value". */
static inline const json_t *at(const json_t *root, const char *path)
{
    char key[64];
    while (root != NULL && *path != '\0') {
        size_t length = strcspn(path, ".");
        (void)snprintf(key, sizeof key, "%.*s", (int)length, path);
        root = json_is_array(root) ? json_array_get(root, strtoul(key, NULL, 10))
                                   : json_object_get(root, key);
        path += length + (path[length] == '.');
    }
    assert_non_null(root);
    return root;
}

static inline void assert_member(const json_t *root, const char *path, double expected)
{
    assert_true(json_is_real(at(root, path)));
    assert_near(json_real_value(at(root, path)), expected, 1e-8, 0.0);
}

static inline void assert_word(const json_t *root, const char *path, const char *expected)
{
    assert_string_equal(json_string_value(at(root, path)), expected);
}

#define SCENE(test) cmocka_unit_test_setup_teardown(test, enter, leave)

#endif
