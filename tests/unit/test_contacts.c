/* The sides where soil ends: walked with the soil on the left they close to rings. */
#include <stdlib.h>
#include <string.h>

#include "solve/contact.h"
#include "study/view.h"
#include "support/support.h"
#include "undersill/undersill.h"

/* Every place is left as often as it is reached: no gap where a sloping edge passes
 * through a node or close by it. */
static void check_rings(us_context *context, const us_section *section, double cells, int halvings)
{
    usi_grid_options options = {.cells = cells, .halvings = halvings, .truncation = 1e-4};
    usi_grid *grid = NULL;
    assert_int_equal(usi_grid_build(context, section, &options, &grid), US_OK);
    usi_contacts contacts;
    assert_int_equal(usi_contacts_list(context, grid, &contacts), US_OK);
    int *degree = calloc(usi_grid_place_count(grid), sizeof *degree);
    for (size_t k = 0; k < contacts.count; k++) {
        degree[contacts.list[k].place[0]]--;
        degree[contacts.list[k].place[1]]++;
    }
    for (size_t n = 0; n < usi_grid_place_count(grid); n++) {
        assert_int_equal(degree[n], 0);
    }
    free(degree);
    usi_contacts_free(&contacts);
    usi_grid_free(grid);
}

/* Found by the wet foot of tests/data/edges: at twice the lines the slope met a node
 * within 1e-9 of the row, and not within 1e-9 of the column. */
static const char falling[] = "bed: {upstream: 100, downstream: [[12, 100], [24, 97]]}\n"
                              "base: 88\n"
                              "structure: {underside: [[0, 99.5], [12, 99.5]]}\n"
                              "walls: [{x: 0, top: 99.7, tip: 96}, {x: 12, top: 99.7, tip: 97}]\n"
                              "soils: [{name: sand, kh: 2e-5, kv: 2e-5}]\n"
                              "water: [{upstream: 103, downstream: 98.5}]\n";

static void test_rings(void **state)
{
    us_context *context = *state;
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, falling, strlen(falling), "falling", &section),
                     US_OK);
    usi_view view;
    assert_int_equal(usi_view_make(context, section, 0, USI_VARIANT_NONE, 0.01, &view), US_OK);
    for (int halvings = 0; halvings < 3; halvings++) {
        for (double cells = 5.0; cells < 12.0; cells += 0.5) {
            check_rings(context, &view.section, cells, halvings);
        }
    }
    usi_view_free(&view);
    us_section_free(section);
}

static int set_up(void **state)
{
    *state = us_context_create();
    return *state == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    us_context_free(*state);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_rings)};
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
