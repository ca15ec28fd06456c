/* The convergence study against exact solutions: orders, estimated errors, bounds. */
#include "support/support.h"

static const double HALF_PI = 1.57079632679489662;

/* Complete elliptic integral of the first kind by the arithmetic-geometric mean. */
static double elliptic(double modulus)
{
    double a = 1.0;
    double b = sqrt(1.0 - modulus * modulus);
    for (int i = 0; i < 40; i++) {
        double mean = 0.5 * (a + b);
        b = sqrt(a * b);
        a = mean;
    }
    return HALF_PI / a;
}

static us_convergence *study_text(us_context *context, us_section **section, const char *text,
                                  size_t rungs)
{
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    options.rungs = rungs;
    us_convergence *study = NULL;
    *section = support_read(context, text);
    us_status status = us_section_converge(context, *section, &options, &study);
    if (status != US_OK) {
        support_print_diagnostics(context);
    }
    assert_int_equal(status, US_OK);
    return study;
}

static const us_trend *find(const us_convergence *study, us_trend_kind kind)
{
    for (size_t t = 0; t < us_convergence_trend_count(study); t++) {
        if (us_convergence_trend(study, t)->kind == kind) {
            return us_convergence_trend(study, t);
        }
    }
    fail_msg("nothing follows kind %d", (int)kind);
    return NULL;
}

static void check_order(const us_trend *trend, double exact, double wanted, double slack)
{
    const us_trend_step *last = &trend->steps[trend->step_count - 1];
    print_message("    kind %d: order %.2f, true error %.1e, best off by %.1e, stated %.1e\n",
                  (int)trend->kind, last->order.value, last->value / exact - 1.0,
                  trend->best.value / exact - 1.0, trend->best.error / exact);
    assert_true(last->order.present);
    assert_near(last->order.value, wanted, 0.0, slack);
}

/* The estimated errors are the true ones, and the best value is as good as it says. */
static void check_errors(const us_trend *trend, double exact)
{
    assert_true(fabs(trend->best.value - exact) <= trend->best.error);
    for (size_t k = 0; k + 1 < trend->step_count; k++) {
        assert_true(trend->steps[k].error.present);
        assert_near(trend->steps[k].error.value, fabs(trend->steps[k].value / exact - 1.0), 0.1,
                    0.0);
    }
}

/* A wall of depth s in soil of depth T: q / kH = K' / 2K, exit gradient
 * pi H / (4 K T m), m = sin(pi s / 2T) (Harr 1962). */
static void test_plain_wall(void **state)
{
    static const char *const texts[] = {
        "bed: {upstream: 10, downstream: 10}\nbase: 0\nwalls: [{x: 0, top: 11, tip: 7.5}]\n"
        "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\nwater: [{upstream: 13, downstream: 12}]\n",
        "bed: {upstream: 10, downstream: 10}\nbase: 0\nwalls: [{x: 0, top: 11, tip: 2.5}]\n"
        "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\nwater: [{upstream: 13, downstream: 12}]\n"};
    static const double depths_m[] = {2.5, 7.5};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        double modulus = sin(HALF_PI * depths_m[i] / 10.0);
        double complete = elliptic(modulus);
        double flow = 1e-4 * elliptic(sqrt(1.0 - modulus * modulus)) / (2.0 * complete);
        double gradient = HALF_PI / (2.0 * complete * 10.0 * modulus);
        us_context *context = us_context_create();
        us_section *section = NULL;
        us_convergence *study = study_text(context, &section, texts[i], 5);
        check_order(find(study, US_TREND_FLOW), flow, 2.0, 0.2);
        check_errors(find(study, US_TREND_FLOW), flow);
        check_order(find(study, US_TREND_EXIT_GRADIENT), gradient, 2.0, 0.2);
        check_errors(find(study, US_TREND_EXIT_GRADIENT), gradient);
        check_order(find(study, US_TREND_FLOW_BRACKET), 1.0, 2.0, 0.2);
        const us_trend *lower = find(study, US_TREND_FLOW_LOWER);
        const us_trend *upper = find(study, US_TREND_FLOW_UPPER);
        for (size_t k = 0; k < lower->step_count; k++) {
            assert_true(lower->steps[k].value <= flow && flow <= upper->steps[k].value);
        }
        us_convergence_free(study);
        us_section_free(section);
        us_context_free(context);
    }
}

/* A flush floor of width 2b on soil without limit: h = eta / pi on the confocal
 * ellipse x = b cosh(xi) cos(eta), y = b sinh(xi) sin(eta). Below its end
 * sin^4(eta) = (y/b)^2 cos^2(eta). The soil is so deep that everything near the floor
 * is small beside it: the grid has to see the floor's own length. */
static void test_flush_floor_on_endless_soil(void **state)
{
    static const char text[] = "bed: {upstream: 10, downstream: 10}\nbase: none\n"
                               "structure: {underside: [[0, 10], [8, 10]]}\n"
                               "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n"
                               "water: [{upstream: 13, downstream: 12}]\n";
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_convergence *study = study_text(context, &section, text, 5);
    double depth = 0.8 / 4.0;
    double cosine = 0.5 * (sqrt(depth * depth + 4.0) - depth);
    double mean = acos(cosine) / (2.0 * HALF_PI) / 0.8;
    const us_trend *trend = find(study, US_TREND_EXIT_MEAN);
    check_order(trend, mean, 2.0, 0.3);
    assert_near(trend->best.value, mean, 1e-3, 0.0);
    us_convergence_free(study);
    us_section_free(section);
    us_context_free(context);
}

/* Grids double both ways, and each value belongs to its own grid. */
static void test_grids_are_nested(void **state)
{
    static const char text[] = "bed: {upstream: 10, downstream: 9}\nbase: 0\n"
                               "walls: [{x: 0, top: 11, tip: 6}]\n"
                               "soils: [{name: sand, kh: 1e-4, kv: 1e-4}]\n"
                               "water: [{upstream: 13, downstream: 12}]\n";
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_convergence *study = study_text(context, &section, text, 4);
    assert_int_equal(us_convergence_rung_count(study), 4);
    for (size_t k = 1; k < 4; k++) {
        const us_rung *coarse = us_convergence_rung(study, k - 1);
        const us_rung *fine = us_convergence_rung(study, k);
        assert_int_equal(fine->columns, 2 * coarse->columns);
        assert_int_equal(fine->rows, 2 * coarse->rows);
        assert_true(fine->unknowns > 3 * coarse->unknowns);
    }
    assert_null(us_convergence_rung(study, 4));
    us_convergence_free(study);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_plain_wall),
        cmocka_unit_test(test_flush_floor_on_endless_soil),
        cmocka_unit_test(test_grids_are_nested),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
