/* Memory is foreseen, and a grid that is too large is told of before it is built. */
#include "support/support.h"

#include "base/context.h"
#include "grid/grid.h"
#include "model/section.h"
#include "solve/room.h"

static void a_shortage_is_foreseen_in_words(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    assert_int_equal(usi_room_check(context, 4000000, 24.0 * 1024.0 * 1024.0 * 1024.0), US_OK);
    assert_int_equal(us_context_diagnostic_count(context), 0);
    assert_int_equal(usi_room_check(context, 4000000, 1.5 * 1024.0 * 1024.0 * 1024.0),
                     US_ERROR_MEMORY);
    assert_int_equal(us_context_diagnostic_count(context), 1);
    const us_diagnostic *said = us_context_diagnostic(context, 0);
    assert_string_equal(said->message, "a grid of 4000000 unknowns needs about 2.2 GiB of memory, "
                                       "and this machine has 1.5 GiB");
    assert_non_null(strstr(said->hint, "--unknowns"));
    us_context_free(context);
}

static void what_is_foreseen_grows_with_the_unknowns_and_little_faster(void **state)
{
    (void)state;
    for (size_t unknowns = 100000; unknowns < 5000000; unknowns *= 2) {
        double each = usi_room_predict(unknowns) / (double)unknowns;
        assert_true(each > 400.0);
        assert_true(each < 1400.0);
        assert_true(usi_room_predict(2 * unknowns) < 2.1 * usi_room_predict(unknowns));
    }
    assert_true(usi_room_of_machine() > 1e8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shortage_is_foreseen_in_words),
        cmocka_unit_test(what_is_foreseen_grows_with_the_unknowns_and_little_faster),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
