/* Every tip of a wall: against the exact solution of a bare wall, against solving each level. */
#include "support/both.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_ellint.h>

#define WATER "water: [{name: high, upstream: 3, downstream: 1}]\n"

/* Equal beds, layer of thickness T, head H: i T / H = pi / (4 k K(k)), k = sin(pi s / 2 T) (half
 * the soil mapped onto a half-plane by cosh; derived here). */
static double exact_gradient(double share)
{
    double k = sin(0.5 * M_PI * share);
    return M_PI / (4.0 * k * gsl_sf_ellint_Kcomp(k, GSL_PREC_DOUBLE));
}

/* Likewise, K' / 2 K of k H. */
static double exact_flow(double share)
{
    double k = sin(0.5 * M_PI * share);
    return 0.5 * gsl_sf_ellint_Kcomp(cos(0.5 * M_PI * share), GSL_PREC_DOUBLE) /
           gsl_sf_ellint_Kcomp(k, GSL_PREC_DOUBLE);
}

static void bare_wall(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section =
        support_read(context, "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                              "walls: [{name: wall, x: 0, top: 0.5, tip: -4}]\n"
                              "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n" WATER);
    us_depth *depth = NULL;
    assert_int_equal(us_section_depth(context, section, NULL, &depth), US_OK);
    assert_false(us_depth_requires(depth));
    int between = 0;
    for (int k = 2; k <= 18; k++) {
        double share = 0.05 * k;
        us_solution *solution = NULL;
        assert_int_equal(us_depth_solve(context, depth, -10.0 * share, &solution), US_OK);
        us_value found = us_solution_water(solution, 0)->exit.gradient;
        double exact = 2.0 / 10.0 * exact_gradient(share);
        assert_true(found.present && found.error > 0.0);
        assert_near(found.value, exact, 0.01, 0.0);
        assert_near(found.value, exact, 0.0, found.error);
        const us_flow_result *flow = &us_solution_water(solution, 0)->flow;
        double exact_m2_s = 1e-4 * 2.0 * exact_flow(share);
        assert_near(flow->rate_m2_s.value, exact_m2_s, 0.0, flow->rate_m2_s.error);
        assert_true(flow->lower_m2_s <= exact_m2_s && exact_m2_s <= flow->upper_m2_s);
        assert_near(flow->lower_m2_s, flow->upper_m2_s, 0.05, 0.0);
        between += flow->certified ? 0 : 1; /* those of nodes of a grid */
        us_solution_free(solution);
    }
    assert_true(between > 12);
    us_depth_free(depth);
    us_section_free(section);
    us_context_free(context);
}

/* The section with another tip, read and solved from the beginning. */
static us_solution *solve_afresh(us_context *context, const us_section *section, double tip_m,
                                 us_section **varied)
{
    us_change change = {"walls[toe].tip", NULL, tip_m};
    assert_int_equal(us_section_vary(context, section, &change, 1, varied), US_OK);
    return support_solve(context, *varied, 0.01);
}

static const char layered[] =
    "bed: {upstream: 1, downstream: 0}\nbase: -10\n"
    "structure: {underside: [[0, -0.3], [3, -0.3], [3, -1.1], [10, -1.1]], "
    "top: [[0, 1], [10, 0.4]], unit_weight: 23, joints: [3]}\n"
    "walls: [{name: crest, x: 0, top: 0, tip: -4}, {name: toe, x: 10, top: -0.5, tip: -3.5}]\n"
    "soils:\n"
    "  - {name: sand, kh: 1e-4, kv: 4e-5, unit_weight: 20}\n"
    "  - {name: silt, top: -5, kh: 3e-5, kv: 1e-5, unit_weight: 20}\n"
    "require: {uplift: 0.8, piping: 3}\n"
    "water: [{name: flood, upstream: 4, downstream: 1.5}, {name: low, upstream: 2, "
    "downstream: at_bed}]\n";

/* How many tips are solved by themselves too; an argument has more. */
static int tips = 14;

static void levels_are_as_solved_one_by_one(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, layered);
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.wall = "toe";
    us_depth *depth = NULL;
    support_tally count = {0, 0};
    uint64_t random = 7;
    assert_int_equal(us_section_depth(context, section, &options, &depth), US_OK);
    double high_m = us_depth_row_at(depth, 0)->tip_m;
    double low_m = us_depth_row_at(depth, us_depth_row_count(depth) - 1)->tip_m;
    for (int k = 0; k < tips; k++) {
        random = random * 6364136223846793005ULL + 1442695040888963407ULL;
        double tip_m = low_m + (high_m - low_m) * (double)(random >> 11) / 9007199254740992.0;
        us_solution *one = NULL;
        us_section *varied = NULL;
        us_solution *other = solve_afresh(context, section, tip_m, &varied);
        assert_int_equal(us_depth_solve(context, depth, tip_m, &one), US_OK);
        for (size_t w = 0; w < us_solution_water_count(one); w++) {
            support_compare_cases(us_solution_water(one, w), us_solution_water(other, w), &count);
        }
        us_solution_free(one);
        us_solution_free(other);
        us_section_free(varied);
    }
    us_solution *lowest = NULL;
    us_section *reaching = NULL;
    us_solution *other = solve_afresh(context, section, -10.0, &reaching); /* the base */
    assert_int_equal(us_depth_solve(context, depth, low_m, &lowest), US_OK);
    support_compare_cases(us_solution_water(lowest, 0), us_solution_water(other, 0), &count);
    us_solution_free(lowest);
    us_solution_free(other);
    us_section_free(reaching);
    printf("%zu of %zu values further apart than both errors\n", count.missed, count.all);
    assert_true(50 * count.missed <= count.all);
    us_depth_free(depth);
    us_section_free(section);
    us_context_free(context);
}

/* Each end of an interval lies between a level that passes and one that does not. */
static void ends_part_what_passes(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, layered);
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.wall = "toe";
    us_depth *depth = NULL;
    assert_int_equal(us_section_depth(context, section, &options, &depth), US_OK);
    assert_true(us_depth_requires(depth));
    assert_int_equal(us_depth_interval_count(depth), 1);
    const us_depth_interval *passing = us_depth_interval_at(depth, 0);
    const us_depth_end *ends[2] = {&passing->high, &passing->low};
    for (int e = 0; e < 2; e++) {
        if (ends[e]->edge) {
            continue;
        }
        double step_m = (e == 0 ? 1.0 : -1.0) * (ends[e]->error_m + 0.02);
        us_solution *in = NULL;
        us_solution *out = NULL;
        assert_int_equal(us_depth_solve(context, depth, ends[e]->tip_m - step_m, &in), US_OK);
        assert_int_equal(us_depth_solve(context, depth, ends[e]->tip_m + step_m, &out), US_OK);
        assert_false(us_solution_fails(in));
        assert_true(us_solution_fails(out));
        us_solution_free(in);
        us_solution_free(out);
    }
    assert_false(ends[1]->edge);
    assert_string_equal(ends[1]->check, "uplift"); /* a deeper wall at the toe raises it */
    us_solution *beyond = NULL;
    assert_int_equal(us_depth_solve(context, depth, -100.0, &beyond), US_ERROR_INPUT);
    us_depth_free(depth);
    us_section_free(section);
    us_context_free(context);
}

static double factor_of(us_context *context, us_depth *depth, double tip_m, const char *name)
{
    us_solution *solution = NULL;
    double least = HUGE_VAL;
    assert_int_equal(us_depth_solve(context, depth, tip_m, &solution), US_OK);
    for (size_t w = 0; w < us_solution_water_count(solution); w++) {
        const us_water_result *water = us_solution_water(solution, w);
        for (size_t c = 0; c < water->check_count; c++) {
            bool same = strcmp(water->checks[c].name, name) == 0 && water->checks[c].value.present;
            least = same ? fmin(least, water->checks[c].value.value) : least;
        }
    }
    us_solution_free(solution);
    assert_true(isfinite(least));
    return least;
}

/* Between two levels of the table piping is just enough from the one on, uplift down to the
 * other. */
static void a_short_interval_is_found(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, layered);
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.wall = "toe";
    options.ratio = false;
    us_depth *depth = NULL;
    assert_int_equal(us_section_depth(context, section, &options, &depth), US_OK);
    size_t rows = us_depth_row_count(depth);
    double range_m = us_depth_row_at(depth, 0)->tip_m - us_depth_row_at(depth, rows - 1)->tip_m;
    const double shares[] = {0.02, 0.002};
    for (int k = 0; k < 2; k++) {
        double high_m = -3.28;
        double low_m = high_m - shares[k] * range_m;
        char text[1024];
        const char *cut = strstr(layered, "require:");
        const char *rest = strstr(layered, "water:");
        (void)snprintf(text, sizeof text, "%.*srequire: {uplift: %.9g, piping: %.9g}\n%s",
                       (int)(cut - layered), layered, factor_of(context, depth, low_m, "uplift"),
                       factor_of(context, depth, high_m, "piping"), rest);
        us_section *narrow = support_read(context, text);
        us_depth *found = NULL;
        assert_int_equal(us_section_depth(context, narrow, &options, &found), US_OK);
        for (size_t r = 0; r < us_depth_row_count(found); r++) {
            assert_false(us_depth_row_at(found, r)->passes);
        }
        assert_int_equal(us_depth_interval_count(found), 1);
        const us_depth_interval *passing = us_depth_interval_at(found, 0);
        assert_near(passing->high.tip_m, high_m, 0.0, 3e-4 * range_m);
        assert_near(passing->low.tip_m, low_m, 0.0, 3e-4 * range_m);
        assert_string_equal(passing->high.check, "piping");
        assert_string_equal(passing->low.check, "uplift");
        us_depth_free(found);
        us_section_free(narrow);
    }
    us_depth_free(depth);
    us_section_free(section);
    us_context_free(context);
}

/* The ends of what passes are those of the section with the second wall's tip there. */
static void pairs_are_as_one_wall_at_a_time(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, layered);
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.wall = "toe";
    options.with = "crest";
    options.ratio = false;
    us_depth *depth = NULL;
    size_t compared = 0;
    assert_int_equal(us_section_depth(context, section, &options, &depth), US_OK);
    options.with = NULL;
    options.accuracy = 0.02;
    for (size_t k = 1; k < us_depth_pair_count(depth); k += 4) {
        const us_depth_pair *pair = us_depth_pair_at(depth, k);
        us_change change = {"walls[crest].tip", NULL, pair->with_tip_m};
        us_section *varied = NULL;
        us_depth *single = NULL;
        assert_int_equal(us_section_vary(context, section, &change, 1, &varied), US_OK);
        assert_int_equal(us_section_depth(context, varied, &options, &single), US_OK);
        assert_int_equal(pair->interval_count, us_depth_interval_count(single));
        for (size_t i = 0; i < pair->interval_count; i++) {
            const us_depth_end *one = &pair->intervals[i].low;
            const us_depth_end *other = &us_depth_interval_at(single, i)->low;
            assert_int_equal(one->edge, other->edge);
            if (!one->edge) {
                assert_near(one->tip_m, other->tip_m, 0.0, one->error_m + other->error_m);
                compared++;
            }
        }
        us_depth_free(single);
        us_section_free(varied);
    }
    assert_true(compared > 0);
    const us_depth_pair *best = us_depth_shortest(depth);
    for (size_t k = 0; k < us_depth_pair_count(depth); k++) {
        us_value length_m = us_depth_pair_at(depth, k)->total_length_m;
        assert_true(!length_m.present || length_m.value >= best->total_length_m.value);
        assert_true(k == 0 || us_depth_pair_at(depth, k)->with_tip_m <
                                  us_depth_pair_at(depth, k - 1)->with_tip_m);
    }
    us_depth_free(depth);
    us_section_free(section);
    us_context_free(context);
}

int main(int count, char **arguments)
{
    tips = count > 1 ? (int)strtol(arguments[1], NULL, 10) : tips;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bare_wall), cmocka_unit_test(levels_are_as_solved_one_by_one),
        cmocka_unit_test(ends_part_what_passes), cmocka_unit_test(a_short_interval_is_found),
        cmocka_unit_test(pairs_are_as_one_wall_at_a_time)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
