#include "support/both.h"

#include <math.h>

static void compare(us_value one, us_value other, bool leading, support_tally *count)
{
    assert_int_equal(one.present, other.present);
    double apart = fabs(one.value - other.value);
    bool missed = one.present && apart > one.error + other.error + 1e-7 * fabs(other.value);
    if (missed) {
        print_message("%.9g +/- %.2g, and %.9g +/- %.2g\n", one.value, one.error, other.value,
                      other.error);
    }
    assert_false(leading && missed);
    count->all++;
    count->missed += missed ? 1 : 0;
}

void support_compare_cases(const us_water_result *one, const us_water_result *other,
                           support_tally *count)
{
    compare(one->flow.rate_m2_s, other->flow.rate_m2_s, true, count);
    compare(one->exit.gradient, other->exit.gradient, true, count);
    compare(one->exit.mean, other->exit.mean, true, count);
    compare(one->uplift.force_n_m, other->uplift.force_n_m, true, count);
    compare(one->uplift.factor, other->uplift.factor, false, count);
    for (size_t p = 0; p < one->uplift.panel_count; p++) {
        compare(one->uplift.panels[p].force_n_m, other->uplift.panels[p].force_n_m, false, count);
    }
    for (size_t w = 0; w < one->wall_count; w++) {
        const us_wall_result *a = &one->walls[w];
        const us_wall_result *b = &other->walls[w];
        compare(a->upstream_face_top_m, b->upstream_face_top_m, false, count);
        compare(a->tip_m, b->tip_m, false, count);
        compare(a->downstream_face_top_m, b->downstream_face_top_m, false, count);
        compare(a->through_m2_s, b->through_m2_s, false, count);
    }
    assert_int_equal(one->check_count, other->check_count);
    for (size_t c = 0; c < one->check_count; c++) {
        compare(one->checks[c].value, other->checks[c].value, false, count);
    }
}
