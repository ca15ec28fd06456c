/* Every tip of walls that let water through: against solving each level, laws, an exact mean.
 * Argument: how many tips of each section. */
#include "support/both.h"

enum { TEXT_ROOM = 2048, SCENES = 3 };

static int tips = 1;

/* What is open in the toe wall of a scene; an opening is left out where the tip is not below. */
typedef struct opening {
    double low_m;
    const char *text;
} opening;

typedef struct scene {
    const char *crest; /* more keys of the walls */
    const char *toe;
    opening openings[3];
} scene;

static const scene scenes[SCENES] = {
    {", interlock: {inverse_resistance: 1e-8 m/s, spacing: 0.6}",
     ", interlock: {inverse_resistance: 3e-7 m/s, spacing: 0.6}",
     {{0.0, NULL}}},
    {", interlock: {inverse_resistance: 1e-7 m/s, spacing: 0.6}",
     "",
     {{-3.2, "{slot_from: -3.2, slot_to: -3}"}}},
    {", cap_gap: 0.02",
     "",
     {{-2.551, "{slot_from: -2.551, slot_to: -2.55}"},
      {-4.05, "{hole: 0.1, level: -4, spacing: 1.2}"}}},
};

static void write_section(const scene *of, double tip_m, char text[TEXT_ROOM])
{
    char openings[256] = "";
    int last = 0;
    for (size_t k = 0; k < 3 && of->openings[k].text != NULL; k++) {
        if (of->openings[k].low_m > tip_m) {
            last += snprintf(openings + last, sizeof openings - (size_t)last, "%s%s",
                             last == 0 ? ", openings: [" : ", ", of->openings[k].text);
        }
    }
    (void)snprintf(openings + last, sizeof openings - (size_t)last, "%s", last == 0 ? "" : "]");
    int used = snprintf(text, TEXT_ROOM,
                        "bed: {upstream: 1, downstream: 0}\nbase: -10\n"
                        "structure: {underside: [[0, -0.3], [3, -0.3], [3, -1.1], [10, -1.1]], "
                        "top: [[0, 1], [10, 0.4]], unit_weight: 23, joints: [3]}\n"
                        "walls:\n  - {name: crest, x: 0, top: 0, tip: -4%s}\n"
                        "  - {name: toe, x: 10, top: -0.5, tip: %.17g%s%s}\n"
                        "soils:\n  - {name: sand, kh: 1e-4, kv: 4e-5, unit_weight: 20}\n"
                        "  - {name: silt, top: -5, kh: 3e-5, kv: 1e-5, unit_weight: 20}\n"
                        "water: [{name: flood, upstream: 4, downstream: 1.5}]\n",
                        of->crest, tip_m, of->toe, openings);
    assert_true(used > 0 && used < TEXT_ROOM);
}

static void compare_level(us_context *context, us_depth *depth, const scene *of, double tip_m,
                          support_tally *count)
{
    char text[TEXT_ROOM];
    us_solution *one = NULL;
    write_section(of, tip_m, text);
    us_section *section = support_read(context, text);
    us_solution *other = support_solve(context, section, 0.05);
    assert_int_equal(us_depth_solve(context, depth, tip_m, &one), US_OK);
    const us_water_result *of_study = us_solution_water(one, 0);
    const us_water_result *by_itself = us_solution_water(other, 0);
    support_compare_cases(of_study, by_itself, count);
    /* No proof between nodes. */
    assert_true(!of_study->flow.certified || by_itself->flow.certified);
    us_solution_free(one);
    us_solution_free(other);
    us_section_free(section);
}

/* A tip in an opening leaves the wall that ends at its upper edge. */
static void look_in_opening(us_context *context, us_depth *depth)
{
    us_solution *in = NULL;
    us_solution *at = NULL;
    assert_int_equal(us_depth_solve(context, depth, -3.1, &in), US_OK);
    assert_int_equal(us_depth_solve(context, depth, -3.0, &at), US_OK);
    assert_near(us_solution_water(in, 0)->flow.rate_m2_s.value,
                us_solution_water(at, 0)->flow.rate_m2_s.value, 1e-12, 0.0);
    us_solution_free(in);
    us_solution_free(at);
}

static void levels_are_as_solved_one_by_one(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.wall = "toe";
    options.ratio = false;
    options.accuracy = 0.05;
    support_tally count = {0, 0};
    uint64_t random = 11;
    for (int s = 0; s < SCENES; s++) {
        char text[TEXT_ROOM];
        write_section(&scenes[s], -6.0, text);
        us_section *section = support_read(context, text);
        us_depth *depth = NULL;
        assert_int_equal(us_section_depth(context, section, &options, &depth), US_OK);
        double high_m = us_depth_row_at(depth, 0)->tip_m;
        double low_m = us_depth_row_at(depth, us_depth_row_count(depth) - 1)->tip_m;
        for (int k = 0; k < tips; k++) {
            random = random * 6364136223846793005ULL + 1442695040888963407ULL;
            double share = (double)(random >> 11) / 9007199254740992.0;
            compare_level(context, depth, &scenes[s], low_m + (high_m - low_m) * share, &count);
        }
        if (s == 1) {
            look_in_opening(context, depth);
        }
        us_depth_free(depth);
        us_section_free(section);
    }
    printf("%zu of %zu values further apart than both errors\n", count.missed, count.all);
    assert_true(50 * count.missed <= count.all);
    us_context_free(context);
}

static us_depth *study_bare(us_context *context, const char *inverse_resistance,
                            us_section **section)
{
    char text[TEXT_ROOM];
    (void)snprintf(text, sizeof text,
                   "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                   "walls: [{name: wall, x: 0, top: 0.5, tip: -4, interlock: "
                   "{inverse_resistance: %s, spacing: 0.6}}]\n"
                   "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n"
                   "water: [{name: high, upstream: 3, downstream: 1}]\n",
                   inverse_resistance);
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    us_depth *depth = NULL;
    *section = support_read(context, text);
    assert_int_equal(us_section_depth(context, *section, &options, &depth), US_OK);
    return depth;
}

/* Equal beds: by symmetry the head at the tip is half way, and so the mean is exact; the gradient
 * where a leaky wall meets the bed has no bound. Longer walls pass less, leakier ones more. */
static void laws_of_a_bare_wall(void **state)
{
    (void)state;
    static const char *const leaks[3] = {"1e-8 m/s", "1e-6 m/s", "1e-5 m/s"};
    us_context *context = us_context_create();
    double before[8] = {0.0};
    for (int l = 0; l < 3; l++) {
        us_section *section = NULL;
        us_depth *depth = study_bare(context, leaks[l], &section);
        double shorter = HUGE_VAL;
        for (int k = 0; k < 8; k++) {
            double depth_m = 1.0 + 1.05 * k;
            us_solution *solution = NULL;
            assert_int_equal(us_depth_solve(context, depth, -depth_m, &solution), US_OK);
            const us_water_result *water = us_solution_water(solution, 0);
            double flow = water->flow.rate_m2_s.value;
            assert_false(water->exit.gradient.present);
            assert_false(water->exit.bounded);
            assert_near(water->exit.mean.value, 1.0 / depth_m, 0.0, water->exit.mean.error);
            assert_near(water->exit.mean.value, 1.0 / depth_m, 0.002, 0.0);
            assert_true(flow < shorter && flow > before[k]);
            assert_true(water->walls[0].through_m2_s.value > 0.0);
            shorter = flow;
            before[k] = flow;
            us_solution_free(solution);
        }
        us_depth_free(depth);
        us_section_free(section);
    }
    us_context_free(context);
}

int main(int count, char **arguments)
{
    tips = count > 1 ? (int)strtol(arguments[1], NULL, 10) : tips;
    const struct CMUnitTest tests[] = {cmocka_unit_test(levels_are_as_solved_one_by_one),
                                       cmocka_unit_test(laws_of_a_bare_wall)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
