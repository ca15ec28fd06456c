/* What the notes say of conductivities known by class alone: flow within the
 * stated factors wherever in the ranges they lie, and what does not change. */
#include "support/support.h"

#include "model/section.h"

typedef struct outcome {
    double flow_m2_s;
    double gradient;
    double tip_m;
    double least; /* factors that the note states, 0 without one */
    double most;
} outcome;

static void read_factors(const us_section *section, outcome *out)
{
    for (size_t i = 0; i < section->note_count; i++) {
        const char *at = strstr(section->notes[i], "may be ");
        if (at != NULL) {
            assert_int_equal(sscanf(at, "may be %lf to %lf times", &out->least, &out->most), 2);
        }
    }
}

static outcome solve(const char *soils)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
                   "walls: [{x: 0, top: 10, tip: 4}]\nsoils: [%s]\n"
                   "water: [{upstream: 13, downstream: 11}]\n",
                   soils);
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.001);
    const us_water_result *water = us_solution_water(solution, 0);
    outcome out = {.flow_m2_s = water->flow.rate_m2_s.value,
                   .gradient = water->exit.gradient.value,
                   .tip_m = water->walls[0].tip_m.value};
    read_factors(section, &out);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return out;
}

static void one_soil_scales_the_flow_alone(void **state)
{
    (void)state;
    outcome class = solve("{class: silty_sand, anisotropy: 4}");
    outcome least = solve("{kh: 1e-7, anisotropy: 4}");
    outcome most = solve("{kh: 1e-5, anisotropy: 4}");
    assert_near(least.flow_m2_s, class.least * class.flow_m2_s, 1e-9, 0.0);
    assert_near(most.flow_m2_s, class.most * class.flow_m2_s, 1e-9, 0.0);
    assert_near(most.gradient, class.gradient, 1e-9, 0.0);
    assert_near(most.tip_m, class.tip_m, 1e-9, 0.0);
}

/* Two soils: the ends of both ranges in all pairs, and some points between. */
static void several_soils_stay_within_the_factors(void **state)
{
    (void)state;
    outcome class = solve("{class: clean_sand}, {top: 7, class: silty_sand}");
    assert_near(class.most, sqrt(1e3), 0.02, 0.0);
    bool gradient_moved = false;
    for (int upper = 0; upper <= 3; upper++) {
        for (int lower = 0; lower <= 2; lower++) {
            char soils[200];
            (void)snprintf(soils, sizeof soils, "{kh: 1e%d, anisotropy: 1}, {top: 7, kh: 1e%d}",
                           upper - 5, lower - 7);
            outcome now = solve(soils);
            assert_true(now.flow_m2_s >= class.least * class.flow_m2_s);
            assert_true(now.flow_m2_s <= class.most * class.flow_m2_s);
            gradient_moved = gradient_moved || fabs(now.gradient / class.gradient - 1.0) > 0.1;
        }
    }
    assert_true(gradient_moved);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_soil_scales_the_flow_alone),
        cmocka_unit_test(several_soils_stay_within_the_factors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
